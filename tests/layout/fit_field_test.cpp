#include "core/layout/solve/fit_field.h"

#include <gtest/gtest.h>

#include "core/layout/solve/problem.h"
#include "tests/layout/polygons.h"

namespace spile::lay {
namespace {

/// Signed distance to an outline by looking at every edge; positive inside.
double plain_depth(const Polys& loops, IPoint p) {
    double least = 1e300;
    for (const Poly& loop : loops)
        for (std::size_t i = 0; i < loop.size(); ++i) {
            const IPoint a = loop[i], b = loop[(i + 1) % loop.size()];
            const double dx = double(b.x - a.x), dy = double(b.y - a.y), px = double(p.x - a.x),
                         py = double(p.y - a.y);
            const double t = std::clamp((dx * px + dy * py) / (dx * dx + dy * dy), 0.0, 1.0);
            least = std::min(least, std::hypot(px - t * dx, py - t * dy));
        }
    return strictly_inside(loops, p) ? least : -least;
}

TEST(FitField, DepthIsTheDistanceToTheOutline) {
    Random random(3);
    for (int k = 0; k < 20; ++k) {
        const Shape a = make_shape(star(random, 5 + k, 20000, 90000));
        const Shape b = make_shape(star(random, 4 + k % 7, 10000, 60000));
        const Polys loops = no_fit(a, b);
        const double cell = 7000;
        const FitField field(loops, cell);
        IBox box;
        for (const Poly& loop : loops)
            for (IPoint p : loop) box.add(p);
        for (int i = 0; i < 2000; ++i) {
            const IPoint p{
                box.min_x - 10000 + std::int64_t(random.below(std::uint64_t(box.width()) + 20000)),
                box.min_y - 10000 + std::int64_t(random.below(std::uint64_t(box.height()) + 20000))};
            const double truth = plain_depth(loops, p);
            const DPoint at{double(p.x), double(p.y)};
            const double depth = field.depth(at);
            if (truth <= cell) {
                EXPECT_NEAR(depth, std::max(0.0, truth), 1e-6);
            } else {
                // Deep inside only the nearest few edges are kept: never less than the distance, hardly more.
                EXPECT_GE(depth, truth - 1e-6);
                EXPECT_LE(depth, truth + cell);
            }
            FitField::Contact c;
            if (!field.contact(at, c)) {
                EXPECT_LE(truth, 1e-6);
                continue;
            }
            if (truth > cell) continue;
            EXPECT_NEAR(c.depth, truth, 1e-6);
            const IPoint q{std::llround(at.x + c.depth * c.nx), std::llround(at.y + c.depth * c.ny)};
            EXPECT_NEAR(plain_depth(loops, q), 0, 1.5);
        }
    }
}

TEST(FitField, RasterHoldsTheDepthOfItsNodes) {
    Random random(5);
    const Polys loops =
        no_fit(make_shape(star(random, 9, 20000, 90000)), make_shape(star(random, 7, 10000, 60000)));
    const double cell = 8000;
    const FitField field(loops, cell);
    const FitField::Raster r = field.raster();
    for (int j = 0; j < r.ny; ++j)
        for (int i = 0; i < r.nx; ++i) {
            const double truth =
                plain_depth(loops, {std::int64_t((r.x0 + i) * cell), std::int64_t((r.y0 + j) * cell)});
            EXPECT_NEAR(r.values[j * r.stride() + i], std::max(0.0, truth), 0.01);
        }
}

// Two pieces that fit exactly leave a corridor as narrow as the slack: its walls must be seen.
TEST(FitField, NarrowCorridorHasDepthZeroInIt) {
    const Polys u = shrunk({{0, 0},
                            {90000, 0},
                            {90000, 90000},
                            {60000, 90000},
                            {60000, 30000},
                            {30000, 30000},
                            {30000, 90000},
                            {0, 90000}},
                           2);
    const Polys block = shrunk({{0, 0}, {30000, 0}, {30000, 30000}, {0, 30000}}, 2);
    const FitField field(no_fit(make_shape(u[0]), make_shape(block[0])), 5000);
    EXPECT_EQ(field.depth({30000, 40000}), 0);
    EXPECT_EQ(field.depth({30000, 30000}), 0);
    EXPECT_NEAR(field.depth({30100, 40000}), 96, 1e-9);
    EXPECT_NEAR(field.depth({29000, 50000}), 996, 1e-9);
}

}  // namespace
}  // namespace spile::lay
