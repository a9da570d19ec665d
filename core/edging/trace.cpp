#include "core/edging/trace.h"

#include <algorithm>
#include <cmath>

#include "core/base/check.h"
#include "core/geom/offset.h"
#include "core/geom/scraps.h"

namespace spile {
namespace {

constexpr double kRunsOn = 1e-6;

}  // namespace

bool is_run_on(Vec2 from, Vec2 to) {
    return dot(from, to) > 0 && std::fabs(cross(from, to)) <= kRunsOn;
}

bool is_join(const Outline& traced, std::size_t k) {
    const std::size_t before = k == 0 ? traced.size() - 1 : k - 1;
    if (before == k || traced.vertices[before].tag != traced.vertices[k].tag) return false;
    // Two stretches of one line or arc run on to within noise; a join turns by a real angle.
    return !is_run_on(direction_at(traced.edge(before), 1), direction_at(traced.edge(k), 0));
}

std::vector<Finish> finishes_along(const Outline& net, const std::vector<EdgePlan>& edges) {
    const std::size_t n = net.size();
    const auto finish_at = [&](std::size_t start, std::size_t step) {
        std::size_t k = start;
        while (net.vertices[k].tag < 0) k = (k + step) % n;
        return edges[static_cast<std::size_t>(net.vertices[k].tag)].finish;
    };
    std::vector<Finish> finishes;
    for (std::size_t k = 0; k < n; ++k) {
        const Finish before = finish_at(k, n - 1), after = finish_at(k, 1);
        finishes.push_back(after == Finish::bound ? after : before);
    }
    return finishes;
}

std::vector<double> left_long_along(const Outline& net, const std::vector<EdgePlan>& edges) {
    const std::size_t n = net.size();
    const auto at = [&](std::size_t start, std::size_t step) {
        std::size_t k = start;
        while (net.vertices[k].tag < 0) k = (k + step) % n;
        return edges[static_cast<std::size_t>(net.vertices[k].tag)].left_long_mm;
    };
    std::vector<double> out;
    for (std::size_t k = 0; k < n; ++k) out.push_back(std::min(at(k, n - 1), at(k, 1)));
    return out;
}

Outline traced(const Outline& net) {
    Outline own = net;
    for (std::size_t k = 0; k < own.size(); ++k) own.vertices[k].tag = static_cast<int>(k);
    return own;
}

std::vector<Outline> traced_offset(const Outline& traced, const std::vector<double>& outside_mm) {
    std::vector<double> distances;
    double reach = 0;
    for (std::size_t k = 0; k < traced.size(); ++k) {
        const double d =
            is_join(traced, k) ? 0 : outside_mm[static_cast<std::size_t>(traced.vertices[k].tag)];
        distances.push_back(d);
        reach = std::max(reach, std::fabs(d));
    }
    if (reach == 0) return {traced};
    std::vector<Outline> parts = offset_each(traced, distances);
    drop_scraps(parts, reach);
    return parts;
}

void restore_tags(Outline& traced, const Outline& net) {
    for (Vertex& v : traced.vertices) {
        SPILE_CHECK(v.tag >= 0 && static_cast<std::size_t>(v.tag) < net.size());
        v.tag = net.vertices[static_cast<std::size_t>(v.tag)].tag;
    }
}

}  // namespace spile
