#include "core/edging/turned_corners.h"

#include <algorithm>
#include <cmath>

#include "core/geom/measure_of.h"

namespace spile {
namespace {

constexpr double kPi = 3.14159265358979323846;

/// Below 60 degrees (a turn whose cosine is below this) the flap over is cut to half the angle: full flaps would make a
/// lump. Common practice.
constexpr double kSharpTurn = -0.5;

std::string name_of(const TurningLines& lines, std::size_t vertex) {
    const int tag = lines.net.vertices[vertex].tag;
    const std::size_t before = (vertex + lines.net.size() - 1) % lines.net.size();
    if (tag >= 0 && lines.net.vertices[before].tag != tag)
        return lines.panel.corners[static_cast<std::size_t>(tag)].at;
    return edge_name(lines.panel, panel_edge_of(lines.net, vertex));
}

/// The line on which a flap ends at a corner: from the corner, `angle` off its fold toward the outside.
Vec2 end_line(Vec2 along, Vec2 outside, double angle) {
    return std::cos(angle) * along + std::sin(angle) * outside;
}

/// How far along `direction` from `from` until `depth` outside of edge k is reached; none when its curve never lets it.
std::optional<double> reach(const Outline& net, std::size_t k, Vec2 from, Vec2 direction, Vec2 outside,
                            double depth) {
    const Edge e = net.edge(k);
    if (e.straight()) {
        const double rise = dot(direction, outside);
        if (rise <= 0) return std::nullopt;
        return depth / rise;
    }
    const Vec2 c = centre_of(e);
    const double target = e.bulge > 0 ? radius_of(e) + depth : radius_of(e) - depth;
    if (target <= 0) return std::nullopt;
    const Vec2 d = from - c;
    const double b = dot(d, direction), q = norm2(d) - target * target, root = b * b - q;
    if (root < 0) return std::nullopt;
    // Toward the outside of an outside curve the way out is the far root, of an inside curve the near one.
    const double s = e.bulge > 0 ? -b + std::sqrt(root) : -b - std::sqrt(root);
    if (s <= 0) return std::nullopt;
    return s;
}

/// Vertices of the face cut between the flaps of edges before and after: one where they meet, two where a spike was cut
/// off square. Empty when they do not follow one another.
std::vector<Vec2> face_corner(const TurningLines& lines, std::size_t before, std::size_t after) {
    const Outline& face = lines.face;
    const std::size_t n = face.size();
    for (std::size_t j = 0; j < n; ++j) {
        const std::size_t i = (j + n - 1) % n;
        if (face.vertices[i].tag != static_cast<int>(before) ||
            face.vertices[j].tag != static_cast<int>(after))
            continue;
        std::vector<Vec2> corner;
        // Bevels and steps carry the trace of the edge before them.
        std::size_t first = i;
        while (face.vertices[(first + n - 1) % n].tag == static_cast<int>(before) && first != j)
            first = (first + n - 1) % n;
        for (std::size_t k = (first + 1) % n; k != j; k = (k + 1) % n) corner.push_back(face.vertices[k].p);
        corner.push_back(face.vertices[j].p);
        return corner;
    }
    return {};
}

Outline outline_through(const std::vector<Vec2>& points) {
    Outline outline = polygon(points);
    if (area_mm2(outline) < 0) outline = reversed(outline);
    for (Vertex& v : outline.vertices) v.tag = 0;
    return outline;
}

/// One end of a flap at a corner.
struct FlapEnd {
    std::size_t edge;
    Vec2 along, outside;
    Vec2 foot;          ///< where the end line begins, on the fold
    Vec2 direction;     ///< of the end line
    double run_in = 0;  ///< how far along its edge the flap is narrower than the turn
};

FlapEnd flap_end(const TurningLines& lines, std::size_t edge, Vec2 along, Vec2 outside, Vec2 foot,
                 double angle) {
    FlapEnd end{edge, along, outside, foot, end_line(along, outside, angle), 0};
    const double depth = flap_outside_mm(lines.net, edge, Finish::turned, lines.settings);
    if (const auto s = reach(lines.net, edge, foot, end.direction, outside, depth)) {
        end.run_in = std::max(0.0, *s * dot(end.direction, along));
    }
    return end;
}

/// The outer point of a flap's end; nothing where the curve never lets the end line reach the turn.
std::optional<Vec2> outer_point(const TurningLines& lines, const FlapEnd& end) {
    const double depth = flap_outside_mm(lines.net, end.edge, Finish::turned, lines.settings);
    const auto s = reach(lines.net, end.edge, end.foot, end.direction, end.outside, depth);
    if (!s) return std::nullopt;
    return end.foot + *s * end.direction;
}

class CornerCutter {
  public:
    CornerCutter(const TurningLines& lines, Turning& out, Reporter& report)
        : lines_(lines), out_(out), report_(report), short_(relief_short_mm(lines.settings)) {
        step_.assign(lines.net.size(), 0);
        for (const Strip& strip : out.strips) {
            for (const std::size_t k : strip.edges) step_[k] = strip.step;
        }
        run_in_.assign(lines.net.size(), 0);
    }

    void cut(const FoldCorner& c) {
        const std::size_t n = lines_.net.size(), before = (c.vertex + n - 1) % n, after = c.vertex;
        if (c.before_turned && c.after_turned) {
            c.inside ? slit_between(c, before, after) : notch_between(c, before, after);
        } else if (c.before_turned) {
            beside_other(c, before, c.along_before, c.outside_before, after);
        } else {
            beside_other(c, after, c.along_after, c.outside_after, before);
        }
    }

    /// Flaps whose ends eat up their whole edge come to a point before they have their width.
    void judge_short_edges() {
        for (std::size_t k = 0; k < lines_.net.size(); ++k) {
            const double length = length_of(lines_.net.edge(k));
            if (run_in_[k] <= length) continue;
            const std::string name = edge_name(lines_.panel, panel_edge_of(lines_.net, k));
            report_.add("edge-short-for-turn", Severity::look, "edge", name,
                        {{"length", length, "mm"}, {"wanted", run_in_[k], "mm"}},
                        "The flap of edge " + name + " of panel " + lines_.panel.id +
                            " comes to a point: the sharp corners at its ends take " +
                            report_.said(run_in_[k]) + " of its " + report_.said(length) + ".",
                        "Turn less, bind or seal the edge, or make its corners less sharp.");
        }
    }

  private:
    void notch_between(const FoldCorner& c, std::size_t before, std::size_t after) {
        const bool before_over = step_[before] > step_[after];
        const double full = std::min(c.angle_rad, kPi / 2), over = c.sharp ? c.angle_rad / 2 : full;
        out_.corners.push_back({name_of(lines_, c.vertex), c.angle_rad,
                                strip_edge(before_over ? after : before),
                                strip_edge(before_over ? before : after), c.sharp});
        const FlapEnd b =
            flap_end(lines_, before, c.along_before, c.outside_before, c.at, before_over ? over : full);
        const FlapEnd a =
            flap_end(lines_, after, c.along_after, c.outside_after, c.at, before_over ? full : over);
        run_in_[before] += b.run_in;
        run_in_[after] += a.run_in;
        const std::vector<Vec2> corner = face_corner(lines_, before, after);
        const auto ob = outer_point(lines_, b), oa = outer_point(lines_, a);
        if (corner.empty() || !ob || !oa) return;
        std::vector<Vec2> points{*ob};
        points.insert(points.end(), corner.begin(), corner.end());
        points.push_back(*oa);
        points.push_back(c.at + short_ * a.direction);
        points.push_back(c.at + short_ * unit(c.outside_before + c.outside_after));
        points.push_back(c.at + short_ * b.direction);
        add_notch(c, points);
    }

    void slit_between(const FoldCorner& c, std::size_t before, std::size_t after) {
        const std::vector<Vec2> corner = face_corner(lines_, before, after);
        if (corner.empty()) return;
        slit(c, corner.front(), c.at);
        const double uncovered = lines_.settings.turn_mm / std::tan(kPi - c.angle_rad / 2);
        report_.add("inside-corner-turned", Severity::look, "corner", name_of(lines_, c.vertex),
                    {{"angle", c.angle_rad * 180 / kPi, "deg"}, {"flap narrower along", uncovered, "mm"}},
                    "Inside corner " + name_of(lines_, c.vertex) + " of panel " + lines_.panel.id +
                        " is slit to be turned: its point has no goods behind it, and the flaps have their "
                        "full width only " +
                        report_.said(uncovered) + " away.",
                    "Round the corner, or sew a patch under it.");
    }

    /// A turned edge beside one that is not: the flap must not stick out beyond the other's cut line.
    void beside_other(const FoldCorner& c, std::size_t turned, Vec2 along, Vec2 outside, std::size_t other) {
        const double sine = std::sin(c.angle_rad);
        const double in = lines_.finishes[other] == Finish::bound ? lines_.settings.binding_growth_mm : 0;
        const bool first_turned = turned != c.vertex;
        const std::vector<Vec2> corner =
            first_turned ? face_corner(lines_, turned, other) : face_corner(lines_, other, turned);
        if (corner.empty() || sine == 0) return;
        const Vec2 fold = c.at + in / sine * along;  // where the other's cut line crosses the fold
        if (c.inside) {
            slit(c, first_turned ? corner.back() : corner.front(), fold);
            return;
        }
        const double overhang = lines_.settings.turn_mm * std::cos(c.angle_rad) / sine;
        if (overhang <= lines_.settings.facet_mm) return;
        const FlapEnd end = flap_end(lines_, turned, along, outside, fold, c.angle_rad);
        run_in_[turned] += end.run_in + in / sine;
        const auto outer = outer_point(lines_, end);
        if (!outer) return;
        std::vector<Vec2> points{fold, *outer};
        if (first_turned) {
            points.insert(points.end(), corner.begin(), corner.end());
        } else {
            points.insert(points.end(), corner.rbegin(), corner.rend());
        }
        add_notch(c, points);
    }

    void add_notch(const FoldCorner& c, const std::vector<Vec2>& points) {
        ReliefCut cut;
        cut.kind = ReliefCut::Kind::corner_notch;
        cut.at = name_of(lines_, c.vertex);
        cut.notch = outline_through(points);
        out_.relief.push_back(std::move(cut));
    }

    void slit(const FoldCorner& c, Vec2 from, Vec2 toward) {
        const double whole = distance(from, toward);
        if (whole <= short_) return;
        ReliefCut cut;
        cut.kind = ReliefCut::Kind::corner_slit;
        cut.at = name_of(lines_, c.vertex);
        cut.slit = {{{from, 0, 0}, {toward + short_ / whole * (from - toward), 0, 0}}};
        out_.relief.push_back(std::move(cut));
    }

    std::string strip_edge(std::size_t k) const {
        return edge_name(lines_.panel, panel_edge_of(lines_.net, k));
    }

    const TurningLines& lines_;
    Turning& out_;
    Reporter& report_;
    double short_;
    std::vector<int> step_;
    std::vector<double> run_in_;
};

}  // namespace

std::vector<FoldCorner> fold_corners(const TurningLines& lines) {
    std::vector<FoldCorner> corners;
    const std::size_t n = lines.net.size();
    for (std::size_t k = 0; k < n; ++k) {
        const std::size_t before = (k + n - 1) % n;
        FoldCorner c;
        c.vertex = k;
        c.before_turned = lines.finishes[before] == Finish::turned;
        c.after_turned = lines.finishes[k] == Finish::turned;
        if (!c.before_turned && !c.after_turned) continue;
        const Vec2 in = direction_at(lines.net.edge(before), 1), out = direction_at(lines.net.edge(k), 0);
        const double sine = cross(in, out), cosine = dot(in, out);
        // Within the facet the goods give: one flap runs round the corner. (2 h tan of half the turn at the free edge.)
        const double surplus =
            1 + cosine > 0 ? 2 * lines.settings.turn_mm * std::fabs(sine) / (1 + cosine) : 1e300;
        if (c.before_turned && c.after_turned && surplus <= lines.settings.facet_mm) continue;
        c.at = lines.net.vertices[k].p;
        c.along_before = -in;
        c.along_after = out;
        c.outside_before = -left_of(in);
        c.outside_after = -left_of(out);
        c.angle_rad = kPi - std::atan2(sine, cosine);
        c.inside = sine < 0;
        c.sharp = !c.inside && cosine < kSharpTurn;
        corners.push_back(c);
    }
    return corners;
}

void cut_corners(const TurningLines& lines, const std::vector<FoldCorner>& corners, Turning& out,
                 Reporter& report) {
    CornerCutter cutter(lines, out, report);
    for (const FoldCorner& c : corners) cutter.cut(c);
    cutter.judge_short_edges();
}

}  // namespace spile
