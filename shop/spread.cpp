#include "shop/spread.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "core/geom/measure_of.h"
#include "core/layout/check/check.h"
#include "core/layout/solve/bound.h"
#include "shop/offcuts.h"
#include "shop/worked.h"

namespace spile::shop {
namespace {

using Pieces = std::vector<LayoutPiece>;

/// Length of the piece in the turn in which it takes least of the roll.
double least_length_mm(const LayoutPiece& piece, const Goods& goods) {
    const Box box = box_of(piece.outline.outer);
    const Turning turning = piece.any_way ? Turning::quarter : goods.turning;
    const bool across = turn_allowed(turning, 1, in_pattern(piece, goods));
    return across ? std::fmin(box.width(), box.height()) : box.width();
}

/// By mask: the first that has as many bundles of every kind.
std::vector<Mask> likes_of(const std::vector<Bundle>& bundles) {
    std::vector<Mask> like;
    std::map<std::vector<int>, Mask> first;
    for (Mask mask = 0; mask < Mask{1} << bundles.size(); ++mask) {
        std::vector<int> counts(bundles.size(), 0);
        for (std::size_t i = 0; i < bundles.size(); ++i)
            if (mask >> i & 1) ++counts[bundles[i].kind];
        like.push_back(first.emplace(std::move(counts), mask).first->second);
    }
    return like;
}

/// By length; what is to buy is a lot of its own.
std::vector<std::size_t> lots_of(const std::vector<StockLength>& lengths) {
    std::vector<std::size_t> lots;
    for (std::size_t k = 0; k < lengths.size(); ++k) {
        const bool same = k > 0 && lengths[k].buys() == lengths[k - 1].buys() &&
                          lengths[k].stretch.lot == lengths[k - 1].stretch.lot;
        lots.push_back(k == 0 ? 0 : lots.back() + (same ? 0 : 1));
    }
    return lots;
}

bool alike(const StockLength& a, const StockLength& b) {
    if (a.buys() || b.buys()) return a.buys() == b.buys();
    if (a.offcut && b.offcut)
        return a.offcut->area_mm2 == b.offcut->area_mm2 &&
               std::equal(a.stretch.outline.vertices.begin(), a.stretch.outline.vertices.end(),
                          b.stretch.outline.vertices.begin(), b.stretch.outline.vertices.end(),
                          [](const Vertex& v, const Vertex& w) { return v.p == w.p && v.bulge == w.bulge; });
    return a.roll && b.roll && a.roll->left_um == b.roll->left_um &&
           a.stretch.length_mm == b.stretch.length_mm;
}

double on_roll_mm(const Roll& roll) {
    return static_cast<double>(roll.left_um) / 1000;
}

}  // namespace

Spreading::Spreading(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                     const std::vector<StockLength>& lengths, const Worth& worth, LayoutSolver solver,
                     std::optional<Layout> whole)
    : pieces_(pieces),
      goods_(goods),
      lengths_(lengths),
      worth_(worth),
      solver_(std::move(solver)),
      bundles_(bundles_of(pieces, goods)),
      like_(likes_of(bundles_)),
      hopeful_(bundles_, lots_of(lengths)),
      sure_(bundles_, lots_of(lengths)) {
    goods_.fillers.clear();
    goods_.length_mm = 0;
    find_twins();
    const Mask count = like_.size();
    area_mm2_.assign(count, 0);
    least_mm_.assign(count, 0);
    looked_closer_.assign(count, false);
    const double room = goods_.edge_gap(), across = goods_.usable_width_mm - 2 * room + goods_.gap_mm;
    const Rows rows(pieces_of(count - 1), goods_);
    for (Mask mask = 1; mask < count; ++mask) {
        if (!first_of_its_kind(mask)) continue;
        std::vector<std::size_t> which;
        for (std::size_t i = 0, place = 0; i < bundles_.size(); ++i)
            for (std::size_t p = 0; p < bundles_[i].pieces.size(); ++p, ++place)
                if (mask >> i & 1) which.push_back(place);
        const Pieces on_it = pieces_of(mask);
        for (const LayoutPiece& piece : on_it) area_mm2_[mask] += area_mm2(piece.outline);
        double least = across > 0 ? area_mm2_[mask] / across - goods_.gap_mm : 0;
        for (const LayoutPiece& piece : on_it) least = std::fmax(least, least_length_mm(piece, goods_));
        least_mm_[mask] = std::fmax(least + 2 * room, rows.least_mm(which));
    }
    cells_.assign(lengths_.size(), std::vector<Cell>(count));
    for (std::size_t k = 0; k < lengths_.size(); ++k)
        for (Mask mask = 1; mask < count; ++mask)
            if (twin_[k] == k && first_of_its_kind(mask)) expect(k, mask);
    // The whole set on one length is known where its layout is: what is found later is no worse.
    if (!whole) return;
    whole->fillers.clear();
    on_whole_width_[like_[count - 1]] = wide(count - 1, std::move(*whole));
    for (std::size_t k = 0; k < lengths_.size(); ++k)
        if (twin_[k] == k && rolled(k)) hold_on_roll(k, like_[count - 1], *on_whole_width_[like_[count - 1]]);
}

void Spreading::find_twins() {
    for (std::size_t k = 0; k < lengths_.size(); ++k) {
        std::size_t first = 0;
        while (first < k && !alike(lengths_[first], lengths_[k])) ++first;
        twin_.push_back(first);
    }
}

/// By its box alone.
bool Spreading::too_large_for(const Offcut& offcut, Mask mask) const {
    const double room = 2 * goods_.edge_gap() - kPlacementRounding_mm;
    const Box there = box_of(offcut.outline);
    const Pieces on_it = pieces_of(mask);
    return std::any_of(on_it.begin(), on_it.end(), [&](const LayoutPiece& piece) {
        const Box box = box_of(piece.outline.outer);
        const Turning turning = piece.any_way ? Turning::quarter : goods_.turning;
        const auto fits = [&](double along, double across) {
            return along + room <= there.width() && across + room <= there.height();
        };
        return !fits(box.width(), box.height()) &&
               !(turn_allowed(turning, 1, in_pattern(piece, goods_)) && fits(box.height(), box.width()));
    });
}

/// What an open cell loses at least, from what is known by now.
void Spreading::expect(std::size_t k, Mask mask) {
    Cell& cell = cells_[k][mask];
    if (cell.is != Cell::Is::open) return;
    const StockLength& length = lengths_[k];
    const double least_mm = least_mm_[mask], area = area_mm2_[mask];
    const bool too_large = length.offcut
                               ? area > length.offcut->area_mm2 || too_large_for(*length.offcut, mask)
                               : length.roll && least_mm > length.stretch.length_mm + kPlacementRounding_mm;
    if (too_large && !cell.held) cell.is = Cell::Is::no;
    cell.loss.money = length.offcut ? worth_.least_on_offcut(area, *length.offcut)
                      : length.roll ? worth_.least_on_roll(least_mm, area, length.stretch.length_mm,
                                                           on_roll_mm(*length.roll))
                                    : worth_.least_bought(bought_length_mm(goods_, least_mm), area);
    cell.loss.lengths = 1;
    cell.loss.gained = {std::numeric_limits<std::int64_t>::max()};
    tell(k, mask);
}

/// Both plans what a cell is now, on every length and for every mask that it stands for.
void Spreading::tell(std::size_t k, Mask mask) {
    const Cell& cell = cells_[k][mask];
    const Loss* open = cell.is == Cell::Is::no ? nullptr : &cell.loss;
    const Loss* there = cell.is == Cell::Is::open && cell.held     ? &cell.worth.loss
                        : cell.is == Cell::Is::open && !cell.quick ? nullptr
                                                                   : open;
    for (std::size_t other = k; other < lengths_.size(); ++other) {
        if (twin_[other] != k) continue;
        for (const Mask own : hopeful_.masks()) {
            if (like_[own] != mask) continue;
            hopeful_.set(other, own, open);
            sure_.set(other, own, there);
        }
    }
}

std::optional<SpreadSet> Spreading::best(const std::vector<bool>& allowed) {
    while (true) {
        const auto shares = hopeful_.best(allowed);
        if (!shares) return std::nullopt;
        bool open = false;
        for (const Share& share : *shares) {
            const std::size_t k = twin_[share.length];
            const Mask mask = like_[share.mask];
            if (cells_[k][mask].is != Cell::Is::open) continue;
            open = true;
            if (try_quickly(k, mask) || look_closer(mask)) continue;
            if (may_try(kMostTried - kToShorten)) {
                try_cell(k, mask);
            } else {
                gave_up_ = true;
                return best_held(allowed);
            }
        }
        if (!open) return put_together(*shares);
    }
}

/// The best of the ways that are there or take no search, what it takes of the rolls shortened while tries last.
std::optional<SpreadSet> Spreading::best_held(const std::vector<bool>& allowed) {
    while (true) {
        const auto shares = sure_.best(allowed);
        if (!shares) return std::nullopt;
        const auto each_open = [&](auto&& act) {
            bool any = false;
            for (const Share& share : *shares) {
                const std::size_t k = twin_[share.length];
                if (cells_[k][like_[share.mask]].is == Cell::Is::open) any = act(k, like_[share.mask]) || any;
            }
            return any;
        };
        if (each_open([&](std::size_t k, Mask mask) { return try_quickly(k, mask); })) continue;
        const auto shorten = [&](std::size_t k, Mask mask) {
            if (!may_try(kMostTried)) return false;
            try_cell(k, mask);
            return true;
        };
        if (!each_open(shorten)) return put_together(*shares);
    }
}

/// A layout that takes no search. False: that was tried before.
bool Spreading::try_quickly(std::size_t k, Mask mask) {
    Cell& cell = cells_[k][mask];
    if (!cell.quick || cell.is != Cell::Is::open) return false;
    cell.quick = false;
    const StockLength& length = lengths_[k];
    if (rolled(k)) {
        const std::optional<Wide>& quick = columns(mask);
        if (quick) hold_on_roll(k, mask, *quick);
    } else {
        const Pieces on_it = pieces_of(mask);
        Layout one;
        one.stretches = {length.stretch};
        const Goods own = goods_on(goods_, one, 0);
        std::vector<Layout> found;
        if (std::optional<Layout> columns = in_columns(on_it, own)) found.push_back(std::move(*columns));
        if (const auto placements = nest_on(on_it, length.offcut->outline, own.gap_mm, own.edge_gap())) {
            Layout nested;
            nested.placements = *placements;
            measure_layout(on_it, own, nested);
            if (check_layout(on_it, own, nested).empty()) found.push_back(std::move(nested));
        }
        for (Layout& lies : found) {
            CutWorth comes_to = worth_.of_offcut(on_it, lies, *length.offcut);
            if (cell.held && !comes_to.loss.better_than(cell.worth.loss)) continue;
            hold(k, mask, std::move(lies), std::move(comes_to));
            cell.is = Cell::Is::known;
            cell.loss = cell.worth.loss;
        }
    }
    tell(k, mask);
    return true;
}

/// The solver's bound, before its search. True: it told more than was known.
bool Spreading::look_closer(Mask mask) {
    if (looked_closer_[mask]) return false;
    looked_closer_[mask] = true;
    return raise_least(mask, lay::bound_of(pieces_of(mask), goods_, {}).length_mm);
}

/// Of a mask and of what holds more than it.
bool Spreading::raise_least(Mask mask, double least_mm) {
    bool raised = false;
    for (Mask more = 1; more < like_.size(); ++more) {
        if ((more & mask) != mask || least_mm_[like_[more]] >= least_mm) continue;
        least_mm_[like_[more]] = least_mm;
        raised = true;
        for (std::size_t k = 0; k < lengths_.size(); ++k)
            if (twin_[k] == k && rolled(k)) expect(k, like_[more]);
    }
    return raised;
}

void Spreading::try_cell(std::size_t k, Mask mask) {
    rolled(k) ? search_on_roll(k, mask) : search_on_offcut(k, mask);
    Cell& cell = cells_[k][mask];
    if (cell.is != Cell::Is::open) return;
    if (cell.held) {
        cell.is = Cell::Is::known;
        cell.loss = cell.worth.loss;
        tell(k, mask);
    } else {
        rule_out(k, mask);
    }
}

/// Nor do more pieces lie there, nor any of those on a shorter roll.
void Spreading::rule_out(std::size_t k, Mask mask) {
    for (std::size_t other = 0; other < lengths_.size(); ++other) {
        const bool shorter = lengths_[k].roll && lengths_[other].roll &&
                             lengths_[other].stretch.length_mm <= lengths_[k].stretch.length_mm;
        if (twin_[other] != other || (other != k && !shorter)) continue;
        for (Mask more = 1; more < like_.size(); ++more) {
            Cell& cell = cells_[other][like_[more]];
            if ((more & mask) != mask || cell.is != Cell::Is::open || cell.held) continue;
            cell.is = Cell::Is::no;
            tell(other, like_[more]);
        }
    }
}

void Spreading::hold(std::size_t k, Mask mask, Layout layout, CutWorth worth) {
    Cell& cell = cells_[k][mask];
    cell.held = true;
    cell.layout = std::move(layout);
    cell.worth = std::move(worth);
}

/// A layout as it comes to on a roll or as bought, where that is long enough; the last word when it is proved or searched for.
void Spreading::hold_on_roll(std::size_t k, Mask mask, const Wide& wide) {
    Cell& cell = cells_[k][mask];
    const StockLength& length = lengths_[k];
    if (cell.is != Cell::Is::open || (length.roll && wide.left.used_mm > length.stretch.length_mm)) return;
    hold(k, mask, wide.layout,
         length.roll ? worth_.of_roll(wide.left, on_roll_mm(*length.roll)) : worth_.of_bought(wide.left));
    const auto searched = on_whole_width_.find(mask);
    if ((searched != on_whole_width_.end() && searched->second &&
         wide.left.used_mm <= searched->second->left.used_mm) ||
        wide.left.used_mm - least_mm_[mask] <= kProvedWithin_mm) {
        cell.is = Cell::Is::known;
        cell.loss = cell.worth.loss;
    }
    tell(k, mask);
}

void Spreading::search_on_offcut(std::size_t k, Mask mask) {
    const StockLength& length = lengths_[k];
    Layout one;
    one.stretches = {length.stretch};
    const Goods own = goods_on(goods_, one, 0);
    const Pieces on_it = pieces_of(mask);
    if (lay::bound_of(on_it, own, {}).length_mm > own.length_mm) return;
    ++tried_;
    std::optional<Layout> found = proved_layout(on_it, own, solver_);
    if (!found) return;
    const CutWorth comes_to = worth_.of_offcut(on_it, *found, *length.offcut);
    hold(k, mask, std::move(*found), comes_to);
}

void Spreading::search_on_roll(std::size_t k, Mask mask) {
    const StockLength& length = lengths_[k];
    if (const std::optional<Wide>& found = on_whole_width(mask)) {
        for (std::size_t other = 0; other < lengths_.size(); ++other)
            if (twin_[other] == other && rolled(other)) hold_on_roll(other, mask, *found);
    }
    if (!length.roll || cells_[k][mask].is != Cell::Is::open || least_mm_[mask] > length.stretch.length_mm)
        return;
    // The search may have ended a little too long; asked only whether it fits, it goes another way.
    tried_ += kWholeWidth;
    Layout one;
    one.stretches = {length.stretch};
    Goods own = goods_on(goods_, one, 0);
    own.step_mm = own.length_mm;
    if (std::optional<Layout> found = proved_layout(pieces_of(mask), own, solver_)) {
        const Wide shorter = wide(mask, std::move(*found));
        hold(k, mask, shorter.layout, worth_.of_roll(shorter.left, on_roll_mm(*length.roll)));
    }
}

/// The shortest that is found.
const std::optional<Spreading::Wide>& Spreading::on_whole_width(Mask mask) {
    const auto known = on_whole_width_.find(mask);
    if (known != on_whole_width_.end()) return known->second;
    tried_ += kWholeWidth;
    std::optional<Layout> found = shortest_layout(pieces_of(mask), goods_, solver_);
    std::optional<Wide>& own = on_whole_width_[mask];
    if (found) {
        raise_least(mask, found->bound_mm);
        own = wide(mask, std::move(*found));
    }
    const std::optional<Wide>& quick = columns(mask);
    if (quick && (!own || quick->left.used_mm < own->left.used_mm)) own = quick;
    return own;
}

const std::optional<Spreading::Wide>& Spreading::columns(Mask mask) {
    const auto known = columns_.find(mask);
    if (known != columns_.end()) return known->second;
    std::optional<Wide>& own = columns_[mask];
    std::optional<Layout> quick = in_columns(pieces_of(mask), goods_);
    if (quick) own = wide(mask, std::move(*quick));
    return own;
}

Spreading::Wide Spreading::wide(Mask mask, Layout layout) const {
    LeftOver left = worth_.left_by(pieces_of(mask), layout);
    return {std::move(layout), std::move(left)};
}

/// The pieces of the first mask that is like this one, by what they are called in this one.
std::map<std::string, std::string> Spreading::renamed(Mask mask) const {
    std::map<std::string, std::string> names;
    std::vector<bool> used(bundles_.size(), false);
    for (std::size_t i = 0; i < bundles_.size(); ++i) {
        if (!(like_[mask] >> i & 1)) continue;
        for (std::size_t j = 0; j < bundles_.size(); ++j) {
            if (!(mask >> j & 1) || used[j] || bundles_[j].kind != bundles_[i].kind) continue;
            used[j] = true;
            for (std::size_t p = 0; p < bundles_[i].pieces.size(); ++p)
                names[bundles_[i].pieces[p].id] = bundles_[j].pieces[p].id;
            break;
        }
    }
    return names;
}

std::optional<SpreadSet> Spreading::put_together(const std::vector<Share>& shares) const {
    SpreadSet set;
    for (const Share& share : shares) {
        const Cell& cell = cells_[twin_[share.length]][like_[share.mask]];
        const std::map<std::string, std::string> names = renamed(share.mask);
        for (Placement p : cell.layout.placements) {
            p.piece = names.at(p.piece);
            p.stretch = static_cast<int>(set.layout.stretches.size());
            set.layout.placements.push_back(std::move(p));
        }
        set.layout.rounds = std::max(set.layout.rounds, cell.layout.rounds);
        set.layout.stretches.push_back(lengths_[share.length].stretch);
        set.lengths.push_back(share.length);
        set.worth.push_back(cell.worth);
        set.loss = set.loss.plus(cell.worth.loss);
    }
    // In the order of the pieces, as every layout is.
    std::vector<Placement> ordered;
    for (const LayoutPiece& piece : pieces_)
        for (const Placement& p : set.layout.placements)
            if (p.piece == piece.id) ordered.push_back(p);
    set.layout.placements = std::move(ordered);
    measure_layout(pieces_, goods_, set.layout);
    if (!check_layout(pieces_, goods_, set.layout).empty()) return std::nullopt;
    return set;
}

std::vector<LayoutPiece> Spreading::pieces_of(Mask mask) const {
    Pieces all;
    for (std::size_t i = 0; i < bundles_.size(); ++i)
        if (mask >> i & 1) all.insert(all.end(), bundles_[i].pieces.begin(), bundles_[i].pieces.end());
    return all;
}

}  // namespace spile::shop
