#include "export/papers/papers.h"

#include <algorithm>
#include <set>

#include "core/base/check.h"
#include "core/base/text.h"
#include "export/csv/points_csv.h"
#include "export/dxf/dxf.h"
#include "export/hpgl/hpgl.h"
#include "export/lines/machine_drawing.h"
#include "export/papers/cut_pages.h"
#include "export/pdf/pdf.h"
#include "export/svg/cut_svg.h"

namespace spile {
namespace {

constexpr double kLongestPage = 5000;  ///< mm; a PDF page is read up to 5080 mm unless it says its unit

/// Collects the files and what could not be written.
class Collector {
  public:
    Collector(const PaperInput& in, bool may_cut) : in_(in), may_cut_(may_cut) {}

    void sheet(PaperGroup group, const Sheet& sheet) {
        if (sheet.cutting && !may_cut_) return;
        Result<std::string> pdf =
            pdf_bytes(sheet, in_.settings.one_strip ? LongPages::by_unit : LongPages::refused);
        append(findings, std::move(pdf.findings));
        if (pdf)
            add({sheet.file_stem + ".pdf", sheet.title, sheet.purpose, group, sheet.cutting,
                 std::move(*pdf)});
    }

    /// `stem`: "cut-3-round-the-post".
    void machine(const std::string& stem, const std::string& of_what, const MachineDrawing& drawing) {
        const std::string name = stem + "-" + file_word(drawing.side);
        const std::string title = "Cut lines, " + of_what + ", seen from the " + words_for(drawing.side);
        const auto file = [&](const std::string& ending, const std::string& format,
                              const std::string& purpose, std::string bytes) {
            add({name + ending, title + ", " + format, purpose, PaperGroup::machine, true, std::move(bytes)});
        };
        const std::string square = "For a plotter or a cutting machine; check the 100 mm square first";
        if (wants(PaperKind::machine)) {
            file(".dxf", "DXF", square, dxf_bytes(drawing));
            file(".svg", "SVG", "For a program that draws, at true size", cut_svg(drawing));
            Sheet pages = cut_pages(drawing, in_.settings.one_strip ? 1e9 : kLongestPage);
            Result<std::string> pdf = pdf_bytes(pages, LongPages::by_unit);
            append(findings, std::move(pdf.findings));
            if (pdf) file(".pdf", "PDF", pages.purpose, std::move(*pdf));
            file(".csv", "CSV", "The points as a table, in millimetres", points_csv(drawing));
        }
        if (wants(PaperKind::dxf_r12))
            file("-r12.dxf", "DXF R12",
                 "For a machine that reads nothing newer, millimetres; check the 100 mm square first",
                 dxf_bytes(drawing, DxfVersion::r12));
        if (wants(PaperKind::hpgl)) hpgl(file, drawing);
    }

    bool wants(PaperKind kind) const {
        const std::vector<PaperKind>& sheets = in_.settings.sheets;
        return std::find(sheets.begin(), sheets.end(), kind) != sheets.end();
    }

    std::vector<PaperFile> files;
    std::vector<Finding> findings;

  private:
    template <class File>
    void hpgl(const File& file, const MachineDrawing& drawing) {
        const auto strips = [&](HpglRange range) {
            Result<std::vector<std::string>> made = hpgl_strips(drawing, range);
            append(findings, std::move(made.findings));
            return made ? std::move(*made) : std::vector<std::string>{};
        };
        for (std::string& bytes : strips(HpglRange::wide))
            file(".plt", "HP-GL", "For a plotter or cutter that reads HP-GL; 40 units are 1 mm",
                 std::move(bytes));
        // Devices of 16 bits reach so far across; along they are fed strip by strip.
        const double reach = 32767 * 0.025;
        if (drawing.box.height() > reach || drawing.box.width() <= reach) return;
        std::vector<std::string> parts = strips(HpglRange::sixteen_bit);
        for (std::size_t i = 0; i < parts.size(); ++i)
            file("-strip-" + std::to_string(i + 1) + ".plt",
                 "HP-GL, strip " + std::to_string(i + 1) + " of " + std::to_string(parts.size()),
                 "For an old device of 16 bits: this strip, then feed on by 800 mm", std::move(parts[i]));
    }

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
    return called(piece) + (words.empty() ? "" : "-" + words);
}

std::string said(const Piece& piece) {
    return called(piece) + (piece.name.empty() ? "" : " " + piece.name);
}

void collect_full_size(const PaperInput& in, Collector& collector) {
    std::vector<PaperSize> sizes = in.settings.tiles;
    if (sizes.empty()) sizes.push_back(in.bench_paper);
    if (collector.wants(PaperKind::tiles))
        for (const Piece* piece : all_pieces(in))
            for (const PaperSize& size : sizes)
                collector.sheet(PaperGroup::full_size, full_size_tiles(in, *piece, size));
    if (collector.wants(PaperKind::strips))
        for (const Piece* piece : all_pieces(in))
            collector.sheet(PaperGroup::full_size, full_size_strips(in, *piece));
}

void collect_machine(const PaperInput& in, Collector& collector) {
    if (!collector.wants(PaperKind::machine) && !collector.wants(PaperKind::dxf_r12) &&
        !collector.wants(PaperKind::hpgl))
        return;
    const SeenFrom side = in.mark_on_back ? SeenFrom::back : SeenFrom::face;
    std::vector<Piece> cut;
    std::vector<LayoutPiece> pieces;
    for (const Piece* piece : cut_from_goods(in)) {
        cut.push_back(*piece);
        pieces.push_back({piece->id, piece->cut.face});
    }
    for (std::size_t k = 0; in.layout && k < stretch_count(*in.layout); ++k) {
        // Each length is laid on the table by itself.
        const bool one = in.layout->stretches.empty();
        collector.machine(one ? "cut-roll" : "cut-roll-" + std::to_string(k + 1),
                          one ? "all pieces on the roll" : "the pieces on " + stretch_words(*in.layout, k),
                          machine_drawing(cut, one_stretch(pieces, *in.goods, *in.layout, k),
                                          goods_on(*in.goods, *in.layout, k), side));
    }
    for (const Piece* piece : all_pieces(in))
        collector.machine("cut-" + stem_of(*piece), said(*piece), machine_drawing(*piece, side));
}

/// Every sheet of a kind that is wanted and for which there is something to say. While something stops, nothing to cut
/// from is even drawn.
void collect_sheets(const PaperInput& in, bool may_cut, Collector& collector) {
    using Kind = PaperKind;
    const bool pieces = !in.pieces->empty();
    const auto sheet = [&](Kind kind, bool possible, PaperGroup group, Sheet (*draw)(const PaperInput&)) {
        if (possible && collector.wants(kind)) collector.sheet(group, draw(in));
    };
    sheet(Kind::ticket, may_cut, PaperGroup::shop, ticket);
    sheet(Kind::roll, may_cut && in.layout, PaperGroup::shop, roll_sheet);
    if (may_cut && collector.wants(Kind::pieces)) {
        for (const Piece* piece : cut_from_goods(in))
            collector.sheet(PaperGroup::marking, marking_sheet(in, *piece));
        // Of other goods only what cannot be cut by its sizes.
        for (const AppliedPiece& a : in.applied ? *in.applied : std::vector<AppliedPiece>())
            if (!a.own_goods() && !is_cut_by_sizes(a))
                collector.sheet(PaperGroup::marking, marking_sheet(in, a.piece));
        if (in.applied && !in.applied->empty()) collector.sheet(PaperGroup::marking, applied_sheet(in));
    }
    sheet(Kind::materials, in.takeoff != nullptr, PaperGroup::shop, materials_sheet);
    sheet(Kind::sewing, pieces, PaperGroup::making, sewing_sheet);
    sheet(Kind::check, pieces, PaperGroup::making, check_sheet);
    sheet(Kind::fitting, pieces, PaperGroup::away, fitting_sheet);
    sheet(Kind::labels, pieces, PaperGroup::making, label_sheet);
    sheet(Kind::field, true, PaperGroup::away, field_sheets);
    sheet(Kind::customer, pieces, PaperGroup::away, customer_sheet);
    if (!may_cut) return;
    collect_full_size(in, collector);
    collect_machine(in, collector);
}

}  // namespace

const char* words_for(PaperGroup group) {
    switch (group) {
        case PaperGroup::shop:
            return "The job";
        case PaperGroup::marking:
            return "Marking with chalk, tape and straightedge";
        case PaperGroup::making:
            return "Sewing, checking, labelling";
        case PaperGroup::away:
            return "To take aboard, and for the customer";
        case PaperGroup::full_size:
            return "Patterns at full size, to tape together";
        case PaperGroup::machine:
            return "For machines";
    }
    return "";
}

Result<std::vector<PaperFile>> paper_files(const PaperInput& in, const std::vector<Finding>& stops) {
    Collector collector(in, stops.empty());
    collect_sheets(in, stops.empty(), collector);

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
