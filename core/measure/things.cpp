#include "core/measure/things.h"

#include <algorithm>
#include <cmath>

namespace spile::survey {
namespace {

constexpr double kAgrees_mm =
    25.4 / 8;  // 1/8 in: tangent lengths further apart are no rounding (common practice)

class Things {
  public:
    Things(const SpaceInput& space, const Say& say, Survey& survey)
        : space_(space), say_(say), survey_(survey) {}

    void run() {
        for (const Reading& reading : space_.readings) {
            if (const Diameter* d = std::get_if<Diameter>(&reading.what)) {
                if (at(d->point) && !known(d->point))
                    survey_.round_things.push_back({d->point, d->diameter.mm()});
            }
        }
        for (const Reading& reading : space_.readings) {
            if (const Rim* r = std::get_if<Rim>(&reading.what)) rim(*r);
            if (const CornerRound* c = std::get_if<CornerRound>(&reading.what)) corner(*c, reading);
            if (const Height* h = std::get_if<Height>(&reading.what))
                survey_.heights_mm[h->point] = h->height.mm();
        }
    }

  private:
    const Vec2* at(const std::string& name) const {
        const auto found = survey_.points.find(name);
        return found == survey_.points.end() ? nullptr : &found->second.boat_mm;
    }

    bool known(const std::string& centre) const {
        return std::any_of(survey_.round_things.begin(), survey_.round_things.end(),
                           [&](const RoundThing& t) { return t.centre == centre; });
    }

    void rim(const Rim& r) {
        const Vec2* middle = at(r.point);
        if (!middle || known(r.point)) return;
        double sum = 0;
        int count = 0;
        for (const std::string& name : r.on_rim) {
            if (const Vec2* p = at(name)) {
                sum += distance(*p, *middle);
                ++count;
            }
        }
        if (count > 0) survey_.round_things.push_back({r.point, 2 * sum / count});
    }

    void corner(const CornerRound& c, const Reading& reading) {
        const Vec2* e = at(c.corner);
        if (!e) return;
        if (c.tangent.empty()) {
            survey_.rounded_corners.push_back({c.corner, c.radius.mm()});
            return;
        }
        const Vec2* t = at(c.tangent[0]);
        const Vec2* u = at(c.tangent[1]);
        if (!t || !u) return;
        const Vec2 one = *t - *e, other = *u - *e;
        const double apart = std::fabs(norm(one) - norm(other));
        if (apart > kAgrees_mm) {
            say_.about_reading("tangents-differ", Severity::look, reading,
                               {{"difference", apart, "mm"}, {"limit", kAgrees_mm, "mm"}},
                               "The rounding of " + c.corner + " begins " + say_.little(norm(one)) +
                                   " and ends " + say_.little(norm(other)) +
                                   " from the corner: a round corner has both alike.",
                               "Tape both again, or make the corner a curve through points.");
        }
        // tan(half) = |sin| / (1 + cos) of the angle between the sides; the radius stands on the tangent length.
        const double sine = std::fabs(cross(one, other)), cosine = dot(one, other);
        const double whole = norm(one) * norm(other) + cosine;
        if (!(whole > 0)) return;
        survey_.rounded_corners.push_back({c.corner, 0.5 * (norm(one) + norm(other)) * sine / whole});
    }

    const SpaceInput& space_;
    const Say& say_;
    Survey& survey_;
};

}  // namespace

void things_of(const SpaceInput& space, const Say& say, Survey& survey) {
    Things(space, say, survey).run();
}

}  // namespace spile::survey
