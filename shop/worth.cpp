#include "shop/worth.h"

#include <algorithm>
#include <cmath>

#include "core/geom/measure_of.h"
#include "shop/choice.h"
#include "shop/offcuts.h"

namespace spile::shop {
namespace {

using Rectangles = std::vector<std::int64_t>;

constexpr double kRest = static_cast<double>(kRestWorth) / kWhole;
constexpr double kMm2PerUnpriced = 100;  // without a price a square centimetre is the coin

Rectangles both(const Rectangles& a, const Rectangles& b) {
    Rectangles all(a.size() + b.size());
    std::merge(a.begin(), a.end(), b.begin(), b.end(), all.begin(), std::greater<>());
    return all;
}

/// In whole mm2, so that equals are equal.
std::int64_t rectangle_of(const Outline& outline) {
    return std::llround(largest_rectangle_mm2(outline));
}

/// The price of these goods at a length; a length of 0 um when there is none.
LengthPrice price_at(const std::vector<LengthPrice>& steps, double length_mm) {
    LengthPrice price;
    for (const LengthPrice& step : steps)
        if (length_mm * 1000 >= static_cast<double>(step.from_um)) price = step;
    return price;
}

}  // namespace

bool Loss::better_than(const Loss& other) const {
    if (money != other.money) return money < other.money;
    // What neither touches is in both racks and tells nothing.
    if (gained.empty() && gone.empty() && other.gained.empty() && other.gone.empty()) return false;
    return both(gained, other.gone) > both(other.gained, gone);
}

Loss Loss::plus(const Loss& other) const {
    return {money + other.money, both(gained, other.gained), both(gone, other.gone)};
}

CutWorth Worth::of_roll(const std::vector<LayoutPiece>& pieces, const Layout& layout,
                        double on_roll_mm) const {
    const double rest_mm = on_roll_mm - layout.used_mm;
    const bool waste = rest_mm < kLeastRest_mm;
    CutWorth own =
        worked(layout.used_mm + (waste ? rest_mm : 0), kWhole, offcuts_of(pieces, goods_, layout), 0);
    own.rest_mm = rest_mm;
    return own;
}

CutWorth Worth::of_bought(const std::vector<LayoutPiece>& pieces, const Layout& layout) const {
    const double rest_mm = layout.bought_mm - layout.used_mm;
    const double end_mm2 = rest_mm < kLeastRest_mm ? 0 : rest_mm * goods_.usable_width_mm;
    CutWorth own = worked(layout.bought_mm, kWhole, offcuts_of(pieces, goods_, layout), end_mm2);
    own.rest_mm = rest_mm;
    return own;
}

CutWorth Worth::of_offcut(const std::vector<LayoutPiece>& pieces, const Layout& layout,
                          const Offcut& offcut) const {
    CutWorth own = worked(offcut.area_mm2 / goods_.usable_width_mm, kRestWorth,
                          left_of(offcut.outline, pieces, layout.placements, goods_.gap_mm), 0);
    own.loss.gone = {rectangle_of(offcut.outline)};
    return own;
}

std::int64_t Worth::least_on_roll(double used_mm, double area_mm2) const {
    // At best all that the pieces do not cover comes back at kRestWorth, and a longer length may be cheaper by the metre.
    const double mm2 = std::fmax(used_mm * goods_.usable_width_mm, area_mm2);
    double each = 1 / kMm2PerUnpriced;
    if (priced()) {
        each = 1e300;
        const LengthPrice at = price_at(price_, used_mm);
        for (const LengthPrice& step : price_)
            if (step.per_um > 0 && step.from_um >= at.from_um)
                each = std::fmin(each, static_cast<double>(step.cents) / static_cast<double>(step.per_um) *
                                           1000 / goods_.usable_width_mm);
    }
    return money(mm2 - kRest * (mm2 - area_mm2), each);
}

std::int64_t Worth::least_on_offcut(double area_mm2, const Offcut& offcut) const {
    const LengthPrice at = price_at(price_, offcut.area_mm2 / goods_.usable_width_mm);
    const double each = !priced()        ? 1 / kMm2PerUnpriced
                        : at.per_um <= 0 ? 0
                                         : static_cast<double>(at.cents) / static_cast<double>(at.per_um) *
                                               1000 / goods_.usable_width_mm;
    return money(kRest * area_mm2, each);
}

bool Worth::priced() const {
    return std::any_of(price_.begin(), price_.end(), [](const LengthPrice& p) { return p.per_um > 0; });
}

/// Rounded down, and less what rounding to whole coins can take from what is worked out exactly.
std::int64_t Worth::money(double mm2, double each) const {
    return static_cast<std::int64_t>(std::floor(mm2 * each)) - 2;
}

CutWorth Worth::worked(double length_mm, Millionths share, const std::vector<Outline>& left,
                       double end_mm2) const {
    CutWorth own;
    own.taken_mm2 = length_mm * goods_.usable_width_mm;
    own.left_mm2 = end_mm2;
    if (end_mm2 > 0) own.loss.gained.push_back(std::llround(end_mm2));
    for (const Outline& outline : left) {
        own.left_mm2 += area_mm2(outline);
        own.loss.gained.push_back(rectangle_of(outline));
    }
    std::sort(own.loss.gained.begin(), own.loss.gained.end(), std::greater<>());
    own.taken = cents(own.taken_mm2, share, length_mm);
    own.left = cents(own.left_mm2, kRestWorth, length_mm);
    const double taken = share == kWhole ? own.taken_mm2 : kRest * own.taken_mm2;
    own.loss.money =
        priced() ? own.taken - own.left : std::llround((taken - kRest * own.left_mm2) / kMm2PerUnpriced);
    return own;
}

/// Of an area, at the price that holds for a length.
Cents Worth::cents(double mm2, Millionths share, double length_mm) const {
    const LengthPrice price = price_at(price_, length_mm);
    if (price.per_um <= 0) return 0;
    const Cents whole =
        rounded_share(price.cents, std::llround(mm2 / goods_.usable_width_mm * 1000), price.per_um);
    return rounded_share(whole, share, kWhole);
}

}  // namespace spile::shop
