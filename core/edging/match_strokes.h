// Match marks on the goods.
#pragma once

#include "core/edging/piece.h"

namespace spile {

/// The strokes of a panel's match marks, boat space: from the face cut square into the piece, beyond what the turn or the binding
/// will cover. A mark beside which nothing is cut along the joint has none.
std::vector<MatchStroke> match_strokes(const Panel& panel, const Region& face, const FinishSettings& finish);

}  // namespace spile
