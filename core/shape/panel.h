// The result header of shaping: panels with their boat line and net line.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "core/base/finding.h"
#include "core/base/length.h"
#include "core/base/result.h"
#include "core/base/run_context.h"
#include "core/geom/outline.h"
#include "core/measure/survey.h"

namespace spile {

/// What the tape touched along an edge.
enum class Measured {
    wall,      ///< the boat itself: clearance comes off
    finished,  ///< a traced line, an old piece, a neighbour already made: nothing comes off
    raw,       ///< the cut edge of an old piece with its finish taken off: it is the cut line itself
};

/// What an edge meets in use.
enum class Situation { wall, free, joint, lid, walked_over };

enum class Finish { bound, turned, sealed };

inline const char* word_for(Measured measured) {
    return measured == Measured::wall ? "wall" : measured == Measured::finished ? "finished" : "raw";
}
inline const char* word_for(Situation situation) {
    switch (situation) {
        case Situation::wall:
            return "wall";
        case Situation::free:
            return "free";
        case Situation::joint:
            return "joint";
        case Situation::lid:
            return "lid";
        case Situation::walked_over:
            return "walked over";
    }
    return "";
}
/// How openly an edge is seen, least first: where a slit or the overlap of a binding does not show.
inline int seen(Situation situation) {
    switch (situation) {
        case Situation::wall:
            return 0;
        case Situation::joint:
            return 1;
        case Situation::lid:
            return 2;
        case Situation::free:
            return 3;
        case Situation::walked_over:
            return 4;
    }
    return 4;
}
inline const char* word_for(Finish finish) {
    return finish == Finish::bound ? "bound" : finish == Finish::turned ? "turned" : "sealed";
}

/// Measures of how an edge is finished, of the goods and the shop. Defaults are common practice, no source.
struct FinishSettings {
    double binding_growth_mm = 25.4 / 16;      ///< g: net line less cut line of a bound edge
    double binding_width_mm = 25.4;            ///< flat width of the binding
    double binding_thickness_mm = 25.4 / 32;   ///< of one layer of it, against the room under lids
    double least_bound_radius_mm = 25.4;       ///< tightest outside corner a binder passes
    double least_bound_hole_radius_mm = 76.2;  ///< tightest hole or inside corner a binder passes
    double turn_mm = 25.4;              ///< h: how far the face is cut outside the net line of a turned edge
    double stitch_from_edge_mm = 6.35;  ///< stitch line inside the finished edge
    double post_ease_mm = 6.35;         ///< added all round a post
    double slit_short_mm = 6.35;        ///< slits of a turned hole stop this far from the backing edge
    double turned_hole_face_mm = 25.4;  ///< diameter of the face cut of a turned hole
    double binding_overlap_mm = 25.4;   ///< end over start
    double corner_allowance_mm =
        25.4 / 64;  ///< a corner whose rounding would move the line by less than this passes as an edge
    double stud_from_edge_mm = 25.4 * 3 / 4;  ///< a stud nearer to a finished edge than this is pointed out
    double facet_mm = 25.4 / 32;  ///< how far the straight stretch between two slits may stand off the curve

    // Turned edges.
    bool mitred_corners = false;     ///< flaps meet at half the corner angle; else one lies over the other
    double mitre_lap_mm = 25.4 / 4;  ///< how far one flap of a mitre reaches over the other at its end
    double end_trim_mm =
        25.4 / 16;  ///< the end of a flap that lies over another stops this short of the edge beside it

    // Of the goods.
    double face_thickness_mm =
        0;  ///< f: the backing of a turned edge is cut this far inside the net line; 0: not known
    double backing_thickness_mm = 0;  ///< T: what a fold spends on the edge of the backing; 0: not known
    bool backing_peels = true;        ///< else its edges cannot be turned
};

/// m: cuts in a flap stop this far outside the fold, so that none shows on the edge: `slit_short`, and at least the backing
/// and 1/8 in (common practice, no source).
inline double cut_margin_mm(const FinishSettings& finish) {
    const double least = finish.backing_thickness_mm + 25.4 / 8;
    return finish.slit_short_mm > least ? finish.slit_short_mm : least;
}

/// Faults of the settings themselves: a stop (code "finish-setting") for every measure that is not a number,
/// is negative or is 0 where a size is needed, and for measures that contradict each other. Empty for the
/// defaults.
std::vector<Finding> faults_of(const FinishSettings& finish, const LengthStyle& lengths = {});

/// Clearances by situation when an edge does not say: middle of the common-practice range, no source.
struct Clearances {
    double wall_mm = 25.4 * 3 / 16;
    double lid_mm = 25.4 * 5 / 16;
    double reveal_mm = 25.4 / 16;  ///< net edge to net edge at a joint, split between two new panels
};

/// Choices for one edge, already resolved from the job's, the panel's and the edge's own.
struct EdgePlan {
    std::string from, to;
    Measured measured = Measured::wall;
    Situation situation = Situation::wall;
    Finish finish = Finish::bound;
    double clearance_mm = 0;  ///< what this panel gives up along the edge; half the reveal at a joint
    double left_long_mm =
        0;  ///< goods left beyond the cut line, to be trimmed aboard before the edge is finished
    std::vector<std::string> along =
        {};  ///< points of the joint line it follows, from `from` to `to`; empty: as measured
};

/// The panel ends at a stored joint line: what lies on one side of it is kept. Both neighbours take the same line.
struct JointCut {
    std::string joint;                 ///< its id
    std::vector<std::string> through;  ///< two points of the space or more, in order
    bool keep_left = true;             ///< looking from the first point to the last
    EdgePlan edge;                     ///< of the edge it makes, from the first point to the last
    double corner_radius_mm = 0;       ///< of the corners at its ends
};

struct CornerPlan {
    std::string at;
    double radius_mm = 0;  ///< 0: square
};

/// A slit from an opening to an edge, for what cannot be lifted over: a joint of the panel with itself.
struct SlitPlan {
    std::string from, to;  ///< the edge, either way round; both empty: the least seen one
    double gap_mm = 0;     ///< net edge to net edge
    Finish finish = Finish::bound;
};

/// An opening by what passes through it. Its net line, the finished rim, lies `ease_mm` outside that all round.
struct OpeningPlan {
    enum class Form {
        round,  ///< by its diameter
        box,    ///< by length and width, with a radius at its corners
        slot,   ///< from one point to another, with round ends about them
        free,   ///< a closed outline through points, as a panel's
        lid,    ///< a panel that lifts out of this one: its net line
    };

    std::string id;
    std::string at;          ///< point name of a round one or a box; empty when `centre_mm` was given by size
    double diameter_mm = 0;  ///< of what passes, a round one: the post
    double ease_mm = 0;      ///< all round
    Finish finish = Finish::turned;
    Vec2 centre_mm;  ///< boat space, filled by shape; of other forms than round the middle of their box

    Form form = Form::round;
    double length_mm = 0;  ///< of a box
    double width_mm = 0;   ///< of a box or a slot
    double radius_mm = 0;  ///< of the corners of a box
    double turn_deg = 0;   ///< of the length of a box, from toward the bow to port
    std::vector<std::string> along =
        {};  ///< two points: as from the first to the second runs the length of a box; those of a slot
    std::vector<CornerPlan> outline = {};  ///< of a free one, in either sense
    std::string lid = {};                  ///< id of the panel that lifts out; the ease is its gap
    std::optional<SlitPlan> slit = {};

    // Filled by shape. Finished size along its length and across, of other forms than round.
    double finished_along_mm = 0, finished_across_mm = 0;
    // Boat space; tags 0, 1, ... by side, -1 rounded corners.
    Outline passes = {};  ///< counter-clockwise
    Outline rim = {};     ///< net line, clockwise
};

/// New snaps of a panel by rule, along its finished edges.
struct StudRule {
    double pitch_mm = 0;      ///< from one to the next at most; 0: at corners alone
    double from_edge_mm = 0;  ///< inside the net line
};

/// A piece of its own that is put on a panel: sewn or stuck on its face or its back.
struct AppliedPlan {
    enum class Kind { facing_strip, heel_pad, non_slip_patch, hook_and_loop };

    std::string id;
    Kind kind = Kind::heel_pad;
    bool on_back = false;

    // Where it lies. A strip along an edge, from `start_mm` beyond its corner `from` on; both corners empty: about a point.
    std::string from, to;                ///< as the person named the edge
    std::optional<double> from_edge_mm;  ///< of its near side from the net line; unsaid: clear of a binding
    std::optional<double> start_mm;      ///< unsaid, with the length: as far as it is clear
    double length_mm = 0;                ///< of a strip along the net line, 0: unsaid; of a box
    double width_mm = 0;                 ///< of a strip or a box
    std::string at;          ///< point of a round one or a box; empty when `centre_mm` was given by size
    Vec2 centre_mm;          ///< boat space
    double diameter_mm = 0;  ///< of a round one; 0: a box
    double radius_mm = 0, turn_deg = 0;  ///< of a box, as of an opening
    std::vector<std::string> along = {};
    std::vector<CornerPlan> outline = {};  ///< of one by points

    Finish finish = Finish::sealed;  ///< of its own edge; sealed: raw
    double turn_mm = 25.4 / 2;       ///< of its own edge, where turned (common practice, no source)
    bool stuck = false;              ///< else sewn on all round
    bool loop = false;  ///< of hook-and-loop: the half that goes on the panel; the other goes on the deck

    // Its goods.
    std::string goods;              ///< empty: those of the panel
    double goods_width_mm = 0;      ///< of the roll or tape it is cut from
    double goods_thickness_mm = 0;  ///< 0: not known
    bool any_way = false;           ///< those goods have no direction

    Outline square = {};  ///< likewise, before its corners were rounded
    Outline set =
        {};  ///< boat space, filled by shape: its finished line where it lies, counter-clockwise; tags 0, 1, ... by
        ///< side (of a strip 0 along the edge, 2 inside), -1 rounded corners
};

inline const char* word_for(AppliedPlan::Kind kind) {
    switch (kind) {
        case AppliedPlan::Kind::facing_strip:
            return "facing strip";
        case AppliedPlan::Kind::heel_pad:
            return "heel pad";
        case AppliedPlan::Kind::non_slip_patch:
            return "non-slip patch";
        case AppliedPlan::Kind::hook_and_loop:
            return "hook-and-loop";
    }
    return "";
}

/// A panel as asked for, one of three kinds: corners of a space, a plain mat by its size, or the mirror twin of another.
struct PanelInput {
    std::string id, name, space;
    std::vector<CornerPlan> corners;  ///< counter-clockwise or clockwise; shape puts them counter-clockwise
    std::vector<EdgePlan> edges;      ///< edges[i] leaves corners[i]
    std::vector<JointCut> cuts;       ///< one after another
    std::vector<OpeningPlan> openings;
    std::vector<std::string> studs;  ///< points of the space that carry a stud of the boat under this panel
    double size_x_mm = 0,
           size_y_mm = 0;  ///< a plain mat: finished length along the direction, width across; 0 otherwise
    Finish mat_finish = Finish::turned;
    std::string where;
    double corner_radius_mm = 0;  ///< of a plain mat: all four corners
    std::string twin_of;        ///< id of the panel whose mirror twin this is: port for starboard, bow to bow
    bool twin_checked = false;  ///< its check sizes were taped aboard; else it is assumed
    std::vector<std::string>
        twin_about;  ///< two points of the original's space on the line between the two hands, toward
                     ///< the bow; empty: where the twin lies aboard is not known
    std::optional<StudRule> stud_rule;
    std::vector<AppliedPlan> applied = {};
};

/// Three lines, three types. Tags are indices into `Panel::edges`; -1 is a rounded corner.
struct BoatLine {
    Outline outline;
};
struct NetLine {
    Region region;      ///< corners rounded, openings as holes (clockwise, tag = -2 - index of the opening)
    Outline unrounded;  ///< the outer outline before corners were rounded: what a tape reads from corner to
                        ///< corner
};

struct Stud {
    std::string id;
    Vec2 at_mm;            ///< in the space of what holds it: boat space in a Panel, piece space in a Piece
    bool by_rule = false;  ///< a new one, placed on the piece; else one of the boat, found from above, aboard
    int flaps =
        0;  ///< turned edges and rims whose flap lies under it, in a Piece: its post goes through them too
};

/// Chalked on both neighbours of a joint at the same place, so that they are laid as they were measured.
struct MatchMark {
    std::string name;               ///< "M1": alike on both, and on no others of the job
    std::string other;              ///< id of the neighbour; its own at a slit
    Vec2 at_mm;                     ///< on the line between the two, boat space: the same on both
    Vec2 net_mm;                    ///< beside it, on this panel's net line
    Vec2 inward;                    ///< unit, square to the line, into this panel
    Finish finish = Finish::bound;  ///< of the edge there
};

struct Panel {
    std::string id, name, space;
    std::vector<CornerPlan> corners;    ///< counter-clockwise; corners[i] starts edges[i]
    std::vector<EdgePlan> edges;        ///< counter-clockwise
    std::vector<OpeningPlan> openings;  ///< as made: a hole too small to bind says turned
    std::vector<Stud> studs;
    std::vector<MatchMark> match_marks;
    BoatLine boat_line;
    NetLine net_line;
    bool mat = false;
    bool was_clockwise = false;  ///< the corners were named clockwise: people know edges[i] as "to from"
    std::string where;           ///< place in the document, for findings
    std::string twin_of;         ///< as in PanelInput
    bool twin_checked = false;
    std::vector<AppliedPlan> applied = {};  ///< those that could be placed
};

/// An edge as the person named it, "A B", whichever way round the panel was put.
inline std::string edge_name(const Panel& panel, std::size_t i) {
    const EdgePlan& e = panel.edges[i];
    return panel.was_clockwise ? e.to + " " + e.from : e.from + " " + e.to;
}

/// Panels of a job from its surveys (by space id): boat line, then net line.
///
/// Boat line: edge C-D takes the survey's curve for C-D (either way round), else the straight line between
/// the points. Net line, per edge: `wall` moves in by the clearance; `finished` stays; `raw` is the face cut
/// line itself, so the net line lies where that finish puts it (bound: out by g, turned: in by h, sealed: the
/// same). A joint line that ends short of the boat line is prolonged straight to it; its ends become corners. A plain mat has its lower left corner at the origin and corners A B C D from there,
/// counter-clockwise.
///
/// Requires: edges.size() == corners.size(), edges[i] from corners[i] to the next (mats: both empty).
/// Guarantees: (1) all findings collected, in the order of the panels; (2) a panel that cannot be made is
/// left out with a stop that says why; an opening or corner that cannot be made is left out of its panel (a
/// corner stays square) with a stop; (3) every net line is simple, counter-clockwise, holes inside it,
/// clockwise and apart; (4) no corner is rounded unless its radius was asked for. `lengths`: how findings say
/// a length.
Result<std::vector<Panel>> shape(const std::vector<PanelInput>& panels,
                                 const std::map<std::string, Survey>& surveys, const FinishSettings& finish,
                                 const RunContext& run, const LengthStyle& lengths = {});

}  // namespace spile
