#include "core/layout/solve/cut_rows.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>

namespace spile::lay {
namespace {

enum class Turn { as_it_stands, shortest, longest };

std::int64_t units_of(double gap_mm) {
    return static_cast<std::int64_t>(std::ceil(gap_mm * kUnitsPerMm));
}

struct Row {
    std::int64_t length = 0, taken = 0;  // along, across with the gaps between
    std::vector<std::size_t> items;
};

class Rows {
  public:
    Rows(const Problem& problem, std::int64_t gap) : problem_(problem), gap_(gap) {}

    /// Nothing where a piece is wider than the strip in every turn.
    std::optional<Spots> filled(Turn turn, bool best_fit) const {
        std::vector<int> shape(problem_.items.size());
        for (std::size_t i = 0; i < shape.size(); ++i) {
            shape[i] = turned(problem_.items[i].shapes, turn);
            if (shape[i] < 0) return std::nullopt;
        }
        const auto box = [&](std::size_t i) -> const IBox& {
            return problem_.boxes[static_cast<std::size_t>(shape[i])];
        };
        std::vector<std::size_t> order(shape.size());
        std::iota(order.begin(), order.end(), std::size_t{0});
        std::stable_sort(order.begin(), order.end(),
                         [&](std::size_t a, std::size_t b) { return box(a).width() > box(b).width(); });
        std::vector<Row> rows;
        for (const std::size_t i : order) {
            Row* into = nullptr;
            for (Row& row : rows) {
                if (row.taken + gap_ + box(i).height() > problem_.width) continue;
                if (into == nullptr || (best_fit && row.taken > into->taken)) into = &row;
            }
            if (into == nullptr) into = &rows.emplace_back(Row{box(i).width(), -gap_, {}});
            into->taken += gap_ + box(i).height();
            into->items.push_back(i);
        }
        Spots spots(shape.size());
        std::int64_t x = 0;
        for (const Row& row : rows) {
            std::int64_t y = 0;
            for (const std::size_t i : row.items) {
                spots[i] = {shape[i], IPoint{x, y} - IPoint{box(i).min_x, box(i).min_y}};
                y += box(i).height() + gap_;
            }
            x += row.length + gap_;
        }
        return spots;
    }

  private:
    int turned(const std::vector<int>& shapes, Turn turn) const {
        int best = -1;
        for (const int s : shapes) {
            const IBox& box = problem_.boxes[static_cast<std::size_t>(s)];
            if (box.height() > problem_.width) continue;
            const std::int64_t than = best < 0 ? 0 : problem_.boxes[static_cast<std::size_t>(best)].width();
            if (best < 0 || (turn == Turn::shortest && box.width() < than) ||
                (turn == Turn::longest && box.width() > than))
                best = s;
        }
        return best;
    }

    const Problem& problem_;
    std::int64_t gap_;
};

}  // namespace

int straight_cuts(const Problem& problem, const Spots& spots, double gap_mm) {
    std::vector<std::pair<std::int64_t, std::int64_t>> along;  // from, to
    for (const Spot& spot : spots) {
        const IBox& box = problem.boxes[static_cast<std::size_t>(spot.shape)];
        along.emplace_back(spot.at.x + box.min_x, spot.at.x + box.max_x);
    }
    std::sort(along.begin(), along.end());
    // Shapes are smaller by the slack on either side of a gap.
    const std::int64_t gap = units_of(gap_mm) - static_cast<std::int64_t>(2 * problem.slack_units);
    int cuts = 0;
    std::int64_t reached = along.empty() ? 0 : along.front().second;
    for (const auto& [from, to] : along) {
        cuts += from - reached >= gap;
        reached = std::max(reached, to);
    }
    return cuts;
}

Spots in_rows(const Prepared& prepared, const Spots& spots, double gap_mm) {
    const Problem& problem = prepared.problem;
    const Rows rows(problem, units_of(gap_mm));
    const std::int64_t most = length_of(problem, spots) + kUnitsPerMicrometre;
    Spots best = spots;
    int cuts = straight_cuts(problem, spots, gap_mm);
    for (const Turn turn : {Turn::as_it_stands, Turn::shortest, Turn::longest})
        for (const bool best_fit : {false, true}) {
            std::optional<Spots> in = rows.filled(turn, best_fit);
            if (!in || length_of(problem, *in) > most) continue;
            const int more = straight_cuts(problem, *in, gap_mm);
            if (more <= cuts) continue;
            cuts = more;
            best = std::move(*in);
        }
    return best;
}

}  // namespace spile::lay
