#include "export/papers/papers.h"

#include <algorithm>
#include <set>

#include "core/base/check.h"
#include "core/base/text.h"
#include "export/csv/points_csv.h"
#include "export/dxf/dxf.h"
#include "export/lines/machine_drawing.h"
#include "export/pdf/pdf.h"
#include "export/svg/cut_svg.h"

namespace spile {
namespace {

/// Collects the files and what could not be written.
class Collector {
  public:
    Collector(const PaperInput& in, bool may_cut) : in_(in), may_cut_(may_cut) {}

    void sheet(PaperGroup group, const Sheet& sheet) {
        if (sheet.cutting && !may_cut_) return;
        Result<std::string> pdf = pdf_bytes(sheet);
        append(findings, std::move(pdf.findings));
        if (pdf)
            add({sheet.file_stem + ".pdf", sheet.title, sheet.purpose, group, sheet.cutting,
                 std::move(*pdf)});
    }

    /// `stem`: "cut-3-round-the-post".
    void machine(const std::string& stem, const std::string& of_what, const MachineDrawing& drawing) {
        const std::string name = stem + "-" + file_word(drawing.side);
        const std::string title = "Cut lines, " + of_what + ", seen from the " + words_for(drawing.side);
        add({name + ".dxf", title + ", DXF",
             "For a plotter or a cutting machine; check the 100 mm square first", PaperGroup::machine, true,
             dxf_bytes(drawing)});
        add({name + ".svg", title + ", SVG", "For a program that draws, at true size", PaperGroup::machine,
             true, cut_svg(drawing)});
        add({name + ".csv", title + ", CSV", "The points as a table, in millimetres", PaperGroup::machine,
             true, points_csv(drawing)});
    }

    std::vector<PaperFile> files;
    std::vector<Finding> findings;

  private:
    void add(PaperFile file) {
        SPILE_CHECK(names_.insert(file.name).second);
        files.push_back(std::move(file));
    }

    const PaperInput& in_;
    bool may_cut_;
    std::set<std::string> names_;
};

/// "3-round-the-post": the number alone makes it the only one of its kind.
std::string stem_of(const Piece& piece) {
    const std::string words = file_words(piece.name);
    return std::to_string(piece.number) + (words.empty() ? "" : "-" + words);
}

std::string said(const Piece& piece) {
    return std::to_string(piece.number) + (piece.name.empty() ? "" : " " + piece.name);
}

void collect_cutting(const PaperInput& in, Collector& collector) {
    const SeenFrom side = in.mark_on_back ? SeenFrom::back : SeenFrom::face;
    for (const Piece& piece : *in.pieces) collector.sheet(PaperGroup::marking, marking_sheet(in, piece));
    for (const Piece& piece : *in.pieces) {
        for (const PaperSize& size : {a4(), letter()})
            collector.sheet(PaperGroup::full_size, full_size_tiles(in, piece, size));
    }
    if (in.layout) {
        collector.machine("cut-roll", "all pieces on the roll",
                          machine_drawing(*in.pieces, *in.layout, *in.goods, side));
    }
    for (const Piece& piece : *in.pieces)
        collector.machine("cut-" + stem_of(piece), said(piece), machine_drawing(piece, side));
}

}  // namespace

const char* words_for(PaperGroup group) {
    switch (group) {
        case PaperGroup::shop:
            return "The job";
        case PaperGroup::marking:
            return "Marking with chalk, tape and straightedge";
        case PaperGroup::full_size:
            return "Patterns at full size, to tape together";
        case PaperGroup::machine:
            return "For machines";
    }
    return "";
}

Result<std::vector<PaperFile>> paper_files(const PaperInput& in, const std::vector<Finding>& stops) {
    Collector collector(in, stops.empty());
    collector.sheet(PaperGroup::shop, ticket(in));
    if (in.layout) collector.sheet(PaperGroup::shop, roll_sheet(in));
    if (in.takeoff) collector.sheet(PaperGroup::shop, materials_sheet(in));
    if (stops.empty()) collect_cutting(in, collector);

    std::vector<Finding> all_stops = stops;
    std::copy_if(collector.findings.begin(), collector.findings.end(), std::back_inserter(all_stops),
                 [](const Finding& f) { return f.severity == Severity::stop; });
    std::vector<PaperFile> files = std::move(collector.files);
    if (!all_stops.empty())
        files.erase(std::remove_if(files.begin(), files.end(), [](const PaperFile& f) { return f.cutting; }),
                    files.end());
    files.insert(files.begin(), {"index.html", "Index", "What there is, each with what it is for",
                                 PaperGroup::shop, false, index_page(in, all_stops, files)});
    return {std::move(files), std::move(collector.findings)};
}

}  // namespace spile
