// Does a lid still close: finished edges under lids and doors against the heights that were recorded there.
#pragma once

#include "core/job/run_job.h"

namespace spile {

/// How thick a finished edge is, mm: everywhere, and at its thickest place.
/// Sealed: the goods. Bound: two layers of binding more, four where its end laps its start (five layers in all). Turned: the
/// goods, and up to as much again where the face lies folded under.
struct EdgeStack {
    double everywhere_mm = 0;
    double thickest_mm = 0;
};
EdgeStack stack_of(Finish finish, double goods_mm, double binding_layer_mm);

/// Says of every edge under a lid whose finished edge is thicker than the lower height recorded at its two corners
/// ("lid-too-low"), and of snaps beside it ("lid-on-snap"). Edges without a height, and goods of unknown thickness, are the ready-to-leave list's matter.
/// Requires: surveys and panels of the job.
void judge_lids(const Job& job, Derived& derived);

}  // namespace spile
