#include "export/svg/svg_words.h"

#include <cmath>

#include "core/base/check.h"
#include "core/base/text.h"
#include "core/paper/text_layout.h"

namespace spile {
namespace {

/// tan(97 deg / 4): beyond the quarter circle of every rounded corner, so that no last digit decides how it is written.
constexpr double whole_arc_bulge = 0.45;

std::string at(Vec2 p) {
    return svg_number(p.x) + " " + svg_number(p.y);
}

std::string arc_to(const Edge& edge) {
    const std::string radius = svg_number(radius_of(edge));
    return "A" + radius + " " + radius + " 0 0 " + (edge.bulge > 0 ? "1 " : "0 ") + at(edge.b);
}

std::string line_to(const Edge& edge) {
    if (edge.straight()) return "L" + at(edge.b);
    if (std::fabs(edge.bulge) <= whole_arc_bulge) return arc_to(edge);
    const Vec2 middle = midpoint_of(edge);
    const double half = std::tan(std::atan(edge.bulge) / 2);
    return arc_to({edge.a, middle, half, edge.tag}) + arc_to({middle, edge.b, half, edge.tag});
}

}  // namespace

std::string svg_number(double mm) {
    SPILE_CHECK(std::isfinite(mm));
    std::string text = fixed(mm, 4);
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
    return text;
}

std::string xml_escaped(const std::string& utf8) {
    // U+FFFE and U+FFFF are UTF-8 but no XML characters (XML 1.0, production 2).
    const std::string clean = lay_out(utf8, Weight::regular).utf8;
    std::string out;
    for (std::size_t i = 0; i < clean.size(); ++i) {
        switch (clean[i]) {
            case '&':
                out += "&amp;";
                break;
            case '<':
                out += "&lt;";
                break;
            case '>':
                out += "&gt;";
                break;
            case '"':
                out += "&quot;";
                break;
            default:
                if (clean.compare(i, 3, "\xEF\xBF\xBE") == 0 || clean.compare(i, 3, "\xEF\xBF\xBF") == 0) {
                    out += "\xEF\xBF\xBD";
                    i += 2;
                } else {
                    out += clean[i];
                }
        }
    }
    return out;
}

std::string svg_path(const Outline& outline) {
    if (outline.empty()) return "";
    std::string d = "M" + at(outline.vertices[0].p);
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Edge edge = outline.edge(i);
        if (i + 1 < outline.size() || !edge.straight()) d += line_to(edge);
    }
    return d + "Z";
}

std::string svg_path(const Path& path) {
    if (path.edge_count() == 0) return "";
    std::string d = "M" + at(path.vertices[0].p);
    for (std::size_t i = 0; i < path.edge_count(); ++i) d += line_to(path.edge(i));
    return d;
}

}  // namespace spile
