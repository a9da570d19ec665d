// What is ruled out from boxes alone, held against asking every edge the plain question: the same to the last bit.
#include "core/geom/far.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <limits>

#include "core/geom/intersect.h"
#include "core/geom/meet.h"
#include "core/geom/parity.h"
#include "tests/geom/shapes.h"

namespace spile {
namespace {

using edge_math::largest;

/// A star somewhere, of any size.
Outline anywhere(test::Random& random, double size) {
    Outline o = test::star(random, 3 + random.below(40), size);
    const double far = random.chance(0.5) ? 0 : 20 * size;
    const Vec2 move{random.between(-far, far), random.between(-far, far)};
    for (Vertex& v : o.vertices) v.p = v.p + move;
    return o;
}

/// A place about the outline: anywhere, at a vertex, or on an edge, there perhaps off it by next to nothing.
Vec2 place(test::Random& random, const Outline& o, double size) {
    const Edge e = o.edge(random.below(o.size()));
    switch (random.below(4)) {
        case 0:
            return e.a;
        case 1:
            return point_at(e, random.unit());
        case 2:
            return point_at(e, random.unit()) +
                   random.log_between(1e-18, 1e-8) * size * Vec2{random.sign(), random.sign()};
        default:
            return e.a + Vec2{random.between(-2, 2) * size, random.between(-2, 2) * size};
    }
}

TEST(Far, RoughBoxesHoldTheirEdges) {
    test::Random random(1);
    for (int k = 0; k < 2000; ++k) {
        const double size = random.log_between(1e-3, 1e5);
        const Edge e{{random.between(-size, size), random.between(-size, size)},
                     {random.between(-size, size), random.between(-size, size)},
                     random.sign() * (random.chance(0.2) ? 1 : random.log_between(1e-16, 1)),
                     0};
        const Box box = rough_box(e), tight = box_of(e);
        for (const Vec2 p : {e.a, e.b, midpoint_of(e), tight.min, tight.max})
            EXPECT_FALSE(apart(box, p, noise_mm(2 * size))) << k;
        for (int i = 1; i < 50; ++i) EXPECT_FALSE(apart(box, point_at(e, i / 50.0), noise_mm(2 * size))) << k;
    }
}

TEST(Far, NearestOnAnOutlineIsThatOfAllItsEdges) {
    test::Random random(2);
    for (int k = 0; k < 8000; ++k) {
        const double size = random.log_between(1e-2, 1e5);
        const Outline o = anywhere(random, size);
        const Vec2 p = place(random, o, size);
        Nearest plain;
        plain.distance = std::numeric_limits<double>::infinity();
        for (std::size_t i = 0; i < o.size(); ++i) {
            const Nearest here = nearest_on(o.edge(i), p);
            if (here.distance < plain.distance) plain = {here.at, i, here.distance};
        }
        const Nearest found = nearest_on(o, p);
        ASSERT_EQ(found.at, plain.at) << k;
        ASSERT_EQ(found.edge, plain.edge) << k;
        ASSERT_EQ(found.distance, plain.distance) << k;
    }
}

TEST(Far, SideOfAnOutlineIsThatOfAllItsEdges) {
    test::Random random(3);
    int on = 0, inside = 0;
    for (int k = 0; k < 8000; ++k) {
        const double size = random.log_between(1e-2, 1e5);
        const Outline o = anywhere(random, size);
        const Vec2 p = place(random, o, size);
        const double noise = noise_mm(std::max(largest(o), largest(p)));
        bool touches = false, odd = false;
        for (std::size_t i = 0; i < o.size(); ++i) {
            touches = touches || nearest_on(o.edge(i), p).distance <= noise;
            odd ^= crosses_ray(o.edge(i), p);
        }
        const Side plain = touches ? Side::on : odd ? Side::inside : Side::outside;
        ASSERT_EQ(side_of(o, p), plain) << k;
        if (!touches) {
            ASSERT_EQ(Parity(o, noise).odd(p), odd) << k;
        }
        on += touches;
        inside += plain == Side::inside;
    }
    EXPECT_GT(on, 1000);
    EXPECT_GT(inside, 500);
}

TEST(Far, EdgesMeetWhereTheirEndsAndCarriersDo) {
    test::Random random(4);
    int met = 0, together = 0;  // edges that stay within noise of one another meet but once
    for (int k = 0; k < 3000; ++k) {
        const double size = random.log_between(1e-2, 1e5);
        const Outline o = anywhere(random, size);
        Outline other = test::star(random, 3 + random.below(9), size);
        const Vec2 move = place(random, o, size) - other.vertices[0].p;
        for (Vertex& v : other.vertices) v.p = v.p + move;
        const double noise = noise_mm(std::max(largest(o), largest(other)));
        for (int pair = 0; pair < 20; ++pair) {
            const Edge a = o.edge(random.below(o.size()));
            Edge b = pair == 0 ? other.edge(0) : other.edge(random.below(other.size()));
            if (pair > 9) b = {a.a, a.b + 0.1 * (b.b - b.a), random.between(-1, 1), 0};  // on from its end
            std::vector<Vec2> plain;
            const auto ask = [&](Vec2 p) {
                if (edge_math::finite(p) && nearest_on(a, p).distance <= noise &&
                    nearest_on(b, p).distance <= noise)
                    plain.push_back(p);
            };
            for (const Vec2 p : {a.a, a.b, b.a, b.b}) ask(p);
            const CarrierMeetings carriers = meet_carriers(a, b);
            for (std::size_t i = 0; i < carriers.count; ++i) ask(carriers.at[i]);
            const Meetings found = meet(a, b, noise);
            ASSERT_EQ(found.count == 0, plain.empty()) << k;
            for (const Meeting& m : found)
                EXPECT_NE(std::find(plain.begin(), plain.end(), m.at), plain.end()) << k;
            for (const Vec2 p : plain) {
                const auto is_it = [&](const Meeting& m) { return distance(m.at, p) <= 2 * noise; };
                together += !std::any_of(found.begin(), found.end(), is_it);
            }
            met += !plain.empty();
        }
    }
    EXPECT_GT(met, 1500);
    EXPECT_LE(together, met / 1000);
}

}  // namespace
}  // namespace spile
