// What a job takes: quantities, each with how it came about.
#pragma once

#include <string>
#include <vector>

#include "core/base/length.h"
#include "core/edging/piece.h"
#include "core/layout/layout.h"

namespace spile {

struct QuantityLine {
    std::string what;       ///< "woven vinyl, sand", "binding", "thread"
    double amount = 0;      ///< in `unit`
    std::string unit;       ///< "mm", "mm2", "" for a count
    double to_buy = 0;      ///< same unit, with overlap, waste and rounding up to what is sold; 0 for work
    std::string because;    ///< one sentence: how it came about
    std::string code = {};  ///< stable: what prices and minutes go by ("goods", "thread", "bind", "piece")
};

struct Takeoff {
    std::vector<QuantityLine> materials;  ///< goods, binding, thread, tape, snaps; only what is needed
    std::vector<QuantityLine>
        work;  ///< lengths of binding, turning and sealing, corners, holes, cuts, dry fit, snaps, pieces
    double stitches = 0;  ///< of all seams, ends sewn twice included
    double area_mm2 = 0;  ///< of the pieces as cut
};

/// Defaults without a source are common practice.
struct TakeoffSettings {
    double thread_stitches_per_mm = 6 / 25.4;
    double sewn_thickness_mm = 0;    ///< T: compressed, under the needle; 0: taken from the goods
    double thread_waste = 0.15;      ///< share added; sources say 10-15 % or 15-20 %
    double overstitch_mm = 25.4;     ///< sewn twice at each end of a seam: US Army TM 10-8340-224-13 para 5-6
    double binding_step_mm = 914.4;  ///< sold in whole steps (a running yard)
    double spool_mm = 0;             ///< thread on one spool; 0: bought by length
    double binding_cloth_mm = 0;     ///< width of the cloth binding is cut from; 0: bought ready
    double binding_strip_mm = 50.8;  ///< of such a strip, unfolded
    double binding_join_mm = 6.35;   ///< seam allowance of its joins
    double screws_per_stud = 1;      ///< of those new on the deck
    bool dry_fit = false;  ///< every piece is tried aboard before it is edged, not only those left long
};

/// Thread of a lockstitch (ISO 4915 type 301) per length of seam, needle and bobbin together: 2 + 2 T S, T the compressed
/// thickness and S the stitches per length in the same unit. A count, without unit. In a balanced stitch needle and bobbin
/// take half each: either lies along the seam once and passes half the thickness twice a stitch.
double lockstitch_thread_ratio(double thickness_mm, double stitches_per_mm);

/// Goods by the layout (bought in steps), binding by its runs with overlap (cut from cloth on the bias when the shop does),
/// thread by the lockstitch formula in whole spools, double-sided tape under turned edges, snaps by the studs, studs and screws for the deck; for applied pieces other goods
/// by the length they take off their roll or tape, and adhesive; and the work in the same words.
/// Guarantees: every line says `because`, with lengths as on a tape (`lengths`); lines in a fixed order.
/// The thickness under the needle is the setting, else that of the goods, else 1/8 in (said in the line).
Takeoff take_off(const std::vector<Piece>& pieces, const Goods& goods, const Layout& layout,
                 const TakeoffSettings& settings, const LengthStyle& lengths = {},
                 const std::vector<AppliedPiece>& applied = {});

}  // namespace spile
