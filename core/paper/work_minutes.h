// How long each step of the work takes: as the shop says, else a guess by what there is to do.
#pragma once

#include "core/paper/sheets.h"

namespace spile::paper {

struct StepMinutes {
    double minutes = 0;
    bool guessed = false;
};

/// The minutes of one step for the whole job. A guess is a round five minutes, by lengths and counts; its rates have no
/// source and are for a person to overwrite. Requires: in.pieces.
StepMinutes minutes_of(const PaperInput& in, WorkStep step);

}  // namespace spile::paper
