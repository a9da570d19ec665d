#include "export/papers/cut_pages.h"

#include <algorithm>
#include <cmath>

#include "core/paper/page_frame.h"
#include "core/paper/text_layout.h"
#include "core/paper/view.h"

namespace spile {
namespace {

constexpr double kMargin = 15, kRule = 100;

Stroke stroke_for(Purpose purpose) {
    switch (purpose) {
        case Purpose::goods:
            return {0.25, {0.45}, {}};
        case Purpose::marks:
            return {0.5, {0}, {}};
        case Purpose::stitch:
            return {0.25, {0}, {1.5, 1.5}};
        case Purpose::slits:
            return {0.35, {0}, {}};
        case Purpose::backing_only:
            return {0.35, {0}, {6, 2}};
        case Purpose::cut_through:
            return {0.35, {0}, {}};
    }
    return {};
}

void draw(paper::Canvas& canvas, const paper::PageFrom& page, const MachineDrawing& drawing) {
    for (const MachineLine& line : drawing.lines) {
        Shape shape;
        shape.stroke = stroke_for(line.purpose);
        if (line.closed)
            shape.closed.push_back(page(Outline{line.vertices}));
        else
            shape.open.push_back(page(Path{line.vertices}));
        canvas.page.items.push_back(std::move(shape));
    }
    for (const MachineText& text : drawing.texts)
        canvas.text(page(text.at_mm), text.utf8, text.height_mm / font_heights().capital, Weight::regular,
                    Anchor::middle);
}

}  // namespace

Sheet cut_pages(const MachineDrawing& drawing, double longest_mm) {
    Sheet sheet;
    sheet.title = drawing.title;
    sheet.purpose = "At true size, for a plotter that reads PDF; measure the 100 mm rule first";
    sheet.cutting = true;
    const double all = drawing.box.width() + 2 * kMargin, high = drawing.box.height() + 2 * kMargin;
    const auto pages = static_cast<std::size_t>(std::ceil(std::max(1.0, all / longest_mm)));
    for (std::size_t i = 0; i < pages; ++i) {
        const double from = longest_mm * static_cast<double>(i);
        const double width = std::max(kRule + 2 * kMargin, std::min(longest_mm, all - from));
        paper::Canvas canvas(width, high);
        draw(canvas, {1, {kMargin - drawing.box.min.x - from, kMargin + drawing.box.max.y}}, drawing);
        const double y = high - 6;
        canvas.line({kMargin, y}, {kMargin + kRule, y}, {0.25, {0}, {}});
        for (const double x : {kMargin, kMargin + kRule})
            canvas.line({x, y - 3}, {x, y + 3}, {0.25, {0}, {}});
        const std::string part =
            pages == 1 ? "" : " \u00b7 part " + std::to_string(i + 1) + " of " + std::to_string(pages);
        canvas.text({kMargin + 2, y - 1.2}, "100 mm" + part, paper::type::least);
        sheet.pages.push_back(std::move(canvas.page));
    }
    return sheet;
}

}  // namespace spile
