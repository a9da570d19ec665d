#include "core/layout/solve/level.h"

#include <algorithm>

#include "core/layout/solve/bottom_left.h"

namespace spile::lay {
namespace {

constexpr std::size_t kOrdersPerRound = 20;    // some milliseconds;
constexpr std::size_t kPiecesPerRound = 1000;  // of many pieces fewer orders, at least one
constexpr double kNearlyConvex = 0.9;          // share of its hull that such a shape fills

/// Convex shapes meet at a tenth of the work: where there are very many, what bows inwards a little is laid out as if it did not.
Prepared straightened(Prepared prepared, std::size_t most) {
    if (prepared.problem.shapes.size() <= most) return prepared;
    for (Shape& shape : prepared.problem.shapes) {
        if (shape.convex || !shape.holes.empty()) continue;
        Poly hull = hull_of(shape.outer);
        if (area_of(shape.outer) >= kNearlyConvex * area_of(hull)) shape = make_shape(std::move(hull));
    }
    return prepared;
}

}  // namespace

Orders::Orders(const FitTable& table, const Prepared& prepared, std::uint64_t seed)
    : table_(table), prepared_(prepared), random_(seed), usual_(usual_orders(table.problem())) {}

bool Orders::next_usual(const std::function<bool()>& stop) {
    if (next_ == usual_.size()) return false;
    consider(usual_[next_++], stop);
    return true;
}

void Orders::disturbed(const std::function<bool()>& stop) {
    std::vector<int> order = best_order_;
    const std::size_t n = order.size(), swaps = 1 + random_.below(1 + n / 4);
    for (std::size_t k = 0; k < swaps; ++k) std::swap(order[random_.below(n)], order[random_.below(n)]);
    consider(order, stop);
}

void Orders::consider(const std::vector<int>& order, const std::function<bool()>& stop) {
    Spots spots = bottom_left(table_, order, prepared_.fixed, prepared_.is_fixed, stop);
    if (spots.empty()) return;
    const std::int64_t reached = length_of(table_.problem(), spots);
    if (!best.empty() && reached >= length) return;
    best = std::move(spots);
    length = reached;
    best_order_ = order;
}

Level::Level(const std::vector<LayoutPiece>& pieces, const Goods& goods, Resolution resolution,
             const RunContext& run)
    : pieces_(pieces.size()),
      turning_(goods.turning),
      run_(run),
      prepared_(straightened(prepare(pieces, goods, resolution, [&run] { return run.cancelled(); }),
                             kMostSearched)),
      table_(prepared_.problem, prepared_.problem.shapes.size() <= kMostSearched),
      in_steps_(std::any_of(prepared_.problem.items.begin(), prepared_.problem.items.end(),
                            [](const Problem::Item& item) { return item.cloth >= 0; })),
      orders_(table_, prepared_, run.seed) {}

std::optional<std::size_t> Level::without_room() const {
    const Problem& problem = prepared_.problem;
    for (std::size_t i = 0; i < pieces_; ++i) {
        const Problem::Item& item = problem.items[i];
        const bool fits = std::any_of(item.shapes.begin(), item.shapes.end(), [&](int shape) {
            const IBox& box = problem.boxes[static_cast<std::size_t>(shape)];
            return box.height() <= problem.width &&
                   (prepared_.longest == 0 || box.width() <= prepared_.longest);
        });
        if (!item.fixed && !fits) return i;
    }
    return std::nullopt;
}

bool Level::same_freedom_as(const Level& other) const {
    const auto& items = prepared_.problem.items;
    for (std::size_t i = 0; i < pieces_; ++i)
        if (items[i].shapes.size() != other.prepared_.problem.items[i].shapes.size()) return false;
    return true;
}

void Level::keep(const Spots& spots) {
    if (spots.empty()) return;
    const std::int64_t reached = length_of(prepared_.problem, spots);
    if (any() && reached >= length_) return;
    best_ = spots;
    length_ = reached;
}

void Level::lay_first(const std::function<bool()>& stop) {
    const bool all = prepared_.problem.shapes.size() <= kMostSearched;
    while (orders_.next_usual(stop) && (all || orders_.best.empty()) && !stop()) {
    }
    keep(orders_.best);
}

void Level::begin_rounds(double enough, int threads, const std::function<bool()>& stop) {
    enough_ = enough;
    stop_ = stop;
    if (!searched()) return;
    fields_ = std::make_unique<FieldTable>(table_, usual_cell(prepared_.problem));
    SearchOptions options;
    options.threads = threads;
    options.seed = run_.seed;
    options.long_enough = enough;
    options.halt = stop;
    search_ = std::make_unique<Search>(*fields_, to_places(best_), options);
}

bool Level::reached() const {
    return search_ ? search_->ended() : static_cast<double>(length_) <= enough_;
}

void Level::round() {
    if (ended()) return;
    if (search_) {
        search_->round();
        keep(to_spots(search_->best().places));
        return;
    }
    const std::size_t orders = std::clamp<std::size_t>(kPiecesPerRound / pieces_, 1, kOrdersPerRound);
    for (std::size_t k = 0; k < orders && !stop_(); ++k) {
        if (orders_.next_usual(stop_)) continue;
        if (in_steps_ && !orders_.best.empty())
            orders_.disturbed(stop_);
        else
            no_order_left_ = true;
    }
    keep(orders_.best);
}

void Level::take_over(const Level& less_free) {
    if (!less_free.any() || (any() && less_free.length_ >= length_)) return;
    Spots spots = less_free.best_;
    for (std::size_t i = 0; i < spots.size(); ++i) {
        int& shape = spots[i].shape;
        if (i >= pieces_)
            shape = prepared_.fixed[i].shape;
        else
            shape = prepared_.shape_of_piece[i][static_cast<std::size_t>(
                less_free.prepared_.turns_of_shape[static_cast<std::size_t>(shape)])];
    }
    keep(spots);
    if (search_) search_->take_over(to_places(spots));
}

}  // namespace spile::lay
