// Finding a layout.
#pragma once

#include <vector>

#include "core/base/length.h"
#include "core/base/run_context.h"
#include "core/geom/tolerance.h"
#include "core/layout/layout.h"

namespace spile {

struct SolveOptions {
    int rounds = 40;  ///< of the search after the first layout; 0: the first layout alone
    double seconds =
        0;            ///< when > 0: stop after this long instead, with what the whole rounds until then gave
    int threads = 1;  ///< never changes the layout, only how long it takes
    Resolution resolution{0.1};  ///< how far outside a curve its polygon may lie while searching
    double places_mm =
        0;  ///< when > 0: of layouts that buy the same one whose pieces lie on whole steps of this
};
/// What a tape shows at a glance: whole eighths of an inch, whole millimetres.
double places_step_mm(const LengthStyle& lengths);

/// More pieces than this are refused: they would not be laid out sensibly in one go.
inline constexpr std::size_t kMostPieces = 1000;

/// A short layout of all pieces, turned only as the goods allow; on an offcut one that fits.
/// Guarantees:
/// 1. What is returned has passed check_layout.
/// 2. Same pieces, goods, seed and rounds: same placements, whatever the number of threads.
/// 3. A cancel is answered within 100 ms with the best layout so far, or, when there is none yet, with a stop.
/// 4. It ends before its rounds are done when no less goods could be bought, or the bound is reached.
/// 5. What is pinned stays where it is, legal or not: the checker says which. Nothing else lies on it, or on a flaw.
/// 6. Pieces of one cloth carry the pattern of goods with a repeat.
/// 7. `bound_mm` holds for every legal layout, and `bound_reason` says why in words. With up to kMostProved pieces, after a
///    search, it is proved by trying every arrangement where that takes a second or a few.
/// 8. Goods that allow more turns never take a longer layout for the same rounds, but where the search ends as no less goods could
///    be bought: then they buy no more.
/// 9. Whole places (`places_mm`) lengthen nothing that is proved shortest, any other layout by at most two steps and never
///    what is bought.
/// 10. On plain goods without flaws and pins no rows of the pieces' boxes, longest first, are as short and make more straight cuts across; but
///    for whole places, which may close one.
/// 11. Fillers of the goods lie beside the panels within the length used, none on an offcut; nothing else depends on them.
/// On bad input: a stop for each piece that has no area, is wider than the usable width less the gaps or longer than the
/// goods there are (naming both numbers), for more than kMostPieces pieces, and when all do not fit on the length there
/// is. `lengths`: how findings say a length.
Result<Layout> solve_layout(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                            const SolveOptions& options, const RunContext& run,
                            const LengthStyle& lengths = {});

}  // namespace spile
