#include "shop/columns.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <numeric>

#include "core/geom/measure_of.h"
#include "core/layout/check/check.h"
#include "shop/spread_bundles.h"

namespace spile::shop {
namespace {

constexpr double kFlat_mm = 0.01;
constexpr double kUmPerMm = 1000;
constexpr std::size_t kMostRows = 8;  // narrower pieces are bounded by their area

Turning turning_of(const LayoutPiece& piece, const Goods& goods) {
    return piece.any_way ? Turning::quarter : goods.turning;
}

bool may_lie_across(const LayoutPiece& piece, const Goods& goods) {
    return turn_allowed(turning_of(piece, goods), 1, in_pattern(piece, goods));
}

/// A piece in one of its turns.
struct Boxed {
    std::size_t piece;
    int turns;
    Box box;
};

double length_of(const Boxed& boxed) {
    return boxed.box.width();
}

/// Where each goes; nothing when one is wider than the goods.
std::optional<std::vector<Placement>> placed(std::vector<Boxed> all, const std::vector<LayoutPiece>& pieces,
                                             const Goods& goods) {
    const double edge = goods.edge_gap();
    const double room = goods.usable_width_mm - 2 * edge + kPlacementRounding_mm;
    std::stable_sort(all.begin(), all.end(), [](const Boxed& a, const Boxed& b) {
        return length_of(a) != length_of(b) ? length_of(a) > length_of(b) : a.box.height() > b.box.height();
    });
    struct Column {
        double at, taken;
    };
    std::vector<Column> columns;
    double next = edge;
    std::vector<Placement> where(all.size());
    for (const Boxed& own : all) {
        auto in = std::find_if(columns.begin(), columns.end(), [&](const Column& column) {
            return column.taken + goods.gap_mm + own.box.height() <= room;
        });
        if (in == columns.end()) {
            if (own.box.height() > room) return std::nullopt;
            in = columns.insert(columns.end(), {next, -goods.gap_mm});
            next += length_of(own) + goods.gap_mm;
        }
        const double across = edge + in->taken + goods.gap_mm;
        where[own.piece] = {pieces[own.piece].id, std::llround((in->at - own.box.min.x) * kUmPerMm),
                            std::llround((across - own.box.min.y) * kUmPerMm), own.turns};
        in->taken += goods.gap_mm + own.box.height();
    }
    return where;
}

/// How far a piece reaches along the goods where it is wide, in the turn in which that is least.
class Reach {
  public:
    Reach(const LayoutPiece& piece, const Goods& goods);

    /// Of the longest stretch along the goods on which every line across crosses the piece on more than `chord_mm`.
    double wider_than(double chord_mm) const;

  private:
    struct Strip {
        double from, to, at_from, at_to;  // x; the chords there, linear between
    };
    std::vector<std::vector<Strip>> turns_;
};

Reach::Reach(const LayoutPiece& piece, const Goods& goods) {
    for (const int turns : {0, 1}) {
        if (turns == 1 && !may_lie_across(piece, goods)) continue;
        const Rigid turn = roll_from_piece({"", 0, 0, turns});
        const Outline outer = turn(piece.outline.outer);
        // Polygons that lie inside the piece and round its holes.
        std::vector<std::vector<Vec2>> loops{flatten(reversed(outer), Resolution{kFlat_mm}, true)};
        for (const Outline& hole : piece.outline.holes) {
            const Outline own = turn(hole);
            loops.push_back(flatten(area_mm2(own) < 0 ? reversed(own) : own, Resolution{kFlat_mm}, true));
        }
        std::vector<double> xs;
        for (const auto& loop : loops)
            for (const Vec2& p : loop) xs.push_back(p.x);
        std::sort(xs.begin(), xs.end());
        xs.erase(std::unique(xs.begin(), xs.end()), xs.end());
        // The chords on a line as they are just beside a corner, at `x` of the edges that span `from` to `to`.
        const auto chord = [&](double from, double to, double x) {
            const double middle = 0.5 * (from + to);
            std::vector<std::pair<double, double>> crossings;  // at the middle, at x
            for (const auto& loop : loops)
                for (std::size_t i = 0; i < loop.size(); ++i) {
                    const Vec2 p = loop[i], q = loop[(i + 1) % loop.size()];
                    if ((p.x <= middle) == (q.x <= middle)) continue;
                    const auto y = [&](double at) { return p.y + (at - p.x) / (q.x - p.x) * (q.y - p.y); };
                    crossings.emplace_back(y(middle), y(x));
                }
            std::sort(crossings.begin(), crossings.end());
            double sum = 0;
            for (std::size_t k = 0; k + 1 < crossings.size(); k += 2)
                sum += crossings[k + 1].second - crossings[k].second;
            return sum;
        };
        std::vector<Strip> strips;
        for (std::size_t i = 0; i + 1 < xs.size(); ++i)
            strips.push_back(
                {xs[i], xs[i + 1], chord(xs[i], xs[i + 1], xs[i]), chord(xs[i], xs[i + 1], xs[i + 1])});
        turns_.push_back(std::move(strips));
    }
}

double Reach::wider_than(double chord_mm) const {
    double least = std::numeric_limits<double>::max();
    for (const std::vector<Strip>& strips : turns_) {
        double longest = 0, from = 0;
        bool open = false;
        for (const Strip& s : strips) {
            const double cut = s.at_from == s.at_to ? s.from
                                                    : s.from + (chord_mm - s.at_from) /
                                                                   (s.at_to - s.at_from) * (s.to - s.from);
            const bool begins = s.at_from > chord_mm, ends = s.at_to > chord_mm;
            if (!begins) open = false;
            if (!open && (begins || ends)) {
                from = begins ? s.from : cut;
                open = true;
            }
            if (open) longest = std::fmax(longest, (ends ? s.to : cut) - from);
            open = open && ends;
        }
        least = std::fmin(least, longest);
    }
    return least;
}

}  // namespace

std::optional<Layout> in_columns(const std::vector<LayoutPiece>& pieces, const Goods& goods) {
    enum class Prefer { as_it_lies, short_along, narrow_across };
    std::optional<Layout> best;
    for (const Prefer prefer : {Prefer::as_it_lies, Prefer::short_along, Prefer::narrow_across}) {
        std::vector<Boxed> all;
        bool turned = false;
        for (std::size_t i = 0; i < pieces.size(); ++i) {
            const Box box = box_of(pieces[i].outline.outer);
            const bool shorter = box.height() < box.width();
            const bool turns = may_lie_across(pieces[i], goods) && prefer != Prefer::as_it_lies &&
                               (prefer == Prefer::short_along ? shorter : !shorter);
            turned = turned || turns;
            const Placement origin{"", 0, 0, turns ? 1 : 0};
            all.push_back({i, origin.turns, box_of(roll_from_piece(origin)(pieces[i].outline.outer))});
        }
        if (prefer != Prefer::as_it_lies && !turned) continue;
        const auto where = placed(std::move(all), pieces, goods);
        if (!where) continue;
        Layout layout;
        layout.placements = *where;
        measure_layout(pieces, goods, layout);
        if (!best || layout.used_mm < best->used_mm) best = std::move(layout);
    }
    if (!best || !check_layout(pieces, goods, *best).empty()) return std::nullopt;
    return best;
}

Rows::Rows(const std::vector<LayoutPiece>& pieces, const Goods& goods) {
    // What placing takes from the gaps, all of them together.
    const double slack = (static_cast<double>(pieces.size()) + 1) * kPlacementRounding_mm;
    const double gap = goods.gap_mm, across = goods.usable_width_mm - 2 * goods.edge_gap() + slack + gap;
    ends_mm_ = 2 * goods.edge_gap() - slack;
    std::vector<Reach> reaches;
    for (const LayoutPiece& piece : pieces) reaches.emplace_back(piece, goods);
    for (std::size_t most = 1; most <= kMostRows; ++most)
        for (const double between : {gap, 0.0}) {
            Side side{most, between, {}};
            for (const Reach& reach : reaches)
                side.length_mm.push_back(
                    reach.wider_than(across / static_cast<double>(most + 1) - (gap - between)));
            sides_.push_back(std::move(side));
        }
}

double Rows::least_mm(const std::vector<std::size_t>& which) const {
    double least = 0;
    for (const Side& side : sides_) {
        std::vector<double> lengths;
        for (const std::size_t i : which)
            if (side.length_mm[i] > 0) lengths.push_back(side.length_mm[i] + side.between);
        std::sort(lengths.begin(), lengths.end(), std::greater<>());
        double longest =
            std::accumulate(lengths.begin(), lengths.end(), 0.0) / static_cast<double>(side.most);
        // Of the q k + 1 longest some row has q + 1: no less than the shortest of those.
        for (std::size_t q = 0; q * side.most < lengths.size(); ++q) {
            const auto last = lengths.begin() + static_cast<std::ptrdiff_t>(q * side.most + 1);
            longest =
                std::fmax(longest, std::accumulate(last - static_cast<std::ptrdiff_t>(q + 1), last, 0.0));
        }
        least = std::fmax(least, longest - side.between + ends_mm_);
    }
    return least;
}

}  // namespace spile::shop
