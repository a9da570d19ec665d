// The corners of an offset: what joins two moved edges.
#include <optional>

#include "core/geom/edge_math.h"
#include "core/geom/grow.h"
#include "core/geom/measure_of.h"
#include "core/geom/meet.h"

namespace spile::grow {

using namespace edge_math;

bool Cell::deep(Vec2 p, double skin) const {
    if (rim.a == rim.b) return false;  // an edge that does not move
    const Vec2 sa = side_a - apex_a;
    const Vec2 sb = side_b - apex_b;
    // On one rim, within a quarter of the skin beyond the common side, is at most half the skin from the other rim.
    const double beside = skin / 4;
    if (cross(sa, p - apex_a) < -beside * norm(sa) || cross(sb, p - apex_b) > beside * norm(sb)) return false;
    const double off = right_of_carrier(rim, p);
    if (reach > 0) return off >= -skin && off < reach - skin;
    if (off >= -skin || dot(p - apex_a, sa + sb) < 0) return false;
    // A join that bends towards the corner: not what lies behind its circle.
    return flat(rim) || rim.bulge > 0 || cross(rim.b - rim.a, p - rim.a) > 0;
}

Box Cell::box() const {
    Box b = box_of(rim);
    b.add(apex_a);
    b.add(apex_b);
    b.add(side_a);
    b.add(side_b);
    if (reach > 0 && !flat(rim)) {
        // The moved arc bulges past its ends.
        b.min = b.min - Vec2{reach, reach};
        b.max = b.max + Vec2{reach, reach};
    }
    return b;
}

namespace {

double curvature(const Edge& e) {
    return flat(e) ? 0 : sign_of(e.bulge) / radius_of(e);
}

/// Bulge of two arcs of one circle in a row.
double bulge_sum(double s, double t) {
    return s * t >= 1 ? 1e300 : (s + t) / (1 - s * t);
}

class Builder {
  public:
    Builder(const Chain& chain, const How& how, double noise) : chain_(chain), how_(how), noise_(noise) {
        // A negative or missing limit would cut into the ground that must be covered.
        limit_ = how.mitre_limit >= 1 ? how.mitre_limit : 1;
        const std::size_t n = chain.size();
        sides_.reserve(n);
        for (const Link& link : chain) {
            const Edge& e = link.edge;
            const double d = link.distance;
            Sides s;
            s.moved = {e.a - d * left_of(start_tangent(e)), e.b - d * left_of(end_tangent(e)), e.bulge,
                       e.tag};
            s.alive = flat(e) || radius_of(e) + sign_of(e.bulge) * d > noise;
            s.start = s.moved.a;
            s.end = s.moved.b;
            sides_.push_back(s);
        }
        // Slabs come first and have the index of their edge.
        raw_.cells.resize(n);
        for (std::size_t j = 0; j < n; ++j) corner((j + n - 1) % n, j);
        for (std::size_t i = 0; i < n; ++i) edge(i);
        if (how.all_sides) all_sides();
    }

    Raw take() { return std::move(raw_); }

  private:
    struct Sides {
        Edge moved;
        bool alive = true;  ///< an arc that shrinks to nothing has no moved edge
        Vec2 start;         ///< where it begins after its corner is made, on its carrier
        Vec2 end;
        bool cut_start = false;  ///< it begins later than its own start
        bool cut_end = false;
        /// Cells whose side a prolonged end lies on, where the edge itself does not move.
        std::size_t beside_start[2] = {SIZE_MAX, SIZE_MAX};
        std::size_t beside_end[2] = {SIZE_MAX, SIZE_MAX};
    };

    /// One corner while it is being made.
    struct Corner {
        std::size_t i, j;  ///< edges before and after
        Vec2 v;
        Vec2 ui, uj;  ///< directions of travel
        double di, dj;
        Vec2 e, s;   ///< end of moved i, start of moved j
        double far;  ///< how far from v a mitre may reach
    };

    double past_end(const Corner& c, Vec2 x) const { return dot(x - c.e, c.ui); }
    double before_start(const Corner& c, Vec2 x) const { return dot(c.s - x, c.uj); }

    void corner(std::size_t i, std::size_t j) {
        Corner c{i,
                 j,
                 chain_[j].edge.a,
                 end_tangent(chain_[i].edge),
                 start_tangent(chain_[j].edge),
                 chain_[i].distance,
                 chain_[j].distance,
                 sides_[i].moved.b,
                 sides_[j].moved.a,
                 0};
        if (distance(c.e, c.s) <= noise_) return;  // they run on
        c.far = limit_ * std::fmax(c.di, c.dj) + noise_;
        double turn = cross(c.ui, c.uj);
        // At a cusp the turn is to the side on which the edge after lies.
        if (dot(c.ui, c.uj) < 0 && std::fabs(turn) <= 0x1p-40)
            turn = -(curvature(chain_[i].edge) + curvature(chain_[j].edge));
        const bool equal = std::fabs(c.di - c.dj) <= noise_;
        if (turn <= 0 && equal) return;  // the moved edges cross by themselves
        if (turn > 0 && how_.join == Join::round) return round(c);
        if (turn > 0) return opening(c, equal);
        closing(c);
    }

    /// Where straight lines along both tangents meet: v + w, found without dividing by a small turn when di = dj.
    static Vec2 mitre_of(const Corner& c) {
        const Vec2 ni = -left_of(c.ui);
        const Vec2 nj = -left_of(c.uj);
        const double k = dot(ni, nj);
        Vec2 w = (c.di + c.dj) / 2 / (1 + k) * (ni + nj);
        if (c.di != c.dj) w = w + (c.di - c.dj) / norm2(ni - nj) * (ni - nj);
        return c.v + w;
    }

    /// A short line moved far has lost its direction to rounding: it is taken from the unmoved edge.
    static Edge long_line(const Edge& moved, Vec2 through, Vec2 direction, double far) {
        return flat(moved) ? Edge{through - far * direction, through + far * direction, 0, 0} : moved;
    }

    /// An arc that bends away from the corner may be prolonged as far as the corner sees it, not round the back; and
    /// none further than a few times its chord, which would magnify its rounding. Otherwise the tangent goes on.
    static bool in_sight(const Edge& moved, Vec2 end, Vec2 x, Vec2 corner) {
        return flat(moved) || (dot(x - corner, right_normal_at(moved, x)) >= 0 &&
                               distance(end, x) <= 8 * distance(moved.a, moved.b));
    }

    /// Where the moved edges, prolonged along their own carriers or cut back, meet; none if they do so too far away or
    /// past a far end.
    std::optional<Vec2> meeting(const Corner& c, bool both_prolonged) const {
        const Sides& a = sides_[c.i];
        const Sides& b = sides_[c.j];
        if (!a.alive || !b.alive) return std::nullopt;
        CarrierMeetings at;
        if (flat(a.moved) && flat(b.moved)) {
            at.at[at.count++] = mitre_of(c);
        } else {
            at = meet_carriers(long_line(a.moved, c.e, c.ui, c.far), long_line(b.moved, c.s, c.uj, c.far));
            if (at.tangent) return std::nullopt;
        }
        std::optional<Vec2> best;
        for (std::size_t k = 0; k < at.count; ++k) {
            const Vec2 x = at.at[k];
            if (!finite(x) || !(distance(x, c.v) <= c.far)) continue;
            const bool ahead_i = past_end(c, x) >= -noise_ && in_sight(a.moved, c.e, x, c.v);
            const bool ahead_j = before_start(c, x) >= -noise_ && in_sight(b.moved, c.s, x, c.v);
            const bool on_i = ahead_i || (!both_prolonged && foot_on_edge(a.moved, x));
            const bool on_j = ahead_j || (!both_prolonged && foot_on_edge(b.moved, x));
            if (on_i && on_j && (!best || distance(x, c.v) < distance(*best, c.v))) best = x;
        }
        return best;
    }

    /// A corner that opens on the moved side.
    void opening(const Corner& c, bool equal) {
        if (const std::optional<Vec2> x = meeting(c, equal)) {
            const std::size_t cells = raw_.cells.size();
            if (past_end(c, *x) >= 0)
                prolong_end(c, *x);
            else
                sides_[c.i].cut_end = true;
            const std::size_t wedge_i = raw_.cells.size() > cells ? cells : SIZE_MAX;
            if (before_start(c, *x) >= 0)
                prolong_start(c, *x);
            else
                sides_[c.j].cut_start = true;
            const std::size_t wedge_j = raw_.cells.size() > cells ? raw_.cells.size() - 1 : SIZE_MAX;
            if (c.dj == 0) sides_[c.j].beside_start[0] = c.i, sides_[c.j].beside_start[1] = wedge_i;
            if (c.di == 0) sides_[c.i].beside_end[0] = c.j, sides_[c.i].beside_end[1] = wedge_j;
            sides_[c.i].end = *x;
            sides_[c.j].start = *x;
            return;
        }
        // Arcs whose circles do not meet: along their tangents.
        const Vec2 t = mitre_of(c);
        const bool bent = !flat(chain_[c.i].edge) || !flat(chain_[c.j].edge);
        if (bent && finite(t) && distance(t, c.v) <= c.far && past_end(c, t) >= 0 &&
            before_start(c, t) >= 0) {
            along_sides(c, {c.e, t, 0, 0});
            along_sides(c, {t, c.s, 0, 0});
        } else if (equal || dot(c.ui, c.uj) <= 0) {
            bevel(c);
        } else {
            step(c);
        }
    }

    /// Cut off square at the limit.
    void bevel(const Corner& c) {
        const Vec2 out = unit(c.ui - c.uj);
        const double far = limit_ * std::fmax(c.di, c.dj);
        const Vec2 a = c.e + (far - dot(c.e - c.v, out)) / dot(c.ui, out) * c.ui;
        const Vec2 b = c.s + (far - dot(c.s - c.v, out)) / dot(c.uj, out) * c.uj;
        if (flat(chain_[c.i].edge)) {
            prolong_end(c, a);
            sides_[c.i].end = a;
        } else {
            join(c, {c.e, a, 0, 0});
        }
        join(c, {a, b, 0, 0});
        if (flat(chain_[c.j].edge)) {
            prolong_start(c, b);
            sides_[c.j].start = b;
        } else {
            join(c, {b, c.s, 0, 0});
        }
    }

    /// Edges that run on nearly straight at different distances.
    void step(const Corner& c) { along_sides(c, {c.e, c.s, 0, 0}); }

    /// A join that may lie on the sides of both slabs.
    void along_sides(const Corner& c, const Edge& e) {
        const std::size_t k = join(c, e);
        raw_.candidates[k].exempt[0] = c.i;
        raw_.candidates[k].exempt[1] = c.j;
    }

    void round(const Corner& c) {
        const double along = dot(c.ui, c.uj);
        const double across = std::fabs(cross(c.ui, c.uj));
        const double t = along >= 0 ? across / (1 + along) : across > 0 ? (1 - along) / across : 1e300;
        join(c, {c.e, c.s, t > 1e200 ? 1 : tan_of_half(t), 0});
    }

    /// A corner that closes on the moved side, at two distances: the further edge may have to be prolonged to the other,
    /// and what it sweeps may stick out beyond it by a square end.
    void closing(const Corner& c) {
        const std::optional<Vec2> x = meeting(c, false);
        if (x && past_end(c, *x) > noise_) {
            prolong_end(c, *x);
            sides_[c.i].end = *x;
            square_end(c, *x, c.v, c.i, raw_.cells.size() - 1);
        } else {
            square_end(c, c.e, c.v, c.i, SIZE_MAX);
        }
        if (x && before_start(c, *x) > noise_) {
            prolong_start(c, *x);
            sides_[c.j].start = *x;
            square_end(c, c.v, *x, c.j, raw_.cells.size() - 1);
        } else {
            square_end(c, c.v, c.s, c.j, SIZE_MAX);
        }
    }

    /// On the side of the slab, or of the wedge by which its edge was prolonged (perhaps hardly at all: then of both).
    void square_end(const Corner& c, Vec2 from, Vec2 to, std::size_t slab, std::size_t wedge_cell) {
        if (distance(from, to) <= noise_) return;
        Candidate& end = candidate(c, {from, to, 0, 0});
        end.exempt[0] = slab;
        end.exempt[1] = wedge_cell;
    }

    void prolong_end(const Corner& c, Vec2 x) {
        wedge(c, {c.e, x, flat(chain_[c.i].edge) ? 0 : bulge_between(sides_[c.i].moved, c.e, x), 0});
    }

    void prolong_start(const Corner& c, Vec2 x) {
        wedge(c, {x, c.s, flat(chain_[c.j].edge) ? 0 : bulge_between(sides_[c.j].moved, x, c.s), 0});
    }

    void wedge(const Corner& c, const Edge& rim) {
        if (distance(rim.a, rim.b) > noise_) raw_.cells.push_back({rim, c.v, c.v, rim.a, rim.b, 0});
    }

    std::size_t join(const Corner& c, const Edge& e) {
        wedge(c, e);
        candidate(c, e);
        return raw_.candidates.size() - 1;
    }

    Candidate& candidate(const Corner& c, Edge e) {
        const Link& owner = chain_[how_.reversed ? c.j : c.i];
        e.tag = owner.edge.tag;
        raw_.candidates.push_back({{e, 0, owner.source, true}, false, {SIZE_MAX, SIZE_MAX}});
        return raw_.candidates.back();
    }

    /// The slab of edge i and its moved edge.
    void edge(std::size_t i) {
        const Link& link = chain_[i];
        const Sides& s = sides_[i];
        if (link.distance > 0)
            raw_.cells[i] = {link.edge,
                             link.edge.a,
                             link.edge.b,
                             s.cut_start ? s.start : s.moved.a,
                             s.cut_end ? s.end : s.moved.b,
                             link.distance};
        if (!s.alive) return;
        const auto add = [&](const Edge& e) {
            if (distance(e.a, e.b) > noise_)
                raw_.candidates.push_back({{e, link.distance, link.source, link.is_join},
                                           link.distance == 0,
                                           {SIZE_MAX, SIZE_MAX}});
        };
        Edge e = s.moved;
        if (s.start == e.a && s.end == e.b) return add(e);
        if (link.distance == 0) return unmoved(i);
        if (flat(e)) {
            // Cut back from both ends past itself: nothing is left.
            if (dot(s.end - s.start, e.b - e.a) > 0) add({s.start, s.end, 0, e.tag});
            return;
        }
        const double ahead = s.cut_start || s.start == e.a ? 0 : bulge_between(e, s.start, e.a);
        const double behind = s.cut_end || s.end == e.b ? 0 : bulge_between(e, e.b, s.end);
        if (s.cut_start && s.cut_end && share_at(e, s.start) >= share_at(e, s.end)) return;
        if (s.cut_start) e = {s.start, e.b, bulge_between(e, s.start, e.b), e.tag};
        if (s.cut_end) e = {e.a, s.end, bulge_between(e, e.a, s.end), e.tag};
        const double whole = std::fabs(bulge_sum(bulge_sum(ahead, e.bulge), behind));
        if (whole <= 1) {
            add({ahead != 0 ? s.start : e.a, behind != 0 ? s.end : e.b, sign_of(e.bulge) * whole, e.tag});
            return;
        }
        // More than half a circle takes several edges.
        if (ahead != 0) add({s.start, e.a, ahead, e.tag});
        add(e);
        if (behind != 0) add({e.b, s.end, behind, e.tag});
    }

    /// An edge that does not move, prolonged to where its neighbours moved: the old stretch and the new ones apart, since
    /// only the old one lies on the outline.
    void unmoved(std::size_t i) {
        const Link& link = chain_[i];
        const Sides& s = sides_[i];
        const Edge& e = link.edge;
        const auto prolonged = [&](Vec2 a, Vec2 b, const std::size_t(&beside)[2]) {
            if (distance(a, b) <= noise_) return;
            const Edge stretch{a, b, flat(e) ? 0 : bulge_between(e, a, b), e.tag};
            raw_.candidates.push_back(
                {{stretch, 0, link.source, link.is_join}, false, {beside[0], beside[1]}, i});
        };
        prolonged(s.start, e.a, s.beside_start);
        raw_.candidates.push_back({link, true, {SIZE_MAX, SIZE_MAX}, i});
        prolonged(e.b, s.end, s.beside_end);
    }

    /// The sides of every slab: what lies beside an edge may end there.
    void all_sides() {
        for (std::size_t k = 0; k < chain_.size(); ++k) {
            const Cell& slab = raw_.cells[k];
            if (slab.rim.a == slab.rim.b) continue;
            const auto side = [&](Vec2 from, Vec2 to) {
                if (distance(from, to) <= noise_) return;
                Edge e{from, to, 0, chain_[k].edge.tag};
                raw_.candidates.push_back({{e, 0, chain_[k].source, true}, false, {k, SIZE_MAX}});
            };
            side(slab.apex_a, slab.side_a);
            side(slab.side_b, slab.apex_b);
        }
    }

    const Chain& chain_;
    How how_;
    double noise_;
    double limit_;
    std::vector<Sides> sides_;
    Raw raw_;
};

}  // namespace

Raw raw_of(const Chain& chain, const How& how, double noise) {
    return Builder(chain, how, noise).take();
}

}  // namespace spile::grow
