#include "core/layout/layout.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "core/geom/measure_of.h"

namespace spile {

Rigid quarter_turns(int turns) {
    constexpr double cosines[] = {1, 0, -1, 0};
    return {cosines[turns & 3], cosines[(turns + 3) & 3], {}};
}

Rigid roll_from_piece(const Placement& placement) {
    Rigid roll_from_piece = quarter_turns(placement.turns);
    roll_from_piece.move = placement.move_mm();
    return roll_from_piece;
}

bool turn_allowed(Turning turning, int turns, bool in_pattern) {
    if (turns == 0) return true;
    if (turns < 0 || turns > 3 || in_pattern || turning == Turning::one_way) return false;
    return turning == Turning::quarter || turns == 2;
}

double used_length_mm(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                      const std::vector<Placement>& placements) {
    std::map<std::string, const Region*> outlines;
    for (const LayoutPiece& piece : pieces)
        if (!piece.outline.outer.empty()) outlines.emplace(piece.id, &piece.outline);
    double used = 0;
    for (const Placement& p : placements) {
        const auto found = outlines.find(p.piece);
        if (found == outlines.end()) continue;
        const double far_side = box_of(quarter_turns(p.turns)(found->second->outer)).max.x;
        used = std::fmax(used, far_side + p.move_mm().x + goods.edge_gap());
    }
    return used;
}

std::size_t stretch_count(const Layout& layout) {
    return std::max<std::size_t>(1, layout.stretches.size());
}

Goods goods_on(const Goods& goods, const Layout& layout, std::size_t k) {
    Goods own = goods;
    if (k >= layout.stretches.size()) return own;
    const Stretch& stretch = layout.stretches[k];
    own.lot = stretch.lot;
    own.length_mm = stretch.length_mm;
    if (!to_buy(stretch)) own.least_order_mm = 0;
    own.outline = stretch.outline;
    if (stretch.outline.empty()) return own;
    const Box box = box_of(stretch.outline);
    own.length_mm = box.max.x;
    own.width_mm = own.usable_width_mm = box.max.y;
    own.flaws.clear();
    return own;
}

std::vector<Placement> placements_on(const Layout& layout, std::size_t k) {
    if (layout.stretches.empty()) return layout.placements;
    std::vector<Placement> own;
    for (const Placement& p : layout.placements)
        if (p.stretch >= 0 && static_cast<std::size_t>(p.stretch) == k) own.push_back(p);
    return own;
}

namespace {
double whole_steps_mm(const Goods& goods, double mm) {
    if (goods.step_mm <= 0) return mm;
    return std::ceil((mm - kPlacementRounding_mm) / goods.step_mm) * goods.step_mm;
}
}  // namespace

double bought_length_mm(const Goods& goods, double used_mm) {
    return used_mm > 0 ? whole_steps_mm(goods, std::fmax(used_mm, goods.least_order_mm)) : 0;
}

Goods by_the_millimetre(Goods goods) {
    goods.step_mm = goods.least_order_mm = 0;
    return goods;
}

Vec2 pattern_out_mm(const Repeat& repeat, Vec2 off_mm) {
    // What is left of `v` after taking whole `step`s, between half a step to either side.
    const auto left = [](double v, double step) { return v - std::round(v / step) * step; };
    const double rows = repeat.across_mm > 0 ? std::round(off_mm.y / repeat.across_mm) : 0;
    Vec2 out;
    if (repeat.across_mm > 0) out.y = off_mm.y - rows * repeat.across_mm;
    if (repeat.along_mm > 0) out.x = left(off_mm.x - rows * repeat.drop_mm, repeat.along_mm);
    return out;
}

int repeats_across(const Goods& goods) {
    if (goods.repeat.across_mm <= 0) return 0;
    return static_cast<int>(
        std::floor((goods.usable_width_mm + kPlacementRounding_mm) / goods.repeat.across_mm));
}

Layout one_stretch(const std::vector<LayoutPiece>& pieces, const Goods& goods, const Layout& layout,
                   std::size_t k) {
    if (layout.stretches.empty()) return layout;
    Layout part;
    part.placements = placements_on(layout, k);
    for (Placement& p : part.placements) p.stretch = 0;
    std::vector<LayoutPiece> on_it;
    for (const LayoutPiece& piece : pieces)
        for (const Placement& p : part.placements)
            if (p.piece == piece.id) on_it.push_back(piece);
    measure_layout(on_it, goods_on(goods, layout, k), part);
    return part;
}

bool to_buy(const Stretch& stretch) {
    return stretch.name == kToBuy && stretch.outline.empty();
}

std::string stretch_words(const Layout& layout, std::size_t k) {
    if (k >= layout.stretches.size()) return "";
    const Stretch& stretch = layout.stretches[k];
    return stretch.name + (stretch.lot.empty() ? "" : ", lot " + stretch.lot);
}

std::string bound_words(const Layout& layout, const LengthStyle& lengths) {
    if (!(layout.bound_mm > 0)) return "";
    LengthStyle style = lengths;
    style.with_unit = true;
    return (layout.used_mm - layout.bound_mm <= kProvedWithin_mm
                ? "No layout is shorter: proved"
                : "Cannot be shorter than " + print_length(layout.bound_mm, style).text) +
           (layout.bound_reason.empty() ? "" : " (" + layout.bound_reason + ")");
}

std::vector<LayoutPiece> filler_pieces(const Goods& goods) {
    std::vector<LayoutPiece> all;
    for (const Filler& filler : goods.fillers)
        for (int k = 1; k <= filler.most && all.size() < kMostFillers; ++k) {
            LayoutPiece piece{"filler/" + filler.name + "/" + std::to_string(k), {}};
            const double r = filler.diameter_mm / 2;
            piece.outline.outer =
                r > 0 ? circle({r, r}, r) : rectangle({0, 0}, {filler.along_mm, filler.across_mm});
            piece.any_way = filler.any_way;
            all.push_back(std::move(piece));
        }
    std::stable_sort(all.begin(), all.end(), [](const LayoutPiece& a, const LayoutPiece& b) {
        return area_mm2(a.outline) > area_mm2(b.outline);
    });
    return all;
}

std::string filler_name(const Placement& filler) {
    const std::size_t first = filler.piece.find('/'), last = filler.piece.rfind('/');
    return first == last ? filler.piece : filler.piece.substr(first + 1, last - first - 1);
}

std::string filler_words(const Goods& goods, const Layout& layout) {
    std::string words;
    for (const Filler& filler : goods.fillers) {
        const auto count = std::count_if(layout.fillers.begin(), layout.fillers.end(),
                                         [&](const Placement& p) { return filler_name(p) == filler.name; });
        if (count > 0) words += (words.empty() ? "" : ", ") + std::to_string(count) + " of " + filler.name;
    }
    return words;
}

void measure_layout(const std::vector<LayoutPiece>& pieces, const Goods& goods, Layout& layout) {
    double offcuts = 0, racked = 0, buying = 0;
    for (std::size_t k = 0; k < stretch_count(layout); ++k) {
        const Goods own = goods_on(goods, layout, k);
        const double used = used_length_mm(pieces, own, placements_on(layout, k));
        const bool named = k < layout.stretches.size();
        if (named && !own.outline.empty())
            offcuts += used * own.usable_width_mm / goods.usable_width_mm;
        else
            (named && !to_buy(layout.stretches[k]) ? racked : buying) += used;
    }
    const double ordered = buying > 0 ? std::fmax(buying, goods.least_order_mm) : 0;
    layout.used_mm = offcuts + racked + buying;
    layout.bought_mm = offcuts + (racked + ordered > 0 ? whole_steps_mm(goods, racked + ordered) : 0);
    layout.to_buy_mm = layout.stretches.empty() ? 0 : bought_length_mm(goods, buying);
    layout.least_order = bought_length_mm(goods, buying) > whole_steps_mm(goods, buying);
    double area = 0;
    for (const LayoutPiece& piece : pieces) area += area_mm2(piece.outline);
    const double taken = goods.usable_width_mm * layout.used_mm;
    layout.goods_share = taken > 0 ? area / taken : 0;
}

}  // namespace spile
