// An oracle that folds: every flap of a piece is turned over its fold, point by point, with nothing from edging but the
// cut lines it made.
#pragma once

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "core/edging/piece.h"
#include "tests/shape/panels.h"

namespace spile::testing_panels {

/// One straight fold: a whole straight edge of the net line, or a facet between two relief cuts of a curve.
struct Fold {
    std::size_t edge = 0;   ///< of the net line, where it begins
    double t0 = 0, t1 = 1;  ///< shares of the edges it begins and ends on
    std::size_t last = 0;   ///< of the net line, where it ends
    Vec2 a, b;
    bool hollow = false;
    bool begins_at_cut = false, ends_at_cut = false;

    Vec2 over(Vec2 p) const {  ///< p turned over this fold
        const Vec2 d = unit(b - a), r = p - a;
        return a + 2 * dot(r, d) * d - r;
    }
};

class Folding {
  public:
    Folding(const Piece& piece, const FinishSettings& settings)
        : piece_(piece), settings_(settings), net_(piece.net.outer) {
        short_ = std::max(settings.slit_short_mm, settings.backing_thickness_mm + kIn / 8);
        find_cuts();
        find_folds();
    }

    const std::vector<Fold>& folds() const { return folds_; }

    /// Goods of the flap at p: in the face cut, beyond the net line, not notched away (`slack` mm of doubt).
    bool flap_at(Vec2 p, double slack) const {
        if (!in(piece_.cut.face.outer, p, slack) || side_of(net_, p) == Side::inside) return false;
        for (const ReliefCut& cut : piece_.relief) {
            if (!cut.notch.empty() && in(cut.notch, p, -slack)) return false;
        }
        return true;
    }

    /// Which fold turns p over: that of the nearest net edge, on a curve the facet between the cuts beside it.
    const Fold* fold_of(Vec2 p) const {
        const Nearest at = nearest_on(net_, p);
        if (finish_[at.edge] != Finish::turned) return nullptr;
        const double t = share(at.edge, at.at);
        for (const Fold& fold : folds_) {
            if (holds(fold, at.edge, t)) return &fold;
        }
        return nullptr;
    }

    /// 0 when p, turned over, lies inside the net line; else how far it sticks out.
    double sticks_out(Vec2 p) const {
        const Fold* fold = fold_of(p);
        if (!fold) return 0;
        const Vec2 q = fold->over(p);
        return side_of(net_, q) == Side::outside ? nearest_on(net_, q).distance : 0;
    }

    /// How many flaps lie behind q.
    int layers(Vec2 q, double slack) const {
        int count = 0;
        for (const Fold& fold : folds_) {
            const Vec2 p = fold.over(q);
            if (distance(p, q) > 2.2 * settings_.turn_mm || !flap_at(p, slack)) continue;
            const Fold* own = fold_of(p);
            if (own == &fold) ++count;
        }
        return count;
    }

    /// Distance from the nearest corner of the net line that is parted (where flaps end).
    double from_corner(Vec2 q) const {
        double least = 1e300;
        for (std::size_t k = 0; k < net_.size(); ++k) {
            if (corner(k)) least = std::min(least, distance(q, net_.vertices[k].p));
        }
        return least;
    }

    /// Two edges meet here at an angle that shows.
    bool corner(std::size_t k) const {
        const Edge before = net_.edge((k + net_.size() - 1) % net_.size());
        return std::fabs(cross(direction_at(before, 1), direction_at(net_.edge(k), 0))) > 0.01;
    }

    /// The corner at vertex k lacks goods behind it: an inside corner, or a taper beside an edge that is not turned.
    /// Within how far.
    double bare_within(std::size_t k) const {
        const std::size_t before = (k + net_.size() - 1) % net_.size();
        const Vec2 in_dir = direction_at(net_.edge(before), 1), out = direction_at(net_.edge(k), 0);
        const double turn = std::atan2(cross(in_dir, out), dot(in_dir, out)), h = settings_.turn_mm;
        const bool both = finish_[before] == Finish::turned && finish_[k] == Finish::turned;
        if (!both) return (h + settings_.binding_growth_mm) / std::fabs(std::sin(turn)) + short_;
        return turn < 0 ? h * std::tan(std::min(-turn, 3.0) / 2) + short_ + 1 : 0;
    }

    Finish finish(std::size_t net_edge) const { return finish_[net_edge]; }
    double stop_short() const { return short_; }
    const Outline& net() const { return net_; }

    /// Half the width by which tabs of a hollow curve stand apart at depth y, mm along the edge.
    double gap(const Fold& fold, double y) const {
        if (!fold.hollow) return 0;
        const double r = radius_of(net_.edge(fold.edge)), pitch = distance(fold.a, fold.b);
        return y * pitch / r + 1;
    }

    /// How far the fold's chord departs from the net line.
    double facet(const Fold& fold) const {
        double worst = 0;
        const Vec2 d = unit(fold.b - fold.a);
        for (std::size_t k = fold.edge;; k = (k + 1) % net_.size()) {
            const double from = k == fold.edge ? fold.t0 : 0, to = k == fold.last ? fold.t1 : 1;
            for (int i = 0; i <= 8; ++i) {
                const Vec2 p = point_at(net_.edge(k), from + (to - from) * i / 8);
                worst = std::max(worst, std::fabs(cross(d, p - fold.a)));
            }
            if (k == fold.last) return worst;
        }
    }

  private:
    struct Place {
        std::size_t edge;
        double t;
        Vec2 at;
        bool operator<(const Place& o) const { return edge != o.edge ? edge < o.edge : t < o.t; }
    };

    static bool in(const Outline& outline, Vec2 p, double by) {
        const double d = nearest_on(outline, p).distance;
        return side_of(outline, p) == Side::inside ? d >= by : d <= -by;
    }

    double share(std::size_t k, Vec2 p) const {
        const Edge e = net_.edge(k);
        if (e.straight()) return dot(p - e.a, e.b - e.a) / norm2(e.b - e.a);
        const Vec2 c = centre_of(e);
        const double whole = 4 * std::atan(e.bulge);
        return std::atan2(cross(e.a - c, p - c), dot(e.a - c, p - c)) / whole;
    }

    bool holds(const Fold& fold, std::size_t k, double t) const {
        for (std::size_t i = fold.edge;; i = (i + 1) % net_.size()) {
            if (i == k && (i != fold.edge || t >= fold.t0 - 1e-9) && (i != fold.last || t <= fold.t1 + 1e-9))
                return true;
            if (i == fold.last) return false;
        }
    }

    void find_cuts() {
        for (const ReliefCut& cut : piece_.relief) {
            if (cut.kind != ReliefCut::Kind::curve_notch && cut.kind != ReliefCut::Kind::curve_slit) continue;
            Vec2 root = cut.slit.vertices.empty() ? Vec2{} : cut.slit.vertices.back().p;
            if (cut.slit.vertices.empty()) {
                for (const Vertex& v : cut.notch.vertices)
                    root = root + v.p / static_cast<double>(cut.notch.size());
            }
            const Nearest near = nearest_on(net_, root);
            cuts_.push_back({near.edge, share(near.edge, near.at), near.at});
        }
        std::sort(cuts_.begin(), cuts_.end());
    }

    void find_folds() {
        const std::size_t n = net_.size();
        for (std::size_t k = 0; k < n; ++k) {
            int tag = net_.vertices[k].tag;
            Finish before = Finish::sealed, after = Finish::sealed;
            std::size_t b = k, a = k;
            while (net_.vertices[b].tag < 0) b = (b + n - 1) % n;
            while (net_.vertices[a].tag < 0) a = (a + 1) % n;
            before = piece_.edges[static_cast<std::size_t>(net_.vertices[b].tag)].plan.finish;
            after = piece_.edges[static_cast<std::size_t>(net_.vertices[a].tag)].plan.finish;
            finish_.push_back(tag >= 0 ? before : after == Finish::bound ? after : before);
        }
        for (std::size_t k = 0; k < n; ++k) {
            if (finish_[k] != Finish::turned) continue;
            const Edge e = net_.edge(k);
            double from = 0;
            Vec2 at = e.a;
            bool cut_before = false;
            for (const Place& cut : cuts_) {
                if (cut.edge != k) continue;
                folds_.push_back({k, from, cut.t, k, at, cut.at, e.bulge < 0, cut_before, true});
                from = cut.t;
                at = cut.at;
                cut_before = true;
            }
            folds_.push_back({k, from, 1, k, at, e.b, e.bulge < 0, cut_before, false});
        }
    }

    const Piece& piece_;
    FinishSettings settings_;
    const Outline& net_;
    double short_;
    std::vector<Finish> finish_;
    std::vector<Place> cuts_;
    std::vector<Fold> folds_;
};

struct FoldFaults {
    int sticking_out = 0, thick = 0, bare = 0, faceted = 0;
    double worst_out = 0;
    Vec2 at_out, at_bare, at_thick;
    int any() const { return sticking_out + thick + bare + faceted; }
};

/// Folds a piece and counts what is wrong with it.
inline FoldFaults fold(const Piece& piece, const FinishSettings& settings, Dice& dice, int points = 400) {
    const Folding folding(piece, settings);
    const Outline& net = folding.net();
    const double h = settings.turn_mm, m = folding.stop_short(), facet = settings.facet_mm;
    FoldFaults faults;

    for (const Fold& f : folding.folds()) {
        if (folding.facet(f) > 1.02 * facet) ++faults.faceted;
    }
    // What lies beyond the net line must come to lie within it. Near the corner itself the goods are gathered.
    const Box box = box_of(piece.cut.face.outer);
    for (int i = 0; i < points * 8; ++i) {
        const Vec2 p{dice.between(box.min.x, box.max.x), dice.between(box.min.y, box.max.y)};
        if (!folding.flap_at(p, 1e-6) || folding.from_corner(p) <= m + 1e-6) continue;
        const double out = folding.sticks_out(p);
        if (out <= 2 * facet) continue;  // two facets meet at an angle
        ++faults.sticking_out;
        if (out > faults.worst_out) {
            faults.worst_out = out;
            faults.at_out = p;
        }
    }
    // Behind every turned edge lies its flap; never more than two flaps anywhere.
    for (std::size_t k = 0; k < net.size(); ++k) {
        if (folding.finish(k) != Finish::turned) continue;
        const std::size_t after = (k + 1) % net.size();
        for (int i = 0; i < points / 8; ++i) {
            const double t = dice.between(0, 1), y = dice.between(0.3, h - 1.5 * facet - 0.3);
            const Vec2 edge = point_at(net.edge(k), t);
            const Vec2 q = edge + y * left_of(direction_at(net.edge(k), t));
            const double radius = net.edge(k).straight() ? 1e300 : radius_of(net.edge(k));
            if (net.edge(k).bulge > 0 && y > radius - m) continue;
            if (side_of(net, q) != Side::inside) continue;
            const bool near_corner =
                distance(q, net.vertices[k].p) <=
                    std::max(m + 0.5, folding.corner(k) ? folding.bare_within(k) : 0) ||
                distance(q, net.vertices[after].p) <=
                    std::max(m + 0.5, folding.corner(after) ? folding.bare_within(after) : 0);
            if (near_corner) continue;
            const int sure = folding.layers(q, 0.4), perhaps = folding.layers(q, -0.6);
            if (sure > 2) {
                ++faults.thick;
                faults.at_thick = q;
            }
            if (perhaps > 0 || y < m) continue;
            bool in_gap = false;
            for (const Fold& f : folding.folds()) {
                if (!f.hollow) continue;
                const double g = folding.gap(f, y);
                in_gap = in_gap || (f.begins_at_cut && distance(edge, f.a) <= g) ||
                         (f.ends_at_cut && distance(edge, f.b) <= g);
            }
            if (in_gap) continue;
            ++faults.bare;
            faults.at_bare = q;
        }
    }
    return faults;
}

}  // namespace spile::testing_panels
