// Jobs to call off at any moment, and how long the answer takes: in processor time, since the machine may be shared.
#pragma once

#include <atomic>
#include <chrono>
#include <ctime>
#include <thread>

#include "core/layout/solve/solve.h"
#include "tests/layout/pieces.h"

namespace spile {

inline double processor_seconds() {
    return static_cast<double>(std::clock()) / CLOCKS_PER_SEC;
}

/// Processor time from a cancel, set after `after_s` of it, to the answer; 0 when the solver was done before,
/// -1 when it neither laid out nor said that it was called off.
inline double answered_after(const std::vector<LayoutPiece>& pieces, const Goods& goods, double after_s) {
    std::atomic<bool> cancel{false}, done{false};
    std::atomic<double> cancelled_at{0};
    const double began = processor_seconds();
    std::thread other([&] {
        while (!done && processor_seconds() < began + after_s)
            std::this_thread::sleep_for(std::chrono::milliseconds(1));
        cancelled_at = processor_seconds();
        cancel = true;
    });
    RunContext run;
    run.cancel = &cancel;
    SolveOptions options;
    options.rounds = 1'000'000;
    const auto result = solve_layout(pieces, goods, options, run);
    const bool early = !cancel;
    const double ended = processor_seconds();
    done = true;
    other.join();
    if (!result && result.findings.back().code != "layout-cancelled") return -1;
    return early ? 0 : ended - cancelled_at;
}

struct CalledOff {
    const char* name;
    std::vector<LayoutPiece> pieces;
    Goods goods;
};

/// Jobs in which the solver is at everything it does in turn: preparing, first layout, search, proof, patterns, fillers.
inline std::vector<CalledOff> called_off() {
    std::vector<CalledOff> out;
    out.push_back({"1000 panels", panels(1000, 7), goods_cut_anywhere(1800, 6.35)});
    out.push_back({"1000 panels turned", panels(1000, 7), goods_cut_anywhere(1800, 6.35, Turning::quarter)});
    out.push_back({"290 panels searched", panels(290, 7), goods_cut_anywhere(1800, 6.35)});
    out.push_back({"75 panels turned", panels(75, 7), goods_cut_anywhere(1800, 6.35, Turning::quarter)});
    out.push_back({"6 panels proved", panels(6, 7), goods_cut_anywhere(1300, 6.35, Turning::quarter)});
    CalledOff pattern{"300 panels in pattern", panels(300, 7), goods_cut_anywhere(1800, 6.35)};
    for (LayoutPiece& piece : pattern.pieces) piece.cloth = "cockpit";
    pattern.goods.repeat = {100, 50, 50};
    out.push_back(std::move(pattern));
    CalledOff fillers{"200 fillers", panels(250, 7), goods_cut_anywhere(1800, 6.35)};
    fillers.goods.step_mm = 1e6;  // no search
    fillers.goods.fillers.push_back({"coaster", 0, 0, 90, 200, true});
    out.push_back(std::move(fillers));
    CalledOff alike{"1000 alike", {}, goods_cut_anywhere(1800, 6.35)};
    for (int i = 0; i < 1000; ++i) {
        alike.pieces.push_back(panels(5, 7)[static_cast<std::size_t>(i % 5)]);
        alike.pieces.back().id = std::to_string(i);
    }
    out.push_back(std::move(alike));
    return out;
}

/// Processor seconds after which each is called off.
inline constexpr double kCalledOffAfter_s[] = {0.03, 0.25, 0.9};

}  // namespace spile
