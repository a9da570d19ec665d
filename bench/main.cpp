// spile-bench: the kernels against the clock. Nothing here passes or fails; --benchmark_filter=NAME runs some.
#include <benchmark/benchmark.h>

BENCHMARK_MAIN();
