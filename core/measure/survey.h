// The result header of measuring: what later rooms may know.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "core/base/finding.h"
#include "core/base/result.h"
#include "core/base/run_context.h"
#include "core/geom/outline.h"
#include "core/measure/reading.h"

namespace spile {

enum class TapeClass { I, II, III };

/// How far a reading may be off. Every doubt is a setting of the space with its source beside it.
struct TapeSettings {
    TapeClass tape_class = TapeClass::II;  ///< of Directive 2014/32/EU Annex X (MI-008)
    bool hook = false;                     ///< one end is a hook or a surface: adds c of the directive
    double reads_to_mm = 25.4 / 16;        ///< step to which it was read
    double ends_sd_mm = 0.7;               ///< placing of both ends (from memory)
    double square_sd_rad = 0.0087;  ///< right angle of an offset or a square: half a degree (common practice)
    /// Right angle by 3-4-5: 1/16 in on the 5 ft side of a 3-4-5 in feet (closed form: 1/16 * 60 / (36 * 48) in).
    double triangle_sd_rad = 0.0022;
    double line_sd_mm = 1.0;  ///< how far a point said to lie on a line may stand off it (common practice)
    double case_mm =
        76.2;  ///< the tape's case, added to an inside reading; 0: not asked (3 in, common practice)
};

/// A line of the ready-to-leave list that is answered rather than done.
struct LeavingAnswer {
    std::string line;     ///< as the list calls it: "studs", "check D"
    std::string because;  ///< "not aboard", or why it is left open
};

/// One space as taped: a cockpit, a cabin sole, a pattern on the bench.
struct SpaceInput {
    std::string id;
    TapeSettings tape;
    Unit unit = Unit::inch;
    std::vector<std::string>
        walk;  ///< corners met walking round with the floor on the left hand; settles the mirror question
    std::vector<std::string> bow;  ///< two points: the direction to the bow is from the first to the second
    std::vector<Reading> readings;
    std::vector<LeavingAnswer> leaving;
};

struct SurveyPoint {
    Vec2 boat_mm;  ///< datum: first point of `bow` at the origin, bow along +x, y to port, seen from above
    Cov2 cov_mm2;  ///< a priori
};

/// How a reading sits with the others. A line that holds two sizes gives two reports, told apart by `part`.
struct TieReport {
    std::string id, line;
    std::string
        part;  ///< "" for a tie; "at", "off", "over", "up" for the part of its line; "line": lies on the line
    std::vector<std::string> points;  ///< from, to for a tie
    double reads_mm = 0;
    double sd_mm = 0;        ///< a priori
    double residual_mm = 0;  ///< reads less adjusted: positive reads long
    double redundancy = 0;   ///< 0: nothing checks it, 1: fully checked
    double w = 0;            ///< residual over its own standard deviation; 0 where nothing checks it
    std::optional<double>
        smallest_slip_mm;        ///< the slip it would show four times in five; empty: nothing checks it
    double unseen_moves_mm = 0;  ///< how far a slip just too small to show moves the worst point
    std::string unseen_point;    ///< that point
};

/// A confidence ellipse about a point.
struct Ellipse {
    double long_mm = 0, short_mm = 0;  ///< half axes
    double turn_rad = 0;               ///< of the long axis from +x, counter-clockwise
};
/// The ellipse that holds the truth 95 times in 100, from an a-priori covariance: half axes are standard deviations times
/// sqrt(5.9915), the chi-square quantile of two degrees of freedom (closed form -2 ln .05).
Ellipse ellipse_95(const Cov2& cov_mm2);

/// A tie or part of a line named by its points.
struct TieName {
    std::string id, line, from, to;
};

/// A reading that does not agree with the others. Likeliest first in Survey::suspects.
struct Suspect {
    std::string id, line, part, from, to;
    double slip_mm = 0;    ///< positive reads long
    double sd_mm = 0;      ///< of the slip, a priori
    std::string guess;     ///< the likeliest cause in words; empty when none fits
    std::string proposed;  ///< the reading as it would then be, written as a line; empty without a guess
    std::vector<TieName> alike;  ///< cannot be told from it: one of these or the suspect itself is wrong
};

/// Covariance between the places of two neighbours (of the walk, or of one tie), for the doubt along an edge.
struct PairDoubt {
    std::string from, to;
    double from_x_to_x = 0, from_x_to_y = 0, from_y_to_x = 0, from_y_to_y = 0;  ///< mm2, a priori
};

/// A measured point of a fair curve against the others of it.
struct CurvePoint {
    std::string name;
    double off_mm = 0;  ///< how far it stands off the fair line through the other points
    double doubt_mm =
        0;  ///< standard deviation of that, a priori, from the doubts of its own place and those beside it
    bool bends_back = false;  ///< the curve bends the other way here than at the point before
};

/// An edge of the space that was measured as a curve. Key of `curves`: {from, to} as typed.
struct SurveyCurve {
    std::string from, to;
    std::vector<Edge> edges;  ///< boat space, from `from` to `to`; arcs
    std::vector<CurvePoint> points =
        {};                ///< of a fair curve, between its ends; it passes through each of them
    double within_mm = 0;  ///< no place of the fair curve lies farther from its arcs
};

/// A round thing: a post, a pedestal, a drain.
struct RoundThing {
    std::string centre;
    double diameter_mm = 0;
};

/// A corner whose straight sides meet in `at` but that is rounded.
struct RoundedCorner {
    std::string at;
    double radius_mm = 0;
};

inline constexpr std::size_t kMostDense = 150;

struct Survey {
    std::string space;
    bool fixed = false;  ///< the shape cannot move: `points` is complete
    std::map<std::string, SurveyPoint> points;
    std::vector<TieReport> ties;
    std::vector<SurveyCurve> curves;
    double variance_factor = 1;  ///< estimated over a priori
    int spare = 0;               ///< redundancy: readings beyond what fixes the shape
    std::string verdict;         ///< one plain sentence: does it close, is it fixed, what is wrong
    std::vector<Suspect> suspects;
    std::vector<std::string> advice;  ///< the next best ties, best first, one sentence each
    std::vector<std::string>
        missing;  ///< what still keeps a person from leaving the boat, one sentence each, begun by
                  ///< the name of its line: "studs: ..."
    std::vector<PairDoubt> pairs;
    std::vector<RoundThing> round_things;  ///< whose diameter was taped or follows from its rim
    std::vector<RoundedCorner> rounded_corners;
    std::map<std::string, double> heights_mm;  ///< above the sole, by point
    /// Covariances of all coordinates, a priori, mm2: rows and columns x, y of the points in the order of `points`, row by
    /// row. Empty for more than kMostDense points.
    std::vector<double> covariance_mm2;
    std::map<std::string, Vec2>
        loose;  ///< roughly where points that can still swing may lie; for a drawing only
};

/// Adjusts all readings of a space together by least squares.
/// Guarantees: (1) all findings collected; (2) `value` present when at least one point could be placed;
/// `fixed` false when a point can still swing, with a stop that names it and the tie that would pin it; (3)
/// the same numbers to the last bit for readings in any order, tied from either end, under any names.
Result<Survey> measure(const SpaceInput& space, const RunContext& run);

}  // namespace spile
