#include "core/edging/fold_check.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "core/edging/flap_cuts.h"
#include "core/geom/intersect.h"
#include "core/geom/measure_of.h"

namespace spile {
namespace {

/// Flaps are taken this much smaller all round, so that one that lies along an edge does not cross it. No knife cuts finer.
constexpr Allowance kKnife{0.1};
/// How often the widest workable turn is halved upon: 2^-10 of a turn is finer than a tape reads.
constexpr int kHalvings = 10;

/// The outline of a folded flap without its fold.
struct Folded {
    std::vector<Edge> sides;
    Box box;
    Outline whole;  ///< sides and fold
};

Folded folded(const Edge& e, const Flap& flap, double turn, double thick) {
    const Vec2 d = direction_at(e, 0), f = direction_at(e, 1);
    const double t = turn - thick - kKnife.mm;
    Folded out;
    if (t <= 0) return out;
    out.sides.reserve(3);
    out.whole.vertices.reserve(4);
    // Under the panel, past the edge of the backing, an end lies T cot further from the corner.
    const double short_start = flap.start.trim_mm + thick * flap.start.cot + kKnife.mm;
    const double short_end = flap.end.trim_mm + thick * flap.end.cot + kKnife.mm;
    const Vec2 p = e.a + short_start * d, q = e.b - short_end * f;
    const Vec2 p_in = flap.start.cot * d + left_of(d), q_in = left_of(f) - flap.end.cot * f;
    if (dot(q - p, e.b - e.a) <= 0) return out;
    Vec2 a = p + t * p_in, b = q + t * q_in;
    const auto side = [&](Vec2 from, Vec2 to, double bulge) {
        if (from == to) return;
        out.sides.push_back({from, to, bulge, 0});
        out.box.add(box_of(out.sides.back()));
    };
    if (dot(b - a, e.b - e.a) <= 0) {  // the two ends cross before the flap ends
        const double parting = cross(p_in, q_in);
        a = b = parting > 0 ? p + cross(q - p, q_in) / parting * p_in : lerp(a, b, 0.5);
    }
    side(p, a, 0);
    if (!(a == b)) {
        const Vec2 middle = midpoint_of(e) + t * left_of(direction_at(e, 0.5));
        const double bulge = e.straight() ? 0 : bulge_through(a, middle, b);
        side(a, b, std::fabs(bulge) <= 1 ? bulge : 0);
    }
    side(b, q, 0);
    for (const Edge& s : out.sides) out.whole.vertices.push_back({s.a, s.bulge, 0});
    out.whole.vertices.push_back({q, -e.bulge, 0});
    return out;
}

bool apart(const Box& a, const Box& b) {
    return a.max.x < b.min.x || b.max.x < a.min.x || a.max.y < b.min.y || b.max.y < a.min.y;
}

bool crosses(const Folded& flap, const Edge& e) {
    for (const Edge& side : flap.sides)
        for (const Meeting& m : meet(side, e))
            if (!m.touching) return true;
    return false;
}

bool cross_one_another(const Folded& a, const Folded& b) {
    if (std::any_of(b.sides.begin(), b.sides.end(), [&](const Edge& e) { return crosses(a, e); }))
        return true;
    // Ends that lie on one another do not cross: the middles of the cut edges tell.
    const auto holds = [](const Folded& f, const Folded& other) {
        return std::any_of(other.sides.begin(), other.sides.end(),
                           [&](const Edge& e) { return side_of(f.whole, midpoint_of(e)) == Side::inside; });
    };
    return holds(a, b) || holds(b, a);
}

class Judge {
  public:
    Judge(const Panel& panel, const FlapPlan& plan, const FinishSettings& settings, Reporter& report)
        : panel_(panel),
          net_(panel.net_line.region.outer),
          plan_(plan),
          settings_(settings),
          report_(report) {
        for (std::size_t k = 0; k < net_.size(); ++k) boxes_.push_back(box_of(net_.edge(k)));
    }

    void all() {
        const std::size_t n = net_.size();
        std::vector<Folded> flaps(n);
        std::vector<bool> out(n, false);
        std::set<std::string> said;
        for (std::size_t k = 0; k < n; ++k) {
            const Flap& flap = plan_.flaps[k];
            if (flap.turn_mm <= 0) continue;
            flaps[k] = folded(net_.edge(k), flap, flap.turn_mm, settings_.backing_thickness_mm);
            const std::size_t met = crossed_by(k, flaps[k]);
            out[k] = met < n;
            if (out[k] && said.insert(net_edge_name(panel_, k)).second) say_out(k, met);
        }
        for (std::size_t k = 0; k < n; ++k) judge_step(k);
        for (std::size_t k = 0; k < n; ++k)
            for (std::size_t j = k + 2; j < n; ++j) {
                if (apart(flaps[k].box, flaps[j].box)) continue;  // as are those that are none
                if ((j + 1) % n == k || out[k] || out[j] || share_round_corner(k, j)) continue;
                if (!cross_one_another(flaps[k], flaps[j])) continue;
                const std::string a = net_edge_name(panel_, k), b = net_edge_name(panel_, j);
                if (a == b || !said.insert(a + "/" + b).second) continue;
                say_meet(a, b);
            }
    }

  private:
    /// The first edge of the net line that a folded flap crosses, or as many as there are.
    std::size_t crossed_by(std::size_t k, const Folded& flap) const {
        for (std::size_t j = 0; j < net_.size(); ++j)
            if (j != k && !apart(flap.box, boxes_[j]) && crosses(flap, net_.edge(j))) return j;
        return net_.size();
    }

    bool share_round_corner(std::size_t k, std::size_t j) const {
        const std::size_t n = net_.size();
        return ((k + 2) % n == j && net_.vertices[(k + 1) % n].tag < 0) ||
               ((j + 2) % n == k && net_.vertices[(j + 1) % n].tag < 0);
    }

    /// A short edge from an inside to an outside corner: the flaps beside it want the goods of its own.
    void judge_step(std::size_t k) {
        const std::size_t n = net_.size(), next = (k + 1) % n;
        const FlapCorner &start = plan_.corners[k], &end = plan_.corners[next];
        if (start.runs_on || end.runs_on || start.inside == end.inside) return;
        if (plan_.flaps[start.before].turn_mm + plan_.flaps[k].turn_mm + plan_.flaps[next].turn_mm <= 0)
            return;
        // Its own flap needs as much as its two ends take at the depth of the turn: else the next flap's cut takes it off short.
        const Flap& flap = plan_.flaps[k];
        const double length = length_of(net_.edge(k)),
                     least = std::max(settings_.turn_mm, flap.turn_mm * (flap.start.cot + flap.end.cot));
        if (length >= least) return;
        const std::string name = net_edge_name(panel_, k);
        report_.add("step-too-short-to-turn", Severity::look, "edge", name,
                    {{"step", length, "mm"}, {"turn", settings_.turn_mm, "mm"}, {"least", least, "mm"}},
                    "The net line of panel " + report_.owner() + " steps by " + report_.said(length) +
                        " at edge " + name + "; with a turn of " + report_.said(flap.turn_mm) +
                        " a step shorter than " + report_.said(least) + " does not fold cleanly.",
                    "Give both edges the same clearance, or bind or seal the edge.");
    }

    void say_out(std::size_t k, std::size_t met) {
        Flap flap = plan_.flaps[k];
        const double thick = settings_.backing_thickness_mm;
        double workable = thick, too_much = flap.turn_mm;
        for (int i = 0; i < kHalvings; ++i) {
            const double turn = (workable + too_much) / 2;
            const bool fits = crossed_by(k, folded(net_.edge(k), flap, turn, thick)) == net_.size();
            (fits ? workable : too_much) = turn;
        }
        const std::string name = net_edge_name(panel_, k), other = net_edge_name(panel_, met);
        report_.add("turn-sticks-out", Severity::stop, "edge", name,
                    {{"turn", flap.turn_mm, "mm"}, {"widest workable", workable, "mm"}},
                    "The flap of edge " + name + " of panel " + report_.owner() + ", turned by " +
                        report_.said(flap.turn_mm) + ", sticks out at edge " + other + " when it is folded.",
                    workable > 2 * thick ? "Turn by no more than " + report_.said(workable) +
                                               ", or bind or seal edge " + name + "."
                                         : "Bind or seal edge " + name + ".");
    }

    void say_meet(const std::string& a, const std::string& b) {
        report_.add("flaps-meet", Severity::look, "edge", a, {{"turn", settings_.turn_mm, "mm"}},
                    "The flaps of edges " + a + " and " + b + " of panel " + report_.owner() +
                        ", turned by " + report_.said(settings_.turn_mm) + ", lie on one another.",
                    "Trim the one that is folded last, turn less, or expect four layers.");
    }

    const Panel& panel_;
    const Outline& net_;
    const FlapPlan& plan_;
    const FinishSettings& settings_;
    Reporter& report_;
    std::vector<Box> boxes_;
};

}  // namespace

void judge_folds(const Panel& panel, const FlapPlan& plan, const FinishSettings& settings, Reporter& report) {
    Judge(panel, plan, settings, report).all();
}

}  // namespace spile
