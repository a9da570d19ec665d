#include "core/shape/match_marks.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "core/geom/intersect.h"
#include "core/geom/measure_of.h"

namespace spile {
namespace {

/// Two lines that lie within this of one another are one joint: no knife cuts finer.
constexpr Allowance kShared{0.1};
constexpr double kLeastStretch_mm = 2 * 25.4;  ///< shorter ones are found without a mark (common practice)
constexpr double kPitch_mm = 36 * 25.4;        ///< from mark to mark at most (common practice)
constexpr double kRunsAlong = 1e-6;            ///< sine: a net line beside the joint runs as the joint does
/// Where a mark finds no room in its place, it moves by these shares of its stretch, in order.
constexpr double kMoves[] = {0, -0.1, 0.1, -0.2, 0.2, -0.3, 0.3, -0.4, 0.4};

bool apart(const Box& a, const Box& b) {
    return a.max.x + kShared.mm < b.min.x || b.max.x + kShared.mm < a.min.x ||
           a.max.y + kShared.mm < b.min.y || b.max.y + kShared.mm < a.min.y;
}

bool meets_neighbour(Situation s) {
    return s == Situation::joint || s == Situation::lid;
}

/// A joint as one of its neighbours runs along it.
using Stretch = std::vector<Edge>;

double length_of(const Stretch& stretch) {
    double mm = 0;
    for (const Edge& e : stretch) mm += spile::length_of(e);
    return mm;
}

struct Place {
    Vec2 at, along;
};
Place place_on(const Stretch& stretch, double mm) {
    for (const Edge& e : stretch) {
        const double length = spile::length_of(e);
        if (mm <= length) return {point_at(e, mm / length), direction_at(e, mm / length)};
        mm -= length;
    }
    return {stretch.back().b, direction_at(stretch.back(), 1)};
}

/// The part of e that lies on f.
std::optional<Edge> shared_part(const Edge& e, const Edge& f) {
    if (apart(box_of(e), box_of(f))) return std::nullopt;
    std::vector<double> ends;
    for (const double t : {0.0, 1.0}) {
        if (nearest_on(f, point_at(e, t)).distance <= kShared.mm) ends.push_back(t);
        const Vec2 p = point_at(f, t);
        const Nearest near = nearest_on(e, p);
        if (near.distance > kShared.mm) continue;
        const double length = spile::length_of(e);
        const Edge to{e.a, near.at, 0, 0};
        // Share of an arc by its chord: sweep = 2 asin(chord / 2 r).
        const double away = distance(to.a, to.b);
        const double along =
            e.straight() ? away : 2 * radius_of(e) * std::asin(std::min(1.0, away / (2 * radius_of(e))));
        ends.push_back(std::clamp(along / length, 0.0, 1.0));
    }
    if (ends.size() < 2) return std::nullopt;
    const auto [from, to] = std::minmax_element(ends.begin(), ends.end());
    const double share = *to - *from;
    if (share * spile::length_of(e) <= kShared.mm ||
        nearest_on(f, point_at(e, (*from + *to) / 2)).distance > kShared.mm)
        return std::nullopt;
    return Edge{point_at(e, *from), point_at(e, *to), e.straight() ? 0 : std::tan(std::atan(e.bulge) * share),
                e.tag};
}

/// What is given up along an edge, and more: how far its net line may lie from the joint.
double reach_of(const EdgePlan& plan) {
    return plan.clearance_mm + 2 * 25.4;
}

/// A place of a net line and the finish there.
struct Foot {
    Vec2 at;
    Finish finish = Finish::bound;
    double along = 0;  ///< from the joint, inward
};

Finish finish_of(const Panel& panel, int tag) {
    if (tag >= 0) return panel.edges[static_cast<std::size_t>(tag)].finish;
    return tag == -1 ? Finish::bound : panel.openings[static_cast<std::size_t>(-2 - tag)].finish;
}

/// The net line beside a place of the joint: the nearest that runs as the joint does, with its goods inward.
std::optional<Foot> foot_of(const Panel& panel, Vec2 at, Vec2 inward, double reach) {
    const Edge ray{at - reach * inward, at + reach * inward, 0, 0};
    const Box box = box_of(ray);
    std::optional<Foot> best;
    const auto try_outline = [&](const Outline& outline) {
        for (std::size_t k = 0; k < outline.size(); ++k) {
            const Edge e = outline.edge(k);
            if (apart(box, box_of(e))) continue;
            for (const Meeting& m : meet(ray, e)) {
                const Vec2 d = direction_at(e, m.t_b);
                const double along = dot(inward, m.at - at);
                if (std::fabs(dot(d, inward)) > kRunsAlong || cross(d, inward) < 0) continue;
                if (!best || std::fabs(along) < std::fabs(best->along))
                    best = Foot{at + along * inward, finish_of(panel, e.tag), along};
            }
        }
    };
    try_outline(panel.net_line.region.outer);
    for (const Outline& hole : panel.net_line.region.holes) try_outline(hole);
    return best;
}

/// The two sides of a slit, and the line in the middle between them.
struct SlitSides {
    Edge middle;
    double gap_mm = 0;
};
std::optional<SlitSides> sides_of(const Panel& panel, const std::string& opening) {
    std::optional<Edge> sides[2];
    const Outline& net = panel.net_line.region.outer;
    for (std::size_t k = 0; k < net.size(); ++k) {
        const Edge e = net.edge(k);
        if (e.tag < 0 || !e.straight()) continue;
        const EdgePlan& plan = panel.edges[static_cast<std::size_t>(e.tag)];
        if (plan.from == opening + " 1" && plan.to == opening + " 2") sides[0] = e;
        if (plan.from == opening + " 3" && plan.to == opening + " 4") sides[1] = e;
    }
    if (!sides[0] || !sides[1]) return std::nullopt;
    const Vec2 along = unit(sides[0]->b - sides[0]->a);
    const Vec2 across = left_of(along);
    const double gap = dot(across, sides[0]->a - sides[1]->a);
    const double from = std::max(0.0, dot(along, sides[1]->b - sides[0]->a));
    const double to = std::min(distance(sides[0]->a, sides[0]->b), dot(along, sides[1]->a - sides[0]->a));
    const Vec2 start = sides[0]->a - gap / 2 * across;
    return SlitSides{{start + from * along, start + to * along, 0, 0}, gap};
}

class Marker {
  public:
    Marker(const std::vector<Panel*>& panels, int& count) : panels_(panels), count_(count) {}

    void originals() {
        for (std::size_t p = 0; p < panels_.size(); ++p) {
            for (std::size_t q = p + 1; q < panels_.size(); ++q) neighbours(*panels_[p], *panels_[q]);
            slits(*panels_[p]);
            lids(*panels_[p]);
        }
    }

    /// Between a twin and what is no twin; between two twins they are those of their originals.
    void twins() {
        for (std::size_t p = 0; p < panels_.size(); ++p)
            for (std::size_t q = p + 1; q < panels_.size(); ++q)
                if (panels_[p]->twin_of.empty() != panels_[q]->twin_of.empty())
                    neighbours(*panels_[p], *panels_[q]);
    }

  private:
    void add(Panel& one, Panel& other, const Place& place, const Foot& own, const Foot& its) {
        const std::string name = "M" + std::to_string(++count_);
        const Vec2 inward = left_of(place.along);
        one.match_marks.push_back({name, other.id, place.at, own.at, inward, own.finish});
        other.match_marks.push_back({name, one.id, place.at, its.at, -inward, its.finish});
    }

    /// `stretch` runs as `one` does, its goods on the left.
    void mark(Panel& one, Panel& other, const Stretch& stretch, double reach, double its_reach) {
        const double length = length_of(stretch);
        if (length < kLeastStretch_mm) return;
        const int marks = static_cast<int>(std::ceil(length / kPitch_mm - 1e-9));
        for (int i = 0; i < marks; ++i)
            for (const double move : kMoves) {
                const Place place = place_on(stretch, length * (i + 0.5 + move) / marks);
                const auto own = foot_of(one, place.at, left_of(place.along), reach);
                const auto its = foot_of(other, place.at, -left_of(place.along), its_reach);
                if (!own || !its) continue;
                add(one, other, place, *own, *its);
                break;
            }
    }

    void neighbours(Panel& a, Panel& b) {
        if (a.mat || b.mat || a.space != b.space) return;
        const Outline &one = a.boat_line.outline, &two = b.boat_line.outline;
        if (apart(box_of(one), box_of(two))) return;
        // By pairs of their edges, in the order in which `a` meets them.
        for (std::size_t i = 0; i < a.edges.size(); ++i)
            for (std::size_t k = 0; k < b.edges.size(); ++k) {
                if (!meets_neighbour(a.edges[i].situation) && !meets_neighbour(b.edges[k].situation))
                    continue;
                Stretch stretch;
                for (std::size_t v = 0; v < one.size(); ++v) {
                    if (one.vertices[v].tag != static_cast<int>(i)) continue;
                    for (std::size_t w = two.size(); w-- > 0;) {
                        if (two.vertices[w].tag != static_cast<int>(k)) continue;
                        if (const auto part = shared_part(one.edge(v), two.edge(w))) stretch.push_back(*part);
                    }
                }
                if (!stretch.empty()) mark(a, b, stretch, reach_of(a.edges[i]), reach_of(b.edges[k]));
            }
    }

    void slits(Panel& panel) {
        for (const OpeningPlan& o : panel.openings) {
            if (!o.slit) continue;
            const auto sides = sides_of(panel, o.id);
            if (!sides || distance(sides->middle.a, sides->middle.b) < kLeastStretch_mm) continue;
            mark(panel, panel, {sides->middle}, sides->gap_mm, sides->gap_mm);
        }
    }

    /// In the middle of the longest edge of the lid, and of the longest that runs another way.
    void lids(Panel& panel) {
        for (const OpeningPlan& o : panel.openings) {
            if (o.form != OpeningPlan::Form::lid) continue;
            for (Panel* lid : panels_) {
                if (lid->id != o.lid || lid == &panel) continue;
                const Outline& line = lid->net_line.region.outer;
                std::optional<Edge> longest, second;
                const auto longer = [](const Edge& e, const std::optional<Edge>& than) {
                    return !than || spile::length_of(e) > spile::length_of(*than);
                };
                for (std::size_t k = 0; k < line.size(); ++k)
                    if (longer(line.edge(k), longest)) longest = line.edge(k);
                const Vec2 along = direction_at(*longest, 0.5);
                for (std::size_t k = 0; k < line.size(); ++k)
                    if (std::fabs(dot(direction_at(line.edge(k), 0.5), along)) < 0.9 &&
                        longer(line.edge(k), second))
                        second = line.edge(k);
                std::vector<Place> places{{point_at(*longest, 0.5), along}};
                if (second)
                    places.push_back({point_at(*second, 0.5), direction_at(*second, 0.5)});
                else  // round, in two halves
                    places.push_back({longest->b, direction_at(*longest, 1)});
                for (const Place& place : places) {
                    const double reach = 2 * o.ease_mm + 25.4;
                    const auto own = foot_of(*lid, place.at, left_of(place.along), reach);
                    const auto its = foot_of(panel, place.at, -left_of(place.along), reach);
                    if (own && its) add(*lid, panel, place, *own, *its);
                }
            }
        }
    }

    const std::vector<Panel*>& panels_;
    int& count_;
};

}  // namespace

void MatchMarks::of_originals(const std::vector<Panel*>& panels) {
    Marker(panels, count_).originals();
}

void MatchMarks::of_twins(std::vector<Panel>& panels) {
    std::vector<Panel*> all;
    bool any = false;
    for (Panel& panel : panels) {
        all.push_back(&panel);
        if (panel.twin_of.empty()) continue;
        any = true;
        std::vector<MatchMark> kept;
        for (MatchMark& m : panel.match_marks)
            for (const Panel& neighbour : panels) {
                const bool itself = m.other == panel.twin_of && &neighbour == &panel;
                if (!itself && (m.other == panel.twin_of || neighbour.twin_of != m.other)) continue;
                m.other = neighbour.id;
                kept.push_back(m);
                break;
            }
        panel.match_marks = std::move(kept);
    }
    if (any) Marker(all, count_).twins();
}

}  // namespace spile
