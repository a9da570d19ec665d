// How soon the solver answers a cancel, at several moments of what it does: 100 ms are wanted.
#include <benchmark/benchmark.h>

#include <algorithm>

#include "tests/layout/called_off.h"

namespace spile {
namespace {

/// Manual time: processor time from the cancel to the answer, the longest of the moments.
void CalledOffAnswer(benchmark::State& state) {
    const CalledOff job = called_off()[static_cast<std::size_t>(state.range(0))];
    state.SetLabel(job.name);
    for (auto _ : state) {
        double longest_s = 0;
        for (const double after_s : kCalledOffAfter_s)
            longest_s = std::max(longest_s, answered_after(job.pieces, job.goods, after_s));
        state.SetIterationTime(longest_s);
    }
}
BENCHMARK(CalledOffAnswer)->DenseRange(0, 7)->Iterations(3)->UseManualTime()->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace spile
