#include "tests/edging/open_panels.h"

#include <algorithm>
#include <optional>

namespace spile::testing_folds {
namespace {
using namespace testing_panels;

constexpr double kTurn = kIn;
/// Between a rim and an edge, or another rim: two turns and a little.
constexpr double kClear = 2 * kTurn + 4;
/// A slit comes no nearer to the end of an edge, or of the side of a box: room for a flap between the two.
constexpr double kFromEnd = 2 * kTurn;
constexpr int kTries = 40;

/// An opening that has a place, and its slit.
struct Placed {
    Vec2 at;
    double reach = 0;  ///< of the rim from there
    std::optional<Edge> slit;
};

class Maker {
  public:
    Maker(Dice& dice, bool mixed) : dice_(dice), mixed_(mixed) {}

    OpenPanel made() {
        for (;;) {
            begin();
            if (net_.empty()) continue;
            const bool flawed = dice_.chance(0.125);
            const int openings = dice_.whole(1, flawed ? 2 : 3);
            for (int i = 0; i < openings; ++i) add("o" + std::to_string(i));
            if (placed_.empty() || (flawed && !spoil())) continue;
            return std::move(out_);
        }
    }

  private:
    void begin() {
        RandomOptions options;
        options.mixed_finishes = mixed_;
        options.least_edge = 250;
        out_ = {random_panel(dice_, options), {}};
        placed_.clear();
        net_ = {};
        PanelInput& in = out_.panel.in;
        if (!mixed_)
            for (EdgePlan& e : in.edges) e.finish = Finish::turned;
        even_clearances();
        if (const auto panels = shaped({in}, out_.panel.survey); panels && panels->size() == 1)
            net_ = panels->front().net_line.region.outer;
    }

    /// Where two edges turn by less than 30 degrees one clearance serves both: else the net line has a step there.
    void even_clearances() {
        PanelInput in = out_.panel.in;
        for (EdgePlan& e : in.edges) e.clearance_mm = 0;
        const auto panels = shaped({in}, out_.panel.survey);
        if (!panels || panels->empty()) return;
        const Outline& line = panels->front().boat_line.outline;
        auto& edges = out_.panel.in.edges;
        // Twice round, so that a run over the first edge is one run as well.
        for (std::size_t i = 1; i < 2 * line.size(); ++i) {
            const std::size_t k = i % line.size(), before = (i - 1) % line.size();
            if (dot(direction_at(line.edge(before), 1), direction_at(line.edge(k), 0)) > 0.866)
                edges[k].clearance_mm = edges[before].clearance_mm;
        }
    }

    Vec2 somewhere() const {
        const Box box = box_of(net_);
        return {dice_.between(box.min.x, box.max.x), dice_.between(box.min.y, box.max.y)};
    }

    /// Whether a rim of that reach has its room there.
    bool free_at(Vec2 at, double reach) const {
        if (side_of(net_, at) != spile::Side::inside || nearest_on(net_, at).distance < reach + kClear)
            return false;
        return std::all_of(placed_.begin(), placed_.end(), [&](const Placed& p) {
            return distance(p.at, at) >= p.reach + reach + kClear &&
                   (!p.slit || nearest_on(*p.slit, at).distance >= reach + kClear);
        });
    }

    /// From there to the nearest place of the edge, where a slit has room.
    std::optional<Edge> slit_from(Vec2 at) const {
        const Nearest near = nearest_on(net_, at);
        const Edge e = net_.edge(near.edge), slit{at, near.at, 0, 0};
        if (std::min(distance(near.at, e.a), distance(near.at, e.b)) < kFromEnd) return std::nullopt;
        for (const Placed& p : placed_) {
            if (nearest_on(slit, p.at).distance < p.reach + kClear) return std::nullopt;
            if (p.slit && distance_between(slit, *p.slit) < 2 * kFromEnd) return std::nullopt;
        }
        return slit;
    }

    void add(const std::string& id) {
        OpeningPlan o;
        const bool box = dice_.chance(0.4), slit = dice_.chance(0.5);
        const double radius = dice_.chance(0.5) ? dice_.between(1.02 * kTurn, 45) : 0;
        double reach = 0;
        if (box) {
            // From the middle of a side, where a slit comes to it within 15 degrees from square, to where its corner begins.
            const double least = slit ? 2.8 * (radius + kFromEnd) : 2 * radius + 90;
            o = box_opening(dice_.between(least, least + 80), dice_.between(least, least + 80), radius,
                            Finish::turned, id);
            reach = std::hypot(o.length_mm, o.width_mm) / 2;
        } else {
            o.id = id;
            o.diameter_mm = dice_.between(slit ? 80 : 60, 170);
            reach = o.diameter_mm / 2;
        }
        o.finish = mixed_ && dice_.chance(0.3) ? Finish::sealed : Finish::turned;
        for (int i = 0; i < kTries; ++i) {
            const Vec2 at = somewhere();
            if (!free_at(at, reach)) continue;
            Placed placed{at, reach, {}};
            if (slit) placed.slit = slit_from(at);
            if (slit && !placed.slit) continue;
            o.turn_deg = dice_.between(0, 90);
            if (placed.slit) {
                const Vec2 to = placed.slit->b - at;
                o.turn_deg = std::atan2(to.y, to.x) * 180 / kPi + dice_.between(-15, 15);
                o.slit = SlitPlan{};
                o.slit->gap_mm = dice_.between(1, 8);
                o.slit->finish = dice_.chance(0.5) ? Finish::bound : Finish::sealed;
            }
            put(o, at);
            placed_.push_back(placed);
            return;
        }
    }

    void put(OpeningPlan o, Vec2 at) {
        o.at = "at " + o.id;
        out_.panel.survey.points[o.at] = {at, {}};
        out_.panel.in.openings.push_back(std::move(o));
    }

    /// A round opening about a place so far inside the middle of an edge, where no other edge is nearer.
    bool put_by_edge(OpeningPlan o, double inside, bool turned) {
        for (int i = 0; i < kTries; ++i) {
            const auto k = static_cast<std::size_t>(dice_.whole(0, static_cast<int>(net_.size()) - 1));
            const Edge e = net_.edge(k);
            if (turned && out_.panel.in.edges[static_cast<std::size_t>(e.tag)].finish != Finish::turned)
                continue;
            const Vec2 at = point_at(e, 0.5) + inside * left_of(direction_at(e, 0.5));
            if (std::fabs(nearest_on(net_, at).distance - std::fabs(inside)) > 1e-6) continue;
            if ((side_of(net_, at) == spile::Side::inside) != (inside > 0)) continue;
            const bool free = std::all_of(placed_.begin(), placed_.end(), [&](const Placed& p) {
                return distance(p.at, at) >= p.reach + o.diameter_mm / 2 + kClear;
            });
            if (!free) continue;
            put(std::move(o), at);
            return true;
        }
        return false;
    }

    bool put_free(OpeningPlan o) {
        for (int i = 0; i < kTries; ++i) {
            const Vec2 at = somewhere();
            if (!free_at(at, o.diameter_mm / 2)) continue;
            put(std::move(o), at);
            return true;
        }
        return false;
    }

    bool spoil() {
        OpeningPlan bad;
        bad.id = "bad";
        bad.diameter_mm = dice_.between(80, 170);
        const double radius = bad.diameter_mm / 2, by = dice_.between(5, 25);
        Flaw& flaw = out_.flaw;
        switch (dice_.whole(0, 6)) {
            case 0:
                flaw = {"opening-outside", "outside by", by};
                return put_by_edge(bad, -radius - by, false);
            case 1:
                flaw = {"opening-at-edge", "past the edge by", by};
                return put_by_edge(bad, radius - by, false);
            case 2:
                flaw = {"flaps-meet", "distance", by};
                return put_by_edge(bad, radius + kTurn + by, true);
            case 3: {
                const OpeningPlan& other = out_.panel.in.openings.front();
                if (other.form != OpeningPlan::Form::round || other.slit) return false;
                flaw = {"openings-meet", "overlap", by};
                const double away = placed_.front().reach + radius - by, w = dice_.between(0, 2 * kPi);
                const Vec2 at = placed_.front().at + away * Vec2{std::cos(w), std::sin(w)};
                if (side_of(net_, at) != spile::Side::inside || nearest_on(net_, at).distance < radius + 1)
                    return false;
                if (placed_.size() > 1 && distance(placed_[1].at, at) < placed_[1].reach + radius + kClear)
                    return false;
                put(bad, at);
                return true;
            }
            case 4:
                flaw = {"hole-too-small-to-turn", "flap", by / 3};
                bad.diameter_mm = kIn + 2 * flaw.mm;
                return put_free(bad);
            case 5:
                flaw = {"slit-turned", "gap", 2 * kTurn - by};
                bad.slit = SlitPlan{"", "", flaw.mm, Finish::turned};
                return put_free(bad);
            default:
                flaw = {"slit-blocked", "gap", bad.diameter_mm + by};
                bad.slit = SlitPlan{"", "", flaw.mm, Finish::sealed};
                return put_free(bad);
        }
    }

    Dice& dice_;
    bool mixed_;
    OpenPanel out_;
    Outline net_;
    std::vector<Placed> placed_;
};

}  // namespace

OpenPanel open_panel(Dice& dice, bool mixed) {
    return Maker(dice, mixed).made();
}

}  // namespace spile::testing_folds
