// Adjusting a space of 60 and 600 ties, with slips looked for and advice given; 2,000 shows how the cost grows.
#include <benchmark/benchmark.h>

#include <cmath>
#include <random>

#include "core/measure/survey.h"

namespace spile {
namespace {

/// Corners of an oval 6 x 4 m, each tied to three others ahead of it; readings to the sixteenth, off by 1 mm or so.
SpaceInput oval_space(int ties) {
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
        for (const int ahead : {1, points / 3, points / 2 - 1}) {
            const int j = (i + ahead) % points;
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

void Measure(benchmark::State& state) {
    const SpaceInput space = oval_space(static_cast<int>(state.range(0)));
    bool fixed = false;
    for (auto _ : state) {
        const Result<Survey> survey = measure(space, RunContext{});
        fixed = survey && survey->fixed;
    }
    if (!fixed) state.SkipWithError("the shape was not fixed");
    state.SetComplexityN(state.range(0));
}
BENCHMARK(Measure)->Arg(60)->Arg(600)->Arg(2001)->Unit(benchmark::kMillisecond)->Complexity();

}  // namespace
}  // namespace spile
