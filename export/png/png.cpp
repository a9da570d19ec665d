#include "export/png/png.h"

#include <cairo.h>

#include <cmath>

#include "core/base/check.h"
#include "core/base/text.h"
#include "export/draw/draw.h"

namespace spile {
namespace {

constexpr double longest_side = 32767;  // of a cairo image

cairo_status_t append_bytes(void* bytes, const unsigned char* data, unsigned int length) {
    static_cast<std::string*>(bytes)->append(reinterpret_cast<const char*>(data), length);
    return CAIRO_STATUS_SUCCESS;
}

}  // namespace

Result<std::string> png_bytes(const Page& page, double dots_per_mm) {
    SPILE_CHECK(std::isfinite(dots_per_mm) && dots_per_mm > 0);
    const double width = std::ceil(page.width_mm * dots_per_mm);
    const double height = std::ceil(page.height_mm * dots_per_mm);
    SPILE_CHECK(width >= 1 && height >= 1);
    if (width > longest_side || height > longest_side || width * height > most_picture_pixels) {
        Finding finding;
        finding.code = "picture-too-large";
        finding.severity = Severity::stop;
        finding.subject = {"paper", ""};
        finding.numbers = {{"width", width, ""}, {"height", height, ""}, {"limit", most_picture_pixels, ""}};
        finding.says = "The picture would be " + fixed(width, 0) + " x " + fixed(height, 0) +
                       " pixels; the limit is " + fixed(longest_side, 0) + " a side and " +
                       fixed(most_picture_pixels / 1e6, 0) + " million in all.";
        finding.to_do = "Ask for fewer dots to the millimetre.";
        return Result<std::string>::refuse(finding);
    }

    cairo_surface_t* surface =
        cairo_image_surface_create(CAIRO_FORMAT_RGB24, static_cast<int>(width), static_cast<int>(height));
    cairo_t* cr = cairo_create(surface);
    cairo_set_source_rgb(cr, 1, 1, 1);
    cairo_paint(cr);
    cairo_scale(cr, dots_per_mm, dots_per_mm);
    draw_page(cr, page);
    cairo_destroy(cr);
    std::string bytes;
    SPILE_CHECK(cairo_surface_write_to_png_stream(surface, append_bytes, &bytes) == CAIRO_STATUS_SUCCESS);
    cairo_surface_destroy(surface);
    return Result<std::string>::ok(std::move(bytes));
}

}  // namespace spile
