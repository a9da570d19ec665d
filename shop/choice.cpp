#include "shop/choice.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "core/base/running_length.h"
#include "core/base/text.h"
#include "core/geom/measure_of.h"
#include "core/job/decisions.h"
#include "shop/offcuts.h"
#include "shop/price_lists.h"
#include "shop/spread.h"
#include "shop/worked.h"

namespace spile::shop {
namespace {

constexpr std::size_t kMostServing = 8;
constexpr std::size_t kMostInSpread = 6;  // offcuts of a lot over which a set is spread

/// The price of these goods at a length; a length of 0 um when there is none.
LengthPrice price_at(const std::vector<LengthPrice>& steps, double length_mm) {
    LengthPrice price;
    for (const LengthPrice& step : steps)
        if (length_mm * 1000 >= static_cast<double>(step.from_um)) price = step;
    return price;
}

double largest_of(const std::vector<Outline>& left) {
    double most = 0;
    for (const Outline& outline : left) most = std::max(most, largest_rectangle_mm2(outline));
    return most;
}

/// What of a lot may be cut.
struct OfLot {
    std::vector<Offcut> offcuts;  ///< smallest first
    std::vector<Roll> rolls;
    std::vector<std::int64_t> free_um;  ///< by roll
};

class Chooser {
  public:
    Chooser(const Worked& worked, const LayoutSolver& solver, std::vector<LengthPrice> price,
            Currency currency)
        : worked_(worked),
          pieces_(layout_pieces(worked.job, worked.derived)),
          price_(std::move(price)),
          currency_(std::move(currency)),
          lengths_(lengths_of(worked.job)),
          solver_(solver),
          layout_(worked.derived.layout) {
        lengths_.with_unit = true;
        // A layout that is kept on lengths of the rack says nothing of a roll.
        if (layout_ && !layout_->stretches.empty())
            layout_ = proved_layout(pieces_, worked.job.goods, solver);
    }

    void roll(const Roll& roll, std::int64_t free_um) {
        if (!layout_) return;
        const Layout& layout = *layout_;
        const double free_mm = static_cast<double>(free_um) / 1000;
        if (layout.used_mm > free_mm) return;
        StockChoice choice;
        choice.roll = roll.id;
        choice.lot = roll.lot;
        choice.layout = layout;
        const double rest_mm = static_cast<double>(roll.left_um) / 1000 - layout.used_mm;
        const bool waste = rest_mm < kLeastRest_mm;
        const double taken_mm = layout.used_mm + (waste ? rest_mm : 0);
        taken(choice, taken_mm, kWhole, left_on_roll(), 0);
        choice.because = plain_length(layout.used_mm, lengths_) + " of roll " + std::to_string(roll.id) +
                         ", " + plain_length(rest_mm, lengths_) + " stays on it" +
                         (waste && rest_mm > 0 ? ", too little to use." : ".");
        add(std::move(choice), largest_of(left_on_roll()), rest_mm);
    }

    void offcut(const Offcut& offcut, const Layout& layout) {
        StockChoice choice;
        choice.offcut = offcut.id;
        choice.lot = offcut.lot;
        choice.layout = layout;
        const std::vector<Outline> left =
            left_of(offcut.outline, pieces_, layout.placements, worked_.job.goods.gap_mm);
        taken(choice, offcut.area_mm2 / width_mm(), kRestWorth, left, 0);
        choice.because =
            "Offcut " + std::to_string(offcut.id) + " holds the whole set; " +
            (left.empty() ? "nothing of it is left to use."
                          : count_of(left.size(), "piece", "pieces") + " of it can still be used.");
        add(std::move(choice), largest_of(left), 0);
    }

    void bought() {
        if (!layout_) return;
        StockChoice choice;
        choice.layout = *layout_;
        const double rest_mm = choice.layout.bought_mm - choice.layout.used_mm;
        const double end_mm2 = rest_mm < kLeastRest_mm ? 0 : rest_mm * width_mm();
        taken(choice, choice.layout.bought_mm, kWhole, left_on_roll(), end_mm2);
        choice.because = running_length(choice.layout.bought_mm, lengths_) + " to buy, of which " +
                         plain_length(choice.layout.used_mm, lengths_) + " are cut.";
        add(std::move(choice), std::max(end_mm2, largest_of(left_on_roll())), rest_mm);
    }

    /// The set over several lengths of one lot: offcuts first, the smallest or the largest, and each alone with the rolls.
    void several(const OfLot& lot) {
        if (pieces_.size() < 2 || lot.offcuts.size() + lot.rolls.size() < 2) return;
        std::vector<Length> offcuts, rolls;
        for (const Offcut& offcut : lot.offcuts) offcuts.push_back({stretch_of(offcut), nullptr, &offcut});
        for (std::size_t i = 0; i < lot.rolls.size(); ++i)
            if (lot.free_um[i] > 0)
                rolls.push_back({stretch_of(lot.rolls[i], lot.free_um[i]), &lot.rolls[i], nullptr});
        std::stable_sort(rolls.begin(), rolls.end(), [](const Length& a, const Length& b) {
            return a.stretch.length_mm < b.stretch.length_mm;
        });
        const auto with_rolls = [&](std::vector<Length> lengths, bool long_first) {
            if (long_first)
                lengths.insert(lengths.end(), rolls.rbegin(), rolls.rend());
            else
                lengths.insert(lengths.end(), rolls.begin(), rolls.end());
            spread_over(lengths);
        };
        for (const bool long_first : {true, false}) {
            with_rolls(offcuts, long_first);
            with_rolls({offcuts.rbegin(), offcuts.rend()}, long_first);
            for (const Length& one : offcuts) with_rolls({one}, long_first);
            with_rolls({}, long_first);
            if (rolls.size() < 2) break;
        }
    }

    std::vector<StockChoice> best_first(const std::vector<std::string>& lots) {
        for (Ranked& r : found_)
            r.choice.other_lot = !lots.empty() && std::count(lots.begin(), lots.end(), r.choice.lot) == 0;
        std::stable_sort(found_.begin(), found_.end(), [](const Ranked& a, const Ranked& b) {
            if (a.choice.other_lot != b.choice.other_lot) return b.choice.other_lot;
            if (a.choice.cost() != b.choice.cost()) return a.choice.cost() < b.choice.cost();
            if (a.worth_mm2 != b.worth_mm2) return a.worth_mm2 < b.worth_mm2;
            if (a.largest_mm2 != b.largest_mm2) return a.largest_mm2 > b.largest_mm2;
            return a.rest_mm < b.rest_mm;  // a roll's end is used up first
        });
        std::vector<StockChoice> choices;
        for (Ranked& r : found_) choices.push_back(std::move(r.choice));
        return choices;
    }

  private:
    struct Ranked {
        StockChoice choice;
        double worth_mm2 = 0, largest_mm2 = 0, rest_mm = 0;
    };

    struct Length {
        Stretch stretch;
        const Roll* roll = nullptr;
        const Offcut* offcut = nullptr;
    };

    void spread_over(const std::vector<Length>& lengths) {
        std::vector<Stretch> stretches;
        for (const Length& length : lengths) stretches.push_back(length.stretch);
        const Goods& goods = worked_.job.goods;
        const std::optional<Layout> layout = spread(pieces_, goods, stretches, solver_);
        if (!layout || layout->stretches.size() < 2) return;  // one length is tried by itself
        StockChoice choice;
        choice.layout = *layout;
        choice.lot = layout->stretches[0].lot;
        choice.currency = currency_;
        double largest = 0, rest = 0, worth_mm2 = 0;
        std::vector<std::string> names;
        for (std::size_t k = 0; k < layout->stretches.size(); ++k) {
            const auto of = std::find_if(lengths.begin(), lengths.end(), [&](const Length& l) {
                return l.stretch.name == layout->stretches[k].name;
            });
            const Layout part = one_stretch(pieces_, goods, *layout, k);
            StockChoice own;
            std::vector<Outline> left;
            if (of->offcut) {
                left = left_of(of->offcut->outline, pieces_, part.placements, goods.gap_mm);
                taken(own, of->offcut->area_mm2 / width_mm(), kRestWorth, left, 0);
                names.push_back(of->stretch.name);
            } else {
                left = offcuts_of(pieces_, goods, part);
                const double rest_mm = static_cast<double>(of->roll->left_um) / 1000 - part.used_mm;
                const bool waste = rest_mm < kLeastRest_mm;
                taken(own, part.used_mm + (waste ? rest_mm : 0), kWhole, left, 0);
                rest += rest_mm;
                names.push_back(plain_length(part.used_mm, lengths_) + " of " + of->stretch.name);
            }
            choice.taken_mm2 += own.taken_mm2;
            choice.left_mm2 += own.left_mm2;
            choice.taken += own.taken;
            choice.left += own.left;
            largest = std::max(largest, largest_of(left));
            worth_mm2 += worth_of(own, of->offcut != nullptr);
            const CutFrom from{of->roll ? of->roll->id : 0, of->offcut ? of->offcut->id : 0, 0, {}};
            if (k > 0)
                choice.more.push_back(from);
            else
                choice.roll = from.roll, choice.offcut = from.offcut;
        }
        choice.because = "Cut from " + list_words(names) + ", all of one lot.";
        if (const Result<Job> kept = keep_layout(worked_.job, *layout))
            choice.kept_layout = write_said(*kept->said.find("kept_layout"));
        // The same lengths in another order: the cheaper stays.
        for (Ranked& r : found_) {
            if (r.choice.more.empty() || lengths_named(r.choice) != lengths_named(choice)) continue;
            if (choice.cost() < r.choice.cost() ||
                (choice.cost() == r.choice.cost() && worth_mm2 < r.worth_mm2))
                r = {std::move(choice), worth_mm2, largest, rest};
            return;
        }
        found_.push_back({std::move(choice), worth_mm2, largest, rest});
    }

    static std::vector<std::string> lengths_named(const StockChoice& choice) {
        std::vector<std::string> names;
        for (const Stretch& stretch : choice.layout.stretches) names.push_back(stretch.name);
        std::sort(names.begin(), names.end());
        return names;
    }

    static double worth_of(const StockChoice& choice, bool offcut) {
        constexpr double rest_worth = static_cast<double>(kRestWorth) / kWhole;
        return (offcut ? rest_worth : 1) * choice.taken_mm2 - rest_worth * choice.left_mm2;
    }

    double width_mm() const { return worked_.job.goods.usable_width_mm; }

    const std::vector<Outline>& left_on_roll() {
        if (!left_known_) left_ = offcuts_of(pieces_, worked_.job.goods, *layout_);
        left_known_ = true;
        return left_;
    }

    /// `length_mm` of the whole width, worth `share` of its price; `left` and a roll's end of `end_mm2` come back.
    void taken(StockChoice& choice, double length_mm, Millionths share, const std::vector<Outline>& left,
               double end_mm2) const {
        choice.taken_mm2 = length_mm * width_mm();
        choice.left_mm2 = end_mm2;
        for (const Outline& outline : left) choice.left_mm2 += area_mm2(outline);
        choice.currency = currency_;
        choice.taken = worth(choice.taken_mm2, share, length_mm);
        choice.left = worth(choice.left_mm2, kRestWorth, length_mm);
    }

    /// Of an area, at the price that holds for a length.
    Cents worth(double mm2, Millionths share, double length_mm) const {
        const LengthPrice price = price_at(price_, length_mm);
        if (price.per_um <= 0) return 0;
        const Cents whole = rounded_share(price.cents, std::llround(mm2 / width_mm() * 1000), price.per_um);
        return rounded_share(whole, share, kWhole);
    }

    void add(StockChoice choice, double largest_mm2, double rest_mm) {
        const double worth_mm2 = worth_of(choice, choice.offcut != 0);
        found_.push_back({std::move(choice), worth_mm2, largest_mm2, rest_mm});
    }

    const Worked& worked_;
    std::vector<LayoutPiece> pieces_;
    std::vector<LengthPrice> price_;
    Currency currency_;
    LengthStyle lengths_;
    LayoutSolver solver_;
    std::optional<Layout> layout_;  ///< of the set on one length of a roll
    std::vector<Ranked> found_;
    std::vector<Outline> left_;
    bool left_known_ = false;
};

/// Of the layouts of this job that stand.
Result<std::vector<std::string>> lots_of(Store& store, Id job) {
    const Result<std::vector<AcceptedLayout>> layouts = list_layouts(store, job);
    if (!layouts) return {std::nullopt, layouts.findings};
    std::vector<std::string> lots;
    for (const AcceptedLayout& layout : *layouts) {
        if (layout.taken_back) continue;
        if (layout.roll) {
            const Result<Roll> roll = read_roll(store, layout.roll);
            if (!roll) return {std::nullopt, roll.findings};
            lots.push_back(roll->lot);
        } else {
            const Result<Offcut> offcut = read_offcut(store, layout.offcut);
            if (!offcut) return {std::nullopt, offcut.findings};
            lots.push_back(offcut->lot);
        }
    }
    return Result<std::vector<std::string>>::ok(std::move(lots));
}

/// Those that are large enough for the smallest piece, smallest first.
Result<std::vector<Offcut>> offcuts_for_a_piece(Store& store, const Worked& worked, Id goods) {
    OffcutQuery query;
    query.goods = goods;
    query.limit = 200;
    double least = 1e300;
    for (const Piece& piece : worked.derived.pieces) least = std::min(least, piece.area_mm2);
    query.least_area_mm2 = least;
    return find_offcuts(store, query);
}

}  // namespace

Result<std::vector<StockChoice>> stock_choices(Store& store, Id id, const SolverFor& solver) {
    const Result<Revision> revision = read_revision(store, id);
    if (!revision) return {std::nullopt, revision.findings};
    const Result<Job> read = read_job(revision->document);
    if (!read) return {std::nullopt, read.findings};
    const LayoutSolver solve = solver(*read);
    const Result<Worked> worked = worked_out(store, id, solve);
    if (!worked) return {std::nullopt, worked.findings};
    const Result<std::vector<std::string>> lots = lots_of(store, id);
    if (!lots) return {std::nullopt, lots.findings};
    const Goods& goods = worked->job.goods;
    std::vector<LengthPrice> price;
    Currency currency;
    if (const auto list = price_list_on(store, date_of(store.now())))
        if (const auto prices = read_prices(*list)) {
            price = prices->book_for(goods.name).goods;
            currency = prices->book.currency;
        }
    std::map<std::string, OfLot> by_lot;
    Chooser chooser(*worked, solve, std::move(price), std::move(currency));
    const Result<std::vector<GoodsRow>> known = find_goods(store, "", 1000);
    if (!known) return {std::nullopt, known.findings};
    for (const GoodsRow& row : *known) {
        if (row.name != goods.name) continue;
        const Result<std::vector<Roll>> rolls = list_rolls(store, row.id);
        if (!rolls) return {std::nullopt, rolls.findings};
        for (const Roll& roll : *rolls) {
            const Result<std::int64_t> free = free_for(store, roll.id, id);
            if (!free) return {std::nullopt, free.findings};
            chooser.roll(roll, *free);
            by_lot[roll.lot].rolls.push_back(roll);
            by_lot[roll.lot].free_um.push_back(*free);
        }
        const Result<std::vector<Offcut>> some = offcuts_for_a_piece(store, *worked, row.id);
        if (!some) return {std::nullopt, some.findings};
        for (const Offcut& offcut : *some)
            if (OfLot& lot = by_lot[offcut.lot]; lot.offcuts.size() < kMostInSpread)
                lot.offcuts.push_back(offcut);
        const Result<std::vector<Serving>> serving = serving_offcuts(store, *worked, row.id, kMostServing);
        if (!serving) return {std::nullopt, serving.findings};
        for (const Serving& s : *serving) chooser.offcut(s.offcut, s.layout);
    }
    for (const auto& [name, lot] : by_lot) chooser.several(lot);
    chooser.bought();
    return Result<std::vector<StockChoice>>::ok(chooser.best_first(*lots));
}

}  // namespace spile::shop
