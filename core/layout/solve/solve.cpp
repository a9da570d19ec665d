#include "core/layout/solve/solve.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <limits>
#include <memory>

#include "core/base/text.h"
#include "core/layout/solve/bound.h"
#include "core/layout/solve/cut_rows.h"
#include "core/layout/solve/exact.h"
#include "core/layout/solve/fillers.h"
#include "core/layout/solve/level.h"
#include "core/layout/solve/whole_places.h"
#include "core/layout/too_large.h"

namespace spile {
namespace {

// More pieces than this are laid out on coarser polygons, so that there is something to look at within 100 ms.
constexpr std::size_t kFewPieces = 16;
constexpr double kQuick_mm = 0.5;
constexpr double kAtBound_mm = 0.02;  // what a bound leaves for rounding (bound.cpp) is not searched for
constexpr double kSearchShare = 0.5;  // of the time, where what is left may prove that nothing is shorter

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

Finding no_room_on_offcut(const LayoutPiece& piece) {
    return {"layout-no-room",
            Severity::stop,
            {"piece", piece.id},
            {},
            "Piece " + piece.id + " finds no room on the offcut.",
            "Take a larger offcut, or a roll.",
            ""};
}

/// A length that is as good as the bound, or with which no less goods could be bought and that is there to cut from.
double enough_mm(const Goods& goods, double bound_mm) {
    double bought_mm = bought_length_mm(goods, bound_mm);
    if (goods.length_mm > 0) bought_mm = std::fmin(bought_mm, goods.length_mm);
    return std::fmax(bound_mm + kAtBound_mm, bought_mm);
}

/// The rounds of one call: how many there may be, and when time is up.
class Budget {
  public:
    explicit Budget(const SolveOptions& options) : options_(options), began_(Clock::now()) {}

    bool any() const { return options_.seconds > 0 || options_.rounds > 0; }
    int most_rounds() const {
        return options_.seconds > 0 ? std::numeric_limits<int>::max() : options_.rounds;
    }
    /// `share`: of the time there is.
    bool spent(double share = 1) const {
        return options_.seconds > 0 && seconds() >= share * options_.seconds;
    }
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

using Levels = std::vector<std::unique_ptr<lay::Level>>;

/// What the goods allow last, before it every lesser freedom that all pieces have room in.
Levels levels_of(const std::vector<LayoutPiece>& pieces, const Goods& goods, Resolution resolution,
                 const RunContext& run) {
    Levels levels;
    levels.push_back(std::make_unique<lay::Level>(pieces, goods, resolution, run));
    for (Goods less = goods; less.turning != Turning::one_way && !run.cancelled();) {
        less.turning = less.turning == Turning::quarter ? Turning::half : Turning::one_way;
        auto level = std::make_unique<lay::Level>(pieces, less, resolution, run);
        if (run.cancelled() || level->without_room()) break;
        if (!level->same_freedom_as(*levels.front())) levels.insert(levels.begin(), std::move(level));
    }
    return levels;
}

/// Whole rounds on all levels until the freest has ended, or time is up; says how many. `best`: the shortest of them.
int improve(const Levels& levels, const std::vector<double>& enough, const Budget& budget, double share,
            int threads, const RunContext& run, lay::Spots& best) {
    const auto stop = [&] { return run.cancelled() || budget.spent(share); };
    for (std::size_t k = 0; k < levels.size(); ++k) levels[k]->begin_rounds(enough[k], threads, stop);
    int rounds = 0;
    const auto ended = [&] {
        return levels.back()->reached() ||
               std::all_of(levels.begin(), levels.end(), [](const auto& level) { return level->ended(); });
    };
    while (rounds < budget.most_rounds() && !stop() && !ended()) {
        for (std::size_t k = 0; k < levels.size(); ++k) {
            if (k > 0) levels[k]->take_over(*levels[k - 1]);
            levels[k]->round();
        }
        // With a cancel every shortening counts; when time is up only what --rounds gives again.
        if (stop() && !run.cancelled()) break;
        best = levels.back()->best();
        if (!run.cancelled()) budget.tell(run, ++rounds);
    }
    return rounds;
}

/// A longer bound by trying every arrangement: first whether less goods could be bought, then whether there is any shorter.
void prove(const std::vector<LayoutPiece>& pieces, const Goods& goods, const std::function<bool()>& stop,
           Layout& layout) {
    lay::ProofBudget budget;
    budget.stop = stop;
    const auto try_length = [&](double length_mm) {
        if (length_mm <= layout.bound_mm || stop() ||
            !lay::no_layout_within(pieces, goods, length_mm, budget))
            return;
        layout.bound_mm = length_mm;
        layout.bound_reason = "every arrangement of the pieces was tried";
    };
    // A step less is what could be bought, unless what is known already says that it could not.
    if (goods.step_mm > 0 && bought_length_mm(goods, layout.bound_mm) < layout.bought_mm)
        try_length(layout.bought_mm - goods.step_mm);
    try_length(layout.used_mm - kProvedWithin_mm);
}

/// The same layout with its pieces on whole steps, as far as that buys no more goods.
lay::Spots easily_found(const lay::FitTable& table, const lay::Prepared& prepared, const Goods& goods,
                        const Layout& layout, double places_mm, const lay::Spots& spots,
                        const std::function<bool()>& stop) {
    const auto units = [](double mm) { return static_cast<std::int64_t>(std::floor(mm * lay::kUnitsPerMm)); };
    const std::int64_t step = units(places_mm), length = lay::length_of(prepared.problem, spots);
    lay::Spots best = lay::on_whole_places(table, prepared, spots, length, step, stop);
    const bool proved = layout.used_mm - layout.bound_mm <= kProvedWithin_mm;
    std::int64_t most = length + (proved ? 0 : 2 * step);
    const auto within = [&](double mm) { most = std::min(most, units(mm - 2 * goods.edge_gap())); };
    if (prepared.longest > 0) most = std::min(most, prepared.longest);
    if (prepared.longest == 0) within(layout.bought_mm);
    if (prepared.longest == 0 && goods.length_mm > 0) within(goods.length_mm);
    if (most <= length) return best;
    lay::Spots longer = lay::on_whole_places(table, prepared, spots, most, step, stop);
    const auto worth = [&](const lay::Spots& s) {
        return std::pair{lay::straight_cuts(prepared.problem, s, goods.gap_mm),
                         lay::whole_places(prepared, s, step)};
    };
    if (worth(longer) > worth(best)) best = std::move(longer);
    return best;
}

}  // namespace

double places_step_mm(const LengthStyle& lengths) {
    return lengths.unit == Unit::inch ? 25.4 / 8 : 1;
}

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
    const Levels levels = levels_of(pieces, goods, resolution, run);
    const lay::Level& freest = *levels.back();
    const lay::Prepared& prepared = freest.prepared();
    if (prepared.longest > 0 && !run.cancelled())
        if (const auto piece = freest.without_room()) {
            result.findings.push_back(no_room_on_offcut(pieces[*piece]));
            return result;
        }
    bool laid = false;
    for (std::size_t k = 0; k < levels.size(); ++k) {
        levels[k]->lay_first([&] { return run.cancelled() || (laid && budget.spent()); });
        if (k > 0) levels[k]->take_over(*levels[k - 1]);
        laid = levels[k]->any();
    }
    lay::Spots best = freest.best();
    const auto stop = [&] { return run.cancelled(); };
    const lay::Bound bound = lay::bound_of(pieces, goods, stop);
    // Both cut ends keep the edge gap. On an offcut it is enough to fit.
    const auto enough_for = [&](const lay::Bound& least) {
        return prepared.longest > 0
                   ? static_cast<double>(prepared.longest)
                   : (enough_mm(goods, least.length_mm) - 2 * goods.edge_gap()) * lay::kUnitsPerMm;
    };
    const double enough = enough_for(bound);
    const bool in_steps = freest.in_steps();
    const bool all_pinned =
        std::all_of(pieces.begin(), pieces.end(), [](const LayoutPiece& p) { return p.pin.has_value(); });
    const bool bare = goods.flaws.empty() &&
                      std::none_of(pieces.begin(), pieces.end(), [](const LayoutPiece& p) { return p.pin; });
    const bool may_be_proved =
        bare && pieces.size() <= lay::kMostProved && !in_steps && prepared.longest == 0;
    int rounds = 0;
    if (!all_pinned && !best.empty() && budget.any()) {
        std::vector<double> enough_on;
        for (const auto& level : levels) {
            Goods less = goods;
            less.turning = level->turning();
            enough_on.push_back(level == levels.back() ? enough
                                                       : enough_for(lay::bound_of(pieces, less, stop)));
        }
        rounds =
            improve(levels, enough_on, budget, may_be_proved ? kSearchShare : 1, options.threads, run, best);
    }
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

    if (bare && !in_steps && prepared.longest == 0) best = lay::in_rows(prepared, best, goods.gap_mm);
    Layout layout;
    layout.placements = lay::placements_of(pieces, prepared, best);
    layout.rounds = rounds;
    layout.bound_mm = bound.length_mm;
    layout.bound_reason = bound.reason;
    measure_layout(pieces, goods, layout);
    if (rounds > 0 && may_be_proved && static_cast<double>(lay::length_of(prepared.problem, best)) > enough)
        prove(
            pieces, goods, [&] { return run.cancelled() || budget.spent(); }, layout);
    if (options.places_mm > 0 && !all_pinned && freest.table().keeps()) {
        best = easily_found(freest.table(), prepared, goods, layout, options.places_mm, best, stop);
        layout.placements = lay::placements_of(pieces, prepared, best);
        measure_layout(pieces, goods, layout);
    }
    const bool beyond_offcut =
        prepared.longest > 0 && lay::length_of(prepared.problem, best) > prepared.longest;
    if (beyond_offcut || (goods.length_mm > 0 && layout.used_mm > goods.length_mm + kPlacementRounding_mm)) {
        result.findings.push_back(
            {"layout-goods-short",
             Severity::stop,
             {"goods", ""},
             {{"takes", layout.used_mm, "mm"},
              {"there is", goods.length_mm, "mm"},
              {"bound", layout.bound_mm, "mm"}},
             "The pieces take " + said(layout.used_mm, lengths) + " of goods; there are " +
                 said(goods.length_mm, lengths) +
                 (goods.flaws.empty() ? "." : ", and no piece may lie on a flaw."),
             goods.flaws.empty()
                 ? "Take longer goods, or leave a piece for another length."
                 : "Take longer goods or a length without the flaws, or leave a piece for another.",
             ""});
        return result;
    }
    if (!goods.fillers.empty() && goods.outline.empty())
        layout.fillers = lay::place_fillers(pieces, goods, layout, resolution, run);
    result.value = std::move(layout);
    return result;
}

}  // namespace spile
