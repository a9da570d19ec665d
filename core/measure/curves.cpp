#include "core/measure/curves.h"

#include <algorithm>
#include <cmath>

#include "core/geom/fair.h"
#include "core/geom/measure_of.h"

namespace spile::survey {
namespace {

constexpr double kAgrees_mm = 25.4 / 8;   // 1/8 in: the eye sees more in a fair edge (common practice)
constexpr std::size_t kLeastToJudge = 5;  // points; with fewer the others say too little of one

/// How often a line through points changes from bending one way to bending the other.
int reversals(const std::vector<Vec2>& way) {
    int count = 0;
    double before = 0;
    for (std::size_t i = 1; i + 1 < way.size(); ++i) {
        const double turn = cross(way[i] - way[i - 1], way[i + 1] - way[i]);
        if (turn == 0) continue;
        count += before * turn < 0;
        before = turn;
    }
    return count;
}

class Curves {
  public:
    Curves(const SpaceInput& space, const std::map<std::string, SurveyPoint>& points, const Say& say)
        : space_(space), points_(points), say_(say) {
        for (const std::string& name : space.walk) {
            if (const auto at = points.find(name); at != points.end()) ring_.push_back(at->second.boat_mm);
        }
        for (const auto& [name, point] : points)
            middle_ = middle_ + point.boat_mm / static_cast<double>(points.size());
    }

    std::vector<SurveyCurve> run() {
        for (const Reading& reading : space_.readings) {
            if (const Through* t = std::get_if<Through>(&reading.what)) through(*t, reading);
        }
        for (const Reading& reading : space_.readings) {
            if (const Rise* r = std::get_if<Rise>(&reading.what)) rise(*r, reading);
        }
        return std::move(out_);
    }

  private:
    const Vec2* at(const std::string& name) const {
        const auto found = points_.find(name);
        return found == points_.end() ? nullptr : &found->second.boat_mm;
    }

    const SurveyCurve* known(const std::string& a, const std::string& b) const {
        for (const SurveyCurve& c : out_) {
            if ((c.from == a && c.to == b) || (c.from == b && c.to == a)) return &c;
        }
        return nullptr;
    }

    /// True when the floor lies to the left going from a to b.
    bool floor_left(const std::string& from, const std::string& to, Vec2 a, Vec2 b) const {
        const std::vector<std::string>& walk = space_.walk;
        for (std::size_t i = 0; i < walk.size(); ++i) {
            const std::string& next = walk[(i + 1) % walk.size()];
            if (walk[i] == from && next == to) return true;
            if (walk[i] == to && next == from) return false;
        }
        const Vec2 middle = 0.5 * (a + b);
        if (ring_.size() < 3) return cross(b - a, middle_ - middle) > 0;
        // Along the side of the walk that is nearest, in its sense.
        double least = HUGE_VAL;
        bool same = true;
        for (std::size_t i = 0; i < ring_.size(); ++i) {
            const Vec2 p = ring_[i], d = ring_[(i + 1) % ring_.size()] - p;
            const double t = norm2(d) > 0 ? std::clamp(dot(middle - p, d) / norm2(d), 0.0, 1.0) : 0.0;
            const double away = distance(middle, p + t * d);
            if (away >= least) continue;
            least = away;
            same = dot(b - a, d) > 0;
        }
        return same;
    }

    void rise(const Rise& r, const Reading& reading) {
        const Vec2* a = at(r.from);
        const Vec2* b = at(r.to);
        if (!a || !b) return;
        const double chord = distance(*a, *b);
        if (!(chord > 0)) return;
        const bool right = floor_left(r.from, r.to, *a, *b) == r.outward;  // bulges to the right of a->b
        const double high = r.rise.mm();
        if (const SurveyCurve* other = known(r.from, r.to)) {
            compare(*other, *a, *b, right ? high : -high, reading);
            return;
        }
        if (2 * high > chord) {
            say_.about_reading("rise-large", Severity::look, reading,
                               {{"rise", high, "mm"}, {"chord", chord, "mm"}},
                               spoken(reading) + " rises " + say_.size(high) + " over a chord of " +
                                   say_.size(chord) + ": that is more than half a circle.",
                               "Look whether the rise was taken from the middle of the chord.");
        }
        SurveyCurve curve{r.from, r.to, {}};
        add_arc(*a, *b, bulge_from_rise(chord, right ? high : -high), curve.edges);
        out_.push_back(std::move(curve));
    }

    /// A rise beside points on the same edge is a check of them.
    void compare(const SurveyCurve& other, Vec2 a, Vec2 b, double high, const Reading& reading) const {
        const Vec2 u = unit(b - a);
        double stands = 0;
        for (const Edge& e : other.edges) {
            for (const Vec2 p : {midpoint_of(e), e.b}) {
                const double off = -cross(u, p - a);
                if (std::fabs(off) > std::fabs(stands)) stands = off;
            }
        }
        if (std::fabs(stands - high) <= kAgrees_mm) return;
        say_.about_reading("rise-contradicts", Severity::look, reading,
                           {{"reads", high, "mm"}, {"by its points", stands, "mm"}},
                           "The rise of " + spoken(reading) + " reads " + say_.size(std::fabs(high)) +
                               "; the points on that edge make it " + say_.size(std::fabs(stands)) + ".",
                           "Tape the rise again, or the points of the edge.");
    }

    void through(const Through& t, const Reading& reading) {
        std::vector<Vec2> way;
        std::vector<std::string> names{t.from};
        names.insert(names.end(), t.points.begin(), t.points.end());
        names.push_back(t.to);
        for (const std::string& name : names) {
            const Vec2* p = at(name);
            if (!p) return;
            if (!way.empty() && !(distance(way.back(), *p) > 0)) {
                say_.about_reading(
                    "curve-point-twice", Severity::stop, reading, {},
                    "The curve " + spoken(reading) + " meets " + name + " twice in the same place.",
                    "Name every point of the curve once, in the order met.");
                return;
            }
            way.push_back(*p);
        }
        if (known(t.from, t.to)) {
            say_.about_reading(
                "curve-twice", Severity::look, reading, {},
                "The edge " + spoken(reading) + " is given as a curve twice; the first line is used.",
                "Keep one of the two lines.");
            return;
        }
        SurveyCurve curve{t.from, t.to, {}};
        if (way.size() == 3) {
            add_arc(way[0], way[2], bulge_through(way[0], way[1], way[2]), curve.edges);
        } else {
            turns_back(way, reading, curve);
            curve.edges = fair_line(way, fair_resolution).edges;
            hump(way, names, reading);
        }
        out_.push_back(std::move(curve));
    }

    void turns_back(const std::vector<Vec2>& way, const Reading& reading, const SurveyCurve& curve) const {
        for (std::size_t i = 1; i + 1 < way.size(); ++i) {
            if (dot(unit(way[i] - way[i - 1]), unit(way[i + 1] - way[i])) >= 0) continue;
            say_.about_reading(
                "curve-turns-back", Severity::look, reading, {},
                "The curve " + spoken(reading) + " turns back on itself at its " + std::to_string(i) +
                    ". point.",
                "Name the points of the curve in the order met from " + curve.from + " to " + curve.to + ".");
        }
    }

    /// The point without which the line would bend back and forth less, and from which the fair line through the others
    /// stands off most.
    void hump(const std::vector<Vec2>& way, const std::vector<std::string>& names,
              const Reading& reading) const {
        if (way.size() < kLeastToJudge) return;
        const int bends = reversals(way);
        if (bends < 2) return;  // an S bends back once
        double most = kAgrees_mm;
        std::size_t worst = 0;
        for (std::size_t i = 1; i + 1 < way.size(); ++i) {
            std::vector<Vec2> others = way;
            others.erase(others.begin() + static_cast<std::ptrdiff_t>(i));
            if (reversals(others) >= bends) continue;
            double away = HUGE_VAL;
            for (const Edge& e : fair_line(others, fair_resolution).edges)
                away = std::min(away, nearest_on(e, way[i]).distance);
            if (away <= most) continue;
            most = away;
            worst = i;
        }
        if (worst == 0) return;
        say_.about_reading(
            "curve-hump", Severity::look, reading, {{"stands off", most, "mm"}},
            "The curve " + spoken(reading) + " has a hump at " + names[worst] +
                ": the fair line through its other points passes " + say_.size(most) + " beside it.",
            "Lay a batten along the edge: if the boat has no hump there, tape " + names[worst] + " again.");
    }

    const SpaceInput& space_;
    const std::map<std::string, SurveyPoint>& points_;
    const Say& say_;
    std::vector<Vec2> ring_;
    Vec2 middle_;
    std::vector<SurveyCurve> out_;
};

}  // namespace

std::vector<SurveyCurve> curves_of(const SpaceInput& space, const std::map<std::string, SurveyPoint>& points,
                                   const Say& say) {
    return Curves(space, points, say).run();
}

}  // namespace spile::survey
