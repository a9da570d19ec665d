// Rough places of all points at once, for nets in which no point after another can be placed. Internal to measuring.
#pragma once

#include <optional>

#include "core/measure/equations.h"

namespace spile::survey {

/// Places whose distances are about the shortest ways along the ties: classical scaling of those (Torgerson 1952; with
/// shortest ways Shang, Ruml, Zhang, Fromherz 2003; both from memory). Ways are longer than the straight distance, so the
/// places are to be adjusted. Nothing is random; the sense of the whole is left open.
/// Nothing where ties do not join all points, or for more points than `kMostSpread`.
/// Cost: n m log n for n points and m ties, and n^2 a round.
inline constexpr int kMostSpread = 1000;
std::optional<Places> spread(const Network& network);

}  // namespace spile::survey
