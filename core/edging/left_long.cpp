#include "core/edging/left_long.h"

#include <algorithm>
#include <optional>

namespace spile {
namespace {

/// Where edge `before` hands over to edge `after` on the outline whose corners are not rounded; empty where an edge was lost.
std::optional<Vec2> handover(const Outline& unrounded, int before, int after) {
    for (std::size_t k = 0; k < unrounded.size(); ++k) {
        const std::size_t last = k == 0 ? unrounded.size() - 1 : k - 1;
        if (unrounded.vertices[last].tag == before && unrounded.vertices[k].tag == after)
            return unrounded.vertices[k].p;
    }
    return std::nullopt;
}

/// The bulge of an edge prolonged along its own circle to new ends. At most half a circle, as before it was rounded.
double prolonged_bulge(const Edge& edge, Vec2 a, Vec2 b) {
    if (edge.straight()) return 0;
    return std::clamp(bulge_through(a, midpoint_of(edge), b), -1.0, 1.0);
}

}  // namespace

Panel as_cut(const Panel& panel) {
    const auto left_long = [&](int tag) {
        return tag >= 0 && panel.edges[static_cast<std::size_t>(tag)].left_long_mm > 0;
    };
    const Outline& net = panel.net_line.region.outer;
    const std::size_t n = net.size();
    std::vector<std::optional<Vec2>> square(n);  // the corner in place of a rounding
    bool any = false;
    for (std::size_t k = 0; k < n; ++k) {
        const Vertex& v = net.vertices[k];
        const int before = net.vertices[(k + n - 1) % n].tag, after = net.vertices[(k + 1) % n].tag;
        if (v.tag >= 0 || v.bulge <= 0 || (!left_long(before) && !left_long(after))) continue;
        square[k] = handover(panel.net_line.unrounded, before, after);
        any = any || square[k];
    }
    Panel cut = panel;
    if (!any) return cut;
    Outline& line = cut.net_line.region.outer;
    line.vertices.clear();
    for (std::size_t k = 0; k < n; ++k) {
        if (square[k]) continue;
        const Edge edge = net.edge(k);
        const std::optional<Vec2>&before = square[(k + n - 1) % n], &after = square[(k + 1) % n];
        const Vec2 a = before.value_or(edge.a), b = after.value_or(edge.b);
        line.vertices.push_back({a, prolonged_bulge(edge, a, b), edge.tag});
    }
    return cut;
}

}  // namespace spile
