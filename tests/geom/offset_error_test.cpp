// The named bound of offsets, offset_error_mm, on shapes that are nearly degenerate: every size that can vanish (edges, turns,
// rises, the distance itself) is drawn log-uniformly.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "core/geom/intersect.h"
#include "core/geom/measure_of.h"
#include "core/geom/offset.h"
#include "tests/geom/shapes.h"

namespace spile {
namespace {

using test::Random;

constexpr std::uint64_t kSeed = 1125;

double largest_of(const Outline& outline) {
    const Box box = box_of(outline);
    return std::max({-box.min.x, -box.min.y, box.max.x, box.max.y, 0.0});
}

/// A star with near-degenerate places put in: corners cut by a hair, points added hardly off an edge, arcs with hardly a rise,
/// all of it perhaps far from the origin.
Outline nearly_degenerate(Random& random) {
    const double size = random.log_between(1, 3000);
    const Outline base = test::star(random, 3 + random.below(8), size);
    Outline out;
    for (std::size_t i = 0; i < base.size(); ++i) {
        const Edge e = base.edge(i);
        const double hair = size * random.log_between(1e-13, 0.1);
        const int what = static_cast<int>(random.below(5));
        out.vertices.push_back({e.a, e.bulge, e.tag});
        if (!e.straight()) continue;
        if (what == 0) {  // an arc with hardly a rise
            out.vertices.back().bulge = random.sign() * random.log_between(1e-18, 0.02);
        } else if (what == 1) {  // a point hardly off the edge
            const Vec2 along = unit(e.b - e.a);
            const double off = random.sign() * std::min(hair, 0.01 * distance(e.a, e.b));
            out.vertices.push_back(
                {lerp(e.a, e.b, random.between(0.3, 0.7)) + off * left_of(along), 0, e.tag});
        } else if (what == 2) {  // an edge of hardly any length
            out.vertices.push_back(
                {e.a + std::min(hair, 0.2 * distance(e.a, e.b)) * unit(e.b - e.a), 0, e.tag});
        }
    }
    if (random.chance(0.5)) {
        const Vec2 away{random.sign() * random.log_between(1, 30000),
                        random.sign() * random.log_between(1, 30000)};
        for (Vertex& v : out.vertices) v.p = v.p + away;
    }
    return out;
}

/// How far the worst place of `moved` is from where it must be, by a plain search over all edges, in units of the bound.
/// Round joins: at the distance; mitres: no nearer than it.
double worst_share(const Outline& outline, const std::vector<Outline>& moved, double d, bool round) {
    double worst = 0;
    for (const Outline& part : moved) {
        for (std::size_t k = 0; k < part.size(); ++k) {
            for (const double t : {0.0, 0.25, 0.5, 0.9}) {
                double least = 1e300;
                const Vec2 p = point_at(part.edge(k), t);
                for (std::size_t i = 0; i < outline.size(); ++i)
                    least = std::min(least, nearest_on(outline.edge(i), p).distance);
                const double off = std::fabs(d) - least;
                worst = std::max(worst, round ? std::fabs(off) : off);
            }
        }
    }
    return worst / offset_error_mm(largest_of(outline) + std::fabs(d));
}

TEST(OffsetError, HoldsOnNearlyDegenerateShapes) {
    Random random(kSeed);
    double worst_round = 0, worst_mitre = 0;
    int made = 0;
    for (int i = 0; i < 8000; ++i) {
        const Outline outline = nearly_degenerate(random);
        if (!faults_of(outline).empty()) continue;
        const Box box = box_of(outline);
        const double d = random.sign() * random.log_between(1e-9, 0.6) * std::max(box.width(), box.height());
        const double round = worst_share(outline, offset(outline, d, {Join::round}), d, true);
        const double mitre = worst_share(outline, offset(outline, d), d, false);
        worst_round = std::max(worst_round, round);
        worst_mitre = std::max(worst_mitre, mitre);
        EXPECT_LE(round, 1) << "seed " << kSeed << ", case " << i << ", distance " << d;
        EXPECT_LE(mitre, 1) << "seed " << kSeed << ", case " << i << ", distance " << d;
        ++made;
    }
    EXPECT_GT(made, 7000);
    // The bound is not so wide that it says nothing.
    EXPECT_GT(worst_round, 0.02);
    EXPECT_GT(worst_mitre, 0.02);
}

TEST(OffsetError, TheBoundIsEightTimesTheNoise) {
    // As the contract says: 8 x 64 ulp, where an ulp is 2^-52 of the coordinate.
    EXPECT_EQ(offset_error_mm(20000), 8 * 64 * 0x1p-52 * 20000);
    EXPECT_LT(offset_error_mm(20000), 3e-9);
}

TEST(OffsetError, AShiftOfAFewBoundsIsSeen) {
    Random random(kSeed);
    int seen = 0;
    for (int i = 0; i < 100; ++i) {
        const Outline outline = test::star(random, 6, 500);
        const double d = random.between(5, 60), more = 3 * offset_error_mm(600);
        seen += worst_share(outline, offset(outline, d + more, {Join::round}), d, true) > 1;
    }
    EXPECT_EQ(seen, 100);
}

}  // namespace
}  // namespace spile
