#include "core/edging/snap_check.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>

#include "core/base/text.h"
#include "core/edging/trace.h"
#include "core/geom/measure_of.h"
#include "core/geom/tolerance.h"

namespace spile {
namespace {

bool away(const Box& box, Vec2 p, double mm) {
    return box.min.x - p.x >= mm || p.x - box.max.x >= mm || box.min.y - p.y >= mm || p.y - box.max.y >= mm;
}

/// Edges with their boxes; most are ruled out by them.
struct Lines {
    std::vector<Edge> edges;
    std::vector<Box> boxes;

    void add(const Edge& e) {
        edges.push_back(e);
        boxes.push_back(box_of(e));
    }
    void add(const Path& path) {
        for (std::size_t i = 0; i < path.edge_count(); ++i) add(path.edge(i));
    }
    /// Calls for every edge nearer to p than `reach`.
    void near(Vec2 p, double reach, const std::function<void(std::size_t, const Nearest&)>& with) const {
        for (std::size_t i = 0; i < edges.size(); ++i) {
            if (away(boxes[i], p, reach)) continue;
            const Nearest at = nearest_on(edges[i], p);
            if (at.distance < reach) with(i, at);
        }
    }
};

class SnapCheck {
  public:
    SnapCheck(const Panel& panel, const FinishSettings& finish, Piece& piece, Reporter& report)
        : panel_(panel), finish_(finish), piece_(piece), report_(report) {
        for (const Seam& seam : piece.seams) stitches_.add(seam.path);
        const Outline& outer = piece.net.outer;
        const std::vector<Finish> finishes = finishes_along(outer, panel.edges);
        for (std::size_t k = 0; k < outer.size(); ++k) {
            net_.add(outer.edge(k));
            net_finish_.push_back(finishes[k]);
        }
        for (const Outline& hole : piece.net.holes) {
            const auto of = static_cast<std::size_t>(-2 - hole.vertices.front().tag);
            for (std::size_t k = 0; k < hole.size(); ++k) {
                net_.add(hole.edge(k));
                net_finish_.push_back(panel.openings[of].finish);
            }
        }
        for (const FlapCut& cut : piece.flap_cuts)
            if (cut.kind == FlapCut::Kind::notch || cut.kind == FlapCut::Kind::slit)
                cuts_.add(cut.path);
            else
                add_corner(cut);
        for (const Path& slit : piece.slits) cuts_.add(slit);
        add_ends();
    }

    void run() {
        for (Stud& stud : piece_.studs) stud.flaps = flaps_under(stud.at_mm);
        say("snap-on-stitches", "on a stitch line",
            "Set them farther in or nearer to the edge, or sew round them.",
            [&](Vec2 p) { return least(stitches_, p); });
        say("snap-on-binding-edge", "on the inner edge of the binding", "Set them farther in.",
            [&](Vec2 p) { return from_binding(p); });
        say(
            "snap-on-relief-cut", "on a cut in the folded goods",
            "Set them between two cuts, or patch the cut under them.", [&](Vec2 p) { return from_cuts(p); },
            true);
        say(
            "snap-on-flap-end", "across the end of a flap folded under it",
            "Move them so, or patch the end under them.", [&](Vec2 p) { return from_ends(p); }, true);
        say("snap-on-snap", "on another snap", "Leave one of them out.", [&](Vec2 p) {
            double least = HUGE_VAL;
            for (const Stud& other : piece_.studs)
                if (!(other.at_mm == p)) least = std::min(least, distance(other.at_mm, p) - snap_half_mm);
            return least;
        });
    }

  private:
    double flap_mm() const { return finish_.turn_mm - finish_.backing_thickness_mm; }

    static double least(const Lines& lines, Vec2 p) {
        double mm = HUGE_VAL;
        lines.near(p, snap_half_mm, [&](std::size_t, const Nearest& at) { mm = std::min(mm, at.distance); });
        return mm;
    }

    /// One flap for each edge of the panel or rim, however many arcs draw it.
    int flaps_under(Vec2 p) const {
        std::vector<int> tags;
        net_.near(p, flap_mm() + snap_half_mm, [&](std::size_t i, const Nearest&) {
            const int tag = net_.edges[i].tag;
            if (net_finish_[i] == Finish::turned && std::find(tags.begin(), tags.end(), tag) == tags.end())
                tags.push_back(tag);
        });
        return static_cast<int>(tags.size());
    }

    double from_binding(Vec2 p) const {
        const double inner = finish_.binding_width_mm / 2;
        double mm = HUGE_VAL;
        net_.near(p, inner + snap_half_mm, [&](std::size_t i, const Nearest& at) {
            if (net_finish_[i] == Finish::bound) mm = std::min(mm, std::fabs(at.distance - inner));
        });
        return mm;
    }

    /// Ends of the two flaps at a corner where both edges are turned.
    struct CornerCut {
        Vec2 corner;
        Lines before, after;  ///< ends of the flap of the edge before the corner, and of the one after it
    };

    void add_corner(const FlapCut& cut) {
        const auto& v = cut.path.vertices;
        const Vec2 root = v.size() > 2 ? lerp(v[1].p, v[v.size() - 2].p, 0.5) : v.back().p;
        CornerCut made;
        double nearest = HUGE_VAL;
        for (const Edge& e : net_.edges)
            if (const double d = distance(e.a, root); d < nearest) nearest = d, made.corner = e.a;
        const std::size_t n = cut.path.edge_count();
        for (std::size_t i = 0; i < n; ++i) {
            if (i + 1 < n || n == 1) made.before.add(cut.path.edge(i));
            if (i > 0 || n == 1) made.after.add(cut.path.edge(i));
        }
        corners_.push_back(std::move(made));
    }

    /// Ends of flaps beside edges that are not turned: there the face line runs from the fold to the flap's own cut. How far out
    /// is asked of the flap's own edge: at an inside corner the edge beside it is near everywhere.
    void add_ends() {
        const Outline& face = piece_.cut.face.outer;
        const double half = finish_.turn_mm / 2;
        const auto by_own = [&](Vec2 p, int tag) {
            for (std::size_t i = 0; i < piece_.net.outer.size(); ++i)  // its edges come first
                if (net_.edges[i].tag == tag && !away(net_.boxes[i], p, half) &&
                    nearest_on(net_.edges[i], p).distance < half)
                    return true;
            return false;
        };
        for (std::size_t k = 0; k < face.size(); ++k) {
            const Edge e = face.edge(k);
            if (e.straight() && by_own(e.a, e.tag) != by_own(e.b, e.tag)) ends_.add(e);
        }
    }

    /// Where the goods that lie under p, folded over an edge, lie when they are cut: T of them lies round the backing.
    Vec2 unfolded(const Edge& e, Vec2 p) const {
        const double thick = finish_.backing_thickness_mm;
        if (e.straight()) {
            const Vec2 in = left_of(direction_at(e, 0));
            return p - (2 * dot(p - e.a, in) + thick) * in;
        }
        const Vec2 centre = centre_of(e), ray = unit(p - centre);
        const double sense = e.bulge > 0 ? 1 : -1;
        return centre + (2 * radius_of(e) - distance(p, centre) + sense * thick) * ray;
    }

    /// Calls for every turned edge whose flap may lie under a snap there, with the place of its goods as they are cut.
    void under(Vec2 p, const std::function<void(const Edge&, Vec2)>& with) const {
        net_.near(p, flap_mm() + snap_half_mm, [&](std::size_t i, const Nearest&) {
            const Edge& e = net_.edges[i];
            // At the middle of an arc all its tabs come together: none is nearer than another.
            if (net_finish_[i] != Finish::turned || (!e.straight() && p == centre_of(e))) return;
            with(e, unfolded(e, p));
        });
    }

    double from_cuts(Vec2 p) const {
        double mm = HUGE_VAL;
        if (cuts_.edges.empty()) return mm;
        under(p, [&](const Edge&, Vec2 cut) { mm = std::min(mm, least(cuts_, cut)); });
        return mm;
    }

    double from_ends(Vec2 p) const {
        double mm = HUGE_VAL;
        if (ends_.edges.empty() && corners_.empty()) return mm;
        under(p, [&](const Edge& e, Vec2 cut) {
            mm = std::min(mm, least(ends_, cut));
            for (const CornerCut& c : corners_) {
                if (e.b == c.corner) mm = std::min(mm, least(c.before, cut));
                if (e.a == c.corner) mm = std::min(mm, least(c.after, cut));
            }
        });
        return mm;
    }

    double from_snaps(Vec2 p, const Stud& but) const {
        double mm = HUGE_VAL;
        for (const Stud& other : piece_.studs)
            if (&other != &but) mm = std::min(mm, distance(other.at_mm, p) - snap_half_mm);
        return mm;
    }

    /// Along the edge a snap stands by, so far from where it stands in a straight line, ahead or back; as far inside it.
    static Vec2 along(const Edge& e, Vec2 p, double by) {
        if (e.straight()) return p + by * direction_at(e, 0);
        const Vec2 centre = centre_of(e), from = p - centre;
        const double half = std::clamp(by / (2 * norm(from)), -1.0, 1.0);  // sine of half the turn
        const double sine = 2 * half * std::sqrt(1 - half * half) * (e.bulge > 0 ? 1 : -1);
        return centre + (1 - 2 * half * half) * from + sine * left_of(from);
    }

    /// The nearest place along the edge where a snap stands clear of flap ends, relief cuts and other snaps, no nearer to any
    /// edge than it does: how far from it, and by which edge; ahead is more than 0. Nothing within `furthest_mm`.
    struct Clear {
        double by = 0;
        int tag = 0;
    };
    std::optional<Clear> clear_of(const Stud& stud) const {
        constexpr double furthest_mm = 150, step_mm = 1;
        constexpr int halvings = 10;
        double nearest = HUGE_VAL, room = HUGE_VAL;
        std::size_t edge = 0;
        net_.near(stud.at_mm, flap_mm() + snap_half_mm, [&](std::size_t i, const Nearest& at) {
            room = std::min(room, at.distance);
            if (net_finish_[i] == Finish::turned && at.distance < nearest) nearest = at.distance, edge = i;
        });
        if (nearest == HUGE_VAL) return std::nullopt;
        const Edge e = net_.edges[edge];
        const auto clear = [&](double by) {
            const Vec2 p = along(e, stud.at_mm, by);
            bool ok = nearest_on(e, p).distance < nearest + step_mm;
            net_.near(p, room - noise_mm(room), [&](std::size_t, const Nearest&) { ok = false; });
            return ok && std::min({from_ends(p), from_cuts(p), from_snaps(p, stud)}) >= snap_half_mm;
        };
        for (double by = step_mm; by <= furthest_mm; by += step_mm)
            for (const double way : {1.0, -1.0}) {
                if (!clear(way * by)) continue;
                double too_little = by - step_mm, enough = by;
                for (int i = 0; i < halvings; ++i) {
                    const double half = (too_little + enough) / 2;
                    (clear(way * half) ? enough : too_little) = half;
                }
                return Clear{way * enough, e.tag};
            }
        return std::nullopt;
    }

    /// "S1 5/16 in toward B"; along a rim or a rounded corner the way round, seen from the face.
    std::string moved(const Stud& stud, const Clear& to) const {
        // Outer edges run counter-clockwise, those of openings clockwise.
        std::string toward = (to.by > 0) == (to.tag == -1) ? "counter-clockwise" : "clockwise";
        if (to.tag >= 0) {
            const EdgePlan& e = panel_.edges[static_cast<std::size_t>(to.tag)];
            toward = "toward " + (to.by > 0 ? e.to : e.from);
        }
        return stud.id + " " + report_.said_at_least(std::fabs(to.by)) + " " + toward;
    }

    /// `with_places`: the nearest places along the edge where they would stand clear come first of what to do.
    void say(const char* code, const std::string& where, std::string to_do,
             const std::function<double(Vec2)>& distance_of, bool with_places = false) {
        std::vector<std::string> names, places;
        double worst = snap_half_mm, move = 0;
        for (const Stud& stud : piece_.studs) {
            const double mm = distance_of(stud.at_mm);
            if (!(mm < snap_half_mm)) continue;
            names.push_back(stud.id);
            worst = std::min(worst, mm);
            if (!with_places) continue;
            if (const auto to = clear_of(stud)) {
                places.push_back(moved(stud, *to));
                move = std::max(move, std::fabs(to->by));
            }
        }
        if (names.empty()) return;
        worst = std::max(0.0, worst);
        constexpr std::size_t most = 12;
        const std::size_t count = names.size();
        if (count > most) {
            names.resize(most);
            names.push_back(count_of(count - most, "more", "more"));
        }
        std::vector<Quantity> numbers{{"snaps", static_cast<double>(count), ""},
                                      {"distance", worst, "mm"},
                                      {"least", snap_half_mm, "mm"}};
        if (!places.empty()) {
            numbers.push_back({"move", move, "mm"});
            if (places.size() > most) places.resize(most);
            to_do = "The nearest clear places along the edge: " + list_words(places) + ". " + to_do;
        }
        report_.add(code, Severity::look, "panel", "", std::move(numbers),
                    "On panel " + panel_.id + (count == 1 ? " snap " : " snaps ") + list_words(names) +
                        (count == 1 ? " stands " : " stand ") + where + ": " + report_.said(worst) +
                        " from the middle, and its base takes " + report_.said(snap_half_mm) + ".",
                    to_do);
    }

    const Panel& panel_;
    const FinishSettings& finish_;
    Piece& piece_;
    Reporter& report_;
    Lines stitches_, net_, cuts_, ends_;
    std::vector<CornerCut> corners_;
    std::vector<Finish> net_finish_;
};

}  // namespace

void judge_snaps(const Panel& panel, const FinishSettings& finish, Piece& piece, Reporter& report) {
    if (!piece.studs.empty()) SnapCheck(panel, finish, piece, report).run();
}

}  // namespace spile
