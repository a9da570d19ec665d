#include "core/measure/sides.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <tuple>

#include "core/base/text.h"
#include "core/measure/mirrors.h"
#include "core/measure/settle.h"
#include "core/measure/start.h"

namespace spile::survey {
namespace {

constexpr double kOutside_mm = 5;   // a point this far out still counts as on the wall
constexpr double kOneShape_mm = 6;  // mirrored places nearer than this make no difference to a panel
constexpr double kRuledOut = 13.8;  // growth of the squared sum that rules a mirrored place out: 1000 to 1
constexpr std::size_t kTryAll = 8;  // so many parts are tried in every combination, more one after another
constexpr double kRough_mm = 1e-3;  // finely enough to tell two shapes apart
constexpr int kMostTried = 24;      // mirrored points that are adjusted anew
constexpr std::size_t kSwapWalk = 30;
constexpr std::size_t kMostNames = 12;  // a sentence with more is not read

bool inside(const std::vector<Vec2>& ring, Vec2 p) {
    bool in = false;
    for (std::size_t i = 0, j = ring.size() - 1; i < ring.size(); j = i++) {
        const Vec2 a = ring[i], b = ring[j];
        if ((a.y > p.y) != (b.y > p.y) && p.x < (b.x - a.x) * (p.y - a.y) / (b.y - a.y) + a.x) in = !in;
    }
    return in;
}

double distance_to(const std::vector<Vec2>& ring, Vec2 p) {
    double least = HUGE_VAL;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Vec2 a = ring[i], d = ring[(i + 1) % ring.size()] - a;
        const double t = norm2(d) > 0 ? std::clamp(dot(p - a, d) / norm2(d), 0.0, 1.0) : 0.0;
        least = std::min(least, distance(p, a + t * d));
    }
    return least;
}

/// How well places agree with the walk; less is better.
struct Score {
    int broken = 0;   ///< crossings, and one more for a walk that runs clockwise
    int outside = 0;  ///< points that the walk should hold
    int inward = 0;

    auto key() const { return std::tie(broken, outside, inward); }
    bool operator<(const Score& other) const { return key() < other.key(); }
};

class Sides {
  public:
    Sides(const Network& net, const Datum& datum, const std::vector<bool>& part, const Say& say)
        : net_(net), datum_(datum), part_(part), say_(say) {
        for (const int p : net.walk) {
            if (part[p]) walk_.push_back(p);
        }
    }

    void run(Places& places, const std::vector<Places>& rivals) {
        if (walk_.size() < 3) {
            without_walk();
            return;
        }
        parts_ = mirrorable_parts(net_, part_);
        choose(places);
        others_ = rivals;
        for (Places& other : others_) {
            choose(other);
            if (score(other.at) < score(places.at)) std::swap(places, other);
        }
        weakly_held(places);
        turn_up(places);
        bring_to(datum_, places);
        if (score(places.at).broken > 0) {
            contradicted(places);
        } else {
            doubts(places);
        }
    }

  private:
    std::string name(int p) const { return net_.names[p]; }

    Score score(const std::vector<Vec2>& at) const {
        std::vector<Vec2> ring;
        for (const int p : walk_) ring.push_back(at[p]);
        WalkFaults f = walk_faults(walk_, at);
        Score s;
        bool turned = f.area_mm2 < 0;
        if (turned && !net_.oriented) {
            f.inward = static_cast<int>(walk_.size()) - f.inward;
            turned = false;
        }
        s.broken = f.crossings + (turned ? 1 : 0);
        s.inward = f.inward;
        for (int p = 0; p < net_.points(); ++p) {
            if (!part_[p] || net_.on_curve[p] || net_.in_walk(p)) continue;
            if (!inside(ring, at[p]) && distance_to(ring, at[p]) > kOutside_mm) ++s.outside;
        }
        return s;
    }

    /// Sizes without a left or right of their own: the walk runs counter-clockwise.
    void turn_up(Places& places) const {
        if (!net_.oriented && walk_faults(walk_, places.at).area_mm2 < 0) mirror(places);
    }

    static void flip(const Mirrorable& m, std::vector<Vec2>& at) {
        const Vec2 a = at[m.hinge_a], b = at[m.hinge_b];
        if (!(distance(a, b) > 0)) return;
        for (const int p : m.part) {
            if (p < static_cast<int>(at.size())) at[p] = mirrored(at[p], a, b);
        }
    }

    static double moves_mm(const Mirrorable& m, const std::vector<Vec2>& at) {
        std::vector<Vec2> other = at;
        flip(m, other);
        double most = 0;
        for (const int p : m.part) most = std::max(most, distance(at[p], other[p]));
        return most;
    }

    /// Mirrors parts until the walk reads best.
    void choose(Places& places) const {
        turn_up(places);
        std::vector<Mirrorable> parts;
        for (const Mirrorable& m : parts_) {
            if (moves_mm(m, places.at) >= kOneShape_mm) parts.push_back(m);
        }
        Score best = score(places.at);
        if (parts.size() <= kTryAll) {
            const std::vector<Vec2> first = places.at;
            for (unsigned mask = 1; mask < (1u << parts.size()); ++mask) {
                std::vector<Vec2> at = first;
                for (std::size_t k = 0; k < parts.size(); ++k) {
                    if (mask >> k & 1u) flip(parts[k], at);
                }
                const Score s = score(at);
                if (!(s < best)) continue;
                best = s;
                places.at = std::move(at);
            }
            return;
        }
        bool better = true;
        for (int round = 0; better && round < 4; ++round) {
            better = false;
            for (const Mirrorable& m : parts) {
                std::vector<Vec2> at = places.at;
                flip(m, at);
                const Score s = score(at);
                if (!(s < best)) continue;
                best = s;
                places.at = std::move(at);
                better = true;
            }
        }
    }

    /// Squared misfit of the readings of one point, in standard deviations.
    double cost_of(int p, const Places& places) const {
        double sum = 0;
        for (const int i : net_.of_point[p]) {
            const Observation& o = net_.observations[i];
            bool whole = true;
            for (int k = 0; k < o.point_count(); ++k) whole = whole && part_[o.point(k)];
            const double t = whole ? misfit_mm(o, places.at, places.pose) / o.sd_mm : 0;
            sum += t * t;
        }
        return sum;
    }

    /// Points held by more than two ties, but all from about one line: their mirror image may fit nearly as well.
    void weakly_held(Places& places) {
        std::optional<Equations> equations;
        std::optional<Adjusted> standing;
        for (int p = 0, tried = 0; p < net_.points() && tried < kMostTried; ++p) {
            if (!part_[p]) continue;
            std::vector<int> from;
            bool sided = false;
            for (const int i : net_.of_point[p]) {
                const Observation& o = net_.observations[i];
                sided = sided || o.kind != Kind::distance;
                const int q = o.p == p ? o.a : o.p;
                if (o.kind == Kind::distance && part_[q]) from.push_back(q);
            }
            if (sided || from.size() < 3) continue;
            Vec2 a, b;
            line_of(from, places.at, a, b);
            if (!(distance(a, b) > 0)) continue;
            Places other = places;
            other.at[p] = mirrored(places.at[p], a, b);
            if (distance(other.at[p], places.at[p]) < kOneShape_mm) continue;
            // Misfits of the image, taken roughly: twice each neighbour's distance from the line. A real rival is near.
            if (cost_of(p, other) > cost_of(p, places) + 100 * kRuledOut) continue;
            ++tried;
            if (!equations) equations.emplace(net_, datum_, part_);
            if (!standing) standing = adjust(*equations, places, kRough_mm);
            const Adjusted& here = *standing;
            const Adjusted there = adjust(*equations, other, kRough_mm);
            if (distance(there.places.at[p], here.places.at[p]) < kOneShape_mm) continue;
            if (there.sum > here.sum + kRuledOut) continue;
            rivals_.push_back({p, here.places, there.places, there.sum - here.sum});
            const bool worse = there.sum > here.sum;
            if (score(there.places.at) < score(here.places.at) ||
                (!worse && !(score(here.places.at) < score(there.places.at)))) {
                places = there.places;
                standing = there;
                std::swap(rivals_.back().chosen, rivals_.back().other);
            } else {
                places = here.places;
            }
        }
    }

    static void line_of(const std::vector<int>& points, const std::vector<Vec2>& at, Vec2& a, Vec2& b) {
        Vec2 middle;
        for (const int p : points) middle = middle + at[p] / static_cast<double>(points.size());
        double xx = 0, xy = 0, yy = 0;
        for (const int p : points) {
            const Vec2 d = at[p] - middle;
            xx += d.x * d.x;
            xy += d.x * d.y;
            yy += d.y * d.y;
        }
        // Main direction of the scatter, by the larger root of its 2 x 2 matrix.
        const double half = 0.5 * (xx - yy);
        const double root = std::sqrt(half * half + xy * xy);
        const Vec2 along = half >= 0 ? Vec2{half + root, xy} : Vec2{xy, root - half};
        a = middle;
        b = norm2(along) > 0 ? middle + unit(along) : middle;
    }

    void without_walk() {
        if (net_.oriented && mirrorable_parts(net_, part_).empty()) return;
        say_.about_space(
            "walk-missing", Severity::stop,
            "Ties alone do not tell a shape from its mirror image, and the walk names " +
                count_of(walk_.size(), "corner", "corners") + " that can be placed.",
            "Give the walk: at least three corners in the order met walking round with the floor on the "
            "left hand.");
    }

    void contradicted(const Places& places) {
        std::vector<std::string> names;
        for (const int p : walk_) names.push_back(name(p));
        if (names.size() > kMostNames) {
            const std::size_t others = names.size() - kMostNames;
            names.resize(kMostNames);
            names.push_back(count_of(others, "other corner", "other corners"));
        }
        const WalkFaults now = walk_faults(walk_, places.at);
        if (now.crossings == 0) {
            say_.about_space(
                "walk-backwards", Severity::stop,
                "The walk " + list_words(names) +
                    " goes round with the floor on the right hand; left and right of the readings say so.",
                "Turn the order of the walk round, or correct left and right of the offsets.");
            return;
        }
        if (walk_.size() <= kSwapWalk) {
            for (std::size_t apart = 1; apart < walk_.size(); ++apart) {
                for (std::size_t i = 0; i + apart < walk_.size(); ++i) {
                    std::vector<int> walk = walk_;
                    std::swap(walk[i], walk[i + apart]);
                    const WalkFaults f = walk_faults(walk, places.at);
                    if (f.crossings > 0 || (net_.oriented && f.area_mm2 < 0)) continue;
                    say_.about_point(
                        "walk-swapped", Severity::stop, name(walk_[i]),
                        "Walking " + list_words(names) + " the way crosses itself; with " + name(walk_[i]) +
                            " and " + name(walk_[i + apart]) + " exchanged it does not.",
                        "Exchange " + name(walk_[i]) + " and " + name(walk_[i + apart]) +
                            " in the walk, or look whether their ties were written under the wrong name.");
                    return;
                }
            }
        }
        say_.about_space(
            "walk-crosses", Severity::stop,
            "Walking " + list_words(names) + " the way crosses itself " +
                count_of(static_cast<std::size_t>(now.crossings), "time", "times") + ".",
            "Name the corners in the order met walking round, or look for a tie between other points than "
            "written.");
    }

    /// The tie that differs most between two sets of places.
    struct Decider {
        int p = -1, q = -1;
        double here_mm = 0, there_mm = 0;
    };
    Decider decider(const std::vector<int>& moved, const std::vector<Vec2>& here,
                    const std::vector<Vec2>& there) const {
        Decider best;
        double most = 0;
        for (const int p : moved) {
            for (int q = 0; q < net_.points(); ++q) {
                if (!part_[q] || std::binary_search(moved.begin(), moved.end(), q)) continue;
                const double a = distance(here[p], here[q]), b = distance(there[p], there[q]);
                const double worth = std::fabs(a - b) * (net_.in_walk(q) ? 1.2 : 1.0);
                if (worth <= most * 1.0001) continue;
                most = worth;
                best = {p, q, a, b};
            }
        }
        return best;
    }

    void doubt(const std::vector<int>& moved, const std::string& about, const std::vector<Vec2>& here,
               const std::vector<Vec2>& there) const {
        const Score chosen = score(here), other = score(there);
        if (other.broken > 0 || other.outside > chosen.outside) return;
        std::vector<std::string> names;
        for (const int p : moved) names.push_back(name(p));
        const Decider d = decider(moved, here, there);
        if (d.p < 0) return;
        const bool outward = other.inward > chosen.inward;
        const std::string ties = "Tie " + name(d.p) + " to " + name(d.q) + ": it will read about " +
                                 say_.size(d.here_mm) + " as drawn, " + say_.size(d.there_mm) +
                                 " on the other side.";
        if (outward) {
            say_.about_point("side-taken", Severity::look, name(d.p),
                             list_words(names) + " could lie on either side of " + about +
                                 "; the side that makes the corner point outwards is taken.",
                             ties);
        } else {
            say_.about_point("side-in-doubt", Severity::stop, name(d.p),
                             list_words(names) + " could lie on either side of " + about +
                                 ": neither the ties nor the walk tell which.",
                             ties);
        }
    }

    bool tied(int p, int q) const {
        return std::any_of(net_.of_point[p].begin(), net_.of_point[p].end(), [&](int i) {
            const Observation& o = net_.observations[i];
            return o.kind == Kind::distance && (o.p == q || o.a == q);
        });
    }

    void doubts(const Places& places) const {
        std::vector<Places> said;
        for (const Mirrorable& m : parts_) {
            if (moves_mm(m, places.at) < kOneShape_mm) continue;
            Places other = places;
            flip(m, other.at);
            doubt(m.part, "the line " + name(m.hinge_a) + "\u2013" + name(m.hinge_b), places.at, other.at);
            said.push_back(std::move(other));
        }
        for (const Rival& r : rivals_) {
            doubt({r.point}, "the line its ties come from", r.chosen.at, r.other.at);
            said.push_back(r.other);
        }
        for (const Places& other : others_) {
            const Difference d = difference(places, other, part_);
            const bool known = std::any_of(said.begin(), said.end(), [&](const Places& known_one) {
                return difference(known_one, other, part_).mm < kOneShape_mm;
            });
            const Score here = score(places.at), there = score(other.at);
            if (d.mm < kOneShape_mm || known || there.broken > 0 || there.outside > here.outside) continue;
            say_.about_point("shape-in-doubt", Severity::stop, name(d.p),
                             "The readings fit two shapes equally well.",
                             (tied(d.p, d.q) ? "Tape " + name(d.p) + "\u2013" + name(d.q) + " again"
                                             : "Tie " + name(d.p) + " to " + name(d.q)) +
                                 ": it will read about " +
                                 say_.size(distance(places.at[d.p], places.at[d.q])) + " as drawn, " +
                                 say_.size(distance(other.at[d.p], other.at[d.q])) + " in the other shape.");
            said.push_back(other);
        }
    }

    struct Rival {
        int point;
        Places chosen, other;
        double growth;
    };

    const Network& net_;
    const Datum& datum_;
    const std::vector<bool>& part_;
    const Say& say_;
    std::vector<int> walk_;
    std::vector<Mirrorable> parts_;
    std::vector<Places> others_;
    std::vector<Rival> rivals_;
};

}  // namespace

void settle_sides(const Network& network, const Datum& datum, const std::vector<bool>& takes_part,
                  const std::vector<Places>& rivals, Places& places, const Say& say) {
    Sides(network, datum, takes_part, say).run(places, rivals);
}

}  // namespace spile::survey
