// A cancel is answered at once, whatever the solver is at: in processor time, since the machine may be shared.
#include <gtest/gtest.h>

#include <atomic>
#include <chrono>
#include <ctime>
#include <thread>

#include "core/layout/solve/solve.h"
#include "tests/layout/pieces.h"

namespace spile {
namespace {

double processor_seconds() {
    return static_cast<double>(std::clock()) / CLOCKS_PER_SEC;
}

/// Processor time from a cancel, set after `after_s` of it, to the answer; 0 when the solver was done before.
double answered_after(const std::vector<LayoutPiece>& pieces, const Goods& goods, double after_s) {
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
    EXPECT_TRUE(result || result.findings.back().code == "layout-cancelled");
    return early ? 0 : ended - cancelled_at;
}

struct Case {
    const char* name;
    std::vector<LayoutPiece> pieces;
    Goods goods;
};

std::vector<Case> cases() {
    std::vector<Case> out;
    out.push_back({"1000 panels", panels(1000, 7), goods_cut_anywhere(1800, 6.35)});
    out.push_back({"1000 panels turned", panels(1000, 7), goods_cut_anywhere(1800, 6.35, Turning::quarter)});
    out.push_back({"290 panels searched", panels(290, 7), goods_cut_anywhere(1800, 6.35)});
    out.push_back({"75 panels turned", panels(75, 7), goods_cut_anywhere(1800, 6.35, Turning::quarter)});
    out.push_back({"6 panels proved", panels(6, 7), goods_cut_anywhere(1300, 6.35, Turning::quarter)});
    Case pattern{"300 panels in pattern", panels(300, 7), goods_cut_anywhere(1800, 6.35)};
    for (LayoutPiece& piece : pattern.pieces) piece.cloth = "cockpit";
    pattern.goods.repeat = {100, 50, 50};
    out.push_back(std::move(pattern));
    Case fillers{"200 fillers", panels(250, 7), goods_cut_anywhere(1800, 6.35)};
    fillers.goods.step_mm = 1e6;  // no search
    fillers.goods.fillers.push_back({"coaster", 0, 0, 90, 200, true});
    out.push_back(std::move(fillers));
    Case alike{"1000 alike", {}, goods_cut_anywhere(1800, 6.35)};
    for (int i = 0; i < 1000; ++i) {
        alike.pieces.push_back(panels(5, 7)[static_cast<std::size_t>(i % 5)]);
        alike.pieces.back().id = std::to_string(i);
    }
    out.push_back(std::move(alike));
    return out;
}

TEST(Cancel, IsAnsweredWithinATenthOfASecondAtAnyTime) {
#ifdef __SANITIZE_ADDRESS__
    constexpr double kSlower = 5;
#else
    constexpr double kSlower = 1;
#endif
    for (const Case& c : cases())
        for (const double after_s : {0.03, 0.25, 0.9})
            EXPECT_LT(answered_after(c.pieces, c.goods, after_s), 0.1 * kSlower)
                << c.name << ", called off after " << after_s << " s";
}

// A second is a second, though a thousand different panels take more for all that is tried.
TEST(Seconds, AreKeptToInTheFirstLayoutAndTheProof) {
    for (const int n : {6, 40, 1000}) {
        SolveOptions options;
        options.seconds = 1;
        const double spent = processor_seconds();
        const auto result =
            solve_layout(panels(n, 7), goods_cut_anywhere(1800, 6.35, Turning::half), options, RunContext{});
        ASSERT_TRUE(result);
        EXPECT_EQ(result->placements.size(), static_cast<std::size_t>(n));
        EXPECT_LT(processor_seconds() - spent, n < 1000 ? 1.2 : 4) << n;
    }
}

}  // namespace
}  // namespace spile
