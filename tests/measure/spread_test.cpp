// Rough places of all points at once, and the large nets that need them.
#include "core/measure/spread.h"

#include <gtest/gtest.h>

#include "tests/measure/lines.h"
#include "tests/measure/oval.h"

namespace spile {
namespace {

using survey::Network;
using survey::Places;

Network network_of(const SpaceInput& space) {
    std::vector<Finding> findings;
    return survey::read_network(space, findings);
}

TEST(Spread, TrueDistancesGiveTheShapeBack) {
    // Classical scaling is exact where every distance is there: five points on whole millimetres, 3-4-5 triangles.
    SpaceInput space = space_of({}, {},
                                {"A B 400 mm", "A C 500 mm", "A D 300 mm", "B C 300 mm", "B D 500 mm",
                                 "C D 400 mm", "A E 250 mm", "B E 250 mm", "C E 250 mm", "D E 250 mm"});
    const Network net = network_of(space);
    const std::optional<Places> places = survey::spread(net);
    ASSERT_TRUE(places);
    for (const survey::Observation& o : net.observations)
        EXPECT_NEAR(distance(places->at[o.p], places->at[o.a]), o.value_mm, 1e-6);
}

TEST(Spread, NothingWherePointsDoNotHangTogether) {
    EXPECT_FALSE(survey::spread(
        network_of(space_of({}, {}, {"A B 400 mm", "B C 300 mm", "D E 400 mm", "E F 300 mm"}))));
    EXPECT_FALSE(survey::spread(network_of(space_of({}, {}, {"A B 400 mm"}))));
}

TEST(Spread, ALargeNetWithoutTriangles) {
    // Fixed in one shape only: the rank of its stress matrix is the largest there is, n - 3 (Connelly 2005, from memory),
    // as worked out densely once. Growing point by point loses its way in it.
    const Result<Survey> survey =
        measure(simulated::oval_space(600, simulated::Net::without_triangles), RunContext{});
    ASSERT_TRUE(survey);
    EXPECT_TRUE(survey->fixed);
    EXPECT_LT(survey->variance_factor, 2);  // the readings are sound: another shape would not close
    EXPECT_TRUE(survey->suspects.empty());
}

}  // namespace
}  // namespace spile
