#include "core/job/joint_places.h"

#include <algorithm>
#include <cmath>

#include "core/geom/intersect.h"
#include "core/geom/measure_of.h"
#include "core/geom/tolerance.h"

namespace spile {
namespace {

constexpr double kEvenness = 1.0 / 16;  ///< of a joint for each mm that strips are uneven
constexpr double kBeside_mm = 10;       ///< a line is drawn so far beyond the box of the panel
constexpr double kAlong = 0.985;  ///< cos 10 degrees: nearer to an edge of its corner a joint cuts a sliver

struct Corner {
    Vec2 at;
    std::string name;
    Vec2 before, after;  ///< unit, along the edges into and out of it
};

std::vector<Corner> corners_of(const Panel& panel) {
    const Outline& outline = panel.boat_line.outline;
    std::vector<Corner> corners;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Edge into = outline.edge(i == 0 ? outline.size() - 1 : i - 1), out = outline.edge(i);
        if (into.tag == out.tag || out.tag < 0) continue;
        corners.push_back({out.a, panel.corners[static_cast<std::size_t>(out.tag)].at, direction_at(into, 1),
                           direction_at(out, 0)});
    }
    return corners;
}

/// x of every meeting of the outline with a line at that height, in order, each once.
std::vector<double> meetings_at(const Outline& outline, const Box& box, double y) {
    const Edge line{{box.min.x - kBeside_mm, y}, {box.max.x + kBeside_mm, y}, 0, 0};
    std::vector<double> all, each;
    for (std::size_t i = 0; i < outline.size(); ++i)
        for (const Meeting& m : meet(line, outline.edge(i))) all.push_back(m.at.x);
    std::sort(all.begin(), all.end());
    for (const double x : all)
        if (each.empty() || x - each.back() > noise_mm(box)) each.push_back(x);
    return each;
}

class Places {
  public:
    Places(const Panel& panel, const std::vector<Box>& keep_off)
        : outline_(panel.boat_line.outline),
          box_(box_of(outline_)),
          corners_(corners_of(panel)),
          keep_off_(keep_off) {}

    std::vector<JointPlace> found(double step_mm) {
        for (double k = std::ceil(box_.min.y / step_mm); k * step_mm < box_.max.y; ++k)
            right_across(k * step_mm);
        for (const Corner& corner : corners_) {
            if (!(cross(corner.before, corner.after) < 0)) continue;
            from_corner(corner, 1);
            from_corner(corner, -1);
        }
        std::stable_sort(places_.begin(), places_.end(),
                         [](const JointPlace& a, const JointPlace& b) { return a.y_mm < b.y_mm; });
        return std::move(places_);
    }

  private:
    void right_across(double y) {
        const std::vector<double> x = meetings_at(outline_, box_, y);
        if (x.size() == 2) consider({y, x[0], x[1], "", false});
    }

    void from_corner(const Corner& corner, double towards) {
        const Vec2 way{towards, 0};
        if (dot(way, corner.after) > kAlong || dot(way, corner.before) < -kAlong) return;
        double nearest = HUGE_VAL;
        for (const double x : meetings_at(outline_, box_, corner.at.y)) {
            const double away = towards * (x - corner.at.x);
            if (away > noise_mm(box_)) nearest = std::min(nearest, away);
        }
        if (!(nearest < HUGE_VAL)) return;
        if (side_of(outline_, corner.at + (nearest / 2) * way) != Side::inside) return;
        const double other = corner.at.x + towards * nearest;
        consider({corner.at.y, std::min(corner.at.x, other), std::max(corner.at.x, other), corner.name,
                  towards < 0});
    }

    void consider(JointPlace place) {
        for (const Corner& c : corners_) {
            if (c.name == place.corner) continue;
            const bool beside =
                c.at.x > place.from_mm - kFromCorner_mm && c.at.x < place.to_mm + kFromCorner_mm;
            if (beside && std::fabs(c.at.y - place.y_mm) < kFromCorner_mm) return;
        }
        for (const Box& off : keep_off_) {
            const bool beside = off.max.x > place.from_mm && off.min.x < place.to_mm;
            if (beside && place.y_mm > off.min.y && place.y_mm < off.max.y) return;
        }
        places_.push_back(std::move(place));
    }

    const Outline& outline_;
    const Box box_;
    const std::vector<Corner> corners_;
    const std::vector<Box>& keep_off_;
    std::vector<JointPlace> places_;
};

}  // namespace

std::vector<JointPlace> joint_places(const Panel& panel, const std::vector<Box>& keep_off, double step_mm) {
    return Places(panel, keep_off).found(step_mm);
}

std::optional<std::vector<JointPlace>> best_places(const std::vector<JointPlace>& places,
                                                   const StripRules& rules, int count) {
    const double even = (rules.high_mm - rules.low_mm + 2 * (count - 1) * rules.beyond_mm) / count;
    const auto uneven = [&](double width) { return std::fabs(width - even) * kEvenness; };
    const std::size_t n = places.size();
    const auto first = [&](std::size_t i) { return places[i].y_mm + rules.beyond_mm - rules.low_mm; };
    const auto between = [&](std::size_t i, std::size_t j) {
        return places[j].y_mm - places[i].y_mm + 2 * rules.beyond_mm;
    };
    const auto last = [&](std::size_t i) { return rules.high_mm + rules.beyond_mm - places[i].y_mm; };
    const auto good = [&](double width) { return width >= 2 * kFromCorner_mm && width <= rules.widest_mm; };

    // cost[k][i]: the least of joints 0 to k, the last of them at place i.
    std::vector<std::vector<double>> cost(static_cast<std::size_t>(count - 1),
                                          std::vector<double>(n, HUGE_VAL));
    std::vector<std::vector<std::size_t>> came_from(cost.size(), std::vector<std::size_t>(n, 0));
    for (std::size_t i = 0; i < n; ++i)
        if (good(first(i))) cost[0][i] = places[i].length_mm() + uneven(first(i));
    for (std::size_t k = 1; k < cost.size(); ++k)
        for (std::size_t j = 0; j < n; ++j)
            for (std::size_t i = 0; i < j; ++i) {
                if (!good(between(i, j))) continue;
                const double whole = cost[k - 1][i] + places[j].length_mm() + uneven(between(i, j));
                if (!(whole < cost[k][j])) continue;
                cost[k][j] = whole;
                came_from[k][j] = i;
            }
    double least = HUGE_VAL;
    std::size_t at = 0;
    for (std::size_t i = 0; i < n; ++i) {
        const double whole = good(last(i)) ? cost.back()[i] + uneven(last(i)) : HUGE_VAL;
        if (!(whole < least)) continue;
        least = whole;
        at = i;
    }
    if (!(least < HUGE_VAL)) return std::nullopt;
    std::vector<JointPlace> best(cost.size());
    for (std::size_t k = cost.size(); k-- > 0; at = came_from[k][at]) best[k] = places[at];
    return best;
}

}  // namespace spile
