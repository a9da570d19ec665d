#include "core/geom/chain.h"

#include <algorithm>

#include "core/geom/edge_math.h"
#include "core/geom/measure_of.h"
#include "core/geom/meet.h"
#include "core/geom/strips.h"

namespace spile::chain {

using namespace edge_math;

namespace {

struct Cut {
    std::size_t edge;
    double t;
    Vec2 at;
};

Edge part_of(const Edge& e, Vec2 from, Vec2 to) {
    return {from, to, bulge_between(e, from, to), e.tag};
}

void add_pieces(const Edge& e, std::size_t of, const Cut* first, const Cut* last, double noise,
                std::vector<Piece>& to) {
    Vec2 at = e.a;
    double t = 0;
    bool whole = true;
    for (; first != last; ++first) {
        if (distance(first->at, at) <= noise || distance(first->at, e.b) <= noise) continue;
        to.push_back({part_of(e, at, first->at), of, t, first->t, 0, 0});
        at = first->at;
        t = first->t;
        whole = false;
    }
    to.push_back({whole ? e : part_of(e, at, e.b), of, t, 1, 0, 0});
}

/// Pieces by the node they start from.
class Leaving {
  public:
    explicit Leaving(const std::vector<Piece>& pieces) : start_(1, 0) {
        std::size_t nodes = 0;
        for (const Piece& p : pieces) nodes = std::max({nodes, p.from + 1, p.to + 1});
        start_.assign(nodes + 1, 0);
        for (const Piece& p : pieces) ++start_[p.from + 1];
        for (std::size_t k = 0; k < nodes; ++k) start_[k + 1] += start_[k];
        items_.resize(pieces.size());
        std::vector<std::size_t> fill(start_.begin(), start_.end() - 1);
        for (std::size_t k = 0; k < pieces.size(); ++k) items_[fill[pieces[k].from]++] = k;
    }
    const std::size_t* begin(std::size_t node) const { return items_.data() + start_[node]; }
    const std::size_t* end(std::size_t node) const { return items_.data() + start_[node + 1]; }

  private:
    std::vector<std::size_t> start_;
    std::vector<std::size_t> items_;
};

/// From the start of the edge to where it leaves the circle of radius r about it: between pieces that do not cross,
/// this tells their order even where their tangents agree.
Vec2 towards(const Edge& e, double r) {
    const Vec2 t = start_tangent(e);
    const double s = e.bulge;
    const double sine = r / distance(e.a, e.b) * 2 * s / (1 + s * s);  // of half the sweep to there
    const double cosine = std::sqrt(std::fmax(0, 1 - sine * sine));
    return {cosine * t.x - sine * t.y, sine * t.x + cosine * t.y};
}

/// Grows with the angle of d from w counter-clockwise, 0 to 4.
double angle_rank(Vec2 w, Vec2 d) {
    const double x = dot(w, d);
    const double y = cross(w, d);
    const double q = y / (std::fabs(x) + std::fabs(y));
    return x >= 0 ? (y >= 0 ? q : 4 + q) : 2 - q;
}

std::size_t next_of(const std::vector<Piece>& pieces, const Leaving& leaving, std::size_t now,
                    std::size_t none, Keep keep) {
    const std::size_t* first = leaving.begin(pieces[now].to);
    const std::size_t* last = leaving.end(pieces[now].to);
    if (first == last) return none;
    if (last - first == 1) return *first;
    const Edge back = reversed(pieces[now].edge);
    double r = distance(back.a, back.b);
    for (const std::size_t* k = first; k != last; ++k)
        r = std::fmin(r, distance(pieces[*k].edge.a, pieces[*k].edge.b));
    r /= 2;  // two pieces may join the same ends: half-way they are apart
    const Vec2 w = towards(back, r);
    std::size_t best = *first;
    double best_rank = -1;
    for (const std::size_t* k = first; k != last; ++k) {
        const double angle = angle_rank(w, towards(pieces[*k].edge, r));
        const double rank = keep == Keep::left_apart ? angle : 4 - angle;
        if (rank > best_rank) {
            best_rank = rank;
            best = *k;
        }
    }
    return best;
}

/// Puts `b` onto the end of `a` when both are stretches of one edge that follow one another.
bool put_together(Piece& a, const Piece& b, const std::vector<Edge>& edges) {
    if (a.of != b.of || b.t0 < a.t1) return false;
    a.t1 = b.t1;
    a.to = b.to;
    const Edge& whole = edges[a.of];
    a.edge = a.t0 == 0 && a.t1 == 1 ? whole : part_of(whole, a.edge.a, b.edge.b);
    return true;
}

std::vector<Piece> mended(const std::vector<Piece>& pieces, const std::vector<std::size_t>& loop,
                          const std::vector<Edge>& edges) {
    std::vector<Piece> out;
    for (std::size_t k : loop)
        if (out.empty() || !put_together(out.back(), pieces[k], edges)) out.push_back(pieces[k]);
    if (out.size() > 1 && put_together(out.back(), out.front(), edges)) {
        out.front() = out.back();
        out.pop_back();
    }
    return out;
}

}  // namespace

std::vector<Piece> cut_at_meetings(const std::vector<Edge>& edges, double noise) {
    std::vector<Box> boxes;
    boxes.reserve(edges.size());
    for (const Edge& e : edges) boxes.push_back(box_of(e));
    std::vector<Cut> cuts;
    const Strips strips(std::move(boxes), noise);
    strips.each_pair([&](std::size_t i, std::size_t j) {
        for (const Meeting& m : meet(edges[i], edges[j], noise)) {
            if (m.t_a > 0 && m.t_a < 1) cuts.push_back({i, m.t_a, m.at});
            if (m.t_b > 0 && m.t_b < 1) cuts.push_back({j, m.t_b, m.at});
        }
    });
    std::sort(cuts.begin(), cuts.end(), [](const Cut& a, const Cut& b) {
        if (a.edge != b.edge) return a.edge < b.edge;
        if (a.t != b.t) return a.t < b.t;
        return a.at.x != b.at.x ? a.at.x < b.at.x : a.at.y < b.at.y;
    });
    std::vector<Piece> pieces;
    pieces.reserve(edges.size() + cuts.size());
    const Cut* cut = cuts.data();
    const Cut* const end = cuts.data() + cuts.size();
    for (std::size_t i = 0; i < edges.size(); ++i) {
        const Cut* last = cut;
        while (last != end && last->edge == i) ++last;
        add_pieces(edges[i], i, cut, last, noise, pieces);
        cut = last;
    }
    return pieces;
}

void join_ends(std::vector<Piece>& pieces, double noise) {
    // Points in order of x; each looks back over those within reach and takes their node, joining nodes it links.
    const double reach = 4 * noise;
    struct End {
        Vec2 p;
        std::size_t* node;
    };
    std::vector<End> ends;
    ends.reserve(2 * pieces.size());
    for (Piece& p : pieces) {
        ends.push_back({p.edge.a, &p.from});
        ends.push_back({p.edge.b, &p.to});
    }
    std::stable_sort(ends.begin(), ends.end(), [](const End& a, const End& b) {
        return a.p.x != b.p.x ? a.p.x < b.p.x : a.p.y < b.p.y;
    });
    std::vector<std::size_t> parent(ends.size());
    const auto root = [&](std::size_t k) {
        while (parent[k] != k) k = parent[k] = parent[parent[k]];
        return k;
    };
    for (std::size_t k = 0; k < ends.size(); ++k) {
        parent[k] = k;
        for (std::size_t j = k; j-- > 0 && ends[k].p.x - ends[j].p.x <= reach;) {
            if (norm2(ends[k].p - ends[j].p) > reach * reach) continue;
            const std::size_t a = root(j);
            const std::size_t b = root(k);
            parent[std::max(a, b)] = std::min(a, b);
            if (ends[k].p == ends[j].p) break;
        }
    }
    for (std::size_t k = 0; k < ends.size(); ++k) *ends[k].node = root(k);
    pieces.erase(std::remove_if(pieces.begin(), pieces.end(), [](const Piece& p) { return p.from == p.to; }),
                 pieces.end());
}

void drop_doubles(std::vector<Piece>& pieces, const std::vector<bool>& prefer, double noise) {
    std::vector<std::size_t> order(pieces.size());
    for (std::size_t k = 0; k < order.size(); ++k) order[k] = k;
    const auto low = [&](std::size_t k) { return std::min(pieces[k].from, pieces[k].to); };
    const auto high = [&](std::size_t k) { return std::max(pieces[k].from, pieces[k].to); };
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        if (low(a) != low(b)) return low(a) < low(b);
        if (high(a) != high(b)) return high(a) < high(b);
        return a < b;
    });
    std::vector<bool> drop(pieces.size(), false);
    for (std::size_t x = 0; x < order.size(); ++x)
        for (std::size_t y = x + 1; y < order.size(); ++y) {
            const std::size_t a = order[x];
            const std::size_t b = order[y];
            if (low(a) != low(b) || high(a) != high(b)) break;
            if (distance(midpoint_of(pieces[a].edge), midpoint_of(pieces[b].edge)) > 8 * noise) continue;
            if (pieces[a].from != pieces[b].from)
                drop[a] = drop[b] = true;
            else if (!drop[a] && !drop[b])
                drop[prefer[pieces[b].of] && !prefer[pieces[a].of] ? a : b] = true;
        }
    std::size_t kept = 0;
    for (std::size_t k = 0; k < pieces.size(); ++k)
        if (!drop[k]) pieces[kept++] = pieces[k];
    pieces.resize(kept);
}

std::size_t drop_loose(std::vector<Piece>& pieces) {
    const std::size_t before = pieces.size();
    std::size_t nodes = 0;
    for (const Piece& p : pieces) nodes = std::max({nodes, p.from + 1, p.to + 1});
    std::vector<std::size_t> in(nodes, 0);
    std::vector<std::size_t> out(nodes, 0);
    for (const Piece& p : pieces) {
        ++out[p.from];
        ++in[p.to];
    }
    bool again = true;
    while (again) {
        again = false;
        std::size_t kept = 0;
        for (std::size_t k = 0; k < pieces.size(); ++k) {
            const Piece& p = pieces[k];
            if (in[p.from] > 0 && out[p.to] > 0) {
                pieces[kept++] = p;
                continue;
            }
            --out[p.from];
            --in[p.to];
            again = true;
        }
        pieces.resize(kept);
    }
    return before - pieces.size();
}

Loops walk(const std::vector<Piece>& pieces, const std::vector<Edge>& edges, Keep keep) {
    const Leaving leaving(pieces);
    const std::size_t none = pieces.size();
    const std::size_t unseen = none;
    std::vector<std::size_t> walk_of(pieces.size(), unseen);  // the walk that passed a piece
    std::vector<std::size_t> place(pieces.size(), 0);
    Loops out;
    std::size_t in_loops = 0;
    for (std::size_t start = 0; start < pieces.size(); ++start) {
        if (walk_of[start] != unseen) continue;
        std::vector<std::size_t> path;
        std::size_t now = start;
        while (now != none && walk_of[now] == unseen) {
            walk_of[now] = start;
            place[now] = path.size();
            path.push_back(now);
            now = next_of(pieces, leaving, now, none, keep);
        }
        if (now == none || walk_of[now] != start) continue;
        path.erase(path.begin(), path.begin() + static_cast<std::ptrdiff_t>(place[now]));
        in_loops += path.size();
        out.closed.push_back(mended(pieces, path, edges));
    }
    out.open = pieces.size() - in_loops;
    return out;
}

}  // namespace spile::chain
