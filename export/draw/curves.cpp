#include "export/draw/curves.h"

#include <cmath>

#include "core/base/check.h"

namespace spile {
namespace {

double departure(double radius, double sweep) {
    const double s = std::sin(sweep / 4);
    const double c = std::cos(sweep / 4);
    return radius * 2 / 27 * (s * s * s * s * s * s) / (c * c);
}

}  // namespace

std::vector<Bezier> beziers_of(const Edge& edge, double error_mm) {
    SPILE_CHECK(!edge.straight() && error_mm > 0);
    const double sweep = 4 * std::atan(edge.bulge);
    const double radius = radius_of(edge);
    int count = 1;
    while (departure(radius, std::fabs(sweep) / count) > error_mm) ++count;

    const Vec2 centre = centre_of(edge);
    const double step = sweep / count;
    const double arm = 4.0 / 3.0 * std::tan(step / 4);
    std::vector<Bezier> beziers;
    Vec2 from = edge.a;
    for (int i = 1; i <= count; ++i) {
        const double turned = step * i;
        const Vec2 spoke = edge.a - centre;
        const Vec2 to = i == count ? edge.b
                                   : centre + Vec2{std::cos(turned) * spoke.x - std::sin(turned) * spoke.y,
                                                   std::sin(turned) * spoke.x + std::cos(turned) * spoke.y};
        beziers.push_back({from, from + arm * left_of(from - centre), to - arm * left_of(to - centre), to});
        from = to;
    }
    return beziers;
}

}  // namespace spile
