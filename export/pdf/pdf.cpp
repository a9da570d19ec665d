#include "export/pdf/pdf.h"

#include <cairo-pdf.h>

#include <algorithm>
#include <cmath>

#define POINTERHOLDER_TRANSITION 4  // qpdf with std::shared_ptr alone
#include <qpdf/Buffer.hh>
#include <qpdf/QPDF.hh>
#include <qpdf/QPDFPageDocumentHelper.hh>
#include <qpdf/QPDFWriter.hh>

#include "core/base/check.h"
#include "core/base/text.h"
#include "core/paper/text_layout.h"
#include "export/draw/draw.h"

namespace spile {
namespace {

constexpr double points_per_mm = 72 / 25.4;

cairo_status_t append_bytes(void* bytes, const unsigned char* data, unsigned int length) {
    static_cast<std::string*>(bytes)->append(reinterpret_cast<const char*>(data), length);
    return CAIRO_STATUS_SUCCESS;
}

Finding too_large(const Sheet& sheet, std::size_t index) {
    const Page& page = sheet.pages[index];
    const double longest = std::max(page.width_mm, page.height_mm);
    Finding finding;
    finding.code = "page-too-large";
    finding.severity = Severity::stop;
    finding.subject = {"paper", sheet.file_stem};
    finding.numbers = {{"is", longest, "mm"}, {"limit", longest_pdf_page_mm, "mm"}};
    finding.says = "Page " + std::to_string(index + 1) + " of \"" + sheet.title + "\" is " +
                   fixed(longest, 0) + " mm long; a PDF page is read up to " + fixed(longest_pdf_page_mm, 0) +
                   " mm.";
    finding.to_do = "Print it in tiles, or in strips no longer than that.";
    return finding;
}

/// The unit of a page, in 1/72 in.
int unit_of(const Page& page) {
    return static_cast<int>(std::ceil(std::max(page.width_mm, page.height_mm) / longest_pdf_page_mm));
}

/// cairo knows no unit of a page; it is written into the finished file.
std::string with_units(const std::string& bytes, const Sheet& sheet) {
    QPDF pdf;
    pdf.processMemoryFile("sheet", bytes.data(), bytes.size());
    std::size_t i = 0;
    for (QPDFPageObjectHelper& page : QPDFPageDocumentHelper(pdf).getAllPages()) {
        const int unit = unit_of(sheet.pages[i++]);
        if (unit > 1) page.getObjectHandle().replaceKey("/UserUnit", QPDFObjectHandle::newInteger(unit));
    }
    QPDFWriter writer(pdf);
    writer.setOutputMemory();
    writer.setMinimumPDFVersion("1.6");
    writer.setDeterministicID(true);
    writer.write();
    const std::shared_ptr<Buffer> out = writer.getBufferSharedPointer();
    return std::string(reinterpret_cast<const char*>(out->getBuffer()), out->getSize());
}

}  // namespace

Result<std::string> pdf_bytes(const Sheet& sheet, LongPages long_pages) {
    SPILE_CHECK(!sheet.pages.empty());
    Result<std::string> result;
    for (std::size_t i = 0; i < sheet.pages.size(); ++i) {
        const Page& page = sheet.pages[i];
        SPILE_CHECK(std::isfinite(page.width_mm) && std::isfinite(page.height_mm) && page.width_mm > 0 &&
                    page.height_mm > 0);
        if (long_pages == LongPages::refused && unit_of(page) > 1)
            result.findings.push_back(too_large(sheet, i));
    }
    if (has_stop(result.findings)) return result;

    std::string bytes;
    const auto points = [](double mm) { return mm * points_per_mm; };
    cairo_surface_t* surface = cairo_pdf_surface_create_for_stream(append_bytes, &bytes, 1, 1);
    const auto describe = [&](cairo_pdf_metadata_t what, const std::string& utf8) {
        cairo_pdf_surface_set_metadata(surface, what, lay_out(utf8, Weight::regular).utf8.c_str());
    };
    describe(CAIRO_PDF_METADATA_TITLE, sheet.title);
    describe(CAIRO_PDF_METADATA_SUBJECT, sheet.purpose);
    describe(CAIRO_PDF_METADATA_CREATOR, "spile");
    // cairo stamps the clock unless it is told a date; an empty one leaves the entry out.
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, "");
    cairo_t* cr = cairo_create(surface);
    bool any_unit = false;
    for (const Page& page : sheet.pages) {
        const int unit = unit_of(page);
        any_unit = any_unit || unit > 1;
        cairo_pdf_surface_set_size(surface, points(page.width_mm) / unit, points(page.height_mm) / unit);
        cairo_save(cr);
        cairo_scale(cr, points_per_mm / unit, points_per_mm / unit);
        draw_page(cr, page);
        cairo_restore(cr);
        cairo_show_page(cr);
    }
    cairo_destroy(cr);
    cairo_surface_finish(surface);
    SPILE_CHECK(cairo_surface_status(surface) == CAIRO_STATUS_SUCCESS);
    cairo_surface_destroy(surface);

    append(result.findings, unknown_characters(sheet));
    result.value = any_unit ? with_units(bytes, sheet) : std::move(bytes);
    return result;
}

}  // namespace spile
