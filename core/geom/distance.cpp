// Least distances between edges and outlines.
#include <limits>

#include "core/geom/edge_math.h"
#include "core/geom/intersect.h"
#include "core/geom/measure_of.h"

namespace spile {

using namespace edge_math;

namespace {

double gap_between(const Box& a, const Box& b) {
    const double x = std::fmax(0, std::fmax(a.min.x - b.max.x, b.min.x - a.max.x));
    const double y = std::fmax(0, std::fmax(a.min.y - b.max.y, b.min.y - a.max.y));
    return std::sqrt(x * x + y * y);
}

void shorten(double& best, double d) {
    if (d < best) best = d;
}

}  // namespace

double distance_between(const Edge& a, const Edge& b) {
    if (!meet(a, b).empty()) return 0;
    double best = nearest_on(b, a.a).distance;
    shorten(best, nearest_on(b, a.b).distance);
    shorten(best, nearest_on(a, b.a).distance);
    shorten(best, nearest_on(a, b.b).distance);
    // Two insides are nearest only on a common normal: square to a line, or through both centres. Trying a point of
    // the edge itself can never give less than the truth, and is off by the square of the error of its place only.
    Vec2 at;
    if (flat(a) && flat(b)) return best;
    const Vec2 normal = flat(a)   ? left_of(a.b - a.a)
                        : flat(b) ? left_of(b.b - b.a)
                                  : centre_of(b) - centre_of(a);
    if (normal == Vec2{}) return best;
    if (extreme_along(a, normal, at)) shorten(best, nearest_on(b, at).distance);
    if (extreme_along(b, normal, at)) shorten(best, nearest_on(a, at).distance);
    return best;
}

double distance_between(const Outline& a, const Outline& b) {
    std::vector<Box> boxes;
    boxes.reserve(b.size());
    for (std::size_t j = 0; j < b.size(); ++j) boxes.push_back(box_of(b.edge(j)));
    double best = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < a.size(); ++i) {
        const Edge e = a.edge(i);
        const Box box = box_of(e);
        for (std::size_t j = 0; j < b.size(); ++j)
            if (gap_between(box, boxes[j]) < best) shorten(best, distance_between(e, b.edge(j)));
    }
    return best;
}

}  // namespace spile
