// Adjusting a space of 60 and 600 ties, with slips looked for and advice given; 2,000 shows how the cost grows.
#include <benchmark/benchmark.h>

#include <cmath>

#include "tests/measure/oval.h"

namespace spile {
namespace {

using simulated::Net;
using simulated::oval_space;

void measure_net(benchmark::State& state, Net net) {
    const SpaceInput space = oval_space(static_cast<int>(state.range(0)), net);
    double factor = HUGE_VAL;
    for (auto _ : state) {
        const Result<Survey> survey = measure(space, RunContext{});
        if (survey && survey->fixed) factor = survey->variance_factor;
    }
    // The readings are sound: a larger one means that another shape was found.
    if (!(factor < 2)) state.SkipWithError("the shape was not found");
    state.SetComplexityN(state.range(0));
}
void Measure(benchmark::State& state) {
    measure_net(state, Net::by_corners);
}
void MeasureWithoutTriangles(benchmark::State& state) {
    measure_net(state, Net::without_triangles);
}
BENCHMARK(Measure)->Arg(60)->Arg(600)->Arg(2001)->Unit(benchmark::kMillisecond)->Complexity();
BENCHMARK(MeasureWithoutTriangles)->Arg(60)->Arg(300)->Arg(600)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace spile
