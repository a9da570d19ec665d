#include "core/shape/stud_rule.h"

#include <algorithm>
#include <cmath>

#include "core/base/text.h"
#include "core/geom/measure_of.h"
#include "core/geom/offset.h"
#include "core/geom/tolerance.h"

namespace spile {
namespace {

/// How often the largest distance from the edge is halved upon: 2^-12 of it is finer than a tape reads.
constexpr int kHalvings = 12;
/// Turning by less, an edge runs on: no corner for a snap. 20 degrees, cosine; common practice.
constexpr double kCornerCos = 0.93969262078590843;

/// The line the snaps stand on; empty when it falls into parts.
Outline line_inside(const Outline& net, double mm) {
    std::vector<Outline> parts = offset(net, -mm);
    return parts.size() == 1 ? std::move(parts.front()) : Outline{};
}

/// A stretch of the line from one corner to the next.
struct Stretch {
    std::vector<Edge> edges;
    double length_mm = 0;
};

/// Sides of the line. A rounded corner is one place, its middle; a line without corners is one side.
std::vector<Stretch> sides_of(const Outline& line) {
    const std::size_t n = line.size();
    std::vector<std::pair<std::size_t, double>> corners;  // edge, share of it
    for (std::size_t k = 0; k < n; ++k) {
        const Edge before = line.edge((k + n - 1) % n), e = line.edge(k);
        if (e.tag < 0 && !e.straight())
            corners.push_back({k, 0.5});
        else if (before.tag >= 0 && dot(direction_at(before, 1), direction_at(e, 0)) < kCornerCos)
            corners.push_back({k, 0});
    }
    if (corners.empty()) corners.push_back({0, 0});
    std::vector<Stretch> sides;
    const auto part = [&](std::size_t k, double from, double to) {
        const Edge e = line.edge(k);
        if (from >= to) return;
        const double bulge = e.straight() ? 0 : std::tan(std::atan(e.bulge) * (to - from));
        sides.back().edges.push_back({point_at(e, from), point_at(e, to), bulge, e.tag});
        sides.back().length_mm += length_of(e) * (to - from);
    };
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const auto [from, share] = corners[i];
        const auto [to, end] = corners[(i + 1) % corners.size()];
        sides.push_back({});
        std::size_t k = from;
        double begin = share;
        // All round once where there is one corner alone.
        for (std::size_t step = 0; step <= n; ++step) {
            const bool last = k == to && (step > 0 || (corners.size() > 1 && end > begin));
            part(k, begin, last ? end : 1);
            if (last) break;
            k = (k + 1) % n;
            begin = 0;
        }
    }
    return sides;
}

Vec2 at(const Stretch& side, double mm) {
    for (const Edge& e : side.edges) {
        const double length = length_of(e);
        if (mm <= length) return point_at(e, length > 0 ? mm / length : 0);
        mm -= length;
    }
    return side.edges.back().b;
}

class Setter {
  public:
    Setter(Panel& panel, const StudRule& rule, const FinishSettings& finish, Reporter& report)
        : panel_(panel), rule_(rule), finish_(finish), report_(report), boat_(panel.studs) {}

    void run() {
        const Outline& net = panel_.net_line.region.outer;
        const Outline line = line_inside(net, rule_.from_edge_mm);
        if (line.empty()) {
            say_no_line(net);
            return;
        }
        for (const Stretch& side : sides_of(line)) {
            set(at(side, 0), rule_.from_edge_mm);
            if (rule_.pitch_mm <= 0) continue;
            const double tolerance = noise_mm(side.length_mm);
            const int count =
                std::max(1, static_cast<int>(std::ceil((side.length_mm - tolerance) / rule_.pitch_mm)));
            for (int i = 1; i < count; ++i) set(at(side, side.length_mm * i / count), rule_.pitch_mm / 2);
        }
        if (left_out_ == 0) return;
        report_.add(
            "studs-left-out", Severity::note, "panel", "",
            {{"left out", static_cast<double>(left_out_), ""}, {"least", finish_.stud_from_edge_mm, "mm"}},
            "On panel " + panel_.id + " " + count_of(left_out_, "snap", "snaps") +
                " of the rule would stand less than " + report_.said(finish_.stud_from_edge_mm) +
                " from an opening or another edge and " + (left_out_ == 1 ? "is" : "are") + " left out.",
            "Where one is wanted there, set it aboard.");
    }

  private:
    void set(Vec2 p, double own_ground_mm) {
        for (const Stud& s : boat_)
            if (distance(s.at_mm, p) < own_ground_mm) return;
        const Region& net = panel_.net_line.region;
        const double least = finish_.stud_from_edge_mm;
        bool clear =
            nearest_on(net.outer, p).distance >= std::min(least, rule_.from_edge_mm) - noise_mm(least);
        for (const Outline& hole : net.holes)
            clear = clear && side_of(hole, p) == Side::outside && nearest_on(hole, p).distance >= least;
        if (!clear) {
            ++left_out_;
            return;
        }
        panel_.studs.push_back({"n" + std::to_string(++count_), p, true});
    }

    void say_no_line(const Outline& net) {
        double workable = 0, too_much = rule_.from_edge_mm;
        for (int i = 0; i < kHalvings; ++i) {
            const double mm = (workable + too_much) / 2;
            (line_inside(net, mm).empty() ? too_much : workable) = mm;
        }
        report_.add("studs-without-room", Severity::stop, "panel", "",
                    {{"from edge", rule_.from_edge_mm, "mm"}, {"largest workable", workable, "mm"}},
                    "Panel " + panel_.id + " has no line " + report_.said(rule_.from_edge_mm) +
                        " inside its edge all round on which snaps could stand.",
                    "Set them no farther from the edge than " + report_.said_at_most(workable) + ".");
    }

    Panel& panel_;
    const StudRule& rule_;
    const FinishSettings& finish_;
    Reporter& report_;
    const std::vector<Stud> boat_;
    std::size_t count_ = 0, left_out_ = 0;
};

}  // namespace

void place_studs(Panel& panel, const StudRule& rule, const FinishSettings& finish, Reporter& report) {
    Setter(panel, rule, finish, report).run();
}

}  // namespace spile
