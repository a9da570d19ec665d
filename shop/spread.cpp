#include "shop/spread.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "core/geom/measure_of.h"
#include "core/layout/check/check.h"
#include "shop/offcuts.h"
#include "shop/worked.h"

namespace spile::shop {
namespace {

using Pieces = std::vector<LayoutPiece>;

double area_of(const Pieces& pieces) {
    double area = 0;
    for (const LayoutPiece& piece : pieces) area += area_mm2(piece.outline);
    return area;
}

bool in_pattern(const LayoutPiece& piece, const Goods& goods) {
    return goods.repeat.any() && !piece.cloth.empty();
}

/// What goes together: the pieces of one carried pattern, or one piece. Largest first.
std::vector<Pieces> groups_of(const Pieces& pieces, const Goods& goods) {
    std::vector<Pieces> groups;
    for (const LayoutPiece& piece : pieces) {
        const auto same = std::find_if(groups.begin(), groups.end(), [&](const Pieces& group) {
            return in_pattern(piece, goods) && group[0].cloth == piece.cloth;
        });
        if (same == groups.end())
            groups.push_back({piece});
        else
            same->push_back(piece);
    }
    std::stable_sort(groups.begin(), groups.end(),
                     [](const Pieces& a, const Pieces& b) { return area_of(a) > area_of(b); });
    return groups;
}

bool same_outline(const Outline& a, const Outline& b) {
    return std::equal(a.vertices.begin(), a.vertices.end(), b.vertices.begin(), b.vertices.end(),
                      [](const Vertex& v, const Vertex& w) { return v.p == w.p && v.bulge == w.bulge; });
}

bool same_region(const Region& a, const Region& b) {
    return same_outline(a.outer, b.outer) &&
           std::equal(a.holes.begin(), a.holes.end(), b.holes.begin(), b.holes.end(), same_outline);
}

/// Length of the piece in the turn in which it takes least of the roll.
double least_length_mm(const LayoutPiece& piece, const Goods& goods) {
    const Box box = box_of(piece.outline.outer);
    const Turning turning = piece.any_way ? Turning::quarter : goods.turning;
    const bool across = turn_allowed(turning, 1, in_pattern(piece, goods));
    return across ? std::fmin(box.width(), box.height()) : box.width();
}

/// Every subset of `mask` but the empty one.
template <class Each>
void for_subsets(std::size_t mask, Each&& each) {
    for (std::size_t sub = mask; sub > 0; sub = (sub - 1) & mask) each(sub);
}

}  // namespace

Spreading::Spreading(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                     const std::vector<StockLength>& lengths, const Worth& worth, LayoutSolver solver,
                     std::optional<Layout> whole)
    : pieces_(pieces), goods_(goods), lengths_(lengths), worth_(worth), solver_(std::move(solver)) {
    goods_.fillers.clear();
    gather(groups_of(pieces_, goods_));
    name_kinds();
    const Mask count = Mask{1} << bundles_.size();
    const double room = goods_.edge_gap(), across = goods_.usable_width_mm - 2 * room + goods_.gap_mm;
    area_mm2_.assign(count, 0);
    least_mm_.assign(count, 0);
    for (Mask mask = 1; mask < count; ++mask) {
        const Pieces on_it = pieces_of(mask);
        area_mm2_[mask] = area_of(on_it);
        double least = across > 0 ? area_mm2_[mask] / across - goods_.gap_mm : 0;
        for (const LayoutPiece& piece : on_it) least = std::fmax(least, least_length_mm(piece, goods_));
        least_mm_[mask] = least + 2 * room;
        Mask units = mask;
        for (std::size_t i = 0; i < bundles_.size(); ++i)
            for (std::size_t j = 0; j < bundles_.size(); ++j)
                if ((mask >> i & 1) && bundles_[i].unit == bundles_[j].unit) units |= Mask{1} << j;
        if (units == mask) whole_units_.push_back(mask);
    }
    if (whole) {
        whole->fillers.clear();
        on_whole_width_[like_[count - 1]] = std::move(whole);
    }
    cells_.assign(lengths_.size(), std::vector<Cell>(count));
    for (std::size_t k = 0; k < lengths_.size(); ++k)
        for (Mask mask = 1; mask < count; ++mask) expect(k, mask);
    // The whole set on one length is known where its layout is: what is found later is no worse.
    for (std::size_t k = 0; k < lengths_.size(); ++k)
        if (!lengths_[k].offcut && on_whole_width_.count(count - 1) &&
            cells_[k].back().is == Cell::Is::open &&
            (lengths_[k].buys() || on_whole_width_[count - 1]->used_mm <= lengths_[k].stretch.length_mm))
            try_cell(k, count - 1);
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
    if (length.offcut ? area > length.offcut->area_mm2 || too_large_for(*length.offcut, mask)
                      : length.roll && least_mm > length.stretch.length_mm + kPlacementRounding_mm)
        cell.is = Cell::Is::no;
    cell.loss.money = length.offcut ? worth_.least_on_offcut(area, *length.offcut)
                                    : worth_.least_on_roll(
                                          length.roll ? least_mm : bought_length_mm(goods_, least_mm), area);
    cell.loss.gained = {std::numeric_limits<std::int64_t>::max()};
}

/// At most kMostApart bundles: units whole, the largest units as one where there are too many, then the smallest pieces split
/// off the largest bundle one by one.
void Spreading::gather(std::vector<Pieces> groups) {
    struct Unit {
        std::string word;
        std::vector<Pieces> groups;  ///< largest first
        double area = 0;
    };
    std::vector<Unit> units;
    for (Pieces& group : groups) {
        const std::string& word = group[0].seen_with;
        auto of = std::find_if(units.begin(), units.end(),
                               [&](const Unit& u) { return !word.empty() && u.word == word; });
        if (of == units.end()) of = units.insert(units.end(), {word, {}, 0});
        of->area += area_of(group);
        of->groups.push_back(std::move(group));
    }
    std::stable_sort(units.begin(), units.end(),
                     [](const Unit& a, const Unit& b) { return a.area > b.area; });
    while (units.size() > kMostApart) {
        units[0].groups.insert(units[0].groups.end(), units[1].groups.begin(), units[1].groups.end());
        units.erase(units.begin() + 1);
    }
    std::stable_sort(units[0].groups.begin(), units[0].groups.end(),
                     [](const Pieces& a, const Pieces& b) { return area_of(a) > area_of(b); });
    struct Part {
        std::vector<Pieces> groups;
        std::size_t unit;
    };
    std::vector<Part> parts;
    for (std::size_t i = 0; i < units.size(); ++i) parts.push_back({units[i].groups, i});
    const auto area_of_part = [](const Part& part) {
        double area = 0;
        for (const Pieces& group : part.groups) area += area_of(group);
        return part.groups.size() > 1 ? area : 0;
    };
    while (parts.size() < kMostApart) {
        const auto largest = std::max_element(parts.begin(), parts.end(), [&](const Part& a, const Part& b) {
            return area_of_part(a) < area_of_part(b);
        });
        if (largest->groups.size() < 2) break;
        Part split{{largest->groups.back()}, largest->unit};
        largest->groups.pop_back();
        parts.push_back(std::move(split));
    }
    for (const Part& part : parts) {
        Bundle bundle;
        bundle.unit = part.unit;
        for (const Pieces& group : part.groups)
            bundle.pieces.insert(bundle.pieces.end(), group.begin(), group.end());
        bundles_.push_back(std::move(bundle));
    }
}

/// Masks of the same outlines are laid out once.
void Spreading::name_kinds() {
    for (std::size_t i = 0; i < bundles_.size(); ++i) {
        bundles_[i].kind = i;
        const LayoutPiece& own = bundles_[i].pieces[0];
        if (bundles_[i].pieces.size() > 1 || in_pattern(own, goods_) || own.pin) continue;
        for (std::size_t j = 0; j < i && bundles_[i].kind == i; ++j) {
            const LayoutPiece& other = bundles_[j].pieces[0];
            if (bundles_[j].pieces.size() == 1 && !in_pattern(other, goods_) && !other.pin &&
                own.any_way == other.any_way && same_region(own.outline, other.outline))
                bundles_[i].kind = bundles_[j].kind;
        }
    }
    std::map<std::vector<int>, Mask> first;
    for (Mask mask = 0; mask < Mask{1} << bundles_.size(); ++mask) {
        std::vector<int> counts(bundles_.size(), 0);
        for (std::size_t i = 0; i < bundles_.size(); ++i)
            if (mask >> i & 1) ++counts[bundles_[i].kind];
        like_.push_back(first.emplace(std::move(counts), mask).first->second);
    }
}

std::optional<SpreadSet> Spreading::best(const std::vector<bool>& allowed) {
    while (true) {
        const auto shares = plan(allowed, false);
        if (!shares) return std::nullopt;
        bool open = false;
        for (const Share& share : *shares)
            if (cells_[share.length][like_[share.mask]].is == Cell::Is::open) {
                open = true;
                if (tried_ < kMostTried) try_cell(share.length, like_[share.mask]);
            }
        if (!open) return put_together(*shares);
        if (tried_ >= kMostTried) {
            const auto known = plan(allowed, true);
            return known ? put_together(*known) : std::nullopt;
        }
    }
}

/// Over all ways to share the bundles among the lengths: lot by lot what a mask comes to on its lengths, one after another,
/// then whole units of it added to those of the lots before.
std::optional<std::vector<Spreading::Share>> Spreading::plan(const std::vector<bool>& allowed,
                                                             bool known_only) const {
    struct State {
        bool any = false;
        Loss loss;
    };
    const Mask count = Mask{1} << bundles_.size();
    const auto take_if_better = [](State& at, const State& before, const Loss& more) {
        if (!before.any || (at.any && before.loss.money + more.money > at.loss.money)) return false;
        Loss loss = before.loss.plus(more);
        if (at.any && !loss.better_than(at.loss)) return false;
        at = {true, std::move(loss)};
        return true;
    };
    struct Lot {
        std::size_t begin, end;
        std::vector<std::vector<Mask>>
            on_length;            ///< by length of the lot and mask: what goes on that length
        std::vector<Mask> units;  ///< by mask: what goes on this lot
    };
    std::vector<Lot> lots;
    std::vector<State> reached(count);
    reached[0].any = true;
    for (std::size_t begin = 0, end = 0; begin < lengths_.size(); begin = end) {
        const auto of_it = [&](std::size_t k) {
            return lengths_[k].buys() == lengths_[begin].buys() &&
                   lengths_[k].stretch.lot == lengths_[begin].stretch.lot;
        };
        for (end = begin; end < lengths_.size() && of_it(end);) ++end;
        Lot lot{begin, end, {}, std::vector<Mask>(count, 0)};
        std::vector<State> on_lot(count);
        on_lot[0].any = true;
        for (std::size_t k = begin; k < end; ++k) {
            std::vector<State> with = on_lot;
            lot.on_length.emplace_back(count, 0);
            for (Mask mask = 1; mask < count && allowed[k]; ++mask) {
                const Cell& cell = cells_[k][like_[mask]];
                if (cell.is == Cell::Is::no || (known_only && cell.is == Cell::Is::open)) continue;
                const Mask others = (count - 1) & ~mask;
                if (take_if_better(with[mask], on_lot[0], cell.loss)) lot.on_length.back()[mask] = mask;
                for_subsets(others, [&](Mask rest) {
                    if (take_if_better(with[rest | mask], on_lot[rest], cell.loss))
                        lot.on_length.back()[rest | mask] = mask;
                });
            }
            on_lot = std::move(with);
        }
        std::vector<State> with = reached;
        for (const Mask units : whole_units_) {
            if (!on_lot[units].any) continue;
            if (take_if_better(with[units], reached[0], on_lot[units].loss)) lot.units[units] = units;
            for_subsets((count - 1) & ~units, [&](Mask rest) {
                if (take_if_better(with[rest | units], reached[rest], on_lot[units].loss))
                    lot.units[rest | units] = units;
            });
        }
        reached = std::move(with);
        lots.push_back(std::move(lot));
    }
    if (!reached[count - 1].any) return std::nullopt;
    std::vector<Share> shares;
    Mask left = count - 1;
    for (auto lot = lots.rbegin(); lot != lots.rend(); ++lot) {
        Mask here = lot->units[left];
        left &= ~here;
        for (std::size_t k = lot->end; k-- > lot->begin;) {
            const Mask mask = lot->on_length[k - lot->begin][here];
            if (mask) shares.push_back({k, mask});
            here &= ~mask;
        }
    }
    std::reverse(shares.begin(), shares.end());
    return shares;
}

void Spreading::try_cell(std::size_t k, Mask mask) {
    Cell& cell = cells_[k][mask];
    std::optional<Layout> layout = lie(k, mask);
    if (!layout) {
        // What holds more than this does not fit either.
        for (Mask more = 1; more < cells_[k].size(); ++more)
            if ((more & mask) == mask && cells_[k][like_[more]].is == Cell::Is::open)
                cells_[k][like_[more]].is = Cell::Is::no;
        return;
    }
    const Pieces on_it = pieces_of(mask);
    const StockLength& length = lengths_[k];
    cell.worth = length.offcut ? worth_.of_offcut(on_it, *layout, *length.offcut)
                 : length.roll
                     ? worth_.of_roll(on_it, *layout, static_cast<double>(length.roll->left_um) / 1000)
                     : worth_.of_bought(on_it, *layout);
    cell.loss = cell.worth.loss;
    cell.layout = std::move(*layout);
    cell.is = Cell::Is::known;
}

/// The pieces on one length, proved; its placements are those of stretch 0.
std::optional<Layout> Spreading::lie(std::size_t k, Mask mask) {
    const StockLength& length = lengths_[k];
    Layout one;
    one.stretches = {length.stretch};
    Goods own = goods_on(goods_, one, 0);
    if (length.offcut) {
        ++tried_;
        const Pieces on_it = pieces_of(mask);
        if (const auto placements = nest_on(on_it, length.offcut->outline, own.gap_mm, own.edge_gap())) {
            Layout nested;
            nested.placements = *placements;
            measure_layout(on_it, own, nested);
            if (check_layout(on_it, own, nested).empty()) return nested;
        }
        return solved(mask, own);
    }
    const std::optional<Layout>& wide = on_whole_width(mask);
    if (!length.roll || (wide && wide->used_mm <= length.stretch.length_mm)) return wide;
    // The search may have ended a little too long; asked only whether it fits, it goes another way.
    if (least_mm_[mask] > length.stretch.length_mm) return std::nullopt;
    tried_ += kWholeWidth;
    own.step_mm = own.length_mm;
    return solved(mask, own);
}

const std::optional<Layout>& Spreading::on_whole_width(Mask mask) {
    const auto known = on_whole_width_.find(mask);
    if (known != on_whole_width_.end()) return known->second;
    tried_ += kWholeWidth;
    Goods any_length = goods_;
    any_length.length_mm = 0;
    const std::optional<Layout>& found =
        on_whole_width_.emplace(mask, shortest_layout(pieces_of(mask), any_length, solver_)).first->second;
    if (found)
        for (Mask more = 1; more < like_.size(); ++more)
            if ((more & mask) == mask && least_mm_[like_[more]] < found->bound_mm) {
                least_mm_[like_[more]] = found->bound_mm;
                for (std::size_t k = 0; k < lengths_.size(); ++k) expect(k, like_[more]);
            }
    return found;
}

std::optional<Layout> Spreading::solved(Mask mask, const Goods& goods) {
    return proved_layout(pieces_of(mask), goods, solver_);
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
        const Cell& cell = cells_[share.length][like_[share.mask]];
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
        set.loss = set.loss.plus(cell.loss);
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
