// What spile-bench can do besides running its benchmarks: `spile-bench NAME ...`.
#pragma once

#include <string>
#include <vector>

namespace spile {

struct BenchCommand {
    const char* name;
    const char* usage;
    int (*run)(
        const std::vector<std::string>& arguments);  ///< without the name; gives the exit code, 2: usage
};

/// INSTANCE.json [--seconds N | --rounds N] [--threads T] [--seed S] [--locked] [--clock wall|cpu] [--out RESULT.json]
int layout_command(const std::vector<std::string>& arguments);

/// INSTANCE.json... [--seconds N] [--locked]: each laid out here and by libnest2d, side by side.
int layout_against_command(const std::vector<std::string>& arguments);

/// [--clients N] [--seconds N] [--every N] [--jobs N] [--job JOB]: times of edits and reads over real connections.
int serve_command(const std::vector<std::string>& arguments);

/// [--jobs N] [--offcuts N] [--runs N]: times of lists and searches of a book of that size.
int shop_command(const std::vector<std::string>& arguments);

/// The bars of measuring on invented spaces: slips seen and named, false alarms, ellipses, order of the readings.
int measure_command(const std::vector<std::string>& arguments);

/// [--job JOB] [--pieces N] [--runs N]: times of the papers of a job, each and together, and of the plot of N pieces.
int paper_command(const std::vector<std::string>& arguments);

/// FOLDER: one SVG of each construction of edging.
int constructions_command(const std::vector<std::string>& arguments);

}  // namespace spile
