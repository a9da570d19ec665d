// Round offsets of random shapes against three second opinions that share no code with them: a brute-force distance
// query, the buffer of GEOS and the offset of Clipper (both Debian packages).
#include <geos_c.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <polyclipping/clipper.hpp>

#include "core/geom/measure_of.h"
#include "core/geom/offset.h"
#include "tests/geom/shapes.h"

namespace spile {
namespace {

using test::Random;

constexpr std::uint64_t kSeed = 20261125;
constexpr Resolution kFine{0.002};

using Points = std::vector<Vec2>;

std::vector<Points> flattened(const std::vector<Outline>& outlines) {
    std::vector<Points> out;
    for (const Outline& o : outlines) out.push_back(flatten(o, kFine));
    return out;
}

double distance_to(const Points& polygon, Vec2 p) {
    double least = 1e300;
    for (std::size_t i = 0; i < polygon.size(); ++i) {
        const Vec2 a = polygon[i], d = polygon[(i + 1) % polygon.size()] - a;
        const double t = std::clamp(dot(p - a, d) / norm2(d), 0.0, 1.0);
        least = std::min(least, norm2(p - a - t * d));
    }
    return std::sqrt(least);
}

/// Points where an offset is not what a distance query says it must be. Within `band` of the limit nothing is asked.
int wrong_points(const Points& before, const std::vector<Points>& after, double d, double size,
                 Random& random) {
    const double band = 4 * kFine.mm;
    int wrong = 0;
    for (int k = 0; k < 60; ++k) {
        // Half of them near the line that is to come out, where a fault would show.
        Vec2 p{random.between(-1.4, 1.4) * size, random.between(-1.4, 1.4) * size};
        if (k % 2) {
            const double angle = random.between(0, 6.283185307179586);
            const double reach = std::fabs(d) + random.between(-3, 3);
            p = before[random.below(before.size())] + reach * Vec2{std::cos(angle), std::sin(angle)};
        }
        const bool was_in = test::winding(before, p) > 0;
        const double away = distance_to(before, p);
        if (std::fabs(away - std::fabs(d)) < band || away < band) continue;
        const bool must = d > 0 ? was_in || away < d : was_in && away > -d;
        int turns = 0;
        for (const Points& o : after) turns += test::winding(o, p);
        wrong += (turns > 0) != must;
    }
    return wrong;
}

/// A comb of up to eight teeth: shrunk, it falls apart at its thin places; grown, it closes over its gaps.
Outline comb(Random& random, double size) {
    const std::size_t teeth = 2 + random.below(7);
    const double step = 1.8 * size / static_cast<double>(2 * teeth + 1);
    Points corners{{-0.9 * size, -0.6 * size}, {0.9 * size, -0.6 * size}};
    for (std::size_t k = 2 * teeth + 1; k-- > 0;) {
        const double height = k % 2 ? random.between(-0.55, -0.2) : random.between(0, 0.8);
        const double left = -0.9 * size + step * static_cast<double>(k);
        corners.push_back({left + step, height * size});
        corners.push_back({left, height * size});
    }
    return polygon(corners);
}

/// A random shape and distance: stars with arcs and combs, both ways, from a hair to far past collapse.
struct Case {
    Outline outline;
    double d, size;
};
Case random_case(Random& random) {
    const double size = random.log_between(50, 2500);
    const std::size_t corners = 3 + random.below(14);
    Outline outline = random.chance(0.3) ? comb(random, size) : test::star(random, corners, size);
    return {std::move(outline), random.sign() * size * random.log_between(1e-3, 0.6), size};
}

TEST(OffsetOracle, BruteForceDistanceAgrees) {
    Random random(kSeed);
    OffsetOptions options{Join::round};
    options.keep_voids = true;
    int collapsed = 0, several = 0;
    for (int i = 0; i < 3000; ++i) {
        const Case c = random_case(random);
        const std::vector<Outline> moved = offset(c.outline, c.d, options);
        collapsed += moved.empty();
        several += moved.size() > 1;
        ASSERT_EQ(wrong_points(flatten(c.outline, kFine), flattened(moved), c.d, c.size, random), 0)
            << "seed " << kSeed << ", case " << i << ", distance " << c.d << " on size " << c.size;
    }
    EXPECT_GT(collapsed, 20);
    EXPECT_GT(several, 20);
}

TEST(OffsetOracle, SeesAPlantedFault) {
    Random random(kSeed);
    int seen = 0;
    for (int i = 0; i < 50; ++i) {
        const Case c = random_case(random);
        // 0.05 mm too far, and the wrong way.
        const auto too_far = offset(c.outline, c.d + 0.05, {Join::round});
        const auto wrong_way = offset(c.outline, -c.d, {Join::round});
        for (int k = 0; k < 20 && !seen; ++k)
            seen += wrong_points(flatten(c.outline, kFine), flattened(too_far), c.d, c.size, random) > 0;
        ASSERT_GT(wrong_points(flatten(c.outline, kFine), flattened(wrong_way), c.d, c.size, random), 0) << i;
    }
    EXPECT_GT(seen, 0);
}

double area_of(const std::vector<Outline>& outlines) {
    double area = 0;
    for (const Outline& o : outlines) area += area_mm2(o);
    return area;
}

double length_of_all(const Outline& before, const std::vector<Outline>& after) {
    double length = length_mm(before);
    for (const Outline& o : after) length += length_mm(o);
    return length;
}

TEST(OffsetOracle, BufferOfGeosHasTheSameArea) {
    GEOSContextHandle_t geos = GEOS_init_r();
    Random random(kSeed + 1);
    OffsetOptions options{Join::round};
    options.keep_voids = true;
    for (int i = 0; i < 400; ++i) {
        const Case c = random_case(random);
        const Points before = flatten(c.outline, {0.02});
        GEOSCoordSequence* ring = GEOSCoordSeq_create_r(geos, static_cast<unsigned>(before.size() + 1), 2);
        for (std::size_t k = 0; k <= before.size(); ++k)
            GEOSCoordSeq_setXY_r(geos, ring, static_cast<unsigned>(k), before[k % before.size()].x,
                                 before[k % before.size()].y);
        GEOSGeometry* polygon =
            GEOSGeom_createPolygon_r(geos, GEOSGeom_createLinearRing_r(geos, ring), nullptr, 0);
        GEOSGeometry* buffer = GEOSBuffer_r(geos, polygon, c.d, 90);
        double area = -1;
        ASSERT_EQ(GEOSArea_r(geos, buffer, &area), 1);
        GEOSGeom_destroy_r(geos, buffer);
        GEOSGeom_destroy_r(geos, polygon);
        const std::vector<Outline> moved = offset(c.outline, c.d, options);
        // 0.02 mm of flattening along the line, and round joins in quarters of 90 chords: sagitta d / 65 000.
        const double off = 0.03 + std::fabs(c.d) / 60000;
        ASSERT_NEAR(area_of(moved), area, off * length_of_all(c.outline, moved) + 0.01)
            << "seed " << kSeed + 1 << ", case " << i << ", distance " << c.d << " on size " << c.size;
    }
    GEOS_finish_r(geos);
}

TEST(OffsetOracle, OffsetOfClipperHasTheSameArea) {
    constexpr double kUnits = 1000;  // whole micrometres
    Random random(kSeed + 2);
    OffsetOptions options{Join::round};
    options.keep_voids = true;
    for (int i = 0; i < 400; ++i) {
        const Case c = random_case(random);
        ClipperLib::Path path;
        for (const Vec2 p : flatten(c.outline, {0.02}))
            path.emplace_back(std::llround(p.x * kUnits), std::llround(p.y * kUnits));
        ClipperLib::ClipperOffset tool(2.0, 0.02 * kUnits);
        tool.AddPath(path, ClipperLib::jtRound, ClipperLib::etClosedPolygon);
        ClipperLib::Paths result;
        tool.Execute(result, c.d * kUnits);
        double area = 0;
        for (const ClipperLib::Path& p : result) area += ClipperLib::Area(p) / (kUnits * kUnits);
        const std::vector<Outline> moved = offset(c.outline, c.d, options);
        ASSERT_NEAR(area_of(moved), area, 0.05 * length_of_all(c.outline, moved) + 0.01)
            << "seed " << kSeed + 2 << ", case " << i << ", distance " << c.d << " on size " << c.size;
    }
}

}  // namespace
}  // namespace spile
