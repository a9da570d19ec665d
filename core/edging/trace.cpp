#include "core/edging/trace.h"

#include <algorithm>

#include "core/base/check.h"
#include "core/geom/offset.h"

namespace spile {

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

std::vector<Outline> traced_offset(const Outline& net, const std::vector<double>& outside_mm) {
    Outline traced = net;
    for (std::size_t k = 0; k < traced.size(); ++k) traced.vertices[k].tag = static_cast<int>(k);
    const bool moves = std::any_of(outside_mm.begin(), outside_mm.end(), [](double d) { return d != 0; });
    if (!moves) return {traced};
    return offset_each(traced, outside_mm);
}

void restore_tags(Outline& traced, const Outline& net) {
    for (Vertex& v : traced.vertices) {
        SPILE_CHECK(v.tag >= 0 && static_cast<std::size_t>(v.tag) < net.size());
        v.tag = net.vertices[static_cast<std::size_t>(v.tag)].tag;
    }
}

}  // namespace spile
