// What is drawn on the roll beside the pieces of the job: flaws, what is sold beside it, the sizes along it. Inside of core/paper.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "core/paper/labels.h"
#include "core/paper/page_frame.h"
#include "core/paper/sheets.h"
#include "core/paper/view.h"

namespace spile::paper {

/// Places that cannot be used are crossed through. `strip`: the part of the goods that is drawn, roll space of the marked side.
void draw_flaws(Canvas& canvas, const PageFrom& page, const Box& strip, const PaperInput& in,
                LabelField& field);

/// Fillers, in a lighter line with their name. Requires: in.goods, in.layout of one stretch.
void draw_fillers(Canvas& canvas, const PageFrom& page, const Box& strip, const PaperInput& in,
                  LabelField& field);

/// A place along the goods that the ruler names: "used 96 9/16".
struct RulerFigure {
    double at_mm;
    std::string words;
};

/// Running sizes from the cut end under a strip that is drawn from `from_to` .first to .second. What is named has its figure before
/// any round one near it, the first before the next; a named place without room for its figure keeps its tick.
void draw_ruler(Canvas& canvas, const PageFrom& page, std::pair<double, double> from_to,
                const LengthStyle& style, const std::vector<RulerFigure>& named);

}  // namespace spile::paper
