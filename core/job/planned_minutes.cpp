#include "core/job/planned_minutes.h"

#include <algorithm>

namespace spile {
namespace {

struct Part {
    const char* code;  ///< of the operation
    WorkStep step;
    double share;  ///< of its minutes
};

/// What is done to every piece is timed as one and done in five steps; how it falls apart is a guess of ours.
constexpr Part parts[] = {
    {"piece", WorkStep::goods, 0.05},
    {"piece", WorkStep::mark, 0.4},
    {"piece", WorkStep::cut, 0.3},
    {"piece", WorkStep::measure, 0.1},
    {"piece", WorkStep::pack, 0.15},
    {"dry-fit", WorkStep::dry_fit, 1},
    {"hole-turned", WorkStep::holes, 1},
    {"hole-bound", WorkStep::holes, 1},
    {"slit", WorkStep::holes, 1},
    {"turn", WorkStep::turn, 1},
    {"corner-turned", WorkStep::turn, 1},
    {"relief", WorkStep::turn, 1},
    {"bind", WorkStep::bind, 1},
    {"corner-bound", WorkStep::bind, 1},
    {"seal", WorkStep::seal, 1},
    {"applied-sewn", WorkStep::apply, 1},
    {"applied-stuck", WorkStep::apply, 1},
    {"snap-set", WorkStep::studs, 1},
    {"fit", WorkStep::fit, 1},
};

}  // namespace

std::array<StepMinutes, work_steps> planned_minutes(const Job& job, const Derived& derived,
                                                    const WorkTimes& times) {
    std::array<StepMinutes, work_steps> planned{};
    // The work is known before there is a layout.
    const Takeoff takeoff = derived.takeoff ? *derived.takeoff
                                            : take_off(derived.pieces, job.goods, {}, job.takeoff,
                                                       lengths_of(job), derived.applied);
    const bool edges_turned = std::any_of(takeoff.work.begin(), takeoff.work.end(),
                                          [](const QuantityLine& line) { return line.code == "turn"; });
    const auto count_in = [&](const std::string& code, double amount) {
        const auto time = times.find(code);
        if (time == times.end()) return;
        for (const Part& part : parts) {
            if (code != part.code) continue;
            // Where no edge is turned the relief cuts are those of openings.
            const bool of_holes = part.step == WorkStep::turn && !edges_turned;
            StepMinutes& step = planned[static_cast<std::size_t>(of_holes ? WorkStep::holes : part.step)];
            step.minutes += part.share * minutes_for(code, amount, time->second);
            step.guessed = step.guessed || time->second.jobs == 0;
        }
    };
    for (const QuantityLine& line : takeoff.work) {
        count_in(line.code, line.amount);
        if (line.code == "piece") count_in("fit", line.amount);
    }
    for (std::size_t k = 0; k < planned.size(); ++k)
        if (job.papers.minutes[k] >= 0) planned[k] = {job.papers.minutes[k], false};
    return planned;
}

}  // namespace spile
