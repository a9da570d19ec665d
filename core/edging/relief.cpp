// Relief cuts along the curves of turned edges.
#include <algorithm>
#include <cmath>
#include <limits>

#include "core/edging/turning.h"
#include "core/geom/measure_of.h"

namespace spile {
namespace {

/// How much the goods beside a slit's root may have to stretch: 0.6 of their length. The usual hole round a 2 in post stretches
/// them by 0.5 (common practice).
constexpr double kMostStretch = 0.6;

/// A stretch of one strip that curves to one side.
struct Curve {
    std::vector<std::size_t> edges;
    bool hollow = false;
    bool closed = false;
};

std::vector<Curve> curves_of(const Outline& net, const Strip& strip, bool all_round) {
    std::vector<Curve> curves;
    for (const std::size_t k : strip.edges) {
        const double bulge = net.vertices[k].bulge;
        if (bulge == 0) continue;
        const bool goes_on = !curves.empty() && curves.back().hollow == (bulge < 0) &&
                             (curves.back().edges.back() + 1) % net.size() == k;
        if (!goes_on) curves.push_back({{}, bulge < 0, false});
        curves.back().edges.push_back(k);
    }
    if (!all_round || curves.empty()) return curves;
    // A strip all round has no first edge: what curves over its seam is one.
    if (curves.size() > 1 && curves.front().hollow == curves.back().hollow &&
        net.vertices.front().bulge != 0 && net.vertices.back().bulge != 0) {
        Curve& last = curves.back();
        last.edges.insert(last.edges.end(), curves.front().edges.begin(), curves.front().edges.end());
        curves.erase(curves.begin());
    }
    if (curves.size() == 1 && curves.front().edges.size() == net.size()) curves.front().closed = true;
    return curves;
}

/// The first of these edges that belongs to an edge of the panel, not to a rounded corner; else the edge before it.
std::string name_of(const TurningLines& lines, const Curve& curve) {
    for (const std::size_t k : curve.edges) {
        const int tag = lines.net.vertices[k].tag;
        if (tag >= 0) return edge_name(lines.panel, static_cast<std::size_t>(tag));
    }
    const std::size_t after = (curve.edges.back() + 1) % lines.net.size();
    const int tag = lines.net.vertices[after].tag;
    return tag >= 0 ? lines.panel.corners[static_cast<std::size_t>(tag)].at
                    : edge_name(lines.panel, panel_edge_of(lines.net, curve.edges.front()));
}

bool is_corner(const TurningLines& lines, const Curve& curve) {
    return std::all_of(curve.edges.begin(), curve.edges.end(),
                       [&](std::size_t k) { return lines.net.vertices[k].tag < 0; });
}

/// Where a slit through `at` on the fold begins on the face cut, looking along `out`.
Vec2 face_end(const TurningLines& lines, Vec2 at, Vec2 out, double radius) {
    const double turn = lines.settings.turn_mm;
    if (radius > turn) return at + turn * out;
    // The hollow is tighter than the turn: its flap ends where the neighbouring turns meet.
    const Vec2 centre = at + radius * out;
    Vec2 nearest = lines.face.vertices.front().p;
    for (const Vertex& v : lines.face.vertices) {
        if (distance(v.p, centre) < distance(nearest, centre)) nearest = v.p;
    }
    return nearest;
}

ReliefCut notch(const std::string& at, Vec2 centre, double radius, double angle_at, double pitch_rad,
                double from, double to) {
    const auto corner = [&](double depth, int side) {
        const double half =
            depth * pitch_rad / (radius + depth);  // 2 y per radian, along the circle of radius + y
        const double angle = angle_at + side * half;
        return centre + (radius + depth) * Vec2{std::cos(angle), std::sin(angle)};
    };
    ReliefCut cut;
    cut.kind = ReliefCut::Kind::curve_notch;
    cut.at = at;
    cut.notch = polygon({corner(from, -1), corner(to, -1), corner(to, 1), corner(from, 1)});
    for (Vertex& v : cut.notch.vertices) v.tag = 0;
    return cut;
}

void judge_curve(const TurningLines& lines, const Curve& curve, const std::string& name, double tightest,
                 double stop_short, Reporter& report) {
    const char* kind = is_corner(lines, curve) ? "corner" : "edge";
    const std::string what = std::string(kind == std::string("corner") ? "Corner " : "Edge ") + name +
                             " of panel " + lines.panel.id;
    const double turn = lines.settings.turn_mm;
    if (tightest <= turn) {
        report.add("curve-tighter-than-turn", Severity::look, kind, name,
                   {{"radius", tightest, "mm"}, {"turn", turn, "mm"}},
                   what + " curves to a radius of " + report.said(tightest) + ", no wider than the turn of " +
                       report.said(turn) + ": " +
                       (curve.hollow ? "the flaps beside it meet and leave it less behind."
                                     : "its flap is narrowed to the radius."),
                   "Turn less, ease the curve, or bind or seal the edge.");
    }
    if (!curve.hollow) return;
    const double stretch = tightest > stop_short ? 2 * stop_short / (tightest - stop_short)
                                                 : std::numeric_limits<double>::infinity();
    if (stretch <= kMostStretch) return;
    report.add("turn-stretches", Severity::look, kind, name,
               {{"radius", tightest, "mm"},
                {"slits stop short", stop_short, "mm"},
                {"most stretch", kMostStretch, ""}},
               what + " is too hollow to turn well: between the fold and the roots of the slits, " +
                   report.said(stop_short) + " from it, the goods have to stretch by more than six tenths.",
               "Ease the curve to a radius of " + report.said(stop_short * (1 + 2 / kMostStretch)) +
                   ", or bind or seal the edge.");
}

}  // namespace

void relieve_curves(const TurningLines& lines, const Strip& strip, bool all_round, Turning& out,
                    Reporter& report) {
    const Outline& net = lines.net;
    const double stop_short = relief_short_mm(lines.settings);
    for (const Curve& curve : curves_of(net, strip, all_round)) {
        // Facets the fold may be made of: each edge counts by its own pitch.
        double facets = 0, tightest = std::numeric_limits<double>::max();
        for (const std::size_t k : curve.edges) {
            const Edge e = net.edge(k);
            const double radius = radius_of(e);
            facets += length_of(e) / std::sqrt(8 * radius * lines.settings.facet_mm);
            tightest = std::min(tightest, radius);
        }
        if (facets <= 1) continue;  // as good as straight
        const std::string name = name_of(lines, curve);
        judge_curve(lines, curve, name, tightest, stop_short, report);

        const int count = static_cast<int>(std::ceil(facets - 1e-9));
        int made = 0;
        double passed = 0, closest = std::numeric_limits<double>::max();
        for (const std::size_t k : curve.edges) {
            const Edge e = net.edge(k);
            const Arc arc = arc_of(e);
            const double length = length_of(e),
                         pitch = std::sqrt(8 * arc.radius * lines.settings.facet_mm) * facets / count;
            const double here = length / std::sqrt(8 * arc.radius * lines.settings.facet_mm);
            closest = std::min(closest, pitch);
            for (; made < count; ++made) {
                const double at = (made + 0.5) * facets / count;
                if (at >= passed + here) break;
                const double angle = arc.start_rad + arc.sweep_rad * (at - passed) / here;
                if (curve.hollow) {
                    const Vec2 outward = -Vec2{std::cos(angle), std::sin(angle)};
                    const Vec2 fold = arc.centre - arc.radius * outward;
                    const Vec2 from = face_end(lines, fold, outward, arc.radius);
                    const double whole = distance(from, fold);
                    if (whole <= stop_short) continue;
                    ReliefCut cut;
                    cut.kind = ReliefCut::Kind::curve_slit;
                    cut.at = name;
                    cut.slit = {{{from, 0, 0}, {fold + stop_short / whole * (from - fold), 0, 0}}};
                    out.relief.push_back(std::move(cut));
                } else {
                    const double depth = flap_outside_mm(net, k, Finish::turned, lines.settings);
                    if (depth <= stop_short) continue;
                    out.relief.push_back(
                        notch(name, arc.centre, arc.radius, angle, pitch / arc.radius, stop_short, depth));
                }
            }
            passed += here;
            const int tag = net.vertices[k].tag;
            if (tag >= 0) {
                EdgeReport& edge = out.edges[static_cast<std::size_t>(tag)];
                edge.relief_pitch_mm =
                    edge.relief_pitch_mm == 0 ? closest : std::min(edge.relief_pitch_mm, closest);
            }
        }
        for (const std::size_t k : curve.edges) {
            if (net.vertices[k].tag < 0) continue;
            out.edges[static_cast<std::size_t>(net.vertices[k].tag)].relief_cuts += count;
            break;
        }
    }
}

}  // namespace spile
