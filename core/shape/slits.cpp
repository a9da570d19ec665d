#include "core/shape/slits.h"

#include <algorithm>
#include <cmath>

#include "core/geom/intersect.h"
#include "core/geom/measure_of.h"
#include "core/geom/tolerance.h"

namespace spile {
namespace {

constexpr double kRoundest = 0.9;  ///< bulge; 168 degrees
/// Parts of one circle have their middles so near to one another, of its radius: ends known to 1e-13 mm place the middle of a part
/// of 1e-6 mm ten times as well.
constexpr double kOneCircle = 1e-6;

/// The part of an edge from one share of its length to another.
Vertex part_of(const Edge& e, double from, double to) {
    return {point_at(e, from), e.straight() ? 0 : std::tan(std::atan(e.bulge) * (to - from)), e.tag};
}

/// Where a ray meets an outline.
struct Hit {
    double along = 0;  ///< mm from where it begins
    std::size_t edge = 0;
    double share = 0;
    Vec2 at;
};

std::vector<Hit> hits(const Outline& outline, const Edge& ray) {
    std::vector<Hit> all;
    const double length = distance(ray.a, ray.b);
    for (std::size_t k = 0; k < outline.size(); ++k)
        for (const Meeting& m : meet(ray, outline.edge(k))) all.push_back({m.t_a * length, k, m.t_b, m.at});
    std::sort(all.begin(), all.end(), [](const Hit& a, const Hit& b) { return a.along < b.along; });
    return all;
}

/// One side of a slit: where it leaves the rim and where it comes to the edge.
struct SlitSide {
    Hit rim, outer;
};

struct Slit {
    std::size_t edge = 0;  ///< of the panel
    Vec2 from, direction;  ///< from the middle of the opening, unit
    double length_mm = 0;  ///< to the edge
    SlitSide low, high;    ///< in the order in which the outer outline meets them
};

/// A path to `end` with arcs of one circle that follow one another made one, up to the roundest: a side of the slit that comes
/// to the rim close by where two of them meet would leave a sliver of one, with no room for the end of a flap.
std::vector<Vertex> joined_arcs(const std::vector<Vertex>& path, Vec2 end) {
    std::vector<Vertex> joined;
    for (std::size_t i = 0; i < path.size(); ++i) {
        const Vec2 to = i + 1 < path.size() ? path[i + 1].p : end;
        if (!joined.empty()) {
            Vertex& last = joined.back();
            const double a = last.bulge, b = path[i].bulge, both = (a + b) / (1 - a * b);
            if (a * b > 0 && a * b < 1 && std::fabs(both) <= kRoundest) {
                const Vec2 one = centre_of({last.p, path[i].p, a, 0}),
                           other = centre_of({path[i].p, to, b, 0});
                const Vec2 from = path[i].p - one;
                if (distance(one, other) <= kOneCircle * norm(from)) {
                    last.bulge = both;
                    continue;
                }
            }
        }
        joined.push_back(path[i]);
    }
    return joined;
}

/// Where a side of the slit meets a corner of the rim or of the line, one of the two parts there has no length.
void drop_edges_without_length(Outline& outline) {
    const Box box = box_of(outline);
    const double noise = noise_mm(std::max({-box.min.x, -box.min.y, box.max.x, box.max.y}));
    Outline kept;
    for (std::size_t k = 0; k < outline.size(); ++k)
        if (distance(outline.edge(k).a, outline.edge(k).b) > noise)
            kept.vertices.push_back(outline.vertices[k]);
    outline = std::move(kept);
}

class Cutter {
  public:
    Cutter(Panel& panel, std::size_t opening, const FinishSettings& finish, Reporter& report)
        : panel_(panel), index_(opening), o_(panel.openings[opening]), finish_(finish), report_(report) {}

    void run() {
        const SlitPlan& plan = *o_.slit;
        if (!(plan.gap_mm > 0)) {
            say("slit-gap", "has no width", "Give it a slit_gap of more than 0, net edge to net edge.");
            return;
        }
        if (plan.finish == Finish::turned && plan.gap_mm < 2 * finish_.turn_mm) {
            say("slit-turned",
                "is turned, and between its edges there is no goods for two turns: that takes a gap of " +
                    report_.said(2 * finish_.turn_mm) + " and it has " + report_.said(plan.gap_mm),
                "Bind or seal the slit.");
            return;
        }
        const auto slit = chosen();
        if (!slit) return;
        const std::string to = edge_name(panel_, slit->edge);
        judge_corners();
        if (!apply(*slit)) return;
        report_.add(
            "slit-runs", Severity::note, "opening", o_.id,
            {{"length", slit->high.outer.along - slit->high.rim.along, "mm"}, {"gap", o_.slit->gap_mm, "mm"}},
            "The slit of opening \"" + o_.id + "\" of panel " + panel_.id + " runs " +
                report_.said(slit->high.outer.along - slit->high.rim.along) + " to edge " + to + ".",
            "Where another edge suits better, name it.");
    }

  private:
    void say(const char* code, const std::string& what, const std::string& to_do) {
        report_.add(code, Severity::stop, "opening", o_.id, {{"gap", o_.slit->gap_mm, "mm"}},
                    "The slit of opening \"" + o_.id + "\" of panel " + panel_.id + " " + what + ".", to_do);
    }

    /// The nearest place of an edge of the panel on the net line.
    std::optional<Nearest> nearest_of(std::size_t edge) const {
        std::optional<Nearest> best;
        const Outline& outer = panel_.net_line.region.outer;
        for (std::size_t k = 0; k < outer.size(); ++k) {
            if (outer.vertices[k].tag != static_cast<int>(edge)) continue;
            const Nearest n = nearest_on(outer.edge(k), o_.centre_mm);
            if (!best || n.distance < best->distance) best = n;
        }
        return best;
    }

    std::optional<Slit> chosen() {
        if (side_of(o_.rim, o_.centre_mm) != Side::inside) {
            say("slit-without-middle", "begins at the middle of the opening, which lies outside its rim",
                "Give the opening a simpler outline, or cut the panel by a joint through it.");
            return std::nullopt;
        }
        struct Candidate {
            std::size_t edge;
            int seen;
            double distance;
        };
        std::vector<Candidate> candidates;
        for (std::size_t i = 0; i < panel_.edges.size(); ++i) {
            const EdgePlan& e = panel_.edges[i];
            const SlitPlan& plan = *o_.slit;
            const bool named =
                (e.from == plan.from && e.to == plan.to) || (e.from == plan.to && e.to == plan.from);
            if (!plan.from.empty() && !named) continue;
            if (const auto near = nearest_of(i)) candidates.push_back({i, seen(e.situation), near->distance});
        }
        std::stable_sort(candidates.begin(), candidates.end(), [](const Candidate& a, const Candidate& b) {
            return a.seen < b.seen || (a.seen == b.seen && a.distance < b.distance);
        });
        std::string why = "runs to an edge that is not on the net line";
        for (const Candidate& c : candidates)
            if (const auto slit = to_edge(c.edge, why)) return slit;
        say("slit-blocked", why, "Let it run to another edge, or move the opening.");
        return std::nullopt;
    }

    /// A slit straight to the nearest place of an edge, or why there is none.
    std::optional<Slit> to_edge(std::size_t edge, std::string& why) const {
        const Vec2 at = nearest_of(edge)->at, between = at - o_.centre_mm;
        Slit slit;
        slit.edge = edge;
        slit.from = o_.centre_mm;
        slit.length_mm = norm(between);
        slit.direction = unit(between);
        const std::string name = "edge " + edge_name(panel_, edge);
        const Outline& outer = panel_.net_line.region.outer;
        for (const bool high : {false, true}) {
            const auto side = side_of_slit(slit, high, outer);
            if (!side) {
                why = "is wider than the opening where it begins";
                return std::nullopt;
            }
            if (outer.vertices[side->outer.edge].tag != static_cast<int>(edge)) {
                why = "comes to a corner instead of " + name;
                return std::nullopt;
            }
            const Edge line{side->rim.at, side->outer.at, 0, 0};
            for (const Outline& hole : panel_.net_line.region.holes) {
                const int of = -2 - hole.vertices.front().tag;
                if (of == static_cast<int>(index_) || hits(hole, line).empty()) continue;
                why = "runs into opening \"" + panel_.openings[static_cast<std::size_t>(of)].id +
                      "\" on its way to " + name;
                return std::nullopt;
            }
            (high ? slit.high : slit.low) = *side;
        }
        return slit;
    }

    std::optional<SlitSide> side_of_slit(const Slit& slit, bool high, const Outline& outer) const {
        const double half = (high ? 1 : -1) * o_.slit->gap_mm / 2;
        const Vec2 a = slit.from + half * left_of(slit.direction);
        if (side_of(o_.rim, a) != Side::inside) return std::nullopt;
        const Box box = box_of(outer);
        const Edge ray{a, a + (box.width() + box.height()) * slit.direction, 0, 0};
        SlitSide side;
        const std::vector<Hit> rim = hits(o_.rim, ray);
        if (rim.empty()) return std::nullopt;
        side.rim = rim.back();
        for (const Hit& hit : hits(outer, ray)) {
            if (hit.along <= side.rim.along) continue;
            side.outer = hit;
            return side;
        }
        return std::nullopt;
    }

    void judge_corners() {
        if (o_.slit->finish != Finish::bound) return;
        report_.add("slit-corners-square", Severity::look, "opening", o_.id,
                    {{"least", finish_.least_bound_radius_mm, "mm"}},
                    "The slit of opening \"" + o_.id + "\" of panel " + panel_.id +
                        " is bound and meets the edge and the rim in square corners; a binder passes " +
                        report_.said(finish_.least_bound_radius_mm) + " and wider.",
                    "Bind the slit by hand with mitred corners, or seal it.");
    }

    /// The rim from the low side of the slit round to the high one.
    std::vector<Vertex> round_the_rim(const Slit& slit, int tag) const {
        std::vector<Vertex> out;
        const std::size_t n = o_.rim.size();
        const Hit &from = slit.low.rim, &to = slit.high.rim;
        std::size_t k = from.edge;
        double share = from.share;
        bool first = true;
        for (std::size_t step = 0; step <= n; ++step) {
            const bool last = k == to.edge && (!first || to.share > share);
            // A half circle is halved: moved sideways, rounding could make it more than one.
            const double end = last ? to.share : 1, middle = (share + end) / 2;
            const Edge e = o_.rim.edge(k);
            if (std::fabs(e.bulge) > kRoundest) {
                out.push_back(part_of(e, share, middle));
                out.back().tag = tag;
                out.push_back(part_of(e, middle, end));
            } else {
                out.push_back(part_of(e, share, end));
            }
            out.back().tag = tag;
            if (last) break;
            k = (k + 1) % n;
            share = 0;
            first = false;
        }
        return joined_arcs(out, to.at);
    }

    /// The outer outline with the slit in it. False when its sides do not meet the outline there.
    bool opened(Outline& outer, const Slit& slit) const {
        const auto low = side_of_slit(slit, false, outer), high = side_of_slit(slit, true, outer);
        const int e = static_cast<int>(slit.edge);
        if (!low || !high || outer.vertices[low->outer.edge].tag != e ||
            outer.vertices[high->outer.edge].tag != e)
            return false;
        Outline out;
        const std::size_t n = outer.size();
        // Round from the high side of the slit to the low one; what is left of its edge is named anew.
        bool left_edge = false;
        const auto add = [&](Vertex v) {
            left_edge = left_edge || v.tag != e;
            if (v.tag > e || (v.tag == e && !left_edge)) v.tag += 4;
            out.vertices.push_back(v);
        };
        std::size_t k = high->outer.edge;
        add(part_of(outer.edge(k), high->outer.share, 1));
        for (k = (k + 1) % n; k != low->outer.edge; k = (k + 1) % n) add(outer.vertices[k]);
        left_edge = true;
        add(part_of(outer.edge(k), 0, low->outer.share));
        out.vertices.push_back({low->outer.at, 0, e + 1});
        for (const Vertex& v : round_the_rim(slit, e + 2)) out.vertices.push_back(v);
        out.vertices.push_back({slit.high.rim.at, 0, e + 3});
        drop_edges_without_length(out);
        outer = std::move(out);
        return true;
    }

    bool apply(const Slit& slit) {
        NetLine net = panel_.net_line;
        if (!opened(net.region.outer, slit) || !opened(net.unrounded, slit)) {
            say("slit-blocked", "comes to a rounded corner",
                "Let it run to another edge, or move the opening.");
            return false;
        }
        const int tag = -2 - static_cast<int>(index_);
        auto& holes = net.region.holes;
        holes.erase(std::remove_if(holes.begin(), holes.end(),
                                   [&](const Outline& h) { return h.vertices.front().tag == tag; }),
                    holes.end());
        panel_.net_line = std::move(net);
        for (Vertex& v : panel_.boat_line.outline.vertices)
            if (v.tag > static_cast<int>(slit.edge)) v.tag += 4;

        const auto at = static_cast<std::ptrdiff_t>(slit.edge);
        EdgePlan& whole = panel_.edges[slit.edge];
        EdgePlan rest = whole;
        std::vector<CornerPlan> corners;
        for (int i = 1; i <= 4; ++i) corners.push_back({o_.id + " " + std::to_string(i), 0});
        whole.to = corners[0].at;
        rest.from = corners[3].at;
        const EdgePlan in{
            corners[0].at, corners[1].at, Measured::finished, Situation::joint, o_.slit->finish, 0, 0};
        const EdgePlan rim{
            corners[1].at, corners[2].at, Measured::finished, Situation::free, o_.finish, 0, 0};
        EdgePlan out = in;
        out.from = corners[2].at;
        out.to = corners[3].at;
        panel_.edges.insert(panel_.edges.begin() + at + 1, {in, rim, out, rest});
        panel_.corners.insert(panel_.corners.begin() + at + 1, corners.begin(), corners.end());
        return true;
    }

    Panel& panel_;
    std::size_t index_;
    const OpeningPlan o_;
    const FinishSettings& finish_;
    Reporter& report_;
};

}  // namespace

void cut_slits(Panel& panel, const FinishSettings& finish, Reporter& report) {
    for (std::size_t i = 0; i < panel.openings.size(); ++i) {
        if (!panel.openings[i].slit) continue;
        const int tag = -2 - static_cast<int>(i);
        const auto& holes = panel.net_line.region.holes;
        const bool made = std::any_of(holes.begin(), holes.end(),
                                      [&](const Outline& h) { return h.vertices.front().tag == tag; });
        if (made) Cutter(panel, i, finish, report).run();
    }
}

}  // namespace spile
