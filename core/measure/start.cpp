#include "core/measure/start.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace spile::survey {
namespace {

constexpr double kApart_mm = 10;     // two crossings nearer than this are one
constexpr double kDrift_mm = 3;      // what growing itself may have added to a misfit
constexpr double kWorse = 30;        // a second crossing this much worse is not kept
constexpr double kWorthMoving = 20;  // robust misfit of a point's own readings
constexpr std::size_t kAnchors = 5;
constexpr std::size_t kPolished = 6;   // crossings worth a closer look
constexpr std::size_t kLongWalk = 40;  // crossings of longer walks are not counted while growing

struct State {
    std::vector<Vec2> at;
    double cost = 0;
    double walk = 0;
};

class Growth {
  public:
    Growth(const Network& net, const Effort& effort)
        : net_(net), effort_(effort), placed_(net.names.size(), false), tied_(net.names.size(), 0) {}

    std::vector<Places> run(const Datum& seed) {
        if (seed.by_frame()) {
            place_frame();
        } else {
            place_pair(seed);
        }
        for (;;) {
            const int p = next_point();
            if (p < 0) break;
            extend(p);
        }
        std::vector<Places> out;
        for (State& s : states_) {
            if (out.size() == effort_.starts) break;
            out.push_back({std::move(s.at), {}});
        }
        return out;
    }

    int reseat(Places& places) {
        placed_.assign(placed_.size(), true);
        State state{places.at, 0, 0};
        int moved = 0;
        for (int p = 0; p < net_.points(); ++p) {
            const Vec2 here = state.at[p];
            const double cost = cost_of(p, here, state);
            if (cost < kWorthMoving || net_.of_point[p].size() < 3) continue;
            const std::vector<Candidate> found = candidates(p, state);
            const bool better = found[0].cost < 0.5 * cost;
            state.at[p] = better ? found[0].at : here;
            moved += better;
        }
        places.at = std::move(state.at);
        return moved;
    }

  private:
    void mark(int p) {
        placed_[p] = true;
        std::vector<int> told;  // a tie taped twice holds no better than once
        for (const int i : net_.of_point[p]) {
            const Observation& o = net_.observations[i];
            if (o.kind != Kind::distance) continue;
            const int other = o.p == p ? o.a : o.p;
            if (std::find(told.begin(), told.end(), other) != told.end()) continue;
            told.push_back(other);
            ++tied_[other];
        }
    }

    void place_frame() {
        State s;
        s.at.resize(net_.names.size());
        std::vector<int> known(net_.names.size(), 0);
        for (const Observation& o : net_.observations) {
            if (!o.framed()) continue;
            (o.kind == Kind::over ? s.at[o.p].x : s.at[o.p].y) = o.value_mm;
            ++known[o.p];
        }
        states_.push_back(std::move(s));
        for (int p = 0; p < net_.points(); ++p) {
            if (known[p] > 0) mark(p);
        }
    }

    void place_pair(const Datum& seed) {
        State s;
        s.at.resize(net_.names.size());
        for (const int i : net_.of_point[seed.origin]) {
            const Observation& o = net_.observations[i];
            if (o.kind == Kind::distance && (o.p == seed.axis || o.a == seed.axis))
                s.at[seed.axis].x = o.value_mm;
        }
        states_.push_back(std::move(s));
        mark(seed.origin);
        mark(seed.axis);
    }

    bool ready(const Observation& o, int newcomer) const {
        for (int k = 0; k < o.point_count(); ++k) {
            if (o.point(k) != newcomer && !placed_[o.point(k)]) return false;
        }
        return true;
    }

    /// Placed by offset from a placed baseline.
    bool offset_ready(int p) const {
        return std::any_of(net_.of_point[p].begin(), net_.of_point[p].end(), [&](int i) {
            const Observation& o = net_.observations[i];
            return o.kind == Kind::across && o.p == p && ready(o, p);
        });
    }

    /// The best held point not placed yet: by an offset, else by the most tapes from placed points.
    int next_point() const {
        int best = -1;
        int strength = -1;
        for (int p = 0; p < net_.points(); ++p) {
            if (placed_[p]) continue;
            const int s = (offset_ready(p) ? 1000 : 0) + tied_[p];
            if (s > strength) {
                strength = s;
                best = p;
            }
        }
        return best;
    }

    double cost_of(int p, Vec2 place, State& state) const {
        state.at[p] = place;
        double cost = 0;
        for (const int i : net_.of_point[p]) {
            const Observation& o = net_.observations[i];
            if (o.framed() || !ready(o, p)) continue;
            const double t = misfit_mm(o, state.at, {}) / (3 * o.sd_mm + kDrift_mm);
            cost += robust(t * t);
        }
        return cost;
    }

    /// A few Gauss-Newton steps on this point alone, wrong tapes weighing little.
    Vec2 polished(int p, Vec2 place, State& state) const {
        for (int round = 0; round < 4; ++round) {
            state.at[p] = place;
            double xx = 1e-9, xy = 0, yy = 1e-9, gx = 0, gy = 0;
            for (const int i : net_.of_point[p]) {
                const Observation& o = net_.observations[i];
                if (o.framed() || !ready(o, p)) continue;
                Vec2 u;
                if (o.kind == Kind::distance) {
                    u = place - state.at[o.p == p ? o.a : o.p];
                } else if (o.kind == Kind::square || o.kind == Kind::equal) {
                    continue;
                } else {
                    if (o.p != p) continue;
                    u = state.at[o.b] - state.at[o.a];
                    if (o.kind == Kind::across) u = left_of(u);
                }
                const double length = norm(u);
                if (!(length > 0)) continue;
                u = u / length;
                const double misfit = misfit_mm(o, state.at, {});
                const double t = misfit / (3 * o.sd_mm + kDrift_mm);
                const double ease = kMostRobust / (kMostRobust + t * t);
                const double w = ease * ease / (o.sd_mm * o.sd_mm);
                xx += w * u.x * u.x;
                xy += w * u.x * u.y;
                yy += w * u.y * u.y;
                gx += w * u.x * misfit;
                gy += w * u.y * misfit;
            }
            const double det = xx * yy - xy * xy;
            if (!(det > 1e-6 * xx * yy)) break;
            place = place - Vec2{(yy * gx - xy * gy) / det, (xx * gy - xy * gx) / det};
        }
        return place;
    }

    struct Anchor {
        Vec2 at;
        double radius;
        int point;
    };

    std::vector<Anchor> anchors_of(int p, const State& state) const {
        std::vector<Anchor> anchors;
        for (const int i : net_.of_point[p]) {
            const Observation& o = net_.observations[i];
            if (o.kind != Kind::distance || !ready(o, p)) continue;
            const int other = o.p == p ? o.a : o.p;
            anchors.push_back({state.at[other], o.value_mm, other});
            if (anchors.size() == kAnchors) break;
        }
        return anchors;
    }

    struct Candidate {
        Vec2 at;
        double cost;
    };

    void crossings(const Anchor& a, const Anchor& b, std::vector<Vec2>& out) const {
        const Vec2 d = b.at - a.at;
        const double between = norm(d);
        if (!(between > 0)) return;
        const Vec2 u = d / between;
        const double along = 0.5 * (between + (a.radius * a.radius - b.radius * b.radius) / between);
        const double high2 = a.radius * a.radius - along * along;
        if (high2 <= 0) {  // the tapes do not meet: the nearest place on the line of both
            const double gap = a.radius + b.radius < between
                                   ? a.radius + 0.5 * (between - a.radius - b.radius)
                               : a.radius > b.radius ? 0.5 * (a.radius + between + b.radius)
                                                     : -0.5 * (a.radius + b.radius - between);
            out.push_back(a.at + gap * u);
            return;
        }
        const double high = std::sqrt(high2);
        out.push_back(a.at + along * u + high * left_of(u));
        out.push_back(a.at + along * u - high * left_of(u));
    }

    /// The end of an arm that stands square on a placed one, at its taped length.
    void by_square(int p, const std::vector<Anchor>& anchors, const State& state,
                   std::vector<Vec2>& out) const {
        for (const int i : net_.of_point[p]) {
            const Observation& o = net_.observations[i];
            if (o.kind != Kind::square || o.p == p || !ready(o, p)) continue;
            const Vec2 arm = state.at[o.a == p ? o.b : o.a] - state.at[o.p];
            if (!(norm(arm) > 0)) continue;
            for (const Anchor& a : anchors) {
                if (a.point != o.p) continue;
                out.push_back(a.at + a.radius * left_of(unit(arm)));
                out.push_back(a.at - a.radius * left_of(unit(arm)));
            }
        }
    }

    /// The middle of the circle through three placed points of a rim.
    void by_rim(int p, const State& state, std::vector<Vec2>& out) const {
        std::vector<Vec2> rim;
        for (const int i : net_.of_point[p]) {
            const Observation& o = net_.observations[i];
            if (o.kind != Kind::equal || o.p != p || !ready(o, p)) continue;
            if (rim.empty()) rim.push_back(state.at[o.a]);
            rim.push_back(state.at[o.b]);
        }
        if (rim.size() < 3) return;
        const Vec2 b = rim[1] - rim[0], c = rim[2] - rim[0];
        const double twice = 2 * cross(b, c);
        if (twice == 0) return;
        out.push_back(rim[0] +
                      Vec2{c.y * norm2(b) - b.y * norm2(c), b.x * norm2(c) - c.x * norm2(b)} / twice);
    }

    std::vector<Candidate> candidates(int p, State& state) const {
        std::vector<Vec2> places;
        for (const int i : net_.of_point[p]) {
            const Observation& o = net_.observations[i];
            if (o.kind != Kind::across || o.p != p || !ready(o, p)) continue;
            double along = 0;
            for (const int j : net_.of_point[p]) {
                const Observation& other = net_.observations[j];
                if (other.kind == Kind::along && other.reading == o.reading) along = other.value_mm;
            }
            const Vec2 base = state.at[o.b] - state.at[o.a];
            if (!(norm(base) > 0)) continue;
            const Vec2 u = unit(base);
            places.push_back(state.at[o.a] + along * u + o.value_mm * left_of(u));
        }
        const std::vector<Anchor> anchors = anchors_of(p, state);
        by_square(p, anchors, state, places);
        by_rim(p, state, places);
        for (std::size_t i = 0; i < anchors.size(); ++i) {
            for (std::size_t j = i + 1; j < anchors.size(); ++j) {
                if (anchors[i].point != anchors[j].point) crossings(anchors[i], anchors[j], places);
            }
        }
        std::size_t keep = 2;
        if (places.empty()) {
            // Hangs by one tie, or by none: somewhere on the circle, or anywhere.
            const Anchor hinge = anchors.empty() ? Anchor{{0, 0}, 100.0, -1} : anchors[0];
            keep = anchors.empty() ? 1 : effort_.bearings;
            for (std::size_t k = 0; k < keep; ++k) {
                const double share = (static_cast<double>(k) + 0.25) / static_cast<double>(keep);
                const double bearing = 2 * 3.14159265358979323846 * share;
                places.push_back(hinge.at + hinge.radius * Vec2{std::cos(bearing), std::sin(bearing)});
            }
        }
        const auto cheaper = [](const Candidate& a, const Candidate& b) { return a.cost < b.cost; };
        const auto distinct = [&](std::vector<Candidate>& from, std::size_t most) {
            std::stable_sort(from.begin(), from.end(), cheaper);
            std::vector<Candidate> kept;
            for (const Candidate& c : from) {
                if (kept.size() == most) break;
                const bool known = std::any_of(kept.begin(), kept.end(), [&](const Candidate& k) {
                    return distance(k.at, c.at) < kApart_mm;
                });
                if (!known) kept.push_back(c);
            }
            return kept;
        };
        std::vector<Candidate> found;
        for (const Vec2 place : places) found.push_back({place, cost_of(p, place, state)});
        if (keep == 2) {
            found = distinct(found, kPolished);
            for (Candidate& c : found) {
                c.at = polished(p, c.at, state);
                c.cost = cost_of(p, c.at, state);
            }
        }
        std::vector<Candidate> kept = distinct(found, keep);
        while (kept.back().cost > kept.front().cost + kWorse) kept.pop_back();
        return kept;
    }

    double walk_penalty(const State& state) const {
        if (net_.walk.size() < 3) return 0;
        if (net_.walk.size() > kLongWalk) return 0;
        const WalkFaults f = walk_faults(net_.walk, state.at, placed_);
        int corners = 0;
        for (const int p : net_.walk) corners += placed_[p];
        const int inward = net_.oriented ? f.inward : std::min(f.inward, corners - f.inward);
        return 4.0 * f.crossings + inward;
    }

    void extend(int p) {
        std::vector<State> next;
        for (State& state : states_) {
            std::vector<Candidate> found = candidates(p, state);
            if (!net_.oriented && !side_taken_ && found.size() == 2 && tied_[p] >= 2) {
                found.resize(1);  // the whole may be mirrored freely: one side is enough
            }
            for (const Candidate& c : found) {
                next.push_back(state);
                next.back().at[p] = c.at;
                next.back().cost += c.cost;
            }
        }
        if (tied_[p] >= 2) side_taken_ = true;
        states_ = std::move(next);
        mark(p);
        if (states_.size() > 1) {
            if (net_.in_walk(p)) {
                for (State& s : states_) s.walk = walk_penalty(s);
            }
            std::stable_sort(states_.begin(), states_.end(), [](const State& a, const State& b) {
                return a.cost + a.walk < b.cost + b.walk;
            });
            if (states_.size() > effort_.beam) states_.resize(effort_.beam);
        }
    }

    const Network& net_;
    const Effort effort_;
    std::vector<bool> placed_;
    std::vector<int> tied_;  // placed points with a tape to this one
    bool side_taken_ = false;
    std::vector<State> states_;
};

}  // namespace

std::vector<Datum> seeds(const Network& network, std::size_t most) {
    std::vector<int> framed(network.names.size(), 0);
    for (const Observation& o : network.observations) {
        if (o.framed()) framed[o.p] = 1;
    }
    if (std::count(framed.begin(), framed.end(), 1) >= 2) return {Datum{}};

    std::vector<std::vector<int>> next(network.names.size());
    for (const Observation& o : network.observations) {
        if (o.kind != Kind::distance) continue;
        next[o.p].push_back(o.a);
        next[o.a].push_back(o.p);
    }
    for (std::vector<int>& list : next) {
        std::sort(list.begin(), list.end());
        list.erase(std::unique(list.begin(), list.end()), list.end());
    }
    struct Scored {
        Datum datum;
        double score;
    };
    std::vector<Scored> scored;
    for (const Observation& o : network.observations) {
        if (o.kind != Kind::distance || !(o.value_mm > 0)) continue;
        std::vector<int> both;
        std::set_intersection(next[o.p].begin(), next[o.p].end(), next[o.a].begin(), next[o.a].end(),
                              std::back_inserter(both));
        scored.push_back({{o.p, o.a}, static_cast<double>(both.size()) * 1e6 + o.value_mm});
    }
    std::stable_sort(scored.begin(), scored.end(),
                     [](const Scored& a, const Scored& b) { return a.score > b.score; });
    std::vector<Datum> out;
    for (const Scored& s : scored) {
        if (out.size() == most) break;
        const bool shares = std::any_of(out.begin(), out.end(), [&](const Datum& d) {
            return d.origin == s.datum.origin || d.axis == s.datum.axis;
        });
        if (!shares) out.push_back(s.datum);
    }
    return out;
}

std::vector<Places> grow(const Network& network, const Datum& seed, const Effort& effort) {
    return Growth(network, effort).run(seed);
}

int reseat(const Network& network, Places& places) {
    return Growth(network, {}).reseat(places);
}

WalkFaults walk_faults(const std::vector<int>& walk, const std::vector<Vec2>& at,
                       const std::vector<bool>& placed) {
    std::vector<Vec2> ring;
    for (const int p : walk) {
        if (placed.empty() || placed[p]) ring.push_back(at[p]);
    }
    WalkFaults f;
    const std::size_t n = ring.size();
    if (n < 3) return f;
    const auto point = [&](std::size_t i) { return ring[i % n]; };
    const auto side = [&](std::size_t i, Vec2 p) { return cross(point(i + 1) - point(i), p - point(i)); };
    for (std::size_t i = 0; i < n; ++i) {
        f.area_mm2 += 0.5 * cross(point(i), point(i + 1));
        if (side(i, point(i + 2)) < 0) ++f.inward;
        for (std::size_t j = i + 2; j < n; ++j) {
            if (i == 0 && j == n - 1) continue;
            if (side(i, point(j)) * side(i, point(j + 1)) < 0 &&
                side(j, point(i)) * side(j, point(i + 1)) < 0) {
                ++f.crossings;
            }
        }
    }
    return f;
}

}  // namespace spile::survey
