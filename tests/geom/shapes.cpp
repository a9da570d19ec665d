#include "tests/geom/shapes.h"

#include <cmath>

namespace spile::test {

std::uint64_t Random::next() {
    std::uint64_t z = (state_ += 0x9e3779b97f4a7c15ULL);
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ULL;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebULL;
    return z ^ (z >> 31);
}

double Random::log_between(double low, double high) {
    return low * std::exp(unit() * std::log(high / low));
}

Outline star(Random& random, std::size_t n, double size) {
    const double turn = 2 * 3.14159265358979323846;
    std::vector<double> angles;
    // Equal shares moved by less than half a share: gaps stay under half a turn for n >= 3 and above zero.
    for (std::size_t i = 0; i < n; ++i)
        angles.push_back(turn * (static_cast<double>(i) + random.between(0, 0.45)) / static_cast<double>(n));
    Outline out;
    for (std::size_t i = 0; i < n; ++i) {
        const double r = size * random.between(0.4, 1);
        // An arc of bulge s stays within the sector of its chord while half its sweep is less than the angle
        // between chord and rays; 0.12 (27 degrees) times a share of that keeps it there.
        out.vertices.push_back({{r * std::cos(angles[i]), r * std::sin(angles[i])}, 0, static_cast<int>(i)});
    }
    for (std::size_t i = 0; i < n; ++i) {
        if (random.chance(0.5)) continue;
        const Edge e = out.edge(i);
        const Vec2 chord = e.b - e.a;
        const double at_a = std::fabs(std::atan2(cross(chord, -e.a), dot(chord, -e.a)));
        const double at_b = std::fabs(std::atan2(cross(-chord, -e.b), dot(-chord, -e.b)));
        const double room = std::fmin(std::fmin(at_a, at_b), turn / 2 - std::fmax(at_a, at_b));
        out.vertices[i].bulge = random.between(-0.9, 0.9) * std::tan(std::fmin(room, 1.5) / 2);
    }
    return out;
}

Outline slot(Vec2 from, double length, double radius) {
    return {{{from + Vec2{0, -radius}, 0, 0},
             {from + Vec2{length, -radius}, 1, 1},
             {from + Vec2{length, radius}, 0, 2},
             {from + Vec2{0, radius}, 1, 3}}};
}

double polygon_area(const std::vector<Vec2>& points) {
    double twice = 0;
    for (std::size_t i = 0; i < points.size(); ++i)
        twice += cross(points[i] - points[0], points[(i + 1) % points.size()] - points[0]);
    return twice / 2;
}

int winding(const std::vector<Vec2>& points, Vec2 p) {
    int turns = 0;
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Vec2 a = points[i];
        const Vec2 b = points[(i + 1) % points.size()];
        if ((a.y > p.y) == (b.y > p.y)) continue;
        const double side = cross(b - a, p - a);
        if (b.y > p.y && side > 0) ++turns;
        if (b.y <= p.y && side < 0) --turns;
    }
    return turns;
}

}  // namespace spile::test
