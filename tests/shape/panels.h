// What tests of panels need: surveys and panels made up from points, random ones, and looking for findings.
#pragma once

#include <gtest/gtest.h>

#include <cmath>
#include <cstdint>
#include <map>
#include <random>
#include <string>
#include <vector>

#include "core/geom/intersect.h"
#include "core/geom/measure_of.h"
#include "core/geom/outline.h"
#include "core/shape/panel.h"

namespace spile::testing_panels {

constexpr double kIn = 25.4;
constexpr double kPi = 3.14159265358979323846;

inline Survey survey_of(const std::map<std::string, Vec2>& points, const std::string& space = "s") {
    Survey survey;
    survey.space = space;
    survey.fixed = true;
    for (const auto& [name, at] : points) survey.points[name] = {at, {}};
    return survey;
}

/// A panel through corners in order, all edges with the same plan.
inline PanelInput panel_of(const std::vector<std::string>& corners, Finish finish = Finish::sealed,
                           double clearance = 0, double radius = 0) {
    PanelInput in;
    in.id = "1";
    in.space = "s";
    for (std::size_t i = 0; i < corners.size(); ++i) {
        in.corners.push_back({corners[i], radius});
        in.edges.push_back({corners[i], corners[(i + 1) % corners.size()], Measured::wall, Situation::wall,
                            finish, clearance});
    }
    return in;
}

/// w x h with its corners A B C D counter-clockwise from the origin.
inline Survey rectangle_survey(double w, double h) {
    return survey_of({{"A", {0, 0}}, {"B", {w, 0}}, {"C", {w, h}}, {"D", {0, h}}});
}

/// A box-shaped opening that is not placed yet.
inline OpeningPlan box_opening(double length, double width, double radius, Finish finish,
                               const std::string& id = "hole") {
    OpeningPlan o;
    o.id = id;
    o.form = OpeningPlan::Form::box;
    o.length_mm = length;
    o.width_mm = width;
    o.radius_mm = radius;
    o.finish = finish;
    return o;
}

inline Result<std::vector<Panel>> shaped(const std::vector<PanelInput>& panels, const Survey& survey,
                                         const FinishSettings& finish = {}) {
    return shape(panels, {{survey.space, survey}}, finish, RunContext{});
}

inline const Finding* find(const std::vector<Finding>& findings, const std::string& code) {
    for (const Finding& f : findings) {
        if (f.code == code) return &f;
    }
    return nullptr;
}

inline double number(const Finding& f, const std::string& name) {
    for (const Quantity& q : f.numbers) {
        if (q.name == name) return q.value;
    }
    ADD_FAILURE() << "no number \"" << name << "\" in " << f.code;
    return 0;
}

inline std::string codes(const std::vector<Finding>& findings) {
    std::string all;
    for (const Finding& f : findings) all += f.code + " (" + f.says + ") ";
    return all;
}

/// Seeded by name so that a failure can be run again; the same on every machine.
class Dice {
  public:
    explicit Dice(std::uint64_t seed) : engine_(seed) {}
    double between(double low, double high) {
        return low + (high - low) * (static_cast<double>(engine_() >> 11) * 0x1.0p-53);
    }
    int whole(int low, int high) {
        return low + static_cast<int>(engine_() % static_cast<std::uint64_t>(high - low + 1));
    }
    bool chance(double p) { return between(0, 1) < p; }

  private:
    std::mt19937_64 engine_;
};

struct RandomPanel {
    Survey survey;
    PanelInput in;
};

struct RandomOptions {
    bool curves = true;
    bool mixed_finishes = true;
    double largest_clearance = 12;
    double corner_radius = 0;
    double least_edge = 120;  ///< so that allowances do not swallow edges
    int most_corners = 9;
};

/// A panel about the origin, 0.6 to 2.4 m across, its corners at any angle the dice give (inside corners too).
inline RandomPanel random_panel(Dice& dice, const RandomOptions& options = {}) {
    const Finish finishes[] = {Finish::bound, Finish::turned, Finish::sealed};
    for (;;) {
        const int n = dice.whole(3, options.most_corners);
        std::map<std::string, Vec2> points;
        std::vector<std::string> names;
        std::vector<Vec2> at;
        for (int i = 0; i < n; ++i) {
            const double angle = 2 * kPi * (i + dice.between(-0.3, 0.3)) / n, r = dice.between(300, 1200);
            at.push_back({r * std::cos(angle), r * std::sin(angle)});
            names.push_back("P" + std::to_string(i));
            points[names.back()] = at.back();
        }
        RandomPanel made{survey_of(points), panel_of(names)};
        Outline line;
        bool usable = true;
        for (int i = 0; i < n; ++i) {
            const Vec2 a = at[static_cast<std::size_t>(i)], b = at[static_cast<std::size_t>((i + 1) % n)];
            usable = usable && distance(a, b) >= options.least_edge;
            double bulge = 0;
            if (options.curves && dice.chance(0.3)) {
                bulge = dice.between(0.02, 0.25) * (dice.chance(0.5) ? 1 : -1);
                Edge e{a, b, bulge, 0};
                const auto next = static_cast<std::size_t>((i + 1) % n);
                const bool turned_round = dice.chance(0.5);
                if (turned_round) e = reversed(e);
                const auto& from = names[turned_round ? next : static_cast<std::size_t>(i)];
                const auto& to = names[turned_round ? static_cast<std::size_t>(i) : next];
                made.survey.curves.push_back({from, to, {e}});
            }
            line.vertices.push_back({a, bulge, i});
        }
        usable = usable && faults_of(line).empty();
        // Sharp spikes are not panels: no corner under 20 degrees (issue: angles of 20 to 340).
        for (std::size_t i = 0; usable && i < line.size(); ++i) {
            const Edge before = line.edge(i == 0 ? line.size() - 1 : i - 1);
            const Vec2 d = direction_at(before, 1), e = direction_at(line.edge(i), 0);
            usable = dot(d, e) > -std::cos(20 * kPi / 180);
        }
        if (!usable) continue;
        const Finish all = finishes[dice.whole(0, 2)];
        for (std::size_t i = 0; i < made.in.edges.size(); ++i) {
            made.in.edges[i].clearance_mm = dice.between(0, options.largest_clearance);
            made.in.edges[i].finish = options.mixed_finishes ? finishes[dice.whole(0, 2)] : all;
            made.in.corners[i].radius_mm = options.corner_radius;
        }
        return made;
    }
}

/// A point at share t of the whole length of edges with one tag, by sampling: t of each edge in turn.
inline std::vector<Vec2> samples(const Outline& line, int tag, int per_edge) {
    std::vector<Vec2> points;
    for (std::size_t k = 0; k < line.size(); ++k) {
        if (line.vertices[k].tag != tag) continue;
        for (int i = 0; i <= per_edge; ++i)
            points.push_back(point_at(line.edge(k), static_cast<double>(i) / per_edge));
    }
    return points;
}

}  // namespace spile::testing_panels
