// Laying out a shop's sets of 5, 12 and 40 panels, and 250 for fifty sister boats: the first layout alone, and with rounds of
// searching.
#include <benchmark/benchmark.h>

#include "core/layout/solve/solve.h"
#include "tests/layout/pieces.h"

namespace spile {
namespace {

/// Above 40 pieces: sister boats with five panels each.
std::vector<LayoutPiece> shop_set(int count) {
    std::vector<LayoutPiece> pieces = panels(count, 77);
    for (std::size_t i = 5; count > 40 && i < pieces.size(); ++i) pieces[i].outline = pieces[i % 5].outline;
    return pieces;
}

void Layout(benchmark::State& state) {
    const std::vector<LayoutPiece> pieces = shop_set(static_cast<int>(state.range(0)));
    Goods goods;
    goods.step_mm = 0;  // else the search ends where no less could be bought
    SolveOptions options;
    options.rounds = static_cast<int>(state.range(1));
    double used_mm = 0;
    for (auto _ : state) {
        const Result<spile::Layout> layout = solve_layout(pieces, goods, options, RunContext{});
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
    ->Args({5, 0})
    ->Args({5, 40})
    ->Args({12, 0})
    ->Args({12, 40})
    ->Args({40, 0})
    ->Args({40, 40})
    ->Args({250, 0})
    ->Args({250, 5})
    ->Unit(benchmark::kMillisecond);

/// Every piece of its own size: mats (rectangles), or panels with slanted and bowed sides.
void LayoutOfDifferent(benchmark::State& state) {
    const int count = static_cast<int>(state.range(0));
    lay::Random random(5);
    std::vector<LayoutPiece> pieces = panels(count, 77);
    for (std::size_t i = 0; state.range(1) == 0 && i < pieces.size(); ++i)
        pieces[i] = mat(std::to_string(i + 1), 100 + 500 * random.share(), 100 + 500 * random.share());
    Goods goods;
    goods.turning = state.range(2) == 0 ? Turning::one_way : Turning::quarter;
    SolveOptions options;
    options.rounds = 0;
    double used_mm = 0, share = 0;
    for (auto _ : state) {
        const Result<spile::Layout> layout = solve_layout(pieces, goods, options, RunContext{});
        if (!layout) {
            state.SkipWithError("no layout");
            break;
        }
        used_mm = layout->used_mm;
        share = layout->goods_share;
    }
    state.counters["used_mm"] = used_mm;
    state.counters["share"] = share;
}
BENCHMARK(LayoutOfDifferent)
    ->ArgNames({"pieces", "panels", "turns"})
    ->Args({300, 0, 0})
    ->Args({300, 1, 0})
    ->Args({1000, 0, 0})
    ->Args({1000, 0, 1})
    ->Args({1000, 1, 0})
    ->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace spile
