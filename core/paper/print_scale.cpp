#include "core/paper/print_scale.h"

namespace spile::paper {
namespace {

void enlarge(Shape& shape, double by) {
    for (Outline& o : shape.closed)
        for (Vertex& v : o.vertices) v.p = by * v.p;
    for (Path& o : shape.open)
        for (Vertex& v : o.vertices) v.p = by * v.p;
    shape.stroke.width_mm *= by;
    for (double& d : shape.stroke.dash_mm) d *= by;
}
void enlarge(Text& text, double by) {
    text.at_mm = by * text.at_mm;
    text.size_mm *= by;
}
void enlarge(QrCode& code, double by) {
    code.at_mm = by * code.at_mm;
    code.size_mm *= by;
}

}  // namespace

double print_scale(const PaperInput& in) {
    return 200 / in.settings.rule_measured_mm;
}

Page enlarged(Page page, double by, const PaperSize& paper) {
    page.width_mm = paper.width_mm;
    page.height_mm = paper.height_mm;
    if (by != 1)
        for (Item& item : page.items) std::visit([by](auto& drawn) { enlarge(drawn, by); }, item);
    return page;
}

}  // namespace spile::paper
