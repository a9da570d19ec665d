// The result header of laying out: goods, pieces on them, and what was found.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "core/base/finding.h"
#include "core/base/length.h"
#include "core/base/result.h"
#include "core/geom/outline.h"
#include "core/geom/transform.h"

namespace spile {

/// What placing in whole micrometres may take from a gap: each of two placements is off by at most half a micrometre
/// each way, 1.42 um together, and the solver keeps within the rest. Not a workshop's allowance: 0.01 mm is refused.
inline constexpr double kPlacementRounding_mm = 0.002;

/// Where the goods cannot be used: a stain, a hole, a splice. Roll space.
struct Flaw {
    std::string id;  ///< what findings call it: "1"
    Box at_mm;
};

/// A pattern that comes again. Both 0: plain goods, or a pattern nobody has to match.
struct Repeat {
    double along_mm = 0;   ///< 0: stripes along the roll
    double across_mm = 0;  ///< 0: stripes across the roll, or the same everywhere across
    double drop_mm =
        0;  ///< how far along the pattern has moved on one `across` further; half drop: along / 2

    bool any() const { return along_mm > 0 || across_mm > 0; }
};

/// Which ways round a piece may lie: nap, weave or pattern have a direction, or have none.
enum class Turning {
    one_way,  ///< the arrow of every piece along the goods
    half,     ///< or against it
    quarter,  ///< or across
};

/// A small piece that a shop sells beside the job (a step mat, a coaster): cut from what is left beside the panels.
struct Filler {
    std::string name;
    double along_mm = 0, across_mm = 0;  ///< as it is cut, along the direction and across; of a rectangle
    double diameter_mm = 0;              ///< of a round one; 0: a rectangle
    int most = 1;                        ///< more are not wanted
    bool any_way = false;  ///< its direction does not matter: turned in quarters whatever the goods say
};
inline constexpr int kMostFillers = 200;  ///< of all kinds together

/// Roll goods as they are. Roll space: x along the roll from the cut end, y across from one selvedge, seen from the face;
/// the direction of the goods is +x.
struct Goods {
    std::string name;
    std::string lot;                     ///< of the roll it is cut from; printed only
    double width_mm = 72 * 25.4;         ///< nominal
    double usable_width_mm = 72 * 25.4;  ///< narrowest measured, less selvedges
    double gap_mm = 6.35;                ///< knife room kept between pieces
    double edge_gap_mm = -1;    ///< kept to the selvedges and both cut ends; negative: the same as gap_mm
    double step_mm = 914.4;     ///< bought in whole steps (a running yard)
    double least_order_mm = 0;  ///< no less is sold
    double thickness_mm = 0;    ///< 0: not known
    double length_mm = 0;       ///< what is there to cut from; 0: as much as is bought
    Repeat repeat;
    std::vector<Flaw> flaws;
    Turning turning = Turning::one_way;
    /// Of an offcut: straight lines and arcs, its box from the origin to (length_mm, usable_width_mm). Empty: a length of
    /// the whole width. edge_gap() is kept to all of it.
    Outline outline;
    std::vector<Filler> fillers;  ///< wanted, as far as there is room

    double edge_gap() const { return edge_gap_mm < 0 ? gap_mm : edge_gap_mm; }
};

/// Whole micrometres and quarter turns, so that a kept layout is exact.
struct Placement {
    std::string piece;
    std::int64_t x_um = 0;  ///< the piece turned about its own origin, then moved by (x_um, y_um) / 1000
    std::int64_t y_um = 0;
    int turns = 0;    ///< quarter turns counter-clockwise, seen from the face, 0 to 3
    int stretch = 0;  ///< of Layout::stretches

    Vec2 move_mm() const { return {static_cast<double>(x_um) / 1000.0, static_cast<double>(y_um) / 1000.0}; }
    bool operator==(const Placement&) const = default;
};
Rigid quarter_turns(int turns);
Rigid roll_from_piece(const Placement& placement);

/// May a piece lie so? `in_pattern`: it carries the pattern of its cloth, which a turn would break.
bool turn_allowed(Turning turning, int turns, bool in_pattern);

/// One of several lengths of goods that a layout is cut from, each with its own cut end.
struct Stretch {
    std::string name;      ///< as it is called in the rack: "roll 3"; kToBuy
    std::string lot;       ///< empty: not known
    double length_mm = 0;  ///< what is there; 0: as much as is bought
    Outline outline;       ///< of an offcut, as Goods::outline; empty: the whole width
};

/// What a stretch is called that is bought for the job: of a lot of its own.
inline constexpr char kToBuy[] = "goods to buy";
bool to_buy(const Stretch& stretch);

/// A piece to place: its face cut in piece space (direction arrow along +x).
struct LayoutPiece {
    std::string id;
    Region outline;
    /// Pieces of one cloth read as one pattern where goods have a repeat: their places on the roll equal their places in
    /// the cloth but for whole repeats. Empty: the pattern may fall on this piece as it likes.
    std::string cloth = {};
    Vec2 in_cloth_mm =
        {};  ///< where the origin of piece space lies in its cloth, +x the direction of the goods
    std::optional<Placement> pin = {};  ///< where a person put it; it stays there
    std::string seen_with = {};         ///< pieces of the same word lie side by side: one lot; empty: alone
    bool any_way = false;               ///< may lie in any quarter turn, whatever the goods say
};

struct Layout {
    std::vector<Placement> placements;  ///< in the order of the pieces
    std::vector<Stretch> stretches;     ///< none: all of it from one length of the goods
    /// From the cut end to the far side of the last piece, edge gap included; of several stretches the sum, an offcut
    /// by the share of the usable width that it has.
    double used_mm = 0;
    double bought_mm = 0;      ///< what lies on the whole width up to the next whole step; an offcut as used
    double to_buy_mm = 0;      ///< of several stretches: the one that is not in the rack yet, as it is bought
    bool least_order = false;  ///< fewer whole steps would do, but no less is sold
    double bound_mm = 0;       ///< no layout can be shorter
    std::string bound_reason;  ///< "pieces 2 and 5 cannot lie side by side"
    double goods_share = 0;    ///< area of pieces over usable width times used
    int rounds = 0;            ///< of the search; repeats it exactly with the same seed
    /// Of filler_pieces, in what the placements leave of `used_mm`; they take no length. Only where all of it is cut from one
    /// length.
    std::vector<Placement> fillers = {};
};

/// A layout is said to be the shortest when it is proved that none is shorter by more than this: less than a tape shows.
inline constexpr double kProvedWithin_mm = 0.5;

/// "No layout is shorter: proved (why)" or "Cannot be shorter than 63 in (why)", without a full stop; empty when nothing is known.
std::string bound_words(const Layout& layout, const LengthStyle& lengths);

/// Each filler that is wanted as a piece: "filler/coaster/2". A name stands once; the largest first.
std::vector<LayoutPiece> filler_pieces(const Goods& goods);
/// The name of a filler that is placed: "coaster".
std::string filler_name(const Placement& filler);
/// "2 of step mat, 5 of coaster", in the order of the goods; empty without any.
std::string filler_words(const Goods& goods, const Layout& layout);

/// From the cut end to the far side of the last placed piece, edge gap included; 0 when nothing is placed.
/// Placements that name no piece are passed over.
double used_length_mm(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                      const std::vector<Placement>& placements);

/// The goods as one stretch of a layout is cut from them: its lot, length and outline. Flaws are those of the roll in hand:
/// they hold for every stretch of the whole width. Without stretches the goods as they are.
Goods goods_on(const Goods& goods, const Layout& layout, std::size_t stretch);
std::size_t stretch_count(const Layout& layout);  ///< 1 without stretches
std::vector<Placement> placements_on(const Layout& layout, std::size_t stretch);

/// What lies on one stretch as a layout of its own, measured.
Layout one_stretch(const std::vector<LayoutPiece>& pieces, const Goods& goods, const Layout& layout,
                   std::size_t stretch);

/// "roll 3, lot 0417"; "goods to buy"; empty without stretches.
std::string stretch_words(const Layout& layout, std::size_t stretch);

/// What is bought where `used_mm` is needed: at least the least order, up to the next whole step (a step of 0: as it is); 0 where nothing
/// is. A length within kPlacementRounding_mm above a whole step counts as that step.
double bought_length_mm(const Goods& goods, double used_mm);

/// These goods where what is used is all that counts, as on a roll in the rack: no steps, no least order.
Goods by_the_millimetre(Goods goods);

/// How far `off_mm`, between two places of one cloth, is from whole repeats: 0 both ways when the pattern is carried. Of
/// the repeats nearby the nearest counts.
Vec2 pattern_out_mm(const Repeat& repeat, Vec2 off_mm);

/// Whole repeats that the usable width holds (0 without a repeat across).
int repeats_across(const Goods& goods);

/// Fills used, bought, what is to buy and the share of the goods from the placements.
void measure_layout(const std::vector<LayoutPiece>& pieces, const Goods& goods, Layout& layout);

}  // namespace spile
