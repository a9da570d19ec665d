#include "core/paper/clip.h"

#include <algorithm>

#include "core/base/check.h"
#include "core/geom/intersect.h"
#include "core/geom/tolerance.h"

namespace spile::paper {
namespace {

/// A place where an edge meets the line of a side, `t` the share of its length.
struct Cut {
    double t = 0;
    Vec2 at;
};

/// Where an edge meets the sides of the box, each with the very coordinate of its side.
std::vector<Cut> cuts_of(const Edge& edge, const Box& box) {
    std::vector<Cut> cuts;
    for (const double x : {box.min.x, box.max.x})
        for (const Meeting& m : meet(edge, {{x, box.min.y}, {x, box.max.y}, 0, 0}))
            cuts.push_back({m.t_a, {x, m.at.y}});
    for (const double y : {box.min.y, box.max.y})
        for (const Meeting& m : meet(edge, {{box.min.x, y}, {box.max.x, y}, 0, 0}))
            cuts.push_back({m.t_a, {m.at.x, y}});
    return cuts;
}

/// The edges within the box, in order along `edge`.
std::vector<Edge> kept_of(const Edge& edge, const Box& box, double noise) {
    std::vector<Cut> cuts = cuts_of(edge, box);
    const double length = length_of(edge);
    if (length <= noise) return {};
    // Cuts at an end are the end itself: the point that is there stays.
    const double end = noise / length;
    cuts.erase(
        std::remove_if(cuts.begin(), cuts.end(), [&](const Cut& c) { return !(c.t > end && c.t < 1 - end); }),
        cuts.end());
    cuts.push_back({0, edge.a});
    cuts.push_back({1, edge.b});
    std::sort(cuts.begin(), cuts.end(), [](const Cut& a, const Cut& b) { return a.t < b.t; });

    const double quarter_sweep = edge.straight() ? 0 : std::atan(edge.bulge);
    std::vector<Edge> kept;
    for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
        const Cut& from = cuts[i];
        const Cut& to = cuts[i + 1];
        if (to.t - from.t <= end) continue;
        const Vec2 middle = point_at(edge, (from.t + to.t) / 2);
        if (middle.x < box.min.x - noise || middle.x > box.max.x + noise || middle.y < box.min.y - noise ||
            middle.y > box.max.y + noise)
            continue;
        const bool whole = from.t == 0 && to.t == 1;
        const double bulge = whole ? edge.bulge : std::tan(quarter_sweep * (to.t - from.t));
        kept.push_back({from.at, to.at, bulge, edge.tag});
    }
    return kept;
}

double noise_of(const Box& box, const std::vector<Vertex>& vertices) {
    Box all = box;
    for (const Vertex& v : vertices) all.add(v.p);
    return 8 * noise_mm(all);  // a meeting is reckoned from both edges
}

/// Joins edges that follow on one another into paths.
std::vector<Path> paths_of(const std::vector<Edge>& edges) {
    std::vector<Path> paths;
    for (const Edge& e : edges) {
        if (!paths.empty() && paths.back().vertices.back().p == e.a) {
            Vertex& last = paths.back().vertices.back();
            last.bulge = e.bulge;
            last.tag = e.tag;
        } else {
            paths.push_back({{{e.a, e.bulge, e.tag}}});
        }
        paths.back().vertices.push_back({e.b, 0, e.tag});
    }
    return paths;
}

}  // namespace

Clipped clip(const Outline& outline, const Box& box) {
    SPILE_CHECK(!box.empty());
    const double noise = noise_of(box, outline.vertices);
    std::vector<Edge> kept;
    bool whole = true;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Edge edge = outline.edge(i);
        const std::vector<Edge> parts = kept_of(edge, box, noise);
        const bool all =
            length_of(edge) <= noise || (parts.size() == 1 && parts[0].a == edge.a && parts[0].b == edge.b);
        whole = whole && all;
        kept.insert(kept.end(), parts.begin(), parts.end());
    }
    if (kept.empty()) return {};
    if (whole) return {{outline}, {}};
    Clipped out;
    out.open = paths_of(kept);
    // The chain is closed: what runs over its first vertex is one path.
    if (out.open.size() > 1 && out.open.back().vertices.back().p == out.open.front().vertices.front().p) {
        Path joined = out.open.back();
        const Path& first = out.open.front();
        joined.vertices.back() = first.vertices.front();
        joined.vertices.insert(joined.vertices.end(), first.vertices.begin() + 1, first.vertices.end());
        out.open.pop_back();
        out.open.front() = joined;
    }
    return out;
}

std::vector<Path> clip(const Path& path, const Box& box) {
    SPILE_CHECK(!box.empty());
    const double noise = noise_of(box, path.vertices);
    std::vector<Edge> kept;
    for (std::size_t i = 0; i < path.edge_count(); ++i) {
        const std::vector<Edge> parts = kept_of(path.edge(i), box, noise);
        kept.insert(kept.end(), parts.begin(), parts.end());
    }
    return paths_of(kept);
}

}  // namespace spile::paper
