// Random panels with openings and slits for the folding oracle: most of them workable, some with one known flaw.
#pragma once

#include <string>
#include <vector>

#include "tests/shape/panels.h"

namespace spile::testing_folds {

/// What the program must say of the opening "bad": one number by its closed form, unless it has no name.
struct Flaw {
    std::string code, number;
    double mm = 0;
};

struct OpenPanel {
    testing_panels::RandomPanel panel;
    Flaw flaw;  ///< without a code: none
};

/// One to three openings, round or boxes, of which about half run to the edge by a slit. They lie clear of one another and
/// of the edge by what two turns take, and slits come to an edge clear of its ends; one panel in eight has a flaw instead.
/// Where not `mixed` all is turned but the slits.
OpenPanel open_panel(testing_panels::Dice& dice, bool mixed);

}  // namespace spile::testing_folds
