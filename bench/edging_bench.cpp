// Shape and edging of a large panel: 60 edges, 12 openings, 40 snaps. The drawing follows a finger, so: under 2 ms.
#include <benchmark/benchmark.h>

#include <cmath>

#include "core/edging/piece.h"
#include "core/shape/panel.h"

namespace spile {
namespace {

struct LargePanel {
    std::map<std::string, Survey> surveys;
    std::vector<PanelInput> panels;
};

/// Not "P" + std::to_string(i): at -O3 GCC 12 then warns of a copy that never happens.
std::string corner(int i) {
    std::string name = std::to_string(i);
    name.insert(name.begin(), 'P');
    return name;
}

/// An oval 3.0 x 2.0 m of 60 edges, every third of them a curve; openings and studs in rows inside it.
LargePanel large_panel(Finish finish) {
    constexpr double kPi = 3.14159265358979323846;
    constexpr int kEdges = 60, kOpenings = 12, kStuds = 40;
    LargePanel large;
    Survey& survey = large.surveys["sole"];
    survey.space = "sole";
    survey.fixed = true;
    PanelInput in;
    in.id = "1";
    in.space = "sole";
    const auto point = [&](const std::string& name, Vec2 at) { survey.points[name] = {at, {}}; };
    for (int i = 0; i < kEdges; ++i) {
        const double angle = 2 * kPi * i / kEdges, wave = 1 + 0.03 * (i % 4);
        const std::string from = corner(i), to = corner((i + 1) % kEdges);
        point(from, {1500 * wave * std::cos(angle), 1000 * wave * std::sin(angle)});
        in.corners.push_back({from, 40});
        in.edges.push_back({from, to, Measured::wall, Situation::wall, finish, 4.0 + i % 3});
    }
    for (int i = 0; i < kEdges; i += 3) {
        const EdgePlan& e = in.edges[static_cast<std::size_t>(i)];
        survey.curves.push_back(
            {e.from, e.to, {{survey.points[e.from].boat_mm, survey.points[e.to].boat_mm, 0.04, 0}}});
    }
    for (int i = 0; i < kOpenings; ++i) {
        const std::string at = "H" + std::to_string(i);
        point(at, {-500.0 + 200 * (i % 6), i < 6 ? -200.0 : 200.0});
        in.openings.push_back({at, at, 51, 6, Finish::turned, {}});
    }
    for (int i = 0; i < kStuds; ++i) {
        const std::string at = "S" + std::to_string(i);
        point(at, {-760.0 + 80 * (i % 20), i < 20 ? -400.0 : 400.0});
        in.studs.push_back(at);
    }
    large.panels.push_back(std::move(in));
    return large;
}

void ShapeAndEdging(benchmark::State& state, Finish finish) {
    const LargePanel large = large_panel(finish);
    const FinishSettings settings;
    for (auto _ : state) {
        auto panels = shape(large.panels, large.surveys, settings, RunContext{});
        auto pieces = edge_pieces(*panels, settings, RunContext{});
        benchmark::DoNotOptimize(pieces);
    }
}
BENCHMARK_CAPTURE(ShapeAndEdging, bound, Finish::bound)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(ShapeAndEdging, turned, Finish::turned)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace spile
