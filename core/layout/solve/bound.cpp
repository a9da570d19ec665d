#include "core/layout/solve/bound.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "core/base/text.h"
#include "core/geom/measure_of.h"
#include "core/layout/solve/prepare.h"
#include "core/layout/solve/row_bounds.h"

namespace spile::lay {
namespace {

constexpr double kLowered_mm = 0.01;  // for rounding to units, placing and double arithmetic
// What a legal layout may take from a gap and from the edges, so that an exact fit is no exclusion.
constexpr std::int64_t kPlacingUnits = 2 * kUnitsPerMicrometre;
constexpr double kChordResolution_mm = 0.1;
constexpr std::size_t kMostInOrder = 12;   // 2^n n^2 steps for the best order of n pieces
constexpr std::size_t kMostCompared = 40;  // pieces looked at in pairs
constexpr std::size_t kMostNamed = 12;     // in a reason
constexpr std::size_t kMostKinds = 40;     // of pieces whose rectangles are compared

/// Where a piece crosses lines x = const: how long it lies there, and how much of the line it takes at least.
struct Stretch {
    double length, chord;  // units
};

void add_crossings(const Polys& loops, double x, std::vector<double>& ys) {
    ys.clear();
    for (const Poly& loop : loops)
        for (std::size_t i = 0, n = loop.size(); i < n; ++i) {
            const IPoint p = loop[i], q = loop[i + 1 == n ? 0 : i + 1];
            const double px = static_cast<double>(p.x), qx = static_cast<double>(q.x);
            if ((px <= x) == (qx <= x)) continue;
            ys.push_back(static_cast<double>(p.y) +
                         (x - px) / (qx - px) * (static_cast<double>(q.y) - static_cast<double>(p.y)));
        }
    std::sort(ys.begin(), ys.end());
}

/// Between two neighbouring vertices every chord is linear in x, so that its least value stands at an end.
std::vector<Stretch> stretches_of(const Shape& shape) {
    Polys loops{shape.outer};
    loops.insert(loops.end(), shape.holes.begin(), shape.holes.end());
    std::vector<double> xs;
    for (const Poly& loop : loops)
        for (IPoint p : loop) xs.push_back(static_cast<double>(p.x));
    const double most = static_cast<double>(shape.box.width()) / 64;
    for (int k = 1; k < 64; ++k) xs.push_back(static_cast<double>(shape.box.min_x) + k * most);
    std::sort(xs.begin(), xs.end());
    xs.erase(std::unique(xs.begin(), xs.end()), xs.end());
    std::vector<Stretch> out;
    std::vector<double> a, b;
    for (std::size_t i = 0; i + 1 < xs.size(); ++i) {
        // Just inside both ends: the crossings there pair up the same way.
        const double in = (xs[i + 1] - xs[i]) * 1e-6;
        add_crossings(loops, xs[i] + in, a);
        add_crossings(loops, xs[i + 1] - in, b);
        for (std::size_t k = 0; k + 1 < std::min(a.size(), b.size()); k += 2)
            out.push_back({xs[i + 1] - xs[i], std::min(a[k + 1] - a[k], b[k + 1] - b[k])});
    }
    return out;
}

std::string named(const std::vector<LayoutPiece>& pieces, const std::vector<std::size_t>& which) {
    std::vector<std::string> ids;
    for (std::size_t i : which) ids.push_back(pieces[i].id);
    if (ids.size() > kMostNamed) {
        const std::size_t others = ids.size() - kMostNamed / 2;
        ids.resize(kMostNamed / 2);
        ids.push_back(std::to_string(others) + " others");
    }
    return (ids.size() == 1 ? "piece " : "pieces ") + list_words(ids);
}

/// Do forbidden stretches leave nothing of low..high on the line?
bool covered(const Polys& loops, double x, double low, double high, std::vector<double>& ys) {
    add_crossings(loops, x, ys);
    double reached = low;
    for (std::size_t k = 0; k + 1 < ys.size(); k += 2) {
        if (ys[k] >= reached) break;  // contact is allowed
        reached = std::max(reached, ys[k + 1]);
    }
    return reached > high;
}

/// How far apart along the strip, centre to centre, a must come before b (first) and b before a (second), when they cannot
/// lie level; zeros when they can.
std::pair<double, double> apart(const Problem& p, int a, int b, const Shape& sa, const Shape& sb) {
    const IBox &ba = p.boxes[a], &bb = p.boxes[b];
    const auto rise = [&](const IBox& box) { return p.width - box.height() + 2 * kPlacingUnits; };
    const double low = static_cast<double>(-bb.min_y + ba.min_y - rise(ba));
    const double high = static_cast<double>(-bb.min_y + ba.min_y + rise(bb));
    const Polys loops = no_fit(sa, sb);
    std::vector<double> xs, ys;
    for (const Poly& loop : loops)
        for (std::size_t i = 0, n = loop.size(); i < n; ++i) {
            const IPoint u = loop[i], v = loop[i + 1 == n ? 0 : i + 1];
            const double ux = static_cast<double>(u.x), uy = static_cast<double>(u.y);
            const double vx = static_cast<double>(v.x), vy = static_cast<double>(v.y);
            if (uy >= low && uy <= high) xs.push_back(ux);
            for (double y : {low, high})
                if ((uy < y) != (vy < y)) xs.push_back(ux + (y - uy) / (vy - uy) * (vx - ux));
        }
    const double level = 0.5 * static_cast<double>(ba.min_x + ba.max_x - bb.min_x - bb.max_x);
    if (!covered(loops, level, low, high, ys)) return {0, 0};
    std::sort(xs.begin(), xs.end());
    double right = level, left = level;
    for (auto it = std::upper_bound(xs.begin(), xs.end(), level); it != xs.end(); ++it) {
        if (!covered(loops, 0.5 * (right + *it), low, high, ys)) break;
        right = *it;
    }
    for (auto it = std::lower_bound(xs.begin(), xs.end(), level); it != xs.begin();) {
        --it;
        if (!covered(loops, 0.5 * (left + *it), low, high, ys)) break;
        left = *it;
    }
    return {right - level, level - left};
}

/// The least distance, not below `apart_mm` from centre to centre, at which the pattern of `then` meets that of `first`.
double pattern_step_mm(const Goods& goods, const LayoutPiece& first, const LayoutPiece& then,
                       double apart_mm) {
    const Repeat& repeat = goods.repeat;
    if (repeat.along_mm <= 0 || first.cloth.empty() || first.cloth != then.cloth) return apart_mm;
    const auto centre = [](const LayoutPiece& piece) {
        const Box box = box_of(piece.outline);
        return 0.5 * (box.min.x + box.max.x);
    };
    const Vec2 off = then.in_cloth_mm - first.in_cloth_mm;
    const double from_centres = off.x + centre(then) - centre(first);
    int rows_low = 0, rows_high = 0;  // whole steps across that may lie between the two
    if (repeat.across_mm > 0) {
        const double reach = std::ceil(goods.usable_width_mm / repeat.across_mm) + 1;
        const double middle = std::round(-off.y / repeat.across_mm);
        if (reach > 64) return apart_mm;
        rows_low = static_cast<int>(middle - reach);
        rows_high = static_cast<int>(middle + reach);
    }
    double least = 1e300;
    for (int row = rows_low; row <= rows_high; ++row) {
        const double base = from_centres + row * repeat.drop_mm;
        const double steps = std::ceil((apart_mm - kLowered_mm - base) / repeat.along_mm);
        least = std::min(least, base + steps * repeat.along_mm);
    }
    return std::max(least - kLowered_mm, apart_mm);
}

/// Least length over all orders of pieces of which each must come some way before the next.
double best_order(const std::vector<std::vector<double>>& before, const std::vector<double>& half) {
    const std::size_t n = half.size();
    std::vector<std::vector<double>> least(std::size_t{1} << n, std::vector<double>(n, 1e300));
    for (std::size_t i = 0; i < n; ++i) least[std::size_t{1} << i][i] = half[i];
    double best = 1e300;
    for (std::size_t set = 1; set < least.size(); ++set)
        for (std::size_t i = 0; i < n; ++i) {
            if (least[set][i] >= 1e300) continue;
            if (set + 1 == least.size()) best = std::min(best, least[set][i] + half[i]);
            for (std::size_t j = 0; j < n; ++j) {
                if (set >> j & 1) continue;
                double& to = least[set | std::size_t{1} << j][j];
                to = std::min(to, least[set][i] + before[i][j]);
            }
        }
    return best;
}

Shape turned_shape(const Shape& shape, int turns) {
    if (turns == 0) return shape;
    Polys holes;
    for (const Poly& hole : shape.holes) holes.push_back(turned(hole, turns));
    return make_shape(turned(shape.outer, turns), std::move(holes));
}

/// How long a strip of height `high` the stretches cover when chords below the share t count for nothing and those above
/// 1 - t for all of it; and how much of that is of the latter.
std::pair<double, double> covered_at(const std::vector<Stretch>& stretches, double high, double t) {
    double length = 0, alone = 0;
    for (const Stretch& s : stretches) {
        const double share = s.chord / high;
        if (share > 1 - t) alone += s.length;
        length += s.length * (share > 1 - t ? 1 : share >= t ? share : 0);
    }
    return {length, alone};
}

class Bounds {
  public:
    Bounds(const std::vector<LayoutPiece>& pieces, const Goods& goods, const std::function<bool()>& stop)
        : pieces_(pieces), goods_(goods), stop_(stop) {
        for (const LayoutPiece& piece : pieces) {
            const bool in_pattern = goods.repeat.any() && !piece.cloth.empty();
            may_lie_across_.push_back(
                turn_allowed(piece.any_way ? Turning::quarter : goods.turning, 1, in_pattern));
        }
    }

    bool stopped() const { return stop_ && stop_(); }

    /// What all but `longest` need. False: stopped.
    bool prepare_shapes() {
        prepared_ = prepare(pieces_, goods_, Resolution{kChordResolution_mm}, stop_);
        for (const LayoutPiece& piece : pieces_) {
            if (stopped()) return false;
            Shape inner =
                shape_of(piece.outline, goods_.gap_mm / 2, Resolution{kChordResolution_mm}, Cover::within);
            const Polys less = shrunk(inner.outer, kPlacingUnits);
            if (less.size() == 1) inner = make_shape(less[0], inner.holes);
            inner_.push_back(std::move(inner));
        }
        return true;
    }

    Bound best;

    void longest() {
        for (std::size_t i = 0; i < pieces_.size(); ++i)
            offer(least_length(i) + 2 * goods_.edge_gap(),
                  [&] { return "piece " + pieces_[i].id + " alone is that long"; });
    }

    void by_chords() {
        const double high = (goods_.usable_width_mm - 2 * goods_.edge_gap() + goods_.gap_mm) * kUnitsPerMm;
        const double ends = 2 * goods_.edge_gap() - goods_.gap_mm;
        std::vector<std::vector<Stretch>> all;
        std::vector<std::vector<Stretch>> across(inner_.size());  // of a piece turned by a quarter
        for (std::size_t i = 0; i < inner_.size(); ++i) {
            if (stopped()) return;
            all.push_back(stretches_of(inner_[i]));
            if (may_lie_across_[i]) across[i] = stretches_of(turned_shape(inner_[i], 1));
        }
        for (int step = 0; step <= 50 && !stopped(); ++step) {
            const double t = step / 100.0;  // chords below this share of the width count for nothing
            double length = 0;
            std::vector<std::size_t> tall;
            for (std::size_t i = 0; i < all.size(); ++i) {
                const auto [covers, alone] = covered_at(all[i], high, t);
                const auto [turned, turned_alone] = covered_at(across[i], high, t);
                // Whichever way it lies.
                length += may_lie_across_[i] ? std::min(covers, turned) : covers;
                if (alone > 0 && (!may_lie_across_[i] || turned_alone > 0)) tall.push_back(i);
            }
            offer(length / kUnitsPerMm + ends, [&] {
                return tall.empty() ? std::string("the pieces with their gaps cover that much goods")
                                    : "too little fits beside " + named(pieces_, tall);
            });
        }
    }

    void by_order() {
        // What may lie across excludes nothing by its height as it stands.
        if (goods_.turning == Turning::quarter) return;
        // Only pieces taller than half the room can keep each other out; the tallest first.
        std::vector<std::size_t> tall;
        const auto height = [&](std::size_t i) { return box_of(pieces_[i].outline).height(); };
        const double room = goods_.usable_width_mm - 2 * goods_.edge_gap();
        for (std::size_t i = 0; i < pieces_.size(); ++i) tall.push_back(i);
        std::stable_sort(tall.begin(), tall.end(),
                         [&](std::size_t a, std::size_t b) { return height(a) > height(b); });
        if (tall.size() > kMostCompared) tall.resize(kMostCompared);
        const std::size_t n = tall.size();
        std::vector<std::vector<double>> before(n, std::vector<double>(n, 0));
        for (std::size_t i = 0; i < n; ++i)
            for (std::size_t j = i + 1; j < n; ++j) {
                if (height(tall[i]) + height(tall[j]) + goods_.gap_mm <= room) break;
                if (stopped()) return;
                const auto [ij, ji] = apart_in_any_turn(tall[i], tall[j]);
                if (ij <= 0 || ji <= 0) continue;
                const LayoutPiece &a = pieces_[tall[i]], &b = pieces_[tall[j]];
                before[i][j] = pattern_step_mm(goods_, a, b, ij / kUnitsPerMm);
                before[j][i] = pattern_step_mm(goods_, b, a, ji / kUnitsPerMm);
            }
        // Grow a set that excludes one another in pairs from every piece, longest separation first.
        for (std::size_t seed = 0; seed < n; ++seed) {
            std::vector<std::size_t> set{seed};
            while (set.size() < kMostInOrder) {
                std::size_t pick = n;
                double most = 0;
                for (std::size_t c = 0; c < n; ++c) {
                    double sum = 0;
                    for (std::size_t s : set) {
                        const double least = std::min(before[s][c], before[c][s]);
                        if (least <= 0) {
                            sum = 0;
                            break;
                        }
                        sum += least;
                    }
                    if (sum > most) {
                        most = sum;
                        pick = c;
                    }
                }
                if (pick == n) break;
                set.push_back(pick);
            }
            if (set.size() < 2 || stopped()) continue;
            std::sort(set.begin(), set.end());
            offer_order(set, tall, before);
        }
    }

    /// Rows of rectangles inside the pieces, and their shares of the goods both ways.
    void by_rectangles() {
        const double ends = 2 * goods_.edge_gap() - goods_.gap_mm;
        // Of what may be taken from a gap each of two pieces bears half; what is taken from an edge more than that is added here.
        const auto room =
            kPlacingUnits +
            static_cast<std::int64_t>(
                std::floor((goods_.usable_width_mm - 2 * goods_.edge_gap() + goods_.gap_mm) * kUnitsPerMm));
        std::map<std::pair<int, bool>, InnerPiece> known;  // by shape and freedom
        std::vector<InnerPiece> all;
        for (std::size_t i = 0; i < inner_.size(); ++i) {
            if (stopped() || known.size() > kMostKinds) return;
            const auto [at, is_new] =
                known.try_emplace({prepared_.shape_of_piece[i][0], may_lie_across_[i] != 0});
            if (is_new) at->second = inner_piece(i, room);
            all.push_back(at->second);
        }
        const auto length_mm = [&](const RowBound& bound) {
            return static_cast<double>(bound.length - kPlacingUnits) / kUnitsPerMm + ends;
        };
        const RowBound rows = by_rows(all, room);
        offer(length_mm(rows), [&] {
            const std::string which = named(pieces_, rows.which);
            return rows.abreast == 1
                       ? "no two of " + which + " lie side by side"
                       : "no more than " + std::to_string(rows.abreast) + " of " + which +
                             " lie side by side, so they take " + std::to_string(rows.rows) + " rows";
        });
        const auto least =
            static_cast<std::int64_t>(std::fmax(0, (best.length_mm + kLowered_mm - ends) * kUnitsPerMm)) +
            kPlacingUnits;
        const RowBound shares = by_shares(all, room, least, stop_);
        offer(length_mm(shares), [&] {
            return named(pieces_, shares.which) + " find no room beside and behind one another in less";
        });
    }

  private:
    InnerPiece inner_piece(std::size_t i, std::int64_t room) const {
        InnerPiece out;
        const Box box = box_of(pieces_[i].outline);
        for (const int turn : {0, 1}) {
            if (turn == 1 && !may_lie_across_[i]) continue;
            const double across = turn == 0 ? box.height() : box.width();
            // As it cannot lie it needs nothing.
            if ((across + goods_.gap_mm) * kUnitsPerMm > static_cast<double>(room + 2 * kPlacingUnits) &&
                may_lie_across_[i])
                continue;
            const Shape shape = turned_shape(inner_[i], turn);
            const std::int64_t high = shape.box.height(),
                               gap = static_cast<std::int64_t>(goods_.gap_mm * kUnitsPerMm);
            std::vector<std::int64_t> widths = telling_widths(room);
            widths.insert(widths.end(), {high, high - gap / 3, high - gap});
            for (std::int64_t k = 1; k < 4; ++k) widths.push_back(high * k / 4);
            out.ways.push_back(inner_rectangles(shape, std::move(widths)));
            for (InnerRectangle& r : out.ways.back()) r = {r.along + kPlacingUnits, r.across + kPlacingUnits};
        }
        return out;
    }

    double least_length(std::size_t i) const {
        const Box box = box_of(pieces_[i].outline);
        return may_lie_across_[i] ? std::fmin(box.width(), box.height()) : box.width();
    }

    std::pair<double, double> apart_in_any_turn(std::size_t a, std::size_t b) const {
        std::pair<double, double> least{1e300, 1e300};
        for (int turn_a : {0, 2})
            for (int turn_b : {0, 2}) {
                const int shape_a = prepared_.shape_of_piece[a][turn_a],
                          shape_b = prepared_.shape_of_piece[b][turn_b];
                if (shape_a < 0 || shape_b < 0) continue;
                const auto [ij, ji] = apart(prepared_.problem, shape_a, shape_b,
                                            turned_shape(inner_[a], turn_a), turned_shape(inner_[b], turn_b));
                least = {std::fmin(least.first, ij), std::fmin(least.second, ji)};
            }
        return least;
    }

    void offer_order(const std::vector<std::size_t>& set, const std::vector<std::size_t>& tall,
                     const std::vector<std::vector<double>>& before) {
        std::vector<std::vector<double>> part(set.size(), std::vector<double>(set.size()));
        std::vector<double> half;
        std::vector<std::size_t> which;
        for (std::size_t i = 0; i < set.size(); ++i) {
            for (std::size_t j = 0; j < set.size(); ++j) part[i][j] = before[set[i]][set[j]];
            half.push_back(box_of(pieces_[tall[set[i]]].outline).width() / 2);
            which.push_back(tall[set[i]]);
        }
        std::sort(which.begin(), which.end());
        offer(best_order(part, half) + 2 * goods_.edge_gap(),
              [&] { return named(pieces_, which) + " cannot lie side by side"; });
    }

    template <class Reason>
    void offer(double length_mm, const Reason& reason) {
        if (length_mm - kLowered_mm <= best.length_mm) return;
        best.length_mm = length_mm - kLowered_mm;
        best.reason = reason();
    }

    const std::vector<LayoutPiece>& pieces_;
    const Goods& goods_;
    const std::function<bool()>& stop_;
    Prepared prepared_;
    std::vector<Shape> inner_;
    std::vector<char> may_lie_across_;
};

}  // namespace

Bound bound_of(const std::vector<LayoutPiece>& pieces, const Goods& goods,
               const std::function<bool()>& stop) {
    Bounds bounds(pieces, goods, stop);
    bounds.longest();
    if (!bounds.prepare_shapes()) return bounds.best;
    bounds.by_order();
    bounds.by_chords();
    bounds.by_rectangles();
    return bounds.best;
}

}  // namespace spile::lay
