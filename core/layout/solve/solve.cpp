#include "core/layout/solve/solve.h"

#include <algorithm>
#include <chrono>
#include <cmath>

#include "core/base/text.h"
#include "core/geom/measure_of.h"
#include "core/layout/solve/bottom_left.h"
#include "core/layout/solve/bound.h"
#include "core/layout/solve/prepare.h"
#include "core/layout/solve/random.h"

namespace spile {
namespace {

// More pieces than this are laid out on coarser polygons, so that there is something to look at within 100 ms.
constexpr std::size_t kFewPieces = 16;
constexpr double kQuick_mm = 0.5;

std::string said(double mm, LengthStyle style) {
    style.with_unit = true;
    return plain_length(mm, style);
}

std::vector<Finding> faults_of(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                               const LengthStyle& style) {
    std::vector<Finding> faults;
    if (pieces.size() > kMostPieces) {
        faults.push_back({"layout-too-many",
                          Severity::stop,
                          {"goods", ""},
                          {{"pieces", static_cast<double>(pieces.size()), ""},
                           {"most", static_cast<double>(kMostPieces), ""}},
                          "There are " + std::to_string(pieces.size()) + " pieces to lay out; the most is " +
                              std::to_string(kMostPieces) + " at a time.",
                          "Lay them out in several lots.",
                          ""});
        return faults;
    }
    const double room = goods.edge_gap();
    const double across = goods.usable_width_mm - 2 * room;
    const double along = goods.length_mm - 2 * room;
    for (const LayoutPiece& piece : pieces) {
        const auto stop = [&](const char* code, std::vector<Quantity> numbers, std::string says,
                              std::string to_do) {
            faults.push_back({code,
                              Severity::stop,
                              {"piece", piece.id},
                              std::move(numbers),
                              std::move(says),
                              std::move(to_do),
                              ""});
        };
        const Box box = piece.outline.outer.empty() ? Box{{0, 0}, {0, 0}} : box_of(piece.outline);
        if (piece.outline.outer.size() < 2 || !(area_mm2(piece.outline.outer) > 0)) {
            stop("layout-no-area", {}, "Piece " + piece.id + " has no area.",
                 "Check the corners of its panel, and that its finish leaves something of it.");
            continue;
        }
        if (box.height() > across + kPlacementRounding_mm)
            stop("layout-too-wide",
                 {{"width", box.height(), "mm"},
                  {"room", across, "mm"},
                  {"usable width", goods.usable_width_mm, "mm"}},
                 "Piece " + piece.id + " is " + said(box.height(), style) +
                     " wide across the direction of the goods; their usable width of " +
                     said(goods.usable_width_mm, style) + " leaves " + said(across, style) + ".",
                 "Make the panel in two with a joint along the direction, or take wider goods.");
        if (goods.length_mm > 0 && box.width() > along + kPlacementRounding_mm)
            stop("layout-too-long",
                 {{"length", box.width(), "mm"},
                  {"room", along, "mm"},
                  {"length of the goods", goods.length_mm, "mm"}},
                 "Piece " + piece.id + " is " + said(box.width(), style) + " long; the " +
                     said(goods.length_mm, style) + " of goods leave " + said(along, style) + ".",
                 "Take longer goods, or make the panel in two.");
    }
    return faults;
}

/// The same order with some neighbours-but-few exchanged: later pieces move more freely than the first.
std::vector<int> disturbed(std::vector<int> order, lay::Random& random) {
    const std::size_t n = order.size(), swaps = 1 + random.below(1 + n / 4);
    for (std::size_t k = 0; n > 1 && k < swaps; ++k)
        std::swap(order[random.below(n)], order[random.below(n)]);
    return order;
}

}  // namespace

Result<Layout> solve_layout(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                            const SolveOptions& options, const RunContext& run, const LengthStyle& lengths) {
    Result<Layout> result;
    result.findings = faults_of(pieces, goods, lengths);
    if (has_stop(result.findings)) return result;
    if (pieces.empty()) {
        result.value = Layout{};
        return result;
    }

    const auto began = std::chrono::steady_clock::now();
    const auto stop = [&] { return run.cancelled(); };
    Resolution resolution = options.resolution;
    if (pieces.size() > kFewPieces) resolution.mm = std::fmax(resolution.mm, kQuick_mm);
    const lay::Prepared prepared = lay::prepare(pieces, goods, resolution);
    const lay::FitTable table(prepared.problem);
    const lay::Bound bound = lay::bound_of(pieces, goods, stop);

    lay::Spots best;
    std::vector<int> best_order;
    const auto try_order = [&](const std::vector<int>& order) {
        lay::Spots spots = lay::bottom_left(table, order, stop);
        if (spots.empty()) return;
        if (!best.empty() &&
            lay::length_of(prepared.problem, spots) >= lay::length_of(prepared.problem, best))
            return;
        best = std::move(spots);
        best_order = order;
    };
    for (const std::vector<int>& order : lay::usual_orders(prepared.problem)) try_order(order);
    int rounds = 0;
    lay::Random random(run.seed);
    const auto time_is_up = [&] {
        const std::chrono::duration<double> spent = std::chrono::steady_clock::now() - began;
        return options.seconds > 0 ? spent.count() >= options.seconds : rounds >= options.rounds;
    };
    while (!best.empty() && !run.cancelled() && !time_is_up()) {
        try_order(disturbed(best_order, random));
        ++rounds;
        if (run.progress) run.progress(rounds, options.rounds);
    }
    if (best.empty()) {
        result.findings.push_back({"layout-cancelled",
                                   Severity::stop,
                                   {"goods", ""},
                                   {},
                                   "Laying out was stopped before there was a first layout.",
                                   "Let it run longer.",
                                   ""});
        return result;
    }

    Layout layout;
    layout.placements = lay::placements_of(pieces, prepared, best);
    layout.rounds = rounds;
    layout.bound_mm = bound.length_mm;
    layout.bound_reason = bound.reason;
    measure_layout(pieces, goods, layout);
    if (goods.length_mm > 0 && layout.used_mm > goods.length_mm + kPlacementRounding_mm) {
        result.findings.push_back({"layout-goods-short",
                                   Severity::stop,
                                   {"goods", ""},
                                   {{"takes", layout.used_mm, "mm"},
                                    {"there is", goods.length_mm, "mm"},
                                    {"bound", layout.bound_mm, "mm"}},
                                   "The pieces take " + said(layout.used_mm, lengths) +
                                       " of goods; there are " + said(goods.length_mm, lengths) + ".",
                                   "Take longer goods, or leave a piece for another length.",
                                   ""});
        return result;
    }
    result.value = std::move(layout);
    return result;
}

}  // namespace spile
