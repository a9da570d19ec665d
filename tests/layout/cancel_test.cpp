// The solver hears a cancel and keeps to the seconds it was given, whatever it is at. How soon is a figure of the benchmarks
// (`spile-bench --benchmark_filter=CalledOff`): here only that nothing is deaf, with ten times the bar on any machine.
#include <gtest/gtest.h>

#include "tests/layout/called_off.h"

namespace spile {
namespace {

#ifdef __SANITIZE_ADDRESS__
constexpr double kDeaf_s = 10;
#else
constexpr double kDeaf_s = 1;
#endif

TEST(Cancel, IsHeardAtAnyTime) {
    for (const CalledOff& c : called_off())
        for (const double after_s : kCalledOffAfter_s) {
            const double answered_s = answered_after(c.pieces, c.goods, after_s);
            EXPECT_GE(answered_s, 0) << c.name << ": no layout and no word of the cancel";
            EXPECT_LT(answered_s, kDeaf_s) << c.name << ", called off after " << after_s << " s";
        }
}

// A second is a second, though what could be tried would take far more.
TEST(Seconds, AreKeptToInTheFirstLayoutAndTheProof) {
    for (const int n : {6, 40, 1000}) {
        SolveOptions options;
        options.seconds = 1;
        const double before = processor_seconds();
        const auto result =
            solve_layout(panels(n, 7), goods_cut_anywhere(1800, 6.35, Turning::half), options, RunContext{});
        ASSERT_TRUE(result);
        EXPECT_EQ(result->placements.size(), static_cast<std::size_t>(n));
        const double first_layout_s = n < 1000 ? 1 : 10 * kDeaf_s;  // one is made, however long it takes
        EXPECT_LT(processor_seconds() - before, options.seconds + first_layout_s + kDeaf_s) << n;
    }
}

}  // namespace
}  // namespace spile
