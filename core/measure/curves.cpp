#include "core/measure/curves.h"

#include <algorithm>
#include <cmath>

#include "core/geom/fair.h"
#include "core/geom/measure_of.h"

namespace spile::survey {
namespace {

constexpr double kAgrees_mm = 25.4 / 8;  // 1/8 in: the eye sees more in a fair edge (common practice)
constexpr std::size_t kBeside =
    4;  // points on each side of one it is held against: farther ones do not move the line
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
            FairLine line = fair_line(way, fair_resolution);
            curve.edges = std::move(line.edges);
            curve.within_mm = line.within_mm;
            curve.points = against_the_others(way, names);
            judge(way, curve, reading);
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

    /// How far point i stands off the fair line through those beside it, and in which direction.
    static std::pair<double, Vec2> off_the_others(const std::vector<Vec2>& way, std::size_t i) {
        std::vector<Vec2> others;
        for (std::size_t k = i > kBeside ? i - kBeside : 0; k < way.size() && k <= i + kBeside; ++k)
            if (k != i) others.push_back(way[k]);
        double away = HUGE_VAL;
        Vec2 normal = left_of(unit(way[i + 1] - way[i - 1]));
        for (const Edge& e : fair_line(others, fair_resolution).edges) {
            const Nearest near = nearest_on(e, way[i]);
            if (near.distance >= away) continue;
            away = near.distance;
            if (away > 0) normal = unit(way[i] - near.at);
        }
        return {away, normal};
    }

    /// How far the point farthest off the others stands off them once point i is left out: a wrong point makes its neighbours look
    /// wrong, and without it they do not.
    static double left_without(std::vector<Vec2> way, std::size_t i) {
        way.erase(way.begin() + static_cast<std::ptrdiff_t>(i));
        double most = 0;
        for (std::size_t k = 1; k + 1 < way.size(); ++k) most = std::max(most, off_the_others(way, k).first);
        return most;
    }

    /// Every point between the ends against the fair line through the others.
    std::vector<CurvePoint> against_the_others(const std::vector<Vec2>& way,
                                               const std::vector<std::string>& names) const {
        std::vector<CurvePoint> out;
        double before = 0;
        for (std::size_t i = 1; i + 1 < way.size(); ++i) {
            CurvePoint point;
            point.name = names[i];
            const double turn = cross(way[i] - way[i - 1], way[i + 1] - way[i]);
            point.bends_back = before * turn < 0;
            if (turn != 0) before = turn;
            const auto [away, normal] = off_the_others(way, i);
            point.off_mm = away;
            point.doubt_mm = doubt_of(way, names, i, normal);
            out.push_back(std::move(point));
        }
        return out;
    }

    /// Of a point's distance from the line through the others: its own doubt across the line, and those of the two or four
    /// points beside it as a cubic through them weighs them, taken as independent.
    double doubt_of(const std::vector<Vec2>& way, const std::vector<std::string>& names, std::size_t i,
                    Vec2 normal) const {
        const auto across = [&](std::size_t k) {
            const Cov2& c = points_.at(names[k]).cov_mm2;
            return normal.x * normal.x * c.xx + 2 * normal.x * normal.y * c.xy + normal.y * normal.y * c.yy;
        };
        std::vector<double> along(way.size(), 0);
        for (std::size_t k = 1; k < way.size(); ++k) along[k] = along[k - 1] + distance(way[k - 1], way[k]);
        std::vector<std::size_t> beside{i - 1, i + 1};
        if (i >= 2) beside.push_back(i - 2);
        if (i + 2 < way.size()) beside.push_back(i + 2);
        double sum = across(i);
        for (const std::size_t k : beside) {
            double weight = 1;
            for (const std::size_t m : beside)
                if (m != k) weight *= (along[i] - along[m]) / (along[k] - along[m]);
            sum += weight * weight * across(k);
        }
        return std::sqrt(sum);
    }

    /// A hump where the curve bends back and forth because of one point. Else, of the points that stand off by more than the eye
    /// sees and their doubt explains, the one without which the others agree best is worth a second reading.
    void judge(const std::vector<Vec2>& way, const SurveyCurve& curve, const Reading& reading) const {
        if (way.size() < kLeastToJudge) return;
        const int bends = reversals(way);
        std::size_t worst = curve.points.size(), hump = worst;
        double left = HUGE_VAL;
        for (std::size_t i = 0; i < curve.points.size(); ++i) {
            const double off = curve.points[i].off_mm;
            if (off > limit(curve.points[i])) {
                const double without = left_without(way, i + 1);
                if (without < left) left = without, worst = i;
            }
            if (bends < 2 || off <= kAgrees_mm) continue;  // an S bends back once
            std::vector<Vec2> others = way;
            others.erase(others.begin() + static_cast<std::ptrdiff_t>(i) + 1);
            if (reversals(others) < bends && (hump == curve.points.size() || off > curve.points[hump].off_mm))
                hump = i;
        }
        const auto name =
            [&](std::size_t i) {  // of the points beside it too, the ends of the curve among them
                return i == 0 ? curve.from : i > curve.points.size() ? curve.to : curve.points[i - 1].name;
            };
        const auto numbers = [&](const CurvePoint& p, double least) {
            return std::vector<Quantity>{
                {"stands off", p.off_mm, "mm"}, {"limit", least, "mm"}, {"doubt", p.doubt_mm, "mm"}};
        };
        if (hump < curve.points.size()) {
            const CurvePoint& p = curve.points[hump];
            say_.about_reading(
                "curve-hump", Severity::look, reading, numbers(p, kAgrees_mm),
                "The curve " + spoken(reading) + " has a hump at " + p.name + ", between " + name(hump) +
                    " and " + name(hump + 2) + ": the fair line through its other points passes " +
                    say_.size(p.off_mm) + " beside it; " + say_.size(kAgrees_mm) + " would pass as fair.",
                "Lay a batten along the edge: if the boat has no hump there, tape " + p.name + " again.");
        } else if (worst < curve.points.size()) {
            const CurvePoint& p = curve.points[worst];
            say_.about_reading("curve-point-off", Severity::note, reading, numbers(p, limit(p)),
                               "Of the curve " + spoken(reading) + " " + p.name + " stands " +
                                   say_.size(p.off_mm) + " off the fair line through its other points; " +
                                   say_.size(limit(p)) + " would pass.",
                               "Read " + p.name + " again, or tape more points where the edge bends most.");
        }
    }

    /// What the eye sees, or three times the doubt where that is more.
    static double limit(const CurvePoint& p) { return std::max(kAgrees_mm, 3 * p.doubt_mm); }

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
