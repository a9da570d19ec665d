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

LeftOver left_over(const Layout& layout, const std::vector<Outline>& parts) {
    LeftOver left{layout.used_mm, layout.bought_mm, 0};
    for (const Outline& part : parts) {
        left.area_mm2 += area_mm2(part);
        left.rectangles.push_back(rectangle_of(part));
    }
    std::sort(left.rectangles.begin(), left.rectangles.end(), std::greater<>());
    return left;
}

}  // namespace

bool Loss::better_than(const Loss& other) const {
    if (money != other.money) return money < other.money;
    if (lengths != other.lengths) return lengths < other.lengths;
    // What neither touches is in both racks and tells nothing.
    if (gained.empty() && gone.empty() && other.gained.empty() && other.gone.empty()) return false;
    return both(gained, other.gone) > both(other.gained, gone);
}

Loss Loss::plus(const Loss& other) const {
    return {money + other.money, both(gained, other.gained), both(gone, other.gone), lengths + other.lengths};
}

LeftOver Worth::left_by(const std::vector<LayoutPiece>& pieces, const Layout& layout) const {
    return left_over(layout, offcuts_of(pieces, goods_, layout));
}

CutWorth Worth::of_roll(const LeftOver& left, double on_roll_mm) const {
    const double rest_mm = on_roll_mm - left.used_mm;
    const bool waste = rest_mm < kLeastRest_mm;
    CutWorth own = worked(left.used_mm + (waste ? rest_mm : 0), kWhole, left, 0);
    own.rest_mm = rest_mm;
    return own;
}

CutWorth Worth::of_bought(const LeftOver& left) const {
    const double rest_mm = left.bought_mm - left.used_mm;
    const double end_mm2 = rest_mm < kLeastRest_mm ? 0 : rest_mm * goods_.usable_width_mm;
    CutWorth own = worked(left.bought_mm, kWhole, left, end_mm2);
    own.rest_mm = rest_mm;
    return own;
}

CutWorth Worth::of_offcut(const std::vector<LayoutPiece>& pieces, const Layout& layout,
                          const Offcut& offcut) const {
    CutWorth own =
        worked(offcut.area_mm2 / goods_.usable_width_mm, kRestWorth,
               left_over(layout, left_of(offcut.outline, pieces, layout.placements, goods_.gap_mm)), 0);
    own.loss.gone = {rectangle_of(offcut.outline)};
    return own;
}

std::int64_t Worth::least_bought(double used_mm, double area_mm2) const {
    // At best all that the pieces do not cover comes back at kRestWorth.
    const double mm2 = std::fmax(used_mm * goods_.usable_width_mm, area_mm2);
    return money(mm2 - kRest * (mm2 - area_mm2), least_each(used_mm));
}

std::int64_t Worth::least_on_roll(double used_mm, double area_mm2, double free_mm, double on_roll_mm) const {
    if (on_roll_mm - used_mm >= kLeastRest_mm) return least_bought(used_mm, area_mm2);
    // Its end goes with it, and of that nothing comes back.
    const double there_mm2 = std::fmax(free_mm * goods_.usable_width_mm, area_mm2);
    return money(on_roll_mm * goods_.usable_width_mm - kRest * (there_mm2 - area_mm2), least_each(used_mm));
}

/// Of a mm2 at this length or a longer one, which may be cheaper by the metre.
double Worth::least_each(double length_mm) const {
    if (!priced()) return 1 / kMm2PerUnpriced;
    double each = 1e300;
    const LengthPrice at = price_at(price_, length_mm);
    for (const LengthPrice& step : price_)
        if (step.per_um > 0 && step.from_um >= at.from_um)
            each = std::fmin(each, static_cast<double>(step.cents) / static_cast<double>(step.per_um) * 1000 /
                                       goods_.usable_width_mm);
    return each;
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

CutWorth Worth::worked(double length_mm, Millionths share, const LeftOver& left, double end_mm2) const {
    CutWorth own;
    own.taken_mm2 = length_mm * goods_.usable_width_mm;
    own.left_mm2 = end_mm2 + left.area_mm2;
    own.loss.gained = left.rectangles;
    if (end_mm2 > 0) own.loss.gained.push_back(std::llround(end_mm2));
    std::sort(own.loss.gained.begin(), own.loss.gained.end(), std::greater<>());
    own.loss.lengths = 1;
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
