// What lies on the roll beside the pieces of the job: flaws, and what is sold beside it. Inside of core/paper.
#pragma once

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

}  // namespace spile::paper
