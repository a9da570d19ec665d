#include "core/edging/match_strokes.h"

#include <algorithm>
#include <cmath>

#include "core/geom/intersect.h"
#include "core/geom/measure_of.h"

namespace spile {
namespace {

constexpr double kShows_mm = 25.4 / 2;  ///< of a stroke that the finish leaves bare (common practice)
constexpr double kRunsAlong = 0.5;      ///< cosine: the cut goes by beside the joint, not across it

/// How wide a finish covers the back of the goods, from the net line.
double covered_mm(Finish edge, const FinishSettings& finish) {
    return edge == Finish::turned ? finish.turn_mm : edge == Finish::bound ? finish.binding_width_mm / 2 : 0;
}

}  // namespace

std::vector<MatchStroke> match_strokes(const Panel& panel, const Region& face, const FinishSettings& finish) {
    std::vector<MatchStroke> strokes;
    double left_long = 0;
    for (const EdgePlan& e : panel.edges) left_long = std::max(left_long, e.left_long_mm);
    const double reach = finish.turn_mm + finish.binding_growth_mm + left_long + 1;
    for (const MatchMark& m : panel.match_marks) {
        const Vec2 end = m.net_mm + (covered_mm(m.finish, finish) + kShows_mm) * m.inward;
        const Edge ray{m.net_mm - reach * m.inward, end, 0, 0};
        const double length = distance(ray.a, ray.b);
        // Where the ray comes into the goods nearest to the net line, and where it leaves them again.
        double in = -1, out = 1;
        const auto along = [&](const Outline& outline, bool into, double from) {
            for (std::size_t k = 0; k < outline.size(); ++k) {
                const Edge e = outline.edge(k);
                for (const Meeting& at : meet(ray, e)) {
                    const double turn = cross(direction_at(e, at.t_b), m.inward);
                    if (into && turn > kRunsAlong &&
                        (in < 0 || std::fabs(at.t_a * length - reach) < std::fabs(in * length - reach)))
                        in = at.t_a;
                    if (!into && turn < 0 && at.t_a > from) out = std::min(out, at.t_a);
                }
            }
        };
        for (const bool into : {true, false}) {
            along(face.outer, into, in);
            for (const Outline& hole : face.holes) along(hole, into, in);
        }
        if (in < 0) continue;
        // A narrow piece has half its width.
        const double to = out < 1 ? (in + out) / 2 : 1;
        strokes.push_back({m.name, m.other, lerp(ray.a, ray.b, in), lerp(ray.a, ray.b, to)});
    }
    return strokes;
}

}  // namespace spile
