#include "core/layout/solve/solve.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <limits>

#include "core/base/text.h"
#include "core/geom/measure_of.h"
#include "core/layout/solve/bottom_left.h"
#include "core/layout/solve/bound.h"
#include "core/layout/solve/exact.h"
#include "core/layout/solve/fillers.h"
#include "core/layout/solve/prepare.h"
#include "core/layout/solve/random.h"
#include "core/layout/solve/search.h"
#include "core/layout/too_large.h"

namespace spile {
namespace {

// More pieces than this are laid out on coarser polygons, so that there is something to look at within 100 ms.
constexpr std::size_t kFewPieces = 16;
constexpr double kQuick_mm = 0.5;
constexpr int kOrdersPerRound = 20;  // some milliseconds
// Every pair of different shapes takes some thousand bytes of depths: beyond this many the first layout is what there is.
constexpr std::size_t kMostSearched = 300;

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
    return pieces_too_large(pieces, goods, style);
}

/// An offcut with notches has less room than its box.
std::optional<Finding> no_room_on(const lay::Prepared& prepared, const std::vector<LayoutPiece>& pieces) {
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        const lay::Problem::Item& item = prepared.problem.items[i];
        const bool fits = std::any_of(item.shapes.begin(), item.shapes.end(), [&](int shape) {
            const lay::IBox& box = prepared.problem.boxes[static_cast<std::size_t>(shape)];
            return box.height() <= prepared.problem.width && box.width() <= prepared.longest;
        });
        if (item.fixed || prepared.longest == 0 || fits) continue;
        return Finding{"layout-no-room",
                       Severity::stop,
                       {"piece", pieces[i].id},
                       {},
                       "Piece " + pieces[i].id + " finds no room on the offcut.",
                       "Take a larger offcut, or a roll.",
                       ""};
    }
    return std::nullopt;
}

/// A length that is as good as the bound: no less goods could be bought.
double enough_mm(const Goods& goods, double bound_mm) {
    return std::fmax(bound_mm, bought_length_mm(goods, bound_mm));
}

/// The rounds of one call: how many there may be, and when time is up.
class Budget {
  public:
    explicit Budget(const SolveOptions& options) : options_(options), began_(Clock::now()) {}

    bool any() const { return options_.seconds > 0 || options_.rounds > 0; }
    int most_rounds() const {
        return options_.seconds > 0 ? std::numeric_limits<int>::max() : options_.rounds;
    }
    bool spent() const { return options_.seconds > 0 && seconds() >= options_.seconds; }
    void tell(const RunContext& run, int rounds) const {
        if (!run.progress) return;
        if (options_.seconds > 0)
            run.progress(std::fmin(seconds(), options_.seconds), options_.seconds);
        else
            run.progress(rounds, options_.rounds);
    }

  private:
    using Clock = std::chrono::steady_clock;
    double seconds() const { return std::chrono::duration<double>(Clock::now() - began_).count(); }

    const SolveOptions& options_;
    Clock::time_point began_;
};

/// Layouts by putting pieces down in one order after another; the shortest is kept.
class Orders {
  public:
    Orders(const lay::FitTable& table, const lay::Prepared& prepared, const RunContext& run)
        : table_(table), prepared_(prepared), run_(run), random_(run.seed) {}

    /// Empty `best` afterwards: called off before there was a layout.
    void usual() {
        for (const std::vector<int>& order : lay::usual_orders(table_.problem())) consider(order);
    }

    /// The best order with some exchanged.
    void disturbed() {
        std::vector<int> order = best_order_;
        const std::size_t n = order.size(), swaps = 1 + random_.below(1 + n / 4);
        for (std::size_t k = 0; k < swaps; ++k) std::swap(order[random_.below(n)], order[random_.below(n)]);
        consider(order);
    }

    lay::Spots best;
    std::int64_t length = 0;

  private:
    void consider(const std::vector<int>& order) {
        lay::Spots spots = lay::bottom_left(table_, order, prepared_.fixed, prepared_.is_fixed,
                                            [&] { return run_.cancelled(); });
        if (spots.empty()) return;
        const std::int64_t reached = lay::length_of(table_.problem(), spots);
        if (!best.empty() && reached >= length) return;
        best = std::move(spots);
        length = reached;
        best_order_ = order;
    }

    const lay::FitTable& table_;
    const lay::Prepared& prepared_;
    const RunContext& run_;
    lay::Random random_;
    std::vector<int> best_order_;
};

/// Where the pattern is carried, pieces can only step from place to place: orders are tried instead of a search.
int improve_by_orders(Orders& orders, double enough_units, const Budget& budget, const RunContext& run) {
    int rounds = 0;
    while (rounds < budget.most_rounds() && !budget.spent() && !run.cancelled() &&
           static_cast<double>(orders.length) > enough_units) {
        for (int k = 0; k < kOrdersPerRound; ++k) orders.disturbed();
        budget.tell(run, ++rounds);
    }
    return rounds;
}

/// Rounds of search on a first layout; says how many there were.
int improve(const lay::FitTable& table, const lay::Prepared& prepared, double enough_units,
            const Budget& budget, int threads, const RunContext& run, lay::Spots& spots) {
    const lay::FieldTable fields(table, lay::usual_cell(prepared.problem));
    lay::SearchOptions search;
    search.rounds = budget.most_rounds();
    search.threads = threads;
    search.seed = run.seed;
    search.long_enough = enough_units;
    search.done = [&](int) { return budget.spent(); };
    search.halt = [&] { return run.cancelled(); };
    search.progress = [&](int rounds, double) { budget.tell(run, rounds); };
    const lay::SearchResult found = lay::search(fields, lay::to_places(spots), search);
    spots = lay::to_spots(found.places);
    return found.rounds;
}

/// A longer bound by trying every arrangement: first whether less goods could be bought, then whether there is any shorter.
void prove(const std::vector<LayoutPiece>& pieces, const Goods& goods, const RunContext& run,
           Layout& layout) {
    const bool bare = goods.flaws.empty() &&
                      std::none_of(pieces.begin(), pieces.end(), [](const LayoutPiece& p) { return p.pin; });
    if (!bare || pieces.size() > lay::kMostProved) return;
    lay::ProofBudget budget;
    budget.stop = [&] { return run.cancelled(); };
    const auto try_length = [&](double length_mm) {
        if (length_mm <= layout.bound_mm || run.cancelled() ||
            !lay::no_layout_within(pieces, goods, length_mm, budget))
            return;
        layout.bound_mm = length_mm;
        layout.bound_reason = "every arrangement of the pieces was tried";
    };
    if (goods.step_mm > 0) try_length(layout.bought_mm - goods.step_mm);
    try_length(layout.used_mm - kProvedWithin_mm);
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

    const Budget budget(options);
    Resolution resolution = options.resolution;
    if (pieces.size() > kFewPieces) resolution.mm = std::fmax(resolution.mm, kQuick_mm);
    const lay::Prepared prepared = lay::prepare(pieces, goods, resolution);
    if (std::optional<Finding> no_room = no_room_on(prepared, pieces)) {
        result.findings.push_back(std::move(*no_room));
        return result;
    }
    const lay::FitTable table(prepared.problem);
    const lay::Bound bound = lay::bound_of(pieces, goods, [&] { return run.cancelled(); });
    Orders orders(table, prepared, run);
    orders.usual();
    lay::Spots& best = orders.best;
    // Both cut ends keep the edge gap. On an offcut it is enough to fit.
    const double enough = prepared.longest > 0
                              ? static_cast<double>(prepared.longest)
                              : (enough_mm(goods, bound.length_mm) - 2 * goods.edge_gap()) * lay::kUnitsPerMm;
    const bool in_steps = std::any_of(prepared.problem.items.begin(), prepared.problem.items.end(),
                                      [](const lay::Problem::Item& item) { return item.cloth >= 0; });
    const bool all_pinned =
        std::all_of(pieces.begin(), pieces.end(), [](const LayoutPiece& p) { return p.pin.has_value(); });
    int rounds = 0;
    if (all_pinned)
        rounds = 0;
    else if (!best.empty() && in_steps)
        rounds = improve_by_orders(orders, enough, budget, run);
    else if (!best.empty() && budget.any() && prepared.problem.shapes.size() <= kMostSearched)
        rounds = improve(table, prepared, enough, budget, options.threads, run, best);
    if (best.empty() && !run.cancelled()) {
        result.findings.push_back(
            {"layout-pattern-no-place",
             Severity::stop,
             {"goods", ""},
             {{"repeat across", goods.repeat.across_mm, "mm"}, {"usable width", goods.usable_width_mm, "mm"}},
             "The pattern, which comes again every " + said(goods.repeat.across_mm, lengths) +
                 " across, cannot be carried from piece to piece: where it would have to, a piece stands "
                 "over the "
                 "usable width of " +
                 said(goods.usable_width_mm, lengths) + ".",
             "Divide the panels where the pattern comes again, or take wider goods.",
             ""});
        return result;
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
    if (rounds > 0 && !in_steps && prepared.longest == 0 &&
        static_cast<double>(lay::length_of(prepared.problem, best)) > enough)
        prove(pieces, goods, run, layout);
    const bool beyond_offcut =
        prepared.longest > 0 && lay::length_of(prepared.problem, best) > prepared.longest;
    if (beyond_offcut || (goods.length_mm > 0 && layout.used_mm > goods.length_mm + kPlacementRounding_mm)) {
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
    if (!goods.fillers.empty() && goods.outline.empty())
        layout.fillers = lay::place_fillers(pieces, goods, layout, resolution, run);
    result.value = std::move(layout);
    return result;
}

}  // namespace spile
