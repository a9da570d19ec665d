#include "export/hpgl/hpgl.h"

#include <algorithm>
#include <cmath>
#include <cstdint>

#include "core/base/text.h"
#include "core/base/utf8.h"
#include "core/geom/measure_of.h"

namespace spile {
namespace {

constexpr double units_per_mm = 40;
constexpr std::int64_t largest_sixteen_bit = 32767;
constexpr double chord_error_mm = 0.01;
constexpr double least_chord_angle_deg = 0.36;  // that a device takes

std::int64_t units(double mm) {
    return std::llround(mm * units_per_mm);
}

std::string pair(Vec2 p) {
    return std::to_string(units(p.x)) + "," + std::to_string(units(p.y));
}

int pen_of(Purpose purpose) {
    return static_cast<int>(purpose) + 1;
}

/// The part of an edge between two shares of its length.
Edge part_of(const Edge& edge, double from, double to) {
    const double bulge = edge.straight() ? 0 : std::tan((to - from) * std::atan(edge.bulge));
    return {from == 0 ? edge.a : point_at(edge, from), to == 1 ? edge.b : point_at(edge, to), bulge,
            edge.tag};
}

/// Shares of the length at which an edge meets the upright line at x, in no order.
std::vector<double> shares_at(const Edge& edge, double x) {
    std::vector<double> shares;
    if (edge.straight()) {
        if (edge.a.x != edge.b.x) shares.push_back((x - edge.a.x) / (edge.b.x - edge.a.x));
        return shares;
    }
    const Arc arc = arc_of(edge);
    const double cosine = (x - arc.centre.x) / arc.radius;
    if (std::fabs(cosine) >= 1) return shares;
    const double turn = 2 * std::acos(-1.0);
    for (const double angle : {std::acos(cosine), -std::acos(cosine)}) {
        double along = angle - arc.start_rad;
        along -= turn * std::floor(along / turn);  // 0 .. one turn, counter-clockwise from the start
        shares.push_back(arc.sweep_rad > 0 ? along / arc.sweep_rad : (along - turn) / arc.sweep_rad);
    }
    return shares;
}

/// The stretches of a chain of edges that lie between two upright lines, each a chain.
std::vector<std::vector<Edge>> between(const std::vector<Edge>& chain, double x_from, double x_to) {
    std::vector<std::vector<Edge>> stretches;
    bool joined = false;  // the last stretch goes on
    for (const Edge& edge : chain) {
        std::vector<double> cuts = {0, 1};
        for (const double x : {x_from, x_to})
            for (const double share : shares_at(edge, x))
                if (share > 0 && share < 1) cuts.push_back(share);
        std::sort(cuts.begin(), cuts.end());
        for (std::size_t i = 1; i < cuts.size(); ++i) {
            if (cuts[i] == cuts[i - 1]) continue;
            const Edge part = part_of(edge, cuts[i - 1], cuts[i]);
            const double middle = midpoint_of(part).x;
            const bool inside = middle >= x_from && middle < x_to;
            if (inside && !joined) stretches.emplace_back();
            if (inside) stretches.back().push_back(part);
            joined = inside;
        }
    }
    return stretches;
}

class Strip {
  public:
    Strip(Vec2 origin, bool limited) : origin_(origin), limited_(limited) { out_ = "IN;PA;\n"; }

    void chain(Purpose purpose, const std::vector<Edge>& edges) {
        pen(purpose);
        out_ += "PU" + pair(edges[0].a - origin_) + ";PD;";
        for (const Edge& edge : edges) add({edge.a - origin_, edge.b - origin_, edge.bulge, edge.tag});
        out_ += "PU;\n";
    }

    void text(const MachineText& text) {
        pen(text.purpose);
        const std::string height = fixed(text.height_mm / 10, 3);
        const std::string width = fixed(text.height_mm / 15, 3);
        out_ += "PU" + pair(text.at_mm - origin_) + ";SI" + width + "," + height + ";LO4;LB";
        for (std::size_t at = 0; at < text.utf8.size();) {
            const Utf8Character c = utf8_character(text.utf8, at);
            at += c.bytes;
            out_ += c.code == 0x2044 ? '/' : c.code < 0x20 || c.code > 0x7E ? '?' : static_cast<char>(c.code);
        }
        out_ += "\x03;\n";  // ETX ends a label
    }

    std::string finished() { return out_ + "PU;SP0;\n"; }

  private:
    void pen(Purpose purpose) {
        if (pen_of(purpose) == pen_) return;
        pen_ = pen_of(purpose);
        out_ += "SP" + std::to_string(pen_) + ";\n";
    }

    bool in_range(Vec2 p) const {
        return !limited_ || (std::llabs(units(p.x)) <= largest_sixteen_bit &&
                             std::llabs(units(p.y)) <= largest_sixteen_bit);
    }

    void add(const Edge& edge) {
        if (!edge.straight()) {
            const double radius = radius_of(edge);
            const double chord_deg =
                2 * std::acos(std::max(0.0, 1 - chord_error_mm / radius)) * 180 / std::acos(-1.0);
            const Vec2 centre = centre_of(edge);
            if (chord_deg >= least_chord_angle_deg && in_range(centre)) {
                out_ += "AA" + pair(centre) + "," +
                        fixed(4 * std::atan(edge.bulge) * 180 / std::acos(-1.0), 4) + "," +
                        fixed(std::floor(std::min(chord_deg, 5.0) * 100) / 100, 2) + ";";
            } else {
                const Path path{{{edge.a, edge.bulge, 0}, {edge.b, 0, 0}}};
                const std::vector<Vec2> points = flatten(path, Resolution{chord_error_mm});
                for (std::size_t i = 1; i + 1 < points.size(); ++i) out_ += "PD" + pair(points[i]) + ";";
            }
        }
        out_ += "PD" + pair(edge.b) + ";";  // after an arc: to its true end
    }

    Vec2 origin_;
    bool limited_;
    int pen_ = 0;
    std::string out_;
};

std::vector<Edge> edges_of(const MachineLine& line) {
    std::vector<Edge> edges;
    const Outline outline{line.vertices};
    const std::size_t count = line.closed ? outline.size() : outline.size() - 1;
    for (std::size_t i = 0; i < count; ++i) edges.push_back(outline.edge(i));
    return edges;
}

}  // namespace

Result<std::vector<std::string>> hpgl_strips(const MachineDrawing& drawing, HpglRange range) {
    const bool limited = range == HpglRange::sixteen_bit;
    const double reach_mm = static_cast<double>(largest_sixteen_bit) / units_per_mm;
    if (limited && drawing.box.height() > reach_mm) {
        Finding finding;
        finding.code = "too-wide-for-plotter";
        finding.severity = Severity::stop;
        finding.subject = {"paper", drawing.title};
        finding.numbers = {{"is", drawing.box.height(), "mm"}, {"limit", reach_mm, "mm"}};
        finding.says = "The drawing \"" + drawing.title + "\" is " + fixed(drawing.box.height(), 0) +
                       " mm wide; a device of 16 bits reaches " + fixed(reach_mm, 0) + " mm.";
        finding.to_do = "Choose the wide range, if the device takes it, or send DXF.";
        return Result<std::vector<std::string>>::refuse(finding);
    }

    const int count =
        limited ? std::max(1, static_cast<int>(std::ceil(drawing.box.width() / hpgl_strip_mm))) : 1;
    std::vector<std::string> strips;
    for (int k = 0; k < count; ++k) {
        const double from = drawing.box.min.x + k * hpgl_strip_mm;
        const double to = from + hpgl_strip_mm;
        // The first and last strip are open outwards, so that nothing is lost to rounding.
        const double clip_from = k == 0 ? from - hpgl_strip_mm : from;
        const double clip_to = k + 1 == count ? to + hpgl_strip_mm : to;
        Strip strip({from, drawing.box.min.y}, limited);
        for (const MachineLine& line : drawing.lines) {
            if (count == 1) {
                strip.chain(line.purpose, edges_of(line));
            } else {
                for (const auto& stretch : between(edges_of(line), clip_from, clip_to))
                    strip.chain(line.purpose, stretch);
            }
        }
        for (const MachineText& text : drawing.texts)
            if (count == 1 || (text.at_mm.x >= clip_from && text.at_mm.x < clip_to)) strip.text(text);
        strips.push_back(strip.finished());
    }
    return Result<std::vector<std::string>>::ok(std::move(strips));
}

}  // namespace spile
