#include "tests/job/roll_oracle.h"

#include <algorithm>
#include <cmath>
#include <polyclipping/clipper.hpp>

namespace spile::testing {
namespace {

constexpr double kFlat = 0.0005;  // mm a chord stands off its arc
// Two placements in whole micrometres take 1.42 um from a gap, two chords 1 um, Clipper's grid 0.1 um. A fault of 0.01 mm is seen.
constexpr double kSlack = 0.005;
constexpr double kScale = 1e4;

struct P {
    double x, y;
};
using Loop = std::vector<P>;

struct Laid {
    std::string id;
    const LayoutPiece* of;
    Placement at;
    std::vector<Loop> loops;  ///< roll space; the outer one first
    double min_x = 1e300, min_y = 1e300, max_x = -1e300, max_y = -1e300;
};

/// A quarter turn counter-clockwise takes (x, y) to (-y, x).
P laid_at(P p, const Placement& at) {
    for (int k = 0; k < at.turns; ++k) p = {-p.y, p.x};
    return {p.x + static_cast<double>(at.x_um) * 1e-3, p.y + static_cast<double>(at.y_um) * 1e-3};
}

/// The loop as chords; an arc by its included angle, 4 atan(bulge).
Loop chords(const Outline& outline) {
    Loop loop;
    for (std::size_t i = 0; i < outline.vertices.size(); ++i) {
        const Vertex &v = outline.vertices[i], &w = outline.vertices[(i + 1) % outline.vertices.size()];
        loop.push_back({v.p.x, v.p.y});
        if (v.bulge == 0) continue;
        const double angle = 4 * std::atan(v.bulge), dx = w.p.x - v.p.x, dy = w.p.y - v.p.y;
        const double chord = std::hypot(dx, dy), radius = chord / 2 / std::sin(std::fabs(angle) / 2);
        const int n =
            std::max(2, static_cast<int>(std::ceil(std::fabs(angle) / std::sqrt(8 * kFlat / radius))));
        // Turned about the first end: the chord to a share of the arc leans from the whole chord by half of what is left.
        for (int k = 1; k < n; ++k) {
            const double part = angle * k / n, lean = (part - angle) / 2;
            const double far = 2 * radius * std::sin(std::fabs(part) / 2) / chord;
            loop.push_back({v.p.x + far * (dx * std::cos(lean) - dy * std::sin(lean)),
                            v.p.y + far * (dx * std::sin(lean) + dy * std::cos(lean))});
        }
    }
    return loop;
}

double to_segment(P p, P a, P b) {
    const double dx = b.x - a.x, dy = b.y - a.y, l2 = dx * dx + dy * dy;
    const double t = l2 > 0 ? std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / l2, 0.0, 1.0) : 0;
    return std::hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
}

/// Least distance of the outlines as far as it is below `enough`. Where they cross, that is for the set operations.
double distance(const Laid& a, const Laid& b, double enough) {
    double best = enough;
    const auto from = [&](const Laid& one, const Laid& other) {
        for (const Loop& loop : one.loops)
            for (const P p : loop) {
                if (p.x < other.min_x - best || p.x > other.max_x + best || p.y < other.min_y - best ||
                    p.y > other.max_y + best)
                    continue;
                for (const Loop& sides : other.loops)
                    for (std::size_t i = 0; i < sides.size(); ++i) {
                        const P c = sides[i], d = sides[i + 1 == sides.size() ? 0 : i + 1];
                        if (std::min(c.x, d.x) - p.x > best || p.x - std::max(c.x, d.x) > best ||
                            std::min(c.y, d.y) - p.y > best || p.y - std::max(c.y, d.y) > best)
                            continue;
                        best = std::min(best, to_segment(p, c, d));
                    }
            }
    };
    from(a, b);
    from(b, a);
    return best;
}

ClipperLib::Paths paths_of(const std::vector<Loop>& loops) {
    ClipperLib::Paths out;
    for (const Loop& loop : loops) {
        ClipperLib::Path path;
        for (const P p : loop)
            path.push_back(ClipperLib::IntPoint(std::llround(p.x * kScale), std::llround(p.y * kScale)));
        out.push_back(std::move(path));
    }
    return out;
}

/// Is more left of what the operation gives than a skin all round? Loops count by how often they go round a place, odd is in.
bool thick(ClipperLib::ClipType type, const std::vector<Loop>& a, const std::vector<Loop>& b) {
    ClipperLib::Clipper clipper;
    clipper.AddPaths(paths_of(a), ClipperLib::ptSubject, true);
    clipper.AddPaths(paths_of(b), ClipperLib::ptClip, true);
    ClipperLib::Paths out;
    clipper.Execute(type, out, ClipperLib::pftEvenOdd, ClipperLib::pftEvenOdd);
    ClipperLib::ClipperOffset inward;
    inward.AddPaths(out, ClipperLib::jtMiter, ClipperLib::etClosedPolygon);
    ClipperLib::Paths left;
    inward.Execute(left, -kSlack / 2 * kScale);
    return !left.empty();
}

Loop box(double x0, double y0, double x1, double y1) {
    return {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}};
}

/// How far `v` is from the nearest whole multiple.
double off_multiple(double v, double of) {
    return std::fabs(v - of * std::floor(v / of + 0.5));
}

class Judge {
  public:
    Judge(const Goods& goods, const Layout& layout) : goods_(goods), layout_(layout) {}

    void lay(const std::vector<LayoutPiece>& pieces, const std::vector<Placement>& placements, bool all) {
        for (const LayoutPiece& piece : pieces) {
            int times = 0;
            for (const Placement& p : placements)
                if (p.piece == piece.id) {
                    ++times;
                    add(piece, p);
                }
            if (times > 1 || (all && times == 0))
                say(piece.id, "lies there " + std::to_string(times) + " times");
        }
    }

    std::vector<std::string> judge() {
        for (std::size_t i = 0; i < laid_.size(); ++i) {
            alone(laid_[i]);
            for (std::size_t j = 0; j < i; ++j) {
                apart(laid_[j], laid_[i]);
                one_pattern(laid_[j], laid_[i]);
            }
        }
        return std::move(faults_);
    }

    double reached(const std::vector<Placement>& of) const {
        double x = 0;
        for (const Laid& l : laid_)
            if (std::any_of(of.begin(), of.end(), [&](const Placement& p) { return p.piece == l.id; }))
                x = std::max(x, l.max_x);
        return x;
    }

    void say(const std::string& who, const std::string& what) { faults_.push_back(who + " " + what); }

  private:
    void add(const LayoutPiece& piece, const Placement& p) {
        Laid l{piece.id, &piece, p, {}};
        l.loops.push_back(chords(piece.outline.outer));
        for (const Outline& hole : piece.outline.holes) l.loops.push_back(chords(hole));
        for (Loop& loop : l.loops)
            for (P& q : loop) q = laid_at(q, p);
        for (const P q : l.loops[0]) {
            l.min_x = std::min(l.min_x, q.x);
            l.max_x = std::max(l.max_x, q.x);
            l.min_y = std::min(l.min_y, q.y);
            l.max_y = std::max(l.max_y, q.y);
        }
        laid_.push_back(std::move(l));
    }

    bool carries(const Laid& l) const {
        return !l.of->cloth.empty() && (goods_.repeat.along_mm > 0 || goods_.repeat.across_mm > 0);
    }

    void alone(const Laid& l) {
        const double room = goods_.edge_gap_mm < 0 ? goods_.gap_mm : goods_.edge_gap_mm;
        if (l.min_x < room - kSlack) say(l.id, "is too near the cut end");
        if (l.min_y < room - kSlack) say(l.id, "is too near the near selvedge");
        if (l.max_y > goods_.usable_width_mm - room + kSlack) say(l.id, "is too near the far selvedge");
        if (goods_.length_mm > 0 && l.max_x > goods_.length_mm - room + kSlack)
            say(l.id, "is beyond the end");
        const bool may_turn[] = {true, goods_.turning == Turning::quarter,
                                 goods_.turning == Turning::quarter || goods_.turning == Turning::half,
                                 goods_.turning == Turning::quarter};
        const bool turns_right = l.at.turns >= 0 && l.at.turns < 4 && (l.of->any_way || may_turn[l.at.turns]);
        if (!turns_right || (carries(l) && l.at.turns != 0)) say(l.id, "is turned");
        for (const Flaw& flaw : goods_.flaws)
            if (thick(ClipperLib::ctIntersection, l.loops,
                      {box(flaw.at_mm.min.x, flaw.at_mm.min.y, flaw.at_mm.max.x, flaw.at_mm.max.y)}))
                say(l.id, "lies on flaw " + flaw.id);
        if (l.of->pin && !(*l.of->pin == l.at)) say(l.id, "has left its pin");
        if (goods_.outline.empty()) return;
        Laid rim{"the offcut", nullptr, {}, {chords(goods_.outline)}};
        rim.min_x = rim.min_y = -1e300;
        rim.max_x = rim.max_y = 1e300;
        if (thick(ClipperLib::ctDifference, l.loops, rim.loops)) say(l.id, "stands over the offcut");
        if (distance(l, rim, room) < room - kSlack) say(l.id, "is too near the edge of the offcut");
    }

    void apart(const Laid& a, const Laid& b) {
        const double gap = goods_.gap_mm;
        if (a.min_x > b.max_x + gap || b.min_x > a.max_x + gap || a.min_y > b.max_y + gap ||
            b.min_y > a.max_y + gap)
            return;
        if (thick(ClipperLib::ctIntersection, a.loops, b.loops))
            say(a.id + " and " + b.id, "lie on one another");
        const double d = distance(a, b, gap);
        if (d < gap - kSlack) say(a.id + " and " + b.id, "are " + std::to_string(d) + " apart");
    }

    /// Two pieces of one cloth: some whole number of rows across, and for those whole repeats along.
    void one_pattern(const Laid& a, const Laid& b) {
        if (!carries(a) || a.of->cloth != b.of->cloth) return;
        const double dx =
            static_cast<double>(b.at.x_um - a.at.x_um) * 1e-3 - (b.of->in_cloth_mm.x - a.of->in_cloth_mm.x);
        const double dy =
            static_cast<double>(b.at.y_um - a.at.y_um) * 1e-3 - (b.of->in_cloth_mm.y - a.of->in_cloth_mm.y);
        const Repeat& r = goods_.repeat;
        for (int row = r.across_mm > 0 ? -300 : 0; row <= (r.across_mm > 0 ? 300 : 0); ++row) {
            const bool across = r.across_mm <= 0 || std::fabs(dy - row * r.across_mm) < kSlack;
            const bool along = r.along_mm <= 0 || off_multiple(dx - row * r.drop_mm, r.along_mm) < kSlack;
            if (across && along) return;
        }
        say(a.id + " and " + b.id, "do not carry the pattern");
    }

    const Goods& goods_;
    const Layout& layout_;
    std::vector<Laid> laid_;
    std::vector<std::string> faults_;
};

}  // namespace

std::vector<std::string> faults_on_the_roll(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                                            const Layout& layout) {
    Judge judge(goods, layout);
    const std::vector<LayoutPiece> fillers = filler_pieces(goods);
    judge.lay(pieces, layout.placements, true);
    judge.lay(fillers, layout.fillers, false);
    const double room = goods.edge_gap_mm < 0 ? goods.gap_mm : goods.edge_gap_mm;
    const double used = judge.reached(layout.placements) + room;
    if (goods.outline.empty() && std::fabs(used - layout.used_mm) > kSlack)
        judge.say("used", "is not what is used");
    if (judge.reached(layout.fillers) + room > layout.used_mm + kSlack && !layout.fillers.empty())
        judge.say("fillers", "reach beyond the panels");
    const double needed = goods.outline.empty() ? std::max(used, goods.least_order_mm) : used;
    if (layout.bought_mm < needed - kSlack || (goods.step_mm > 0 && goods.outline.empty() &&
                                               (layout.bought_mm > needed + goods.step_mm ||
                                                off_multiple(layout.bought_mm, goods.step_mm) > kSlack)))
        judge.say("bought", "is not whole steps, or not what is needed or least sold");
    if (layout.bound_mm > used + kSlack) judge.say("bound", "is above a layout that there is");
    return judge.judge();
}

}  // namespace spile::testing
