// A large oval tied in two ways. Shared by the tests and by the benchmark.
#pragma once

#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "core/measure/survey.h"

namespace spile::simulated {

/// How the points of an oval are tied. by_corners: each to the next and to two of eight reference corners, as a large space
/// is taped. without_triangles: each to three others ahead of it, so that no three points are tied to one another.
enum class Net { by_corners, without_triangles };

/// An oval 6 x 4 m with three ties a point; readings to the sixteenth, off by 1 mm or so.
inline SpaceInput oval_space(int ties, Net net) {
    constexpr double kPi = 3.14159265358979323846;
    const int points = ties / 3;
    SpaceInput space;
    space.id = "oval";
    std::vector<Vec2> at;
    for (int i = 0; i < points; ++i) {
        const double angle = 2 * kPi * i / points;
        at.push_back({3000 * std::cos(angle), 2000 * std::sin(angle)});
        space.walk.push_back("P" + std::to_string(i));
    }
    space.bow = {space.walk[static_cast<std::size_t>(points / 2)], space.walk[0]};
    std::mt19937 random(1);
    for (int i = 0; i < points; ++i) {
        const auto corner = [&](int k) { return (8 * i / points + k) % 8 * points / 8; };
        const int next = (i + 1) % points;
        const int others[2][3] = {{next, corner(2), corner(4)},
                                  {next, (i + points / 3) % points, (i + points / 2 - 1) % points}};
        for (const int j : others[net == Net::by_corners ? 0 : 1]) {
            const Vec2 a = at[static_cast<std::size_t>(i)], b = at[static_cast<std::size_t>(j)];
            const double off = static_cast<double>(random() % 2001) / 1000 - 1;
            LengthStyle style;
            style.with_unit = true;
            const std::string line = space.walk[static_cast<std::size_t>(i)] + " " +
                                     space.walk[static_cast<std::size_t>(j)] + " " +
                                     plain_length(std::hypot(a.x - b.x, a.y - b.y) + off, style);
            Reading reading = *parse_reading_line(line, Unit::inch);
            reading.id = "t" + std::to_string(space.readings.size() + 1);
            space.readings.push_back(std::move(reading));
        }
    }
    return space;
}

}  // namespace spile::simulated
