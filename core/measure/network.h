// A space as a network: points by number and every size as one observation. Internal to measuring.
#pragma once

#include <map>
#include <string>
#include <utility>
#include <vector>

#include "core/measure/survey.h"

namespace spile::survey {

enum class Kind {
    distance,  ///< p to q
    along,     ///< of p from a towards b
    across,    ///< of p from the line a-b, positive to the left of a->b
    over,      ///< of p along the first of two square lines
    up,        ///< of p along the second
    square,    ///< at p between the arms to a and b; misfit and doubt in mm on an arm of a metre
    equal,     ///< p is as far from a as from b
};

struct Observation {
    Kind kind = Kind::distance;
    int p = -1, a = -1, b = -1;  ///< distance: p and a
    double value_mm = 0;
    double sd_mm = 1;
    int reading = -1;         ///< index into SpaceInput::readings
    const char* part = "";    ///< as in TieReport
    double to_centre_mm = 0;  ///< what a tape to the near or far side lacks to the centre; within value_mm
    bool turned = false;      ///< a distance written from a to p
    int written = 0;          ///< place among all observations as they were written

    bool oriented() const { return kind == Kind::across && value_mm != 0; }  ///< tells left from right
    bool framed() const { return kind == Kind::over || kind == Kind::up; }
    int point_count() const { return framed() ? 1 : kind == Kind::distance ? 2 : 3; }
    int point(int i) const { return i == 0 ? p : i == 1 ? a : b; }
    int from() const { return turned ? a : p; }  ///< of a distance, as written
    int to() const { return turned ? p : a; }
};

struct Network {
    std::vector<std::string> names;  ///< in order of first mention, until in_own_order()
    std::vector<Observation> observations;
    std::vector<std::vector<int>> of_point;  ///< observations that touch a point
    std::vector<int> walk;
    int bow_from = -1, bow_to = -1;
    bool has_frame = false;      ///< there are over/up lines
    bool oriented = false;       ///< something tells left from right without the walk
    std::vector<bool> on_curve;  ///< lies on a curved edge: may stand outside the straight walk

    int points() const { return static_cast<int>(names.size()); }
    bool in_walk(int p) const;
};

/// Where the two square lines lie: place of their corner and turn of the over line.
struct Pose {
    Vec2 corner;
    double turn_rad = 0;
};

/// Computed less observed, mm. Requires: its points are placed.
double misfit_mm(const Observation& o, const std::vector<Vec2>& at, const Pose& pose);

/// Reads a space into a network. Lines that cannot be used are left out, each with a finding; faults of single readings,
/// walk and bow are found here.
Network read_network(const SpaceInput& space, std::vector<Finding>& findings);

/// Faults between readings: repeated ties that contradict, triangles that cannot close, sizes unlike the others.
void check_readings(const SpaceInput& space, const Network& network, std::vector<Finding>& findings);

}  // namespace spile::survey
