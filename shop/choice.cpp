#include "shop/choice.h"

#include <algorithm>
#include <cmath>

#include "core/base/running_length.h"
#include "core/base/text.h"
#include "core/geom/measure_of.h"
#include "shop/offcuts.h"
#include "shop/price_lists.h"
#include "shop/worked.h"

namespace spile::shop {
namespace {

constexpr std::size_t kMostServing = 8;

/// The price of these goods at a length; a length of 0 um when there is none.
LengthPrice price_at(const std::vector<LengthPrice>& steps, double length_mm) {
    LengthPrice price;
    for (const LengthPrice& step : steps)
        if (length_mm * 1000 >= static_cast<double>(step.from_um)) price = step;
    return price;
}

double largest_of(const std::vector<Outline>& left) {
    double most = 0;
    for (const Outline& outline : left) most = std::max(most, area_mm2(outline));
    return most;
}

class Chooser {
  public:
    Chooser(const Worked& worked, std::vector<LengthPrice> price, Currency currency)
        : worked_(worked),
          pieces_(layout_pieces(worked.job, worked.derived)),
          price_(std::move(price)),
          currency_(std::move(currency)),
          lengths_(lengths_of(worked.job)) {
        lengths_.with_unit = true;
    }

    void roll(const Roll& roll, std::int64_t free_um) {
        if (!worked_.derived.layout) return;
        const Layout& layout = *worked_.derived.layout;
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
        if (!worked_.derived.layout) return;
        StockChoice choice;
        choice.layout = *worked_.derived.layout;
        const double rest_mm = choice.layout.bought_mm - choice.layout.used_mm;
        const double end_mm2 = rest_mm < kLeastRest_mm ? 0 : rest_mm * width_mm();
        taken(choice, choice.layout.bought_mm, kWhole, left_on_roll(), end_mm2);
        choice.because = running_length(choice.layout.bought_mm, lengths_) + " to buy, of which " +
                         plain_length(choice.layout.used_mm, lengths_) + " are cut.";
        add(std::move(choice), std::max(end_mm2, largest_of(left_on_roll())), rest_mm);
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

    double width_mm() const { return worked_.job.goods.usable_width_mm; }

    const std::vector<Outline>& left_on_roll() {
        if (!left_known_) left_ = offcuts_of(pieces_, worked_.job.goods, *worked_.derived.layout);
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
        constexpr double rest_worth = static_cast<double>(kRestWorth) / kWhole;
        const double worth_mm2 =
            (choice.offcut ? rest_worth : 1) * choice.taken_mm2 - rest_worth * choice.left_mm2;
        found_.push_back({std::move(choice), worth_mm2, largest_mm2, rest_mm});
    }

    const Worked& worked_;
    std::vector<LayoutPiece> pieces_;
    std::vector<LengthPrice> price_;
    Currency currency_;
    LengthStyle lengths_;
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

}  // namespace

Result<std::vector<StockChoice>> stock_choices(Store& store, Id id, const SolverFor& solver) {
    const Result<Revision> revision = read_revision(store, id);
    if (!revision) return {std::nullopt, revision.findings};
    const Result<Job> read = read_job(revision->document);
    if (!read) return {std::nullopt, read.findings};
    const Result<Worked> worked = worked_out(store, id, solver(*read));
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
    Chooser chooser(*worked, std::move(price), std::move(currency));
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
        }
        const Result<std::vector<Serving>> serving = serving_offcuts(store, *worked, row.id, kMostServing);
        if (!serving) return {std::nullopt, serving.findings};
        for (const Serving& s : *serving) chooser.offcut(s.offcut, s.layout);
    }
    chooser.bought();
    return Result<std::vector<StockChoice>>::ok(chooser.best_first(*lots));
}

}  // namespace spile::shop
