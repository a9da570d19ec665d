#include "core/layout/solve/exact.h"

#include <algorithm>
#include <cmath>

#include "core/geom/measure_of.h"
#include "core/layout/solve/convex_parts.h"
#include "core/layout/solve/feasible.h"
#include "core/layout/solve/prepare.h"

namespace spile::lay {
namespace {

constexpr double kResolution_mm = 0.1;
constexpr double kFlat_mm = 0.1;   // corners of the parts flatter than that are cut off
constexpr double kTold_mm = 1e-6;  // taken from every condition for the rounding of its own numbers
constexpr double kOpen_mm =
    1e-4;  // parts that overlap by less count as parted: more than a program leaves open
constexpr std::int64_t kPlacingUnits = 2 * kUnitsPerMicrometre;  // what a legal layout may take from a gap
constexpr std::size_t kMostParts = 60;                           // of all pieces in one turn

using Points = std::vector<Vec2>;  // a convex part, millimetres from the lower left of the box of its piece

/// A piece in one of its turns.
struct Turned {
    std::vector<Points> parts;
    double width = 0, height = 0;
};

Points in_mm(const Poly& poly, const IBox& box) {
    Points out;
    for (IPoint p : poly)
        out.push_back({static_cast<double>(p.x - box.min_x) / kUnitsPerMm,
                       static_cast<double>(p.y - box.min_y) / kUnitsPerMm});
    return out;
}

double most_along(const Points& points, Vec2 way) {
    double most = -1e300;
    for (Vec2 p : points) most = std::max(most, dot(p, way));
    return most;
}

/// The places z of two pieces at which two of their parts are parted: way . (z_second - z_first) >= least for one side.
struct Parting {
    int first = 0, second = 0;
    struct Side {
        Vec2 way;
        double least;
    };
    std::vector<Side> sides;
};

Parting parting_of(int first, int second, const Points& a, const Points& b) {
    Parting out{first, second, {}};
    const auto add_edges = [&](const Points& of, double sign) {
        for (std::size_t k = 0; k < of.size(); ++k) {
            const Vec2 edge = of[(k + 1) % of.size()] - of[k];
            const double length = std::hypot(edge.x, edge.y);
            const Vec2 way{sign * edge.y / length, -sign * edge.x / length};
            // From a to the right of its edge, or from b the other way.
            out.sides.push_back({way, most_along(a, way) + most_along(b, -1 * way) - kTold_mm});
        }
    };
    add_edges(a, 1);
    add_edges(b, -1);
    return out;
}

class Tree {
  public:
    Tree(const std::vector<Turned>& pieces, const std::vector<int>& alike, double width_mm, double length_mm,
         ProofBudget& budget)
        : n_(pieces.size()), budget_(budget) {
        for (const Turned& p : pieces) limits_.push_back(length_mm - p.width);
        for (const Turned& p : pieces) limits_.push_back(width_mm - p.height);
        for (double limit : limits_) fits_ = fits_ && limit >= 0;
        for (std::size_t i = 0; i < n_; ++i)
            for (std::size_t j = i + 1; j < n_; ++j) {
                for (const Points& a : pieces[i].parts)
                    for (const Points& b : pieces[j].parts)
                        add_parting(parting_of(static_cast<int>(i), static_cast<int>(j), a, b));
                // Of pieces that are alike the first lies no further along.
                if (alike[i] == alike[j]) in_order_.push_back({static_cast<int>(i), static_cast<int>(j)});
            }
    }

    /// Every branch ends: no places for the pieces in this length.
    bool closed() {
        if (!fits_) return true;
        Feasible root(limits_);
        const auto begin = [&](Condition condition) {
            conditions_.push_back(std::move(condition));
            root.add(conditions_.back());
        };
        for (std::size_t v = 0; v < limits_.size(); ++v) {
            Condition limit{std::vector<double>(limits_.size(), 0), limits_[v]};
            limit.coefficients[v] = 1;
            begin(std::move(limit));
        }
        for (const auto& [i, j] : in_order_) begin(at_least(i, j, {1, 0}, 0));
        return closed_below(root);
    }

  private:
    /// way . (z_j - z_i) >= least, written as <=.
    Condition at_least(int i, int j, Vec2 way, double least) const {
        Condition c{std::vector<double>(limits_.size(), 0), -least};
        const auto at = [&](int piece, std::size_t axis) -> double& {
            return c.coefficients[static_cast<std::size_t>(piece) + axis * n_];
        };
        at(i, 0) += way.x;
        at(i, 1) += way.y;
        at(j, 0) -= way.x;
        at(j, 1) -= way.y;
        return c;
    }

    /// Sides that the limits alone leave nothing of are left out.
    void add_parting(Parting parting) {
        const auto limit = [&](int piece, std::size_t axis) {
            return limits_[static_cast<std::size_t>(piece) + axis * n_];
        };
        const auto most = [&](const Parting::Side& side) {
            const auto reach = [&](double way, std::size_t axis) {
                return way > 0 ? way * limit(parting.second, axis) : -way * limit(parting.first, axis);
            };
            return reach(side.way.x, 0) + reach(side.way.y, 1);
        };
        const auto gone = [&](const Parting::Side& side) { return most(side) < side.least - kTold_mm; };
        parting.sides.erase(std::remove_if(parting.sides.begin(), parting.sides.end(), gone),
                            parting.sides.end());
        partings_.push_back(std::move(parting));
    }

    bool closed_below(Feasible& node) {
        if (budget_.nodes <= 0 || (budget_.stop && budget_.nodes % 64 == 0 && budget_.stop())) return false;
        --budget_.nodes;
        const Feasible::Answer answer = node.solve(conditions_);
        if (answer != Feasible::Answer::yes) return answer == Feasible::Answer::no;
        const std::vector<double> z = node.point();
        const Parting* pick = nullptr;
        double deepest = 0;
        for (const Parting& p : partings_) {
            const double depth = depth_at(p, z);
            if (depth <= kOpen_mm) continue;
            const bool better = !pick || p.sides.size() < pick->sides.size() ||
                                (p.sides.size() == pick->sides.size() && depth > deepest);
            if (!better) continue;
            pick = &p;
            deepest = depth;
        }
        if (!pick) return false;  // here they may all lie
        std::vector<Parting::Side> sides = pick->sides;
        std::stable_sort(sides.begin(), sides.end(), [&](const Parting::Side& a, const Parting::Side& b) {
            return missed(*pick, a, z) < missed(*pick, b, z);
        });
        const std::size_t before = conditions_.size();
        Feasible rest = node;  // with the sides done so far shut out
        for (const Parting::Side& side : sides) {
            Feasible branch = rest;
            conditions_.push_back(at_least(pick->first, pick->second, side.way, side.least));
            branch.add(conditions_.back());
            const bool closed = closed_below(branch);
            conditions_.pop_back();
            if (!closed) {
                conditions_.resize(before);
                return false;
            }
            conditions_.push_back(at_least(pick->first, pick->second, -1 * side.way, -side.least));
            rest.add(conditions_.back());
        }
        conditions_.resize(before);
        return true;
    }

    double missed(const Parting& p, const Parting::Side& side, const std::vector<double>& z) const {
        const auto at = [&](int piece) {
            return Vec2{z[static_cast<std::size_t>(piece)], z[static_cast<std::size_t>(piece) + n_]};
        };
        return side.least - dot(side.way, at(p.second) - at(p.first));
    }
    double depth_at(const Parting& p, const std::vector<double>& z) const {
        double least = 1e300;
        for (const Parting::Side& side : p.sides) least = std::min(least, missed(p, side, z));
        return least;
    }

    std::size_t n_;
    ProofBudget& budget_;
    bool fits_ = true;
    std::vector<double> limits_;  ///< of x of every piece, then of y
    std::vector<Parting> partings_;
    std::vector<std::pair<int, int>> in_order_;
    std::vector<Condition> conditions_;
};

/// No other piece finds room in the hole: its box is too small for all of them.
bool hole_is_shut(const Poly& hole, const std::vector<IBox>& boxes, std::size_t own) {
    const IBox box = box_of(hole);
    for (std::size_t i = 0; i < boxes.size(); ++i) {
        const std::int64_t least = std::min(boxes[i].width(), boxes[i].height());
        if (i != own && least <= std::max(box.width(), box.height())) return false;
    }
    return true;
}

class Prover {
  public:
    Prover(const std::vector<LayoutPiece>& pieces, const Goods& goods) {
        const Prepared prepared = prepare(pieces, goods, Resolution{kResolution_mm});
        std::vector<IBox> boxes;  // of the pieces themselves, without the gap
        for (const auto& shapes : prepared.shape_of_piece) boxes.push_back(prepared.problem.boxes[shapes[0]]);
        for (std::size_t i = 0; i < pieces.size(); ++i) {
            Shape inner =
                shape_of(pieces[i].outline, goods.gap_mm / 2, Resolution{kResolution_mm}, Cover::within);
            for (const Poly& hole : inner.holes) able_ = able_ && hole_is_shut(hole, boxes, i);
            const Polys less = shrunk(inner.outer, kPlacingUnits);
            if (less.size() != 1) {
                able_ = false;
                return;
            }
            const bool in_pattern = goods.repeat.any() && !pieces[i].cloth.empty();
            std::vector<Turned>& turns = turns_.emplace_back();
            for (int turn = 0; turn < 4; ++turn) {
                if (!turn_allowed(goods.turning, turn, in_pattern)) continue;
                IBox box;
                for (const IPoint p :
                     {IPoint{boxes[i].min_x, boxes[i].min_y}, IPoint{boxes[i].max_x, boxes[i].max_y}})
                    box.add(turned({p}, turn)[0]);
                Turned piece;
                piece.width = static_cast<double>(box.width()) / kUnitsPerMm;
                piece.height = static_cast<double>(box.height()) / kUnitsPerMm;
                for (const Poly& part : convex_parts(turned(less[0], turn), kFlat_mm * kUnitsPerMm))
                    piece.parts.push_back(in_mm(part, box));
                able_ = able_ && !piece.parts.empty();
                turns.push_back(std::move(piece));
            }
            alike_.push_back(prepared.shape_of_piece[i][0]);
        }
        std::size_t parts = 0;
        for (const auto& turns : turns_) parts += turns.empty() ? 0 : turns[0].parts.size();
        able_ = able_ && parts <= kMostParts;
        // Placed in whole micrometres, and let pass by the checker.
        constexpr double slack_mm = 2.0 * kPlacingUnits / kUnitsPerMm;
        width_mm_ = goods.usable_width_mm - 2 * goods.edge_gap() + slack_mm;
        ends_mm_ = 2 * goods.edge_gap() - slack_mm;
    }

    bool closed(double length_mm, ProofBudget& budget) const {
        if (!able_) return false;
        std::vector<std::size_t> turn(turns_.size(), 0);
        // The whole layout turned round is a layout, where every piece may: the first need not be.
        const bool all_turn = std::all_of(turns_.begin(), turns_.end(),
                                          [](const std::vector<Turned>& turns) { return turns.size() > 1; });
        while (true) {
            std::vector<Turned> chosen;
            std::vector<int> alike;
            for (std::size_t i = 0; i < turns_.size(); ++i) {
                chosen.push_back(turns_[i][turn[i]]);
                alike.push_back(alike_[i] * 4 + static_cast<int>(turn[i]));
            }
            if (!Tree(chosen, alike, width_mm_, length_mm - ends_mm_, budget).closed()) return false;
            std::size_t i = turns_.size();
            while (i > 0) {
                --i;
                const std::size_t most = i == 0 && all_turn ? turns_[0].size() / 2 : turns_[i].size();
                if (++turn[i] < most) break;
                turn[i] = 0;
                if (i == 0) return true;
            }
        }
    }

  private:
    std::vector<std::vector<Turned>> turns_;  ///< by piece
    std::vector<int> alike_;
    bool able_ = true;
    double width_mm_ = 0, ends_mm_ = 0;
};

}  // namespace

bool no_layout_within(const std::vector<LayoutPiece>& pieces, const Goods& goods, double length_mm,
                      ProofBudget& budget) {
    if (pieces.empty() || pieces.size() > kMostProved || !goods.outline.empty()) return false;
    return Prover(pieces, goods).closed(length_mm, budget);
}

}  // namespace spile::lay
