// Panels wider than the goods: where joints would divide them. Proposed, never done unasked.
#pragma once

#include <string>
#include <vector>

#include "core/geom/vec2.h"
#include "core/job/edit.h"
#include "core/job/run_job.h"

namespace spile {

/// A joint as a person would enter it.
struct ProposedJoint {
    std::string id;
    std::vector<std::string>
        readings;  ///< one or two, that place its new points: "J1 on A B at 4 off 36 left"
    std::vector<std::string> through;  ///< two points, toward the bow
    Vec2 from_mm, to_mm;               ///< its ends on the panel, aft and fore; boat space
    double length_mm = 0;              ///< within the panel
};

/// One way to divide a panel.
struct WayToDivide {
    std::vector<std::string>
        strips;  ///< ids of panels, from starboard to port; the first keeps the panel's own
    std::vector<double> widths_mm;      ///< of them as they are cut, across the direction
    std::vector<ProposedJoint> joints;  ///< between them
    std::vector<Edit> edits;            ///< on settled_form of what was said: they divide it so
};

/// How one panel would be divided; or why not.
struct Division {
    std::string panel, space;
    std::vector<WayToDivide> ways;  ///< at most kMostWays, the best first; none: see `why_not`
    std::string why_not;            ///< "it is a plain mat, which has no joint lines"
    std::string to_do;              ///< then: "Make mats of two sizes of it, or take wider goods."
};

/// What is least seen, the program does not know: a person chooses among so many.
inline constexpr std::size_t kMostWays = 3;

/// Whether the goods are too narrow for that piece in every turn they allow, as the findings have it.
bool is_too_wide(const std::vector<Finding>& findings, const std::string& panel);

/// Joint lines along the direction that leave as few strips of the panel as will do. They lie where they are shortest,
/// clear of openings, studs and what is put on the panel, on whole eighths of an inch (5 mm) from the bow line, or end in an
/// inside corner; strips carry the pattern where the goods' is carried. The other ways have as many strips, and their
/// joints lie elsewhere: kElsewhere_mm from those of the ways before, again where they are shortest.
/// Guarantees: each way was made and held against the goods: every strip fits, and no stop is new.
/// Requires: a panel of the job.
Division propose_division(const Job& job, const Derived& derived, const std::string& panel,
                          const RunContext& run);

inline constexpr double kElsewhere_mm = 254;  ///< nearer to it a joint is seen as much (10 in; our choice)

struct Divisions {
    std::vector<Division> each;  ///< in the order of the panels, each on what those before it left
    std::vector<Edit> edits;     ///< on settled_form of what was said: they make all that can be made

    bool any() const { return !edits.empty(); }
};

/// For every panel that is_too_wide. The edits divide each in its way `way` (0: the best), or in its last when it has fewer.
Divisions propose_divisions(const Job& job, const Derived& derived, const RunContext& run,
                            std::size_t way = 0);

/// In words: "Divide panel 1 into 2 strips, from starboard to port 1 and 1b: joint 1-1b through J1 and J2, 60 in long (...).".
std::string way_words(const std::string& panel, const WayToDivide& way, const LengthStyle& lengths);
/// "No joint is proposed: it is a plain mat, which has no joint lines. Make mats ....".
std::string why_not_words(const Division& division);

/// Lets the stops "layout-too-wide" say what is proposed first.
void say_where_to_divide(const Divisions& divisions, const LengthStyle& lengths, Derived& derived);

}  // namespace spile
