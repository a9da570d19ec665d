#include "core/takeoff/quote.h"

#include <algorithm>
#include <cmath>

#include "core/base/running_length.h"
#include "core/base/stop.h"
#include "core/base/text.h"

namespace spile {
namespace {

std::int64_t whole_um(double mm) {
    return std::llround(mm * 1000);
}

Finding price_stop(const char* code, std::string says, std::string to_do) {
    return stop_finding(code, std::move(says), std::move(to_do), {"price", ""});
}

class Quoter {
  public:
    Quoter(const Takeoff& takeoff, const PriceBook& book, const Trips& trips, const LengthStyle& lengths)
        : takeoff_(takeoff), book_(book), trips_(trips), lengths_(lengths) {
        lengths_.with_unit = true;
    }

    void materials() {
        for (const QuantityLine& line : takeoff_.materials) {
            if (line.code == "snap")
                counted(CostLine::Group::material, line.what, line.to_buy, book_.snap, line.because);
            else if (line.code == "stud" || line.code == "screw")
                deck_line(line);
            else if (line.code == "adhesive")
                adhesive(line);
            else
                length_line(line);
        }
        for (const Extra& extra : book_.extras) this->extra(extra);
    }

    void labour() {
        if (trips_.visits > 0) work("visit", "visits", trips_.visits, "Aboard, to measure and to fit.");
        if (trips_.spaces > 0)
            work("space", "spaces to measure", trips_.spaces, "Measured or patterned aboard.");
        for (const QuantityLine& line : takeoff_.work) {
            work(line.code, line.what, line.amount, line.because);
            if (line.code == "piece")
                work("fit", "pieces to fit", line.amount, "Each tried and fitted aboard.");
        }
        if (trips_.visits > 0 && trips_.minutes > 0) {
            const double minutes = 2.0 * trips_.visits * trips_.minutes;
            labour_line("travelling", minutes,
                        count_of(static_cast<std::size_t>(trips_.visits), "visit", "visits") + ", " +
                            shortest(trips_.minutes) + " min each way.");
        }
    }

    void travel() {
        if (trips_.visits <= 0 || trips_.km <= 0) return;
        const double km = 2.0 * trips_.visits * trips_.km;
        CostLine line{CostLine::Group::travel, "driving", km, "km", std::nullopt, ""};
        line.because = count_of(static_cast<std::size_t>(trips_.visits), "visit", "visits") + ", " +
                       shortest(trips_.km) + " km each way";
        if (usable("a kilometre", book_.travel_per_km)) {
            line.cost = share_of("Driving", *book_.travel_per_km, whole_um(km), 1000);
            line.because += ", at " + money(*book_.travel_per_km) + " a km";
        }
        line.because += ".";
        out_.lines.push_back(line);
    }

    void sums(bool rush) {
        out_.machine_minutes = takeoff_.stitches / std::max(1.0, book_.machine_stitches_per_minute);
        out_.minutes_sd = std::sqrt(variance_);
        if (book_.uplift.kind == UpliftKind::margin && book_.uplift.share >= kWhole) {
            findings_.push_back(price_stop(
                "margin-refused",
                "A margin of " + percent_text(book_.uplift.share) + " leaves nothing for the cost.",
                "Give a margin below 100 %, or a mark-up."));
        }
        out_.priced = findings_.empty();
        if (!out_.priced) return;
        Cents all = 0;
        for (const CostLine& line : out_.lines) all = std::min(all + *line.cost, kLargestPrice + 1);
        if (all > kLargestPrice) {
            refuse_too_large("The whole cost");
            out_.priced = false;
            return;
        }
        for (const CostLine& line : out_.lines) {
            Cents& sum = line.group == CostLine::Group::material ? out_.material
                         : line.group == CostLine::Group::labour ? out_.labour
                                                                 : out_.travel;
            sum += *line.cost;
        }
        out_.cost = out_.material + out_.labour + out_.travel;
        out_.price = price_from_cost(out_.cost, book_.uplift);
        if (rush) out_.rush = rounded_share(out_.price, book_.rush, kWhole);
        const Cents before = out_.price + out_.rush;
        out_.rounding = rounded_up(before, book_.round_to) - before;
        out_.net = before + out_.rounding;
        out_.tax = rounded_share(out_.net, book_.tax, kWhole);
        out_.total = out_.net + out_.tax;
        out_.deposit = rounded_share(out_.total, book_.deposit, kWhole);
        out_.mark_up = mark_up_of(out_.cost, out_.net);
        out_.margin = margin_of(out_.cost, out_.net);
        out_.by_old_rule = rounded_share(out_.material, 5, 1);
        say_steps(rush);
    }

    Result<Quote> take() { return {std::move(out_), std::move(findings_)}; }

  private:
    void say_steps(bool rush) {
        auto& steps = out_.steps;
        steps.push_back("Cost: material " + money(out_.material) + ", labour " + money(out_.labour) +
                        ", travel " + money(out_.travel) + ": " + money(out_.cost) + ".");
        const bool margin = book_.uplift.kind == UpliftKind::margin;
        steps.push_back("Price: the cost " +
                        (margin ? "over " + percent_text(kWhole - book_.uplift.share) + " (a margin of "
                                : "and " + percent_text(book_.uplift.share) + " on it (a mark-up of ") +
                        percent_text(book_.uplift.share) + "): " + money(out_.price) + ".");
        if (rush)
            steps.push_back("Rush: " + percent_text(book_.rush) + " of the price: " + money(out_.rush) + ".");
        if (out_.rounding)
            steps.push_back("Up to a whole " + money(book_.round_to) + ": " + money(out_.rounding) +
                            " more.");
        steps.push_back("Asked: " + money(out_.net) + ", a mark-up of " + percent_text(out_.mark_up) +
                        " on the cost, a margin of " + percent_text(out_.margin) + " of the price.");
        if (book_.tax)
            steps.push_back("Tax: " + percent_text(book_.tax) + ": " + money(out_.tax) + "; total " +
                            money(out_.total) + ".");
        if (book_.deposit)
            steps.push_back("Deposit: " + percent_text(book_.deposit) +
                            " of the total: " + money(out_.deposit) + ".");
        steps.push_back("For comparison, the old rule \"material / 0.20\" would ask " +
                        money(out_.by_old_rule) + " before tax: it knows neither the hours nor the way.");
    }

    void refuse_too_large(const std::string& what) {
        findings_.push_back(price_stop(
            "price-too-large", what + " is more than " + money(kLargestPrice) + ", the most that is counted.",
            "Look for a digit too many in the prices and for a length a price is for that is too short."));
    }

    /// price * amount / per, rounded once; a slip of the keys is reported and costs nothing.
    Cents share_of(const std::string& what, Cents price, std::int64_t amount, std::int64_t per) {
        const double rough =
            static_cast<double>(price) * static_cast<double>(amount) / static_cast<double>(per);
        if (rough <= static_cast<double>(kLargestPrice)) return rounded_share(price, amount, per);
        refuse_too_large(what);
        return 0;
    }

    /// Whether there is such a price; reports it when not.
    bool usable(const std::string& what, const std::optional<Cents>& price) {
        if (price && *price >= 0) return true;
        if (!std::count(missing_.begin(), missing_.end(), what)) {
            missing_.push_back(what);
            findings_.push_back(
                price ? price_stop("price-refused",
                                   "The price of " + what + " is below zero: " + money(*price) + ".",
                                   "Write what it costs.")
                      : price_stop("price-missing", "There is no price for " + what + ".",
                                   "Add it to the prices; 0 means that it costs nothing."));
        }
        return false;
    }

    void length_line(const QuantityLine& quantity) {
        CostLine line{CostLine::Group::material, quantity.what, quantity.to_buy, quantity.unit, std::nullopt,
                      quantity.because};
        const std::int64_t um = whole_um(quantity.to_buy);
        LengthPrice price;
        if (quantity.code == "binding") price = book_.binding;
        if (quantity.code == "thread") price = book_.thread;
        if (quantity.code == "tape") price = book_.tape;
        const bool other = quantity.code == "other-goods", goods = quantity.code == "goods" || other;
        const auto of_others = book_.other_goods.find(quantity.what);
        const std::vector<LengthPrice> none;
        for (const LengthPrice& step : !goods                                 ? none
                                       : !other                               ? book_.goods
                                       : of_others == book_.other_goods.end() ? none
                                                                              : of_others->second)
            if (um >= step.from_um) price = step;
        if (usable(goods ? "the goods, " + quantity.what : quantity.what,
                   price.per_um > 0 ? std::optional<Cents>(price.cents) : std::nullopt)) {
            line.cost = share_of(quantity.what, price.cents, um, price.per_um);
            line.because += " At " + money(price.cents) + " for " +
                            running_length(static_cast<double>(price.per_um) / 1000, lengths_);
            if (price.from_um > 0)
                line.because += ", the price from " +
                                running_length(static_cast<double>(price.from_um) / 1000, lengths_) + " on";
            line.because += ".";
            if (quantity.code == "goods") line.because += cheaper_by_more(um, *line.cost);
        }
        out_.lines.push_back(line);
    }

    /// Old price lists have no price for them: there they are an extra, or part of the snap.
    void deck_line(const QuantityLine& quantity) {
        const std::optional<Cents>& each = quantity.code == "stud" ? book_.stud : book_.screw;
        if (each)
            return counted(CostLine::Group::material, quantity.what, quantity.to_buy, each, quantity.because);
        out_.lines.push_back(
            {CostLine::Group::material, quantity.what, quantity.to_buy, "", 0,
             quantity.because + " No price of their own in the price list: part of the snaps, or an extra."});
    }

    void adhesive(const QuantityLine& quantity) {
        CostLine line{CostLine::Group::material, quantity.what, quantity.to_buy, "mm2", std::nullopt,
                      quantity.because};
        if (usable(quantity.what, book_.adhesive_per_m2)) {
            line.cost =
                share_of(quantity.what, *book_.adhesive_per_m2, std::llround(quantity.to_buy), 1'000'000);
            line.because += " At " + money(*book_.adhesive_per_m2) + " a square metre.";
        }
        out_.lines.push_back(line);
    }

    /// A price step that would make more goods cost less.
    std::string cheaper_by_more(std::int64_t um, Cents cost) {
        for (const LengthPrice& step : book_.goods) {
            if (step.from_um <= um || step.per_um <= 0 || step.cents < 0) continue;
            const Cents more = share_of("the goods", step.cents, step.from_um, step.per_um);
            if (more < cost)
                return " " + running_length(static_cast<double>(step.from_um) / 1000, lengths_) +
                       " would cost less: " + money(more) + ".";
        }
        return "";
    }

    void counted(CostLine::Group group, const std::string& what, double count,
                 const std::optional<Cents>& each, const std::string& because) {
        CostLine line{group, what, count, "", std::nullopt, because};
        if (usable(what, each)) {
            line.cost = share_of(what, *each, std::llround(count * 1000), 1000);
            line.because += " At " + money(*each) + " each.";
        }
        out_.lines.push_back(line);
    }

    void extra(const Extra& extra) {
        double count = extra.count;
        std::string because = "Asked for.";
        if (extra.per == Extra::Per::square_metre) {
            CostLine line{
                CostLine::Group::material,         extra.name, takeoff_.area_mm2 * count, "mm2", std::nullopt,
                "By the area of the pieces as cut"};
            if (usable(extra.name, extra.each)) {
                line.cost =
                    share_of(extra.name, extra.each, std::llround(takeoff_.area_mm2 * count / 1000), 1000);
                line.because += ", at " + money(extra.each) + " a square metre";
            }
            line.because += ".";
            out_.lines.push_back(line);
            return;
        }
        if (extra.per != Extra::Per::job) {
            const char* code = extra.per == Extra::Per::piece ? "piece" : "snap-set";
            double n = 0;
            for (const QuantityLine& line : takeoff_.work)
                if (line.code == code) n += line.amount;
            count *= n;
            because =
                shortest(extra.count) + " for each " + (extra.per == Extra::Per::piece ? "piece." : "snap.");
        }
        if (count > 0) counted(CostLine::Group::material, extra.name, count, extra.each, because);
    }

    void work(const std::string& code, const std::string& what, double amount, const std::string& because) {
        const auto known = book_.times.find(code);
        if (known == book_.times.end()) {
            usable("the minutes of \"" + what + "\"", std::nullopt);
            return;
        }
        const WorkTime& time = known->second;
        const double count = per_metre(code) ? amount / 1000 : amount;
        variance_ += count * time.sd_minutes * count * time.sd_minutes;
        if (time.jobs == 0) ++out_.guesses;
        const bool by_length = per_metre(code), by_foot = by_length && lengths_.unit == Unit::inch;
        const double share = by_foot ? 0.3048 : 1;  // a foot in metres
        labour_line(
            what, minutes_for(code, amount, time),
            (by_length ? plain_length(amount, lengths_) : shortest(amount)) + " at " +
                fixed(time.minutes * share, 2) + " min" +
                (by_foot     ? " a foot"
                 : by_length ? " a metre"
                             : " each") +
                (time.jobs == 0
                     ? " (a guess until the tickets say better). "
                     : " (from " + count_of(static_cast<std::size_t>(time.jobs), "ticket", "tickets") +
                           ", give or take " + fixed(time.sd_minutes * share, 2) + "). ") +
                because);
    }

    /// `minutes` to the hundredth, so that a person with a pencil gets the same.
    void labour_line(const std::string& what, double minutes, const std::string& because) {
        const auto hundredths = static_cast<std::int64_t>(std::llround(minutes * 100));
        CostLine line{CostLine::Group::labour,
                      what,
                      static_cast<double>(hundredths) / 100,
                      "min",
                      std::nullopt,
                      because};
        if (usable("an hour of work", book_.labour_per_hour))
            line.cost = share_of(what, *book_.labour_per_hour, hundredths, 6000);
        out_.minutes += line.amount;
        out_.lines.push_back(line);
    }

    std::string money(Cents amount) const { return money_text(amount, book_.currency); }

    const Takeoff& takeoff_;
    const PriceBook& book_;
    const Trips& trips_;
    LengthStyle lengths_;
    Quote out_;
    std::vector<Finding> findings_;
    std::vector<std::string> missing_;
    double variance_ = 0;
};

}  // namespace

Result<Quote> make_quote(const Takeoff& takeoff, const PriceBook& book, const Trips& trips, bool rush,
                         const LengthStyle& lengths) {
    Quoter quoter(takeoff, book, trips, lengths);
    quoter.materials();
    quoter.labour();
    quoter.travel();
    quoter.sums(rush);
    return quoter.take();
}

}  // namespace spile
