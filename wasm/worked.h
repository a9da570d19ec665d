// The job that was asked about last, with all that follows from it. Inside of wasm/.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/job/run_job.h"
#include "wasm/request.h"

namespace spile::surface {

/// A screen asks many things of one job, one after another: its sheets page by page, whether pieces may lie there while they
/// are dragged. It is worked out once; the answer is the same as without.
struct Worked {
    Job job;  ///< with the layout of the question, if there was one, in the place of the kept one
    Derived derived;
    std::vector<Sheet> sheets;  ///< empty until somebody asks
};

/// A layout that says it lies on so many stretches of goods lies on those of the kept one.
Layout on_kept_stretches(Layout layout, const Job& job);

/// Of "job", "layout" and "fillers" of the question; fillers that may not lie so are left out.
/// null with a fault in `r`. Good until the next call on this thread.
Worked* worked_out(Request& r);

/// The same whatever its layout is: good for what only the pieces are needed for. Null with a fault in `r`.
const Worked* pieces_of(Request& r);

/// The document of "job" in settled form, read anew only when it is another; an empty group with a fault in `r`.
JsonValue said_of_job(Request& r);

/// Lets go of it: a server has many threads, and none is asked about one job again and again.
void forget_worked();

}  // namespace spile::surface
