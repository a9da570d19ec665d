#include "core/layout/cuts_across.h"

#include <algorithm>
#include <cmath>

#include "core/geom/measure_of.h"

namespace spile {
namespace {

/// The multiple of `step` nearest the middle of what lies between; none where there is none.
std::optional<double> multiple_within(double from, double to, double step) {
    const double least = std::ceil(from / step), most = std::floor(to / step);
    if (least > most) return std::nullopt;
    return std::clamp(std::round((from + to) / 2 / step), least, most) * step;
}

/// The marks of a tape, the roundest first.
std::vector<double> steps_mm(const LengthStyle& lengths) {
    if (lengths.unit == Unit::mm) return {10, 5, 1};
    std::vector<double> steps;
    for (int part = 1; part <= lengths.inch_denominator; part *= 2) steps.push_back(25.4 / part);
    return steps;
}

}  // namespace

std::vector<CutAcross> cuts_across(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                                   const Layout& layout, std::size_t stretch) {
    std::vector<CutAcross> taken;
    const auto take = [&](const std::vector<LayoutPiece>& of, const std::vector<Placement>& placements) {
        for (const Placement& p : placements)
            for (const LayoutPiece& piece : of) {
                if (piece.id != p.piece || piece.outline.outer.empty()) continue;
                const Box box = box_of(roll_from_piece(p)(piece.outline.outer));
                taken.push_back({box.min.x, box.max.x});
            }
    };
    take(pieces, placements_on(layout, stretch));
    take(filler_pieces(goods), layout.fillers);
    std::sort(taken.begin(), taken.end(),
              [](const CutAcross& a, const CutAcross& b) { return a.from_mm < b.from_mm; });
    std::vector<CutAcross> cuts;
    double reached = taken.empty() ? 0 : taken.front().to_mm;
    for (const CutAcross& piece : taken) {
        if (piece.from_mm - reached > kPlacementRounding_mm) cuts.push_back({reached, piece.from_mm});
        reached = std::max(reached, piece.to_mm);
    }
    return cuts;
}

std::optional<double> cut_place_mm(const CutAcross& cut, const LengthStyle& lengths) {
    const double margin = (cut.to_mm - cut.from_mm) / 4;
    const std::vector<double> steps = steps_mm(lengths);
    for (const double step : steps)
        if (const auto place = multiple_within(cut.from_mm + margin, cut.to_mm - margin, step)) return place;
    return multiple_within(cut.from_mm, cut.to_mm, steps.back());
}

std::vector<double> cut_places_mm(const std::vector<CutAcross>& cuts, const LengthStyle& lengths) {
    std::vector<double> places;
    for (const CutAcross& cut : cuts)
        if (const auto place = cut_place_mm(cut, lengths)) places.push_back(*place);
    return places;
}

}  // namespace spile
