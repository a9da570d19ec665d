// Panels wider than the goods: where joints would divide them. Proposed, never done unasked.
#pragma once

#include <string>
#include <vector>

#include "core/job/edit.h"
#include "core/job/run_job.h"

namespace spile {

/// A joint as a person would enter it.
struct ProposedJoint {
    std::string id;
    std::vector<std::string>
        readings;  ///< one or two, that place its new points: "J1 on A B at 4 off 36 left"
    std::vector<std::string> through;  ///< two points, toward the bow
    double length_mm = 0;              ///< within the panel
};

/// How one panel would be divided; or why not.
struct Division {
    std::string panel, space;
    std::vector<std::string>
        strips;  ///< ids of panels, from starboard to port; the first keeps the panel's own
    std::vector<ProposedJoint> joints;  ///< between them; none: see `why_not`
    std::string why_not;                ///< "It is a plain mat, ..."
};

struct Divisions {
    std::vector<Division> each;  ///< in the order of the panels
    std::vector<Edit> edits;     ///< on settled_form of what was said: they make all that can be made
};

/// For every piece of a panel that is too wide for the goods in every turn they allow ("layout-too-wide" of the
/// solver): joint lines along the direction that leave as few strips as will do. They lie where they are shortest,
/// clear of openings, studs and what is put on the panel, on whole eighths of an inch (5 mm) from the bow line, or end in an
/// inside corner; strips carry the pattern where the goods' is carried.
/// Guarantees: what is proposed was made and held against the goods: every strip fits, and no stop is new.
Divisions propose_divisions(const Job& job, const Derived& derived, const RunContext& run);

/// In words: "Divide panel 1 into 2 strips, from starboard to port 1 and 1b: joint 1-1b through J1 and J2, 60 in long (...).".
std::string division_words(const Division& division, const LengthStyle& lengths);

/// Lets the stops "layout-too-wide" say what is proposed.
void say_where_to_divide(const Job& job, const RunContext& run, Derived& derived);

}  // namespace spile
