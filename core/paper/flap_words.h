// How turned edges are folded, said in the order of the hand.
#pragma once

#include <string>
#include <vector>

#include "core/paper/sheets.h"

namespace spile::paper {

/// "notch corners A, B; 5 notches along C D, about 3 1/4 in apart", empty when the flaps have no cuts.
std::string flap_cut_words(const PaperInput& in, const Piece& piece);

/// Steps for the turned edges of a piece: cuts, order of folding, tape. Empty when nothing is turned.
std::vector<std::string> turning_steps(const PaperInput& in, const Piece& piece);

/// "2 1/2 in across" of a round hole, else "12 1/2 in x 4 1/2 in".
std::string finished_words(const HoleReport& hole, const LengthStyle& lengths);

}  // namespace spile::paper
