// spile-bench: the kernels against the clock, single runs on published data, long trials by name. Nothing here passes or
// fails.
#include <benchmark/benchmark.h>

#include <cstdio>

#include "bench/commands.h"

namespace {

const spile::BenchCommand kCommands[] = {
    {"layout",
     "INSTANCE.json [--seconds N | --rounds N] [--threads T] [--seed S] [--locked] [--clock wall|cpu] "
     "[--out RESULT.json]",
     spile::layout_command},
    {"layout-against", "INSTANCE.json... [--seconds N] [--locked]", spile::layout_against_command},
    {"paper", "[--job JOB] [--pieces N] [--runs N]", spile::paper_command},
    {"serve", "[--clients N] [--seconds N] [--every SECONDS] [--jobs N] [--job JOB]", spile::serve_command},
    {"shop", "[--jobs N] [--offcuts N] [--runs N]", spile::shop_command},
    {"constructions", "FOLDER", spile::constructions_command},
    {"measure", "[--runs N] [--seed S] [--only BAR]", spile::measure_command},
};

}  // namespace

int main(int argc, char** argv) {
    for (const spile::BenchCommand& command : kCommands) {
        if (argc < 2 || std::string(argv[1]) != command.name) continue;
        const int code = command.run(std::vector<std::string>(argv + 2, argv + argc));
        if (code == 2) std::fprintf(stderr, "usage: spile-bench %s %s\n", command.name, command.usage);
        return code;
    }
    benchmark::Initialize(&argc, argv);
    if (benchmark::ReportUnrecognizedArguments(argc, argv)) return 2;
    benchmark::RunSpecifiedBenchmarks();
    benchmark::Shutdown();
    return 0;
}
