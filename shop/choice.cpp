#include "shop/choice.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "core/base/running_length.h"
#include "core/base/text.h"
#include "core/geom/measure_of.h"
#include "core/job/decisions.h"
#include "shop/price_lists.h"
#include "shop/spread.h"
#include "shop/worked.h"
#include "shop/worth.h"

namespace spile::shop {
namespace {

constexpr std::size_t kMostServing = 8;
constexpr std::size_t kMostNamed = 6;  // places of spaces and pieces that are said one by one

/// What of the rack may be cut, lot by lot.
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
          goods_(worked.job.goods),
          pieces_(layout_pieces(worked.job, worked.derived)),
          worth_(goods_, std::move(price)),
          currency_(std::move(currency)),
          lengths_(lengths_of(worked.job)),
          solver_(solver),
          layout_(layout_on_a_roll(worked, solver)) {
        lengths_.with_unit = true;
        // What is sold beside the job tells nothing between ways to cut.
        if (!layout_) return;
        Layout bare = *layout_;
        bare.fillers.clear();
        left_ = worth_.left_by(pieces_, bare);
    }

    void roll(const Roll& roll, std::int64_t free_um) {
        if (!layout_ || layout_->used_mm > static_cast<double>(free_um) / 1000) return;
        StockChoice choice;
        choice.roll = roll.id;
        choice.lot = roll.lot;
        choice.layout = *layout_;
        const CutWorth worth = worth_.of_roll(left_, static_cast<double>(roll.left_um) / 1000);
        choice.because = plain_length(layout_->used_mm, lengths_) + " of roll " + std::to_string(roll.id) +
                         ", " + plain_length(worth.rest_mm, lengths_) + " stays on it" +
                         (worth.rest_mm < kLeastRest_mm && worth.rest_mm > 0 ? ", too little to use." : ".");
        add(std::move(choice), {worth});
    }

    void offcut(const Offcut& offcut, const Layout& layout) {
        StockChoice choice;
        choice.offcut = offcut.id;
        choice.lot = offcut.lot;
        choice.layout = layout;
        const CutWorth worth = worth_.of_offcut(pieces_, layout, offcut);
        const std::size_t left = worth.loss.gained.size();
        choice.because = "Offcut " + std::to_string(offcut.id) + " holds the whole set; " +
                         (left == 0 ? "nothing of it is left to use."
                                    : count_of(left, "piece", "pieces") + " of it can still be used.");
        add(std::move(choice), {worth});
    }

    void bought() {
        if (!layout_) return;
        StockChoice choice;
        choice.layout = *layout_;
        choice.to_buy_mm = layout_->bought_mm;
        choice.because = running_length(choice.layout.bought_mm, lengths_) + " to buy" +
                         (choice.layout.least_order ? ", the least order" : "") + ", of which " +
                         plain_length(choice.layout.used_mm, lengths_) + " are cut.";
        add(std::move(choice), {worth_.of_bought(left_)});
    }

    /// The set over several lengths: of the rack and goods to buy, of the rack, of each lot.
    void several(const std::map<std::string, OfLot>& by_lot) {
        if (pieces_.size() < 2) return;
        std::vector<StockLength> lengths;
        for (const auto& [name, lot] : by_lot) {
            for (const Offcut& offcut : lot.offcuts)
                lengths.push_back({stretch_of(offcut), nullptr, &offcut});
            for (std::size_t i = 0; i < lot.rolls.size(); ++i)
                lengths.push_back({stretch_of(lot.rolls[i], lot.free_um[i]), &lot.rolls[i], nullptr});
        }
        if (lengths.empty()) return;
        lengths.push_back({{kToBuy, "", 0, {}}, nullptr, nullptr});
        Spreading spreading(pieces_, goods_, lengths, worth_, solver_, layout_);
        const auto over = [&](auto&& allowed) {
            std::vector<bool> which;
            for (const StockLength& length : lengths) which.push_back(allowed(length));
            if (std::count(which.begin(), which.end(), true) > 1) spread_over(lengths, spreading.best(which));
        };
        over([](const StockLength&) { return true; });
        over([](const StockLength& length) { return !length.buys(); });
        for (const auto& [name, lot] : by_lot)
            over([&](const StockLength& length) { return !length.buys() && length.stretch.lot == name; });
        if (spreading.gave_up()) unsettled(lengths.size() - 1, spreading.tried());
    }

    /// What a person must know of the choices.
    const std::vector<Finding>& findings() const { return findings_; }

    std::vector<StockChoice> best_first(const std::vector<std::string>& lots) {
        for (Ranked& r : found_)
            r.choice.other_lot =
                !lots.empty() && std::any_of(r.lots.begin(), r.lots.end(), [&](const std::string& lot) {
                    return std::count(lots.begin(), lots.end(), lot) == 0;
                });
        std::stable_sort(found_.begin(), found_.end(), [](const Ranked& a, const Ranked& b) {
            if (a.choice.other_lot != b.choice.other_lot) return b.choice.other_lot;
            if (a.loss.better_than(b.loss)) return true;
            if (b.loss.better_than(a.loss)) return false;
            return a.rest_mm < b.rest_mm;  // a roll's end is used up first
        });
        std::vector<StockChoice> choices;
        for (Ranked& r : found_) choices.push_back(std::move(r.choice));
        if (choices.size() > 1 && worth_.priced() && choices[0].other_lot == choices[1].other_lot)
            choices[0].because += " It takes " + money_text(choices[0].cost(), currency_) +
                                  " of goods; the next, " + called(choices[1]) + ", " +
                                  money_text(choices[1].cost(), currency_) + ".";
        return choices;
    }

  private:
    struct Ranked {
        StockChoice choice;
        std::vector<std::string> lots;
        Loss loss;
        double rest_mm = 0;
    };

    void unsettled(std::size_t lengths, int tried) {
        findings_.push_back(
            {"choice-unsettled",
             Severity::look,
             {"job", ""},
             {{"lengths", static_cast<double>(lengths), ""},
              {"tries", static_cast<double>(tried), ""},
              {"limit", static_cast<double>(kMostTried), ""}},
             "What is offered may not be the cheapest: " + count_of(pieces_.size(), "piece", "pieces") +
                 " can be shared among " + count_of(lengths, "length", "lengths") +
                 " of the rack in more ways than " + std::to_string(tried) + " tries tell apart (at most " +
                 std::to_string(kMostTried) + " are made).",
             "Take what is offered as it is; or take lengths that are not worth cutting out of the rack, and "
             "choose again.",
             ""});
    }

    void spread_over(const std::vector<StockLength>& lengths, const std::optional<SpreadSet>& set) {
        if (!set || set->lengths.size() < 2) return;  // one length is tried by itself
        const Layout& layout = set->layout;
        const auto same = [&](const Ranked& r) {
            return r.choice.layout.placements == layout.placements &&
                   names_of(r.choice.layout) == names_of(layout);
        };
        if (std::any_of(found_.begin(), found_.end(), same)) return;
        StockChoice choice;
        choice.layout = layout;
        choice.to_buy_mm = layout.to_buy_mm;
        std::vector<std::string> from;
        for (std::size_t k = 0; k < set->lengths.size(); ++k) {
            const StockLength& length = lengths[set->lengths[k]];
            const double used_mm = one_stretch(pieces_, goods_, layout, k).used_mm;
            from.push_back(length.buys() ? running_length(layout.to_buy_mm, lengths_) + " to buy"
                           : length.roll ? plain_length(used_mm, lengths_) + " of " + stretch_words(layout, k)
                                         : stretch_words(layout, k));
            if (length.buys()) continue;
            const CutFrom own{length.roll ? length.roll->id : 0,
                              length.offcut ? length.offcut->id : 0,
                              length.roll ? static_cast<std::int64_t>(std::ceil(used_mm * 1000)) : 0,
                              {}};
            if (k > 0)
                choice.more.push_back(own);
            else
                choice.roll = own.roll, choice.offcut = own.offcut;
        }
        const std::vector<std::string> lots = lots_of(layout);
        for (const std::string& lot : lots)
            if (!lot.empty() && lot != kToBuy) choice.lot += (choice.lot.empty() ? "" : ", ") + lot;
        choice.because = (choice.to_buy_mm > 0 ? "From " : "Cut from ") + list_words(from) +
                         (lots.size() == 1 ? ", all of one lot." : ". " + where_each(layout));
        if (const Result<Job> kept = keep_layout(worked_.job, layout))
            choice.kept_layout = write_said(*kept->said.find("kept_layout"));
        add(std::move(choice), set->worth);
    }

    /// "Space cockpit is cut from lot L1, piece 4 from goods to buy."
    std::string where_each(const Layout& layout) const {
        std::vector<std::string> said;
        std::vector<std::string> of;  // what is said already
        for (std::size_t i = 0; i < pieces_.size(); ++i) {
            const LayoutPiece& piece = pieces_[i];
            const std::string what =
                piece.seen_with.empty() ? "piece " + piece.id : "space " + piece.seen_with;
            if (std::count(of.begin(), of.end(), what) > 0) continue;
            of.push_back(what);
            const Stretch& stretch = layout.stretches[static_cast<std::size_t>(layout.placements[i].stretch)];
            said.push_back(what + (to_buy(stretch)       ? " from goods to buy"
                                   : stretch.lot.empty() ? " from the rack, lot not known"
                                                         : " from lot " + stretch.lot));
        }
        if (said.size() > kMostNamed) return "What is seen together is of one lot.";
        return "What is seen together is of one lot: " + list_words(said) + ".";
    }

    static std::vector<std::string> names_of(const Layout& layout) {
        std::vector<std::string> names;
        for (const Stretch& stretch : layout.stretches) names.push_back(stretch.name);
        return names;
    }

    /// Of a layout over several lengths, each once; what is to buy counts as one of its own.
    static std::vector<std::string> lots_of(const Layout& layout) {
        std::vector<std::string> lots;
        for (const Stretch& stretch : layout.stretches) {
            const std::string lot = to_buy(stretch) ? kToBuy : stretch.lot;
            if (std::count(lots.begin(), lots.end(), lot) == 0) lots.push_back(lot);
        }
        return lots;
    }

    static std::string called(const StockChoice& choice) {
        if (!choice.layout.stretches.empty() && choice.layout.stretches.size() > 1)
            return list_words(names_of(choice.layout));
        return choice.roll     ? "roll " + std::to_string(choice.roll)
               : choice.offcut ? "offcut " + std::to_string(choice.offcut)
                               : "all of it bought";
    }

    /// `worth`: by the lengths it is cut from.
    void add(StockChoice choice, const std::vector<CutWorth>& worth) {
        Ranked ranked;
        choice.currency = currency_;
        for (const CutWorth& own : worth) {
            choice.taken_mm2 += own.taken_mm2;
            choice.left_mm2 += own.left_mm2;
            choice.taken += own.taken;
            choice.left += own.left;
            ranked.loss = ranked.loss.plus(own.loss);
            ranked.rest_mm += own.rest_mm;
        }
        ranked.lots = choice.layout.stretches.size() > 1 ? lots_of(choice.layout)
                                                         : std::vector<std::string>{choice.lot};
        ranked.choice = std::move(choice);
        found_.push_back(std::move(ranked));
    }

    const Worked& worked_;
    const Goods& goods_;
    std::vector<LayoutPiece> pieces_;
    Worth worth_;
    Currency currency_;
    LengthStyle lengths_;
    LayoutSolver solver_;
    std::optional<Layout> layout_;  ///< of the set on one length of a roll
    LeftOver left_;                 ///< by that
    std::vector<Ranked> found_;
    std::vector<Finding> findings_;
};

/// Of the layouts of this job that stand.
Result<std::vector<std::string>> lots_of(Store& store, Id job) {
    const Result<std::vector<AcceptedLayout>> layouts = list_layouts(store, job);
    if (!layouts) return {std::nullopt, layouts.findings};
    std::vector<std::string> lots;
    for (const AcceptedLayout& layout : *layouts) {
        if (layout.taken_back) continue;
        std::vector<CutFrom> from{{layout.roll, layout.offcut, 0, {}}};
        from.insert(from.end(), layout.more.begin(), layout.more.end());
        for (const CutFrom& one : from) {
            if (one.roll) {
                const Result<Roll> roll = read_roll(store, one.roll);
                if (!roll) return {std::nullopt, roll.findings};
                lots.push_back(roll->lot);
            } else {
                const Result<Offcut> offcut = read_offcut(store, one.offcut);
                if (!offcut) return {std::nullopt, offcut.findings};
                lots.push_back(offcut->lot);
            }
        }
    }
    return Result<std::vector<std::string>>::ok(std::move(lots));
}

/// Those that hold the box of some piece, smallest first.
Result<std::vector<Offcut>> offcuts_for_a_piece(Store& store, const Worked& worked, Id goods) {
    OffcutQuery query;
    query.goods = goods;
    query.limit = 200;
    double least = 1e300;
    std::vector<Box> boxes;
    for (const LayoutPiece& piece : layout_pieces(worked.job, worked.derived)) {
        least = std::min(least, area_mm2(piece.outline));
        boxes.push_back(box_of(piece.outline.outer));
    }
    query.least_area_mm2 = least;
    Result<std::vector<Offcut>> found = find_offcuts(store, query);
    if (!found) return found;
    const bool across = worked.job.goods.turning == Turning::quarter;
    const auto too_small = [&](const Offcut& offcut) {
        const double length = static_cast<double>(offcut.length_um) / 1000,
                     width = static_cast<double>(offcut.width_um) / 1000;
        return std::none_of(boxes.begin(), boxes.end(), [&](const Box& box) {
            return (box.width() <= length && box.height() <= width) ||
                   (across && box.height() <= length && box.width() <= width);
        });
    };
    std::erase_if(*found.value, too_small);
    return found;
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
    std::size_t rolls_tried = 0, offcuts_tried = 0;
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
            if (*free <= 0 || rolls_tried == kMostRollsTried) continue;
            by_lot[roll.lot].rolls.push_back(roll);
            by_lot[roll.lot].free_um.push_back(*free);
            ++rolls_tried;
        }
        const Result<std::vector<Offcut>> some = offcuts_for_a_piece(store, *worked, row.id);
        if (!some) return {std::nullopt, some.findings};
        for (const Offcut& offcut : *some) {
            OfLot& lot = by_lot[offcut.lot];
            if (lot.offcuts.size() == kMostOfLot || offcuts_tried == kMostOffcutsTried) continue;
            lot.offcuts.push_back(offcut);
            ++offcuts_tried;
        }
        const Result<std::vector<Serving>> serving = serving_offcuts(store, *worked, row.id, kMostServing);
        if (!serving) return {std::nullopt, serving.findings};
        for (const Serving& s : *serving) chooser.offcut(s.offcut, s.layout);
    }
    chooser.several(by_lot);
    chooser.bought();
    return {chooser.best_first(*lots), chooser.findings()};
}

}  // namespace spile::shop
