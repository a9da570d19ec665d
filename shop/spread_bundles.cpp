#include "shop/spread_bundles.h"

#include <algorithm>

#include "core/geom/measure_of.h"

namespace spile::shop {
namespace {

using Pieces = std::vector<LayoutPiece>;

double area_of(const Pieces& pieces) {
    double area = 0;
    for (const LayoutPiece& piece : pieces) area += area_mm2(piece.outline);
    return area;
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

std::vector<Bundle> gathered(std::vector<Pieces> groups) {
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
    std::vector<Bundle> bundles;
    for (const Part& part : parts) {
        Bundle bundle;
        bundle.unit = part.unit;
        for (const Pieces& group : part.groups)
            bundle.pieces.insert(bundle.pieces.end(), group.begin(), group.end());
        bundles.push_back(std::move(bundle));
    }
    return bundles;
}

void name_kinds(std::vector<Bundle>& bundles, const Goods& goods) {
    for (std::size_t i = 0; i < bundles.size(); ++i) {
        bundles[i].kind = i;
        const LayoutPiece& own = bundles[i].pieces[0];
        if (bundles[i].pieces.size() > 1 || in_pattern(own, goods) || own.pin) continue;
        for (std::size_t j = 0; j < i && bundles[i].kind == i; ++j) {
            const LayoutPiece& other = bundles[j].pieces[0];
            if (bundles[j].pieces.size() == 1 && !in_pattern(other, goods) && !other.pin &&
                own.any_way == other.any_way && same_region(own.outline, other.outline))
                bundles[i].kind = bundles[j].kind;
        }
    }
}

}  // namespace

bool in_pattern(const LayoutPiece& piece, const Goods& goods) {
    return goods.repeat.any() && !piece.cloth.empty();
}

std::vector<Bundle> bundles_of(const std::vector<LayoutPiece>& pieces, const Goods& goods) {
    std::vector<Bundle> bundles = gathered(groups_of(pieces, goods));
    name_kinds(bundles, goods);
    return bundles;
}

}  // namespace spile::shop
