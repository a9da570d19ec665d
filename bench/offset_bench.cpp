// Offset of an outline of 200 edges, lines and arcs, inwards and outwards.
#include <benchmark/benchmark.h>

#include <cmath>

#include "core/geom/offset.h"

namespace spile {
namespace {

/// A wavy oval 3.0 x 2.0 m; every third edge is an arc.
Outline wavy_oval(int edges) {
    constexpr double kPi = 3.14159265358979323846;
    Outline outline;
    for (int i = 0; i < edges; ++i) {
        const double angle = 2 * kPi * i / edges;
        const double wave = 1 + 0.04 * std::sin(9 * angle);
        outline.vertices.push_back(
            {{1500 * wave * std::cos(angle), 1000 * wave * std::sin(angle)}, i % 3 == 0 ? 0.05 : 0.0, i});
    }
    return outline;
}

void Offset(benchmark::State& state, Join join, double distance_mm) {
    const Outline outline = wavy_oval(static_cast<int>(state.range(0)));
    OffsetOptions options;
    options.join = join;
    for (auto _ : state) benchmark::DoNotOptimize(offset(outline, distance_mm, options));
    state.SetComplexityN(state.range(0));
}
BENCHMARK_CAPTURE(Offset, mitre_inwards, Join::mitre, -5.0)->Arg(50)->Arg(200)->Arg(800)->Complexity();
BENCHMARK_CAPTURE(Offset, mitre_outwards, Join::mitre, 25.4)->Arg(200);
BENCHMARK_CAPTURE(Offset, round_outwards, Join::round, 25.4)->Arg(200);

void OffsetEach(benchmark::State& state) {
    const Outline outline = wavy_oval(static_cast<int>(state.range(0)));
    std::vector<double> distances;
    for (std::size_t i = 0; i < outline.size(); ++i) distances.push_back(i / 20 % 2 == 0 ? -5.0 : -8.0);
    for (auto _ : state) benchmark::DoNotOptimize(offset_each(outline, distances));
}
BENCHMARK(OffsetEach)->Arg(200);

}  // namespace
}  // namespace spile
