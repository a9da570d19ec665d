// Inside of papers: what is said of a piece that is put on a panel.
#pragma once

#include <string>

#include "core/paper/page_frame.h"

namespace spile::paper {

/// "18 x 12 in", "8 in across": as it is cut, along the direction by across.
std::string cut_size_words(const AppliedPiece& applied, const LengthStyle& lengths);
/// "along A-B, 1/2 in inside the edge, from 4 in to 34 in from A", or "at P, 18 x 12 in".
std::string set_words(const AppliedPiece& applied, const LengthStyle& lengths);
/// "raw, sewn", "turned by 1/2 in, stuck".
std::string held_words(const AppliedPiece& applied, const LengthStyle& lengths);
/// The applied pieces of one panel, in their order.
std::vector<const AppliedPiece*> applied_on(const PaperInput& in, const Piece& piece);
/// For the ticket, one piece: "3a heel pad helm: face, cut 18 x 12 in, raw, sewn".
std::string applied_line(const AppliedPiece& applied, const LengthStyle& lengths);

}  // namespace spile::paper
