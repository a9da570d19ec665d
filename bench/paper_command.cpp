// spile-bench paper: how long the papers of a job take, and the plot of a roll of many pieces.
#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <fstream>
#include <iterator>
#include <random>

#include "bench/commands.h"
#include "core/geom/measure_of.h"
#include "core/job/run_job.h"
#include "core/layout/solve/solve.h"
#include "export/dxf/dxf.h"
#include "export/hpgl/hpgl.h"
#include "export/lines/machine_drawing.h"
#include "export/papers/papers.h"
#include "export/pdf/pdf.h"
#include "export/svg/cut_svg.h"

namespace spile {
namespace {

using Clock = std::chrono::steady_clock;

/// Median of the runs, ms.
template <class F>
double timed_ms(int runs, F&& run) {
    std::vector<double> times;
    for (int i = 0; i < runs; ++i) {
        const auto begun = Clock::now();
        run();
        times.push_back(std::chrono::duration<double, std::milli>(Clock::now() - begun).count());
    }
    std::sort(times.begin(), times.end());
    return times[times.size() / 2];
}

std::size_t bytes_of(const std::vector<PaperFile>& files) {
    std::size_t all = 0;
    for (const PaperFile& f : files) all += f.bytes.size();
    return all;
}

/// Pieces beside one another across the roll, row after row: a plot wants places, not the best of them.
Layout in_rows(const std::vector<LayoutPiece>& pieces, const Goods& goods) {
    Layout layout;
    double x = goods.edge_gap(), y = goods.edge_gap(), row = 0;
    for (const LayoutPiece& p : pieces) {
        const Box box = box_of(p.outline);
        if (y + box.height() > goods.usable_width_mm - goods.edge_gap()) {
            x += row + goods.gap_mm, y = goods.edge_gap(), row = 0;
        }
        layout.placements.push_back(
            {p.id, std::llround(1000 * std::ceil(x)), std::llround(1000 * std::ceil(y))});
        y = std::ceil(y) + box.height() + goods.gap_mm;
        row = std::max(row, box.width() + 1);
    }
    layout.used_mm = used_length_mm(pieces, goods, layout.placements);
    layout.bought_mm = bought_length_mm(goods, layout.used_mm);
    return layout;
}

/// A job of so many mats of all sizes, turned and bound, each with a hole.
std::string job_of_mats(int count) {
    std::mt19937 bits(7);
    std::string panels;
    for (int i = 0; i < count; ++i) {
        const auto x = static_cast<int>(300 + bits() % 900), y = static_cast<int>(250 + bits() % 600);
        panels += std::string(i ? ",\n" : "") + "{ \"id\": \"" + std::to_string(i + 1) + "\", \"mat\": \"" +
                  std::to_string(x) + " x " + std::to_string(y) + ", " + (i % 2 ? "turned" : "bound") +
                  "\", \"corner_radius\": " + (i % 2 ? "0" : "50") +
                  ", \"openings\": [{ \"id\": \"post\", \"at\": \"" + std::to_string(x / 2) + " x " +
                  std::to_string(y / 2) + "\", \"diameter\": 60 }] }";
    }
    return "{ \"spile\": 1, \"units\": \"mm\", \"mark_on\": \"back\", \"goods\": { \"name\": \"carpet\", "
           "\"width\": 2000 },\n"
           "\"panels\": [" +
           panels + "] }";
}

void line(const char* what, double ms, std::size_t files, std::size_t bytes) {
    std::printf("%-44s %9.1f ms  %4zu files %9.2f MB\n", what, ms, files, static_cast<double>(bytes) / 1e6);
}

}  // namespace

int paper_command(const std::vector<std::string>& arguments) {
    std::string path = "examples/cockpit.json";
    int pieces = 250, runs = 5;
    for (std::size_t i = 0; i < arguments.size(); i += 2) {
        if (i + 1 == arguments.size()) return 2;
        const std::string &name = arguments[i], &value = arguments[i + 1];
        if (name == "--job")
            path = value;
        else if (name == "--pieces")
            pieces = std::atoi(value.c_str());
        else if (name == "--runs")
            runs = std::atoi(value.c_str());
        else
            return 2;
    }
    if (pieces < 1 || runs < 1) return 2;
    std::ifstream in(path);
    const Result<Job> job = read_job(std::string(std::istreambuf_iterator<char>(in), {}));
    if (!job) {
        std::fprintf(stderr, "%s is no job that can be read\n", path.c_str());
        return 1;
    }
    SolveOptions options;
    options.rounds = 20;
    const Derived derived =
        run_job(*job,
                [&](const std::vector<LayoutPiece>& of, const Goods& goods, const RunContext& run) {
                    return solve_layout(of, goods, options, run);
                },
                {});
    PaperInput input = paper_input(*job, derived);
    std::printf("%s, %zu pieces\n", path.c_str(), derived.pieces.size());
    const auto papers = [&](const char* what, const std::vector<PaperKind>& kinds) {
        input.settings.sheets = kinds;
        std::vector<PaperFile> files;
        const double ms = timed_ms(runs, [&] { files = std::move(*paper_files(input, {})); });
        line(what, ms, files.size(), bytes_of(files));
    };
    std::vector<PaperKind> all;
    for (int k = 0; k < paper_kinds; ++k) all.push_back(static_cast<PaperKind>(k));
    papers("ticket, roll, pieces", {PaperKind::ticket, PaperKind::roll, PaperKind::pieces});
    papers("every paper and file, tiles on one paper", (input.settings.tiles.clear(), all));
    for (const PaperKind kind : all) papers(word_for(kind), {kind});

    const Result<Job> many = read_job(job_of_mats(pieces));
    if (!many) return 1;
    const Derived plot =
        run_job(*many,
                [](const std::vector<LayoutPiece>& of, const Goods& goods, const RunContext&) {
                    return Result<Layout>{in_rows(of, goods), {}};
                },
                {});
    if (!plot.layout) {
        std::fprintf(stderr, "the many pieces have no layout\n");
        return 1;
    }
    const PaperInput of_many = paper_input(*many, plot);
    std::printf("a roll of %zu pieces, %.1f m\n", plot.pieces.size(), plot.layout->used_mm / 1000);
    std::size_t bytes = 0;
    double ms = timed_ms(runs, [&] { bytes = pdf_bytes(roll_sheet(of_many))->size(); });
    line("roll sheet", ms, 1, bytes);
    ms = timed_ms(runs, [&] {
        const MachineDrawing drawing =
            machine_drawing(*of_many.pieces, *of_many.layout, *of_many.goods, SeenFrom::back);
        bytes =
            dxf_bytes(drawing).size() + dxf_bytes(drawing, DxfVersion::r12).size() + cut_svg(drawing).size();
        const Result<std::vector<std::string>> strips = hpgl_strips(drawing, HpglRange::wide);
        for (const std::string& strip : *strips) bytes += strip.size();
    });
    line("roll plot: DXF 2000 and R12, SVG, HP-GL", ms, 4, bytes);
    return 0;
}

}  // namespace spile
