#include "core/measure/mirrors.h"

#include <algorithm>
#include <map>

namespace spile::survey {
namespace {

/// Points joined by readings; the two square lines, when there are any, are one more vertex joined to their points.
class Graph {
  public:
    Graph(const Network& net, const std::vector<bool>& takes_part)
        : part_(takes_part), next_(net.names.size() + 1), frame_(net.points()) {
        part_.push_back(net.has_frame);
        for (const Observation& o : net.observations) {
            bool whole = true;
            for (int k = 0; k < o.point_count(); ++k) whole = whole && part_[o.point(k)];
            if (!whole) continue;
            if (o.framed()) join(o.p, frame_);
            for (int k = 0; k < o.point_count(); ++k) {
                for (int l = 0; l < k; ++l) join(o.point(k), o.point(l));
            }
        }
        for (std::vector<int>& list : next_) {
            std::sort(list.begin(), list.end());
            list.erase(std::unique(list.begin(), list.end()), list.end());
        }
    }

    int size() const { return static_cast<int>(next_.size()); }
    bool in(int v) const { return part_[v]; }
    int frame() const { return frame_; }

    /// Vertices whose removal, with `without` gone, falls the rest apart.
    std::vector<int> articulations(int without) const {
        std::vector<int> order(next_.size(), -1), low(next_.size(), 0), parent(next_.size(), -1);
        std::vector<std::size_t> at(next_.size(), 0);
        std::vector<bool> cut(next_.size(), false);
        int counter = 0;
        for (int root = 0; root < size(); ++root) {
            if (!in(root) || root == without || order[root] >= 0) continue;
            int children = 0;
            std::vector<int> stack{root};
            order[root] = low[root] = counter++;
            while (!stack.empty()) {
                const int v = stack.back();
                if (at[v] < next_[v].size()) {
                    const int w = next_[v][at[v]++];
                    if (w == without || w == parent[v]) continue;
                    if (order[w] >= 0) {
                        low[v] = std::min(low[v], order[w]);
                        continue;
                    }
                    parent[w] = v;
                    order[w] = low[w] = counter++;
                    stack.push_back(w);
                    continue;
                }
                stack.pop_back();
                const int up = parent[v];
                if (up < 0) continue;
                low[up] = std::min(low[up], low[v]);
                if (up == root) {
                    ++children;
                } else if (low[v] >= order[up]) {
                    cut[up] = true;
                }
            }
            if (children > 1) cut[root] = true;
        }
        std::vector<int> out;
        for (int v = 0; v < size(); ++v) {
            if (cut[v]) out.push_back(v);
        }
        return out;
    }

    std::vector<std::vector<int>> parts_without(int a, int b) const {
        std::vector<std::vector<int>> parts;
        std::vector<bool> seen(next_.size(), false);
        for (int root = 0; root < size(); ++root) {
            if (!in(root) || root == a || root == b || seen[root]) continue;
            std::vector<int> part{root};
            seen[root] = true;
            for (std::size_t i = 0; i < part.size(); ++i) {
                for (const int w : next_[part[i]]) {
                    if (w == a || w == b || seen[w]) continue;
                    seen[w] = true;
                    part.push_back(w);
                }
            }
            std::sort(part.begin(), part.end());
            parts.push_back(std::move(part));
        }
        return parts;
    }

  private:
    void join(int a, int b) {
        next_[a].push_back(b);
        next_[b].push_back(a);
    }

    std::vector<bool> part_;
    std::vector<std::vector<int>> next_;
    int frame_;
};

bool holds_a_side(const Network& net, const Graph& graph, const std::vector<int>& part) {
    for (const int v : part) {
        if (v == graph.frame()) return true;
        for (const int i : net.of_point[v]) {
            if (net.observations[i].oriented()) return true;
        }
    }
    return false;
}

}  // namespace

std::vector<Mirrorable> mirrorable_parts(const Network& network, const std::vector<bool>& takes_part) {
    const Graph graph(network, takes_part);
    std::vector<Mirrorable> out;
    for (int a = 0; a < network.points(); ++a) {
        if (!graph.in(a)) continue;
        for (const int b : graph.articulations(a)) {
            if (b <= a || b == graph.frame()) continue;
            std::vector<std::vector<int>> parts = graph.parts_without(a, b);
            // The largest part stays; so does any that knows its own side.
            std::stable_sort(parts.begin(), parts.end(),
                             [](const auto& x, const auto& y) { return x.size() < y.size(); });
            const bool any_side = std::any_of(parts.begin(), parts.end(), [&](const auto& part) {
                return holds_a_side(network, graph, part);
            });
            for (std::size_t i = 0; i < parts.size(); ++i) {
                if (holds_a_side(network, graph, parts[i])) continue;
                if (!any_side && i + 1 == parts.size()) continue;
                out.push_back({a, b, std::move(parts[i])});
            }
        }
    }
    return out;
}

Vec2 mirrored(Vec2 p, Vec2 line_a, Vec2 line_b) {
    const Vec2 u = unit(line_b - line_a);
    const Vec2 d = p - line_a;
    return line_a + dot(u, d) * u - cross(u, d) * left_of(u);
}

}  // namespace spile::survey
