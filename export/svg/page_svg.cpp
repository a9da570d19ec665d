#include "export/svg/page_svg.h"

#include "core/paper/text_layout.h"
#include "export/svg/svg_words.h"

namespace spile {
namespace {

std::string colour(Ink ink) {
    const int level = static_cast<int>(ink.grey * 255 + 0.5);
    const char* digits = "0123456789abcdef";
    const std::string two = {digits[(level >> 4) & 15], digits[level & 15]};
    return "#" + two + two + two;
}

std::string svg(const Shape& shape) {
    std::string closed;
    for (const Outline& outline : shape.closed) closed += svg_path(outline);
    std::string open;
    for (const Path& path : shape.open) open += svg_path(path);

    std::string style = " fill=\"none\"";
    if (shape.filled) style = " fill=\"" + colour(shape.fill) + "\" fill-rule=\"evenodd\"";
    std::string pen;
    if (shape.stroked) {
        pen = " stroke=\"" + colour(shape.stroke.ink) + "\" stroke-width=\"" +
              svg_number(shape.stroke.width_mm) + "\"";
        if (!shape.stroke.dash_mm.empty()) {
            pen += " stroke-dasharray=\"";
            for (const double mm : shape.stroke.dash_mm) pen += svg_number(mm) + " ";
            pen.back() = '"';
        }
    }
    std::string out;
    if (!closed.empty()) out += "<path d=\"" + closed + "\"" + style + pen + "/>\n";
    if (!open.empty() && shape.stroked) out += "<path d=\"" + open + "\" fill=\"none\"" + pen + "/>\n";
    return out;
}

/// Figures of a fraction are ordinary ones made small, so that viewers without our font or its features show a fraction
/// too: as high, from the baseline or to the height of capitals, as the font's own.
constexpr double small_figure = 0.53;

/// A stretch of glyphs that stand on one line in one style.
std::string run(const LaidOutText& set, std::size_t first, std::size_t end, Vec2 start_mm, double size_mm) {
    const PlacedGlyph& head = set.glyphs[first];
    std::string out = "<tspan";
    double rise_em = 0;
    if (head.part == FractionPart::numerator) rise_em = (1 - small_figure) * font_heights().capital;
    if (head.part == FractionPart::numerator || head.part == FractionPart::denominator)
        out += " font-size=\"" + svg_number(small_figure * size_mm) + "\"";
    out += " y=\"" + svg_number(start_mm.y - rise_em * size_mm) + "\" x=\"";
    std::string characters;
    for (std::size_t i = first; i < end; ++i) {
        const PlacedGlyph& g = set.glyphs[i];
        out += svg_number(start_mm.x + g.x_em * size_mm) + (i + 1 < end ? " " : "\">");
        characters += set.utf8.substr(g.first_byte, g.byte_count);
    }
    return out + xml_escaped(characters) + "</tspan>";
}

std::string svg(const Text& text) {
    const LaidOutText set = lay_out(text.utf8, text.weight);
    if (set.glyphs.empty() || !(text.size_mm > 0)) return "";
    const double width = set.width_em * text.size_mm;
    const double back = text.anchor == Anchor::start ? 0 : text.anchor == Anchor::middle ? width / 2 : width;

    std::string out = "<text font-size=\"" + svg_number(text.size_mm) + "\"";
    if (text.weight == Weight::semibold) out += " font-weight=\"600\"";
    if (text.ink.grey != 0) out += " fill=\"" + colour(text.ink) + "\"";
    if (text.angle_deg != 0)  // SVG turns clockwise as seen
        out += " transform=\"rotate(" + svg_number(-text.angle_deg) + " " + svg_number(text.at_mm.x) + " " +
               svg_number(text.at_mm.y) + ")\"";
    out += ">";
    for (std::size_t first = 0; first < set.glyphs.size();) {
        std::size_t end = first + 1;
        while (end < set.glyphs.size() && set.glyphs[end].part == set.glyphs[first].part) ++end;
        out += run(set, first, end, {text.at_mm.x - back, text.at_mm.y}, text.size_mm);
        first = end;
    }
    return out + "</text>\n";
}

std::string svg(const QrCode& code, CodeSquares squares) {
    Shape shape;
    shape.stroked = false;
    shape.filled = true;
    shape.closed = squares(code.utf8, code.at_mm, code.size_mm);
    return "<g shape-rendering=\"crispEdges\">\n" + svg(shape) + "</g>\n";
}

struct Drawer {
    CodeSquares squares;
    std::string operator()(const QrCode& code) const { return svg(code, squares); }
    template <class Drawn>
    std::string operator()(const Drawn& drawn) const {
        return svg(drawn);
    }
};

}  // namespace

std::string page_svg(const Page& page, const std::string& title, CodeSquares code) {
    const std::string width = svg_number(page.width_mm);
    const std::string height = svg_number(page.height_mm);
    std::string out =
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" "
        "xml:space=\"preserve\" width=\"" +
        width + "mm\" height=\"" + height + "mm\" viewBox=\"0 0 " + width + " " + height + "\">\n";
    out += "<title>" + xml_escaped(title) + "</title>\n";
    out +=
        "<style>text{font-family:Inter,sans-serif;white-space:pre;font-feature-settings:\"tnum\",\"calt\" "
        "0}</style>\n";
    out += "<rect width=\"" + width + "\" height=\"" + height + "\" fill=\"#ffffff\"/>\n";
    const Drawer drawer{code};
    for (const Item& item : page.items) out += std::visit(drawer, item);
    return out + "</svg>\n";
}

}  // namespace spile
