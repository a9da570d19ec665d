// Every fault of an outline, with its place.
#include <algorithm>
#include <cstdint>

#include "core/geom/chain.h"
#include "core/geom/edge_math.h"
#include "core/geom/intersect.h"
#include "core/geom/measure_of.h"
#include "core/geom/meet.h"
#include "core/geom/strips.h"

namespace spile {

using namespace edge_math;

namespace {

using Kind = OutlineFault::Kind;

/// Two passes of an outline through one place cross when their four directions alternate round it. A place inside an
/// edge comes from behind and goes on ahead; a corner comes along one edge and goes on along the next.
struct Pass {
    Vec2 back;   ///< where it came from
    Vec2 ahead;  ///< where it goes
};

/// True when direction d lies in the turn counter-clockwise from a to b.
bool within_turn(Vec2 a, Vec2 b, Vec2 d) {
    return cross(a, b) > 0 ? cross(a, d) > 0 && cross(d, b) > 0 : !(cross(b, d) >= 0 && cross(d, a) >= 0);
}

/// Directions closer than this sine count as one: such passes touch.
bool parallel(Vec2 a, Vec2 b) {
    return std::fabs(cross(a, b)) <= 0x1p-40 && dot(a, b) > 0;
}

bool alternate(const Pass& p, const Pass& q) {
    for (const Vec2 d : {q.back, q.ahead})
        if (parallel(p.back, d) || parallel(p.ahead, d)) return false;
    return within_turn(p.back, p.ahead, q.back) != within_turn(p.back, p.ahead, q.ahead);
}

class Judge {
  public:
    Judge(const Outline& outline, double noise) : noise_(noise) {
        // Edges without length are reported and then stepped over, so that their neighbours are judged as neighbours.
        for (std::size_t i = 0; i < outline.size(); ++i) {
            const Edge e = outline.edge(i);
            if (distance(e.a, e.b) <= noise) {
                faults.push_back({Kind::zero_edge, e.a, i, i});
            } else {
                edges_.push_back(e);
                index_.push_back(i);
            }
        }
    }

    void judge_pairs() {
        std::vector<Box> boxes;
        boxes.reserve(edges_.size());
        for (const Edge& e : edges_) boxes.push_back(box_of(e));
        const Strips strips(std::move(boxes), noise_);
        strips.each_pair([this](std::size_t i, std::size_t j) { judge_pair(i, j); });
    }

    std::size_t edge_count() const { return edges_.size(); }

    std::vector<OutlineFault> faults;

  private:
    void judge_pair(std::size_t i, std::size_t j) {
        const std::size_t n = edges_.size();
        const bool follows = j == i + 1;
        const bool precedes = i == 0 && j + 1 == n;  // may both be so: two edges
        if ((follows != precedes) && flat(edges_[i]) && flat(edges_[j]) && !folded(follows ? i : j)) return;
        for (const Meeting& m : meet(edges_[i], edges_[j], noise_)) {
            if (follows && is_corner(i, j, m.at)) continue;
            if (precedes && is_corner(j, i, m.at)) continue;
            const bool crosses = !m.touching || alternate(pass(i, m.t_a, m.at), pass(j, m.t_b, m.at));
            add({crosses ? Kind::crosses_itself : Kind::touches_itself, m.at, index_[i], index_[j]});
        }
    }

    /// Straight edge i and the next turn back on themselves.
    bool folded(std::size_t i) const {
        const Vec2 u = unit(edges_[i].b - edges_[i].a);
        const Edge& next = edges_[(i + 1) % edges_.size()];
        return dot(u, next.b - next.a) < 0 && std::fabs(cross(u, next.b - next.a)) <= 2 * noise_;
    }

    /// The meeting is nothing but the corner between edge i and the next, j. At a cusp two curves stay within noise of
    /// each other for sqrt(8 noise / k), k the difference of their curvatures.
    bool is_corner(std::size_t i, std::size_t j, Vec2 at) const {
        const double off = distance(at, edges_[i].b);
        if (off <= 4 * noise_) return true;
        const Vec2 u = end_tangent(edges_[i]);
        const Vec2 v = start_tangent(edges_[j]);
        if (dot(u, v) >= 0) return false;
        const double bend = std::fabs(curvature(edges_[i]) + curvature(edges_[j]));
        return std::fabs(cross(u, v)) * off <= 4 * noise_ && bend * off * off <= 32 * noise_;
    }

    static double curvature(const Edge& e) { return flat(e) ? 0 : sign_of(e.bulge) / radius_of(e); }

    Pass pass(std::size_t i, double t, Vec2 at) const {
        const std::size_t n = edges_.size();
        const Edge& e = edges_[i];
        if (t <= 0) return {-end_tangent(edges_[(i + n - 1) % n]), start_tangent(e)};
        if (t >= 1) return {-end_tangent(e), start_tangent(edges_[(i + 1) % n])};
        const Vec2 d = left_of(right_normal_at(e, at));
        return {-d, d};
    }

    void add(const OutlineFault& f) {
        // A corner on another edge is met by both edges of the corner: said once.
        for (const OutlineFault& g : faults)
            if (g.kind == f.kind && distance(g.at, f.at) <= 4 * noise_) return;
        faults.push_back(f);
    }

    double noise_;
    std::vector<Edge> edges_;
    std::vector<std::size_t> index_;
};

}  // namespace

std::vector<OutlineFault> faults_of(const Outline& outline) {
    std::vector<OutlineFault> faults;
    const std::size_t n = outline.size();
    if (n < 2) faults.push_back({Kind::too_few_edges, n == 1 ? outline.vertices[0].p : Vec2{}, 0, 0});
    for (std::size_t i = 0; i < n; ++i) {
        const Vertex& v = outline.vertices[i];
        if (!finite(v.p) || !std::isfinite(v.bulge)) {
            faults.push_back({Kind::not_finite, v.p, i, i});
        } else if (std::fabs(v.bulge) > 1 + noise_mm(1)) {
            faults.push_back({Kind::bulge_too_large, v.p, i, i});
        }
    }
    if (!faults.empty()) return faults;  // nothing below would mean anything

    const double noise = noise_mm(largest(outline));
    Judge judge(outline, noise);
    if (judge.edge_count() >= 2) judge.judge_pairs();
    if (judge.edge_count() < 2 || std::fabs(area_mm2(outline)) <= noise * length_mm(outline))
        judge.faults.push_back({Kind::no_area, outline.vertices[0].p, 0, 0});
    std::stable_sort(judge.faults.begin(), judge.faults.end(),
                     [](const OutlineFault& a, const OutlineFault& b) {
                         return a.edge_a != b.edge_a ? a.edge_a < b.edge_a : a.edge_b < b.edge_b;
                     });
    return judge.faults;
}

bool chain::fit_for_work(const Outline& outline) {
    for (const OutlineFault& f : faults_of(outline))
        if (f.kind != Kind::touches_itself && f.kind != Kind::zero_edge) return false;
    return true;
}

}  // namespace spile
