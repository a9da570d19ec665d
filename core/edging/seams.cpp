#include "core/edging/seams.h"

#include <algorithm>

#include "core/base/check.h"
#include "core/edging/trace.h"
#include "core/geom/measure_of.h"

namespace spile {
namespace {

/// Consecutive edges of an outline sewn in one go.
struct Run {
    std::size_t first = 0;
    std::size_t count = 0;
    bool closed = false;
};

/// Splits the stitch outline into runs of one finish; turned runs also end at square corners.
std::vector<Run> runs_of(const Outline& stitch, const std::vector<Finish>& finish_of,
                         const std::vector<bool>& square, Finish wanted) {
    const std::size_t n = stitch.size();
    const auto trace = [&](std::size_t k) { return static_cast<std::size_t>(stitch.vertices[k].tag); };
    const auto sewn = [&](std::size_t k) { return finish_of[trace(k)] == wanted; };
    const auto starts = [&](std::size_t k) {
        const std::size_t before = (k + n - 1) % n;
        return !sewn(before) || (wanted == Finish::turned && trace(before) != trace(k) && square[trace(k)]);
    };
    std::vector<Run> runs;
    for (std::size_t k = 0; k < n; ++k) {
        if (!sewn(k) || !starts(k)) continue;
        Run run{k, 1, false};
        while (run.count < n && sewn((k + run.count) % n) && !starts((k + run.count) % n)) ++run.count;
        runs.push_back(run);
    }
    if (runs.empty() && n > 0 && sewn(0)) runs.push_back({0, n, true});
    return runs;
}

Path path_of(const Outline& line, const Run& run) {
    Path path;
    for (std::size_t i = 0; i < run.count; ++i)
        path.vertices.push_back(line.vertices[(run.first + i) % line.size()]);
    path.vertices.push_back({line.vertices[(run.first + run.count) % line.size()].p, 0, 0});
    return path;
}

/// Where a closed run starts: the least seen straight edge, the longest among equals, the first among those.
std::size_t start_edge(const Panel& panel, const Outline& net, const Outline& stitch) {
    std::size_t best = 0;
    bool found = false;
    int best_seen = 0;
    double best_length = 0;
    for (std::size_t k = 0; k < stitch.size(); ++k) {
        const Edge e = stitch.edge(k);
        const int tag = net.vertices[static_cast<std::size_t>(e.tag)].tag;
        if (tag < 0 || !e.straight()) continue;
        const int s = seen(panel.edges[static_cast<std::size_t>(tag)].situation);
        const double length = length_of(e);
        if (found && (s > best_seen || (s == best_seen && length <= best_length))) continue;
        found = true;
        best = k;
        best_seen = s;
        best_length = length;
    }
    return best;
}

/// The whole outline as a path from the middle of edge `k` round to it.
Path from_middle(const Outline& line, std::size_t k) {
    const Edge e = line.edge(k);
    Path path = path_of(line, {(k + 1) % line.size(), line.size() - 1, true});
    path.vertices.back() = line.vertices[k];
    const Vec2 middle = midpoint_of(e);
    // Half an arc of bulge b = tan(s/4) has bulge tan(s/8) = b / (1 + sqrt(1 + b^2)).
    const double half = e.bulge / (1 + std::sqrt(1 + e.bulge * e.bulge));
    path.vertices.back().bulge = half;
    path.vertices.push_back({middle, 0, 0});
    path.vertices.insert(path.vertices.begin(), {middle, half, e.tag});
    return path;
}

std::string run_name(const Panel& panel, const Outline& net, const Path& path, bool closed, bool binding) {
    if (closed) return binding ? "binding, all round" : "turned edge, all round";
    std::vector<std::size_t> edges;
    for (std::size_t i = 0; i < path.edge_count(); ++i) {
        const int tag = net.vertices[static_cast<std::size_t>(path.vertices[i].tag)].tag;
        if (tag < 0) continue;
        if (edges.empty() || edges.back() != static_cast<std::size_t>(tag))
            edges.push_back(static_cast<std::size_t>(tag));
    }
    std::string name = binding ? "binding" : edges.size() > 1 ? "turned edges" : "turned edge";
    if (edges.empty()) return name;
    name += " " + edge_name(panel, edges.front());
    if (edges.size() > 1) name += " to " + edge_name(panel, edges.back());
    return name;
}

/// Length of the net line under a run, by the edges it traces. Whole edges count.
double net_under(const Outline& net, const Path& path, bool closed) {
    if (closed) return length_mm(net);
    std::vector<bool> counted(net.size(), false);
    double length = 0;
    for (std::size_t i = 0; i < path.edge_count(); ++i) {
        const auto k = static_cast<std::size_t>(path.vertices[i].tag);
        if (counted[k]) continue;
        counted[k] = true;
        length += length_of(net.edge(k));
    }
    return length;
}

}  // namespace

OuterSeams outer_seams(const Panel& panel, const FinishSettings& settings, Reporter& report) {
    const Outline& net = panel.net_line.region.outer;
    const std::vector<Finish> finishes = finishes_along(net, panel.edges);
    std::vector<double> outside;
    std::vector<bool> square;  // edge k starts at a corner that was left square
    for (std::size_t k = 0; k < net.size(); ++k) {
        outside.push_back(finishes[k] == Finish::sealed ? 0 : -settings.stitch_from_edge_mm);
        const int before = net.vertices[(k + net.size() - 1) % net.size()].tag, tag = net.vertices[k].tag;
        square.push_back(before >= 0 && tag >= 0 && before != tag);
    }
    OuterSeams out;
    const std::vector<Outline> lines = traced_offset(traced(net), outside);
    if (lines.size() != 1) {
        report.add("no-room-to-stitch", Severity::stop, "panel", "",
                   {{"stitch from edge", settings.stitch_from_edge_mm, "mm"}},
                   "Panel " + panel.id + " is too narrow for a stitch line " +
                       report.said(settings.stitch_from_edge_mm) + " inside its edge" +
                       (lines.empty() ? "." : " all the way."),
                   "Stitch nearer to the edge, or make the panel wider.");
    }
    for (const Outline& line : lines) {
        for (const Finish finish : {Finish::bound, Finish::turned}) {
            const bool binding = finish == Finish::bound;
            for (const Run& run : runs_of(line, finishes, square, finish)) {
                Seam seam;
                seam.closed = run.closed;
                seam.path = run.closed ? from_middle(line, start_edge(panel, net, line)) : path_of(line, run);
                seam.name = run_name(panel, net, seam.path, run.closed && lines.size() == 1, binding);
                seam.length_mm = length_mm(seam.path);
                if (binding)
                    seam.binding_mm = net_under(net, seam.path, run.closed) + settings.binding_overlap_mm;
                out.binding_mm += seam.binding_mm;
                for (Vertex& v : seam.path.vertices)
                    v.tag = net.vertices[static_cast<std::size_t>(v.tag)].tag;
                out.seams.push_back(std::move(seam));
            }
        }
    }
    return out;
}

}  // namespace spile
