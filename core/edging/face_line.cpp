#include "core/edging/face_line.h"

#include <cmath>
#include <optional>

#include "core/edging/trace.h"
#include "core/geom/edge_math.h"
#include "core/geom/intersect.h"
#include "core/geom/measure_of.h"
#include "core/geom/tolerance.h"
#include "core/geom/untangle.h"

namespace spile {
namespace {

/// Longest mitre of a corner between two flaps, from the corner, as a multiple of the turn; cut off square beyond it.
constexpr double kMitreLimit = 4;

Vec2 right_of(Vec2 direction) {
    return -left_of(direction);
}

Edge moved_out(const Edge& e, double by) {
    return {e.a + by * right_of(direction_at(e, 0)), e.b + by * right_of(direction_at(e, 1)), e.bulge, e.tag};
}

/// One end of a run of flaps, seen from its corner.
struct RunEnd {
    Vec2 foot;  ///< on the fold
    Vec2 rim;   ///< on the moved edge
};

class Walk {
  public:
    Walk(const Outline& core, const FlapPlan& plan, const FinishSettings& settings)
        : core_(core), plan_(plan), settings_(settings), n_(core.size()), noise_(noise_mm(box_of(core))) {}

    FaceLine made() {
        std::size_t first = n_;
        for (std::size_t i = 0; i < n_ && first == n_; ++i)
            if (!turned(i)) first = i;
        for (std::size_t i = 0; i < n_;) {
            const std::size_t k = (first + i) % n_;
            if (!turned(k)) {
                add(core_.vertices[k]);
                ++i;
                continue;
            }
            std::size_t count = 1;
            while (turned((k + count) % n_)) ++count;
            run(k, count);
            i += count;
        }
        find_collisions();
        std::vector<Outline> parts = untangled(walk_);
        for (Outline& part : parts) run_on(part);
        return {std::move(parts), std::move(collisions_), std::move(shorts_)};
    }

  private:
    /// Straight edges that run on into one another are one; where one is the end of a flap, it is the other's.
    static void run_on(Outline& part) {
        for (std::size_t k = 0; k < part.size() && part.size() > 3;) {
            const std::size_t next = (k + 1) % part.size();
            const Edge e = part.edge(k), f = part.edge(next);
            if (!e.straight() || !f.straight() || !is_run_on(direction_at(e, 1), direction_at(f, 0)) ||
                (e.tag >= 0 && f.tag >= 0 && e.tag != f.tag)) {
                ++k;
                continue;
            }
            part.vertices[k].tag = std::max(e.tag, f.tag);
            part.vertices.erase(part.vertices.begin() + static_cast<std::ptrdiff_t>(next));
            if (next < k) --k;
        }
    }

    /// The ends of two moved arcs that run on into one another differ by their rounding.
    bool same_place(Vec2 a, Vec2 b) const { return distance(a, b) <= 4 * noise_; }

    std::size_t trace(std::size_t i) const { return static_cast<std::size_t>(core_.vertices[i % n_].tag); }
    double turn(std::size_t i) const { return plan_.flaps[trace(i)].turn_mm; }
    bool turned(std::size_t i) const { return turn(i) > 0 && !is_join(core_, i % n_); }

    void add(const Vertex& v) { walk_.vertices.push_back(v); }
    /// A straight stretch of the flap of core edge i that is no moved edge.
    void add_side(Vec2 from, std::size_t i) { add({from, 0, -1 - static_cast<int>(trace(i))}); }

    /// `along` and `out` of the fold at the corner, away from it; the edge of the core beside it.
    RunEnd end_at(std::size_t i, bool at_start) {
        const Edge e = core_.edge(i % n_), beside = core_.edge((at_start ? i + n_ - 1 : i + 1) % n_);
        const Vec2 corner = at_start ? e.a : e.b;
        const Vec2 along = at_start ? direction_at(e, 0) : -direction_at(e, 1);
        const Vec2 out = at_start ? right_of(along) : left_of(along);
        const Vec2 fold = along_first_tab(e, at_start, settings_);
        const double h = turn(i);
        double cot = 0, trim = 0;
        bool inside = false;
        const auto away_from = [&](Vec2 w) {
            if (const double c = dot(fold, w); c > 0) cot = std::max(cot, c / std::fabs(cross(fold, w)));
            // Between the end of the flap and the edge beside it the knife needs room at the cut.
            if (dot(w, out) <= 0) return;
            inside = true;
            const double at_rim = h * (cot - dot(along, w) / std::fabs(cross(along, w)));
            if (at_rim < settings_.end_trim_mm) trim = std::max(trim, settings_.end_trim_mm - at_rim);
        };
        const Vec2 tangent = at_start ? -direction_at(beside, 1) : direction_at(beside, 0);
        away_from(tangent);
        if (!beside.straight()) {
            const double share = std::min(1.0, 2 * h / length_of(beside));
            away_from(unit(point_at(beside, at_start ? 1 - share : share) - corner));
        }
        // Prolonging the edge beside it saves a kink that no hand can mark.
        const double down = -dot(tangent, out);
        if (beside.straight() && trim == 0 && down > 0) {
            const double prolonged = -dot(tangent, along) / down;
            const bool is_bound = plan_.finishes[trace(at_start ? i + n_ - 1 : i + 1)] == Finish::bound;
            const double sticks_out = h * (cot - prolonged);
            if (-settings_.facet_mm <= sticks_out &&
                sticks_out <= (is_bound ? settings_.binding_growth_mm : 0))
                cot = prolonged;
        }
        const double least = std::min(least_flap_mm(settings_), h) + settings_.backing_thickness_mm;
        if (inside && trim + least * cot > settings_.facet_mm)
            shorts_.push_back({trace(i), at_start, trim + least * cot});
        RunEnd end;
        end.foot = trim == 0 ? corner : foot_at(e, at_start, trim);
        const Vec2 direction = cot * along + out;
        const Edge moved = moved_out(e, h);
        end.rim = end.foot + h * direction;
        if (e.straight()) return end;
        if (cot == 0 && trim == 0) {
            end.rim = at_start ? moved.a : moved.b;
            return end;
        }
        for (const Meeting& m : meet(Edge{end.foot, end.foot + 4 * h * direction, 0, 0}, moved)) {
            end.rim = m.at;
            return end;
        }
        // So tight a curve has no goods where the end would have to run: folded, its first tab would stick out.
        if (cot > 0) collisions_.push_back({trace(i), trace(at_start ? i + n_ - 1 : i + 1)});
        end.foot = corner;
        end.rim = at_start ? moved.a : moved.b;
        return end;
    }

    static Vec2 foot_at(const Edge& e, bool at_start, double from_corner) {
        const double share = std::min(0.5, from_corner / length_of(e));
        return point_at(e, at_start ? share : 1 - share);
    }

    void run(std::size_t first, std::size_t count) {
        const std::size_t last = first + count - 1;
        const RunEnd start = end_at(first, true), end = end_at(last, false);
        const Edge first_edge = core_.edge(first % n_), last_edge = core_.edge(last % n_);
        if (!(start.foot == first_edge.a))
            add({first_edge.a, edge_math::bulge_between(first_edge, first_edge.a, start.foot),
                 -1 - static_cast<int>(trace(first))});
        const std::size_t begun = walk_.size();
        add_side(start.foot, first);
        Vec2 at = start.rim;
        for (std::size_t i = first; i <= last; ++i) {
            const Edge e = moved_out(core_.edge(i % n_), turn(i));
            const bool is_last = i == last;
            Vec2 to = is_last ? end.rim : e.b;
            std::vector<Vec2> corner;
            if (!is_last) corner = joint(i, to);
            const double bulge =
                e.straight() ? 0 : edge_math::bulge_between(e, i == first ? at : e.a, is_last ? to : e.b);
            if (!e.straight() && i != first && !same_place(at, e.a)) {
                add_side(at, i);
                at = e.a;
            }
            add({at, bulge, e.tag});
            at = to;
            if (!e.straight() && !is_last && !same_place(to, e.b)) {
                add_side(e.b, i);
                at = to;
            }
            for (const Vec2 p : corner) {
                add_side(at, i);
                at = p;
            }
        }
        add_side(at, last);
        runs_.push_back({first, count, begun, walk_.size()});
        if (!(end.foot == last_edge.b))
            add({end.foot, edge_math::bulge_between(last_edge, end.foot, last_edge.b),
                 -1 - static_cast<int>(trace(last))});
    }

    /// The corner between moved edges i and i + 1 of one run: where edge i ends, `to`, and the points beyond up to where
    /// the next begins (where it is not at `to`).
    std::vector<Vec2> joint(std::size_t i, Vec2& to) const {
        const Edge e = moved_out(core_.edge(i % n_), turn(i)),
                   f = moved_out(core_.edge((i + 1) % n_), turn(i + 1));
        const Vec2 corner = core_.vertices[(i + 1) % n_].p;
        const Vec2 d = direction_at(e, 1), g = direction_at(f, 0);
        const double s = cross(d, g);
        to = e.b;
        if (is_run_on(d, g)) return same_place(e.b, f.a) ? std::vector<Vec2>{} : std::vector<Vec2>{f.a};
        if (s < 0) return {corner, f.a};
        const Vec2 out = unit(right_of(d) + right_of(g));
        const double far = kMitreLimit * std::max(turn(i), turn(i + 1));
        const double x = cross(f.a - e.b, g) / s;  // along d to where the two meet
        const Vec2 tip = e.b + x * d;
        if (dot(tip - corner, out) <= far && s > 0) {
            to = tip;
            return {};
        }
        to = e.b + (far - dot(e.b - corner, out)) / dot(d, out) * d;
        return {f.a + (far - dot(f.a - corner, out)) / dot(g, out) * g};
    }

    struct Run {
        std::size_t first, count;  ///< edges of the core
        std::size_t begun, ended;  ///< its vertices of the walk
    };

    void find_collisions() {
        for (std::size_t r = 0; r < runs_.size(); ++r) {
            for (std::size_t v = runs_[r].begun; v < runs_[r].ended; ++v) {
                const Edge mine = walk_.edge(v);
                const Box box = box_of(mine);
                for (std::size_t i = 0; i < n_; ++i)
                    if (!turned(i)) collide(mine, box, core_.edge(i));
                for (std::size_t q = 0; q < r; ++q)
                    for (std::size_t w = runs_[q].begun; w < runs_[q].ended; ++w)
                        collide(mine, box, walk_.edge(w));
            }
        }
    }

    void collide(const Edge& mine, const Box& box, const Edge& other) {
        const Box b = box_of(other);
        if (box.max.x < b.min.x || b.max.x < box.min.x || box.max.y < b.min.y || b.max.y < box.min.y) return;
        for (const Meeting& m : meet(mine, other)) {
            if (m.touching) continue;
            const auto of = [](int tag) { return static_cast<std::size_t>(tag < 0 ? -1 - tag : tag); };
            collisions_.push_back({of(mine.tag), of(other.tag)});
            return;
        }
    }

    const Outline& core_;
    const FlapPlan& plan_;
    const FinishSettings& settings_;
    std::size_t n_;
    double noise_;
    Outline walk_;
    std::vector<Run> runs_;
    std::vector<FlapCollision> collisions_;
    std::vector<FlapShort> shorts_;
};

}  // namespace

FaceLine face_line(const Outline& core, const FlapPlan& plan, const FinishSettings& settings) {
    return Walk(core, plan, settings).made();
}

}  // namespace spile
