// A second opinion on the net line, by brute force: each of its points is looked at with nothing but distances.
#include <algorithm>

#include "tests/shape/panels.h"

namespace spile {
namespace {
using namespace testing_panels;

/// Signed distance of p from the whole line or circle an edge lies on; positive on the material's side (left).
double depth_from_line(const Edge& e, Vec2 p) {
    if (e.straight()) return cross(e.b - e.a, p - e.a) / distance(e.a, e.b);
    const double r = radius_of(e), d = distance(centre_of(e), p);
    return e.bulge > 0 ? r - d : d - r;
}

/// Least distance of p from an edge, by walking along it: a coarse walk, then ever finer about the nearest place.
double far_from(const Edge& e, Vec2 p) {
    double least = 1e300, low = 0, high = 1;
    for (int round = 0; round < 6; ++round) {
        constexpr int kSteps = 24;
        double nearest = low;
        for (int i = 0; i <= kSteps; ++i) {
            const double t = low + (high - low) * i / kSteps, d = distance(p, point_at(e, t));
            if (d >= least) continue;
            least = d;
            nearest = t;
        }
        const double step = (high - low) / kSteps;
        low = std::max(0.0, nearest - step);
        high = std::min(1.0, nearest + step);
    }
    return least;
}

/// What joins two edges where they cannot simply be prolonged (a square step, a cut-off spike): it lies on no moved edge.
/// It carries the tag of the edge before it, or is straight beside a curve.
bool is_join(const Outline& net, std::size_t k, const Edge& source) {
    const std::size_t before = (k + net.size() - 1) % net.size();
    if (!source.straight() && net.edge(k).straight()) return true;
    return net.vertices[before].tag == net.vertices[k].tag &&
           std::fabs(cross(direction_at(net.edge(before), 1), direction_at(net.edge(k), 0))) > 1e-6;
}

/// The worst departure of a net line from what each edge gives up, mm. Every point of a net edge lies its own clearance
/// from the line (or circle) of its boat edge, inside the boat line, and no nearer to any boat edge than the smaller
/// of the two clearances.
double worst_departure(const Panel& panel) {
    const Outline &boat = panel.boat_line.outline, &net = panel.net_line.unrounded;
    double worst = 0;
    for (std::size_t k = 0; k < net.size(); ++k) {
        const int tag = net.vertices[k].tag;
        const double own = panel.edges[static_cast<std::size_t>(tag)].clearance_mm;
        const auto mine = std::find_if(boat.vertices.begin(), boat.vertices.end(),
                                       [&](const Vertex& v) { return v.tag == tag; });
        const Edge source = boat.edge(static_cast<std::size_t>(mine - boat.vertices.begin()));
        if (is_join(net, k, source)) continue;
        for (int i = 0; i <= 8; ++i) {
            const Vec2 p = point_at(net.edge(k), i / 8.0);
            worst = std::max(worst, std::fabs(depth_from_line(source, p) - own));
            if (side_of(boat, p) == Side::outside) worst = std::max(worst, far_from(source, p));
            for (std::size_t j = 0; j < boat.size(); ++j) {
                const double other = panel.edges[static_cast<std::size_t>(boat.vertices[j].tag)].clearance_mm;
                worst = std::max(worst, std::min(own, other) - far_from(boat.edge(j), p));
            }
        }
    }
    return worst;
}

TEST(NetLineOracle, EveryPointLiesAtItsClearance) {
    Dice dice(20260101);
    int made = 0;
    for (int i = 0; i < 3000; ++i) {
        const RandomPanel random = random_panel(dice);
        const auto panels = shaped({random.in}, random.survey);
        ASSERT_TRUE(panels);
        if (panels->empty()) continue;  // said why: see the findings tests
        ++made;
        const Panel& panel = panels->front();
        ASSERT_LT(worst_departure(panel), 1e-3) << "panel " << i;  // of the sampled arcs; lines are exact
        ASSERT_TRUE(faults_of(panel.net_line.region.outer).empty()) << "panel " << i;
        ASSERT_LE(area_mm2(panel.net_line.region.outer), area_mm2(panel.boat_line.outline) + 1e-6)
            << "panel " << i;
    }
    EXPECT_GT(made, 2900);
}

TEST(NetLineOracle, SeesAPlantedFault) {
    Dice dice(7);
    for (int i = 0; i < 50; ++i) {
        const RandomPanel random = random_panel(dice);
        auto panels = shaped({random.in}, random.survey);
        if (panels->empty()) continue;
        Panel& panel = panels->front();
        // One corner 0.1 mm off, and clearances taken twice.
        Panel nudged = panel, twice = panel;
        nudged.net_line.unrounded.vertices.front().p.x += 0.1;
        nudged.net_line.unrounded.vertices.front().p.y += 0.1;
        EXPECT_GT(worst_departure(nudged), 1e-2) << "panel " << i;
        for (EdgePlan& e : twice.edges) e.clearance_mm = 2 * e.clearance_mm + 0.1;
        EXPECT_GT(worst_departure(twice), 5e-2) << "panel " << i;
    }
}

/// Where a panel's net edge lies along a shared line, against its neighbour's: gap less reveal at the worst point, mm.
double joint_departure(const Panel& a, std::size_t i, const Panel& b, std::size_t j, double reveal) {
    double worst = 0;
    const Outline& other = b.net_line.unrounded;
    for (const Vec2 p : samples(a.net_line.unrounded, static_cast<int>(i), 8)) {
        for (std::size_t k = 0; k < other.size(); ++k) {
            if (other.vertices[k].tag != static_cast<int>(j)) continue;
            worst = std::max(worst, std::fabs(-depth_from_line(other.edge(k), p) - reveal));
        }
    }
    return worst;
}

TEST(NetLineOracle, BothNeighboursAndTheRevealCoincide) {
    // A panel cut in two along a line or a curve: half the reveal off each.
    Dice dice(99);
    for (int n = 0; n < 2000; ++n) {
        const double w1 = dice.between(200, 800), w2 = dice.between(200, 800), h = dice.between(300, 900);
        const double lean = dice.between(-120, 120), reveal = dice.between(0, 6);
        Survey survey = survey_of({{"A", {0, 0}},
                                   {"M", {w1, 0}},
                                   {"B", {w1 + w2, 0}},
                                   {"C", {w1 + w2, h}},
                                   {"N", {w1 + lean, h}},
                                   {"D", {0, h}}});
        if (dice.chance(0.5)) {
            survey.curves.push_back({"M", "N", {{{w1, 0}, {w1 + lean, h}, dice.between(-0.2, 0.2), 0}}});
        }
        PanelInput one = panel_of({"A", "M", "N", "D"}, Finish::turned, 4);
        PanelInput two = dice.chance(0.5) ? panel_of({"M", "B", "C", "N"}, Finish::turned, 4)
                                          : panel_of({"N", "C", "B", "M"}, Finish::turned, 4);
        two.id = "2";
        for (PanelInput* in : {&one, &two}) {
            for (EdgePlan& e : in->edges) {
                const bool joint = (e.from == "M" && e.to == "N") || (e.from == "N" && e.to == "M");
                if (!joint) continue;
                e.situation = Situation::joint;
                e.clearance_mm = reveal / 2;
            }
        }
        const auto panels = shaped({one, two}, survey);
        ASSERT_EQ(panels->size(), 2u) << codes(panels.findings);
        ASSERT_TRUE(panels.findings.empty()) << codes(panels.findings);
        const Panel &a = (*panels)[0], &b = (*panels)[1];
        const auto joint = [](const Panel& p) {
            for (std::size_t i = 0; i < p.edges.size(); ++i) {
                if (p.edges[i].situation == Situation::joint) return i;
            }
            return std::size_t{0};
        };
        ASSERT_LT(joint_departure(a, joint(a), b, joint(b), reveal), 1e-3) << "pair " << n;
        ASSERT_LT(joint_departure(b, joint(b), a, joint(a), reveal), 1e-3) << "pair " << n;
        ASSERT_GT(joint_departure(a, joint(a), b, joint(b), reveal + 0.01), 1e-3)
            << "the oracle must see 0.01 mm";
    }
}

}  // namespace
}  // namespace spile
