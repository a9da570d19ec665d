// Laying out 12 and 100 pieces: the first layout alone, and with a few rounds of searching.
#include <benchmark/benchmark.h>

#include <random>

#include "core/layout/solve/solve.h"

namespace spile {
namespace {

/// Panels as a cockpit gives them: four to seven corners, one side a curve, 400 to 1500 mm long.
std::vector<LayoutPiece> panels(int count) {
    std::mt19937 random(1);
    const auto between = [&](double low, double high) {
        return low + (high - low) * static_cast<double>(random() % 100001) / 100000;
    };
    std::vector<LayoutPiece> pieces;
    for (int i = 0; i < count; ++i) {
        const double length = between(400, 1500), width = between(300, 900);
        Outline outline;
        outline.vertices = {{{0, 0}, 0, 0},
                            {{length * between(0.6, 1), 0}, 0, 1},
                            {{length, width * between(0.2, 0.5)}, between(0.02, 0.15), 2},
                            {{length * between(0.7, 0.95), width}, 0, 3},
                            {{length * between(0.1, 0.4), width * between(0.8, 1)}, 0, 4},
                            {{0, width * between(0.3, 0.7)}, 0, 5}};
        pieces.push_back({std::to_string(i + 1), {outline, {}}});
    }
    return pieces;
}

void Layout(benchmark::State& state) {
    const std::vector<LayoutPiece> pieces = panels(static_cast<int>(state.range(0)));
    SolveOptions options;
    options.rounds = static_cast<int>(state.range(1));
    double used_mm = 0;
    for (auto _ : state) {
        const Result<spile::Layout> layout = solve_layout(pieces, Goods{}, options, RunContext{});
        if (!layout) {
            state.SkipWithError("no layout");
            break;
        }
        used_mm = layout->used_mm;
    }
    state.counters["used_mm"] = used_mm;
}
BENCHMARK(Layout)
    ->ArgNames({"pieces", "rounds"})
    ->Args({12, 0})
    ->Args({12, 40})
    ->Args({100, 0})
    ->Args({100, 10})
    ->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace spile
