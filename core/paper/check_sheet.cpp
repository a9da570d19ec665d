// The check sheet: sizes and diagonals before and after edging, with room to write.
#include <algorithm>

#include "core/base/check.h"
#include "core/paper/flow_parts.h"
#include "core/paper/plan_lines.h"

namespace spile {
namespace paper {
namespace {

/// Where straight edges would meet, corners taken as square, with the point each is named after.
struct Corner {
    Vec2 at;
    std::string name;
};

std::vector<Corner> corners_of(const Outline& outline, const Piece& piece, double disc_most_mm) {
    const RawLine line = raw_line(edges_of(outline), true, disc_most_mm);
    std::vector<Corner> out;
    for (const RawStroke& s : line.strokes) {
        const int tag = s.edges.front().tag;
        if (tag >= 0 && static_cast<std::size_t>(tag) < piece.edges.size())
            out.push_back({s.from(), piece.edges[static_cast<std::size_t>(tag)].from});
    }
    return out;
}

class Check {
  public:
    explicit Check(const PaperInput& in)
        : in_(in), flow_(in.bench_paper, plain_frame(in, "CHECK SIZES", "Check sheet")) {
        plain_ = in.lengths;
        plain_.with_unit = false;
    }

    std::vector<Page> pages() {
        // Both ends of a size may be off by what a marked line may be; edging adds another such part.
        const double cut = 2 * in_.marking_departure.mm, finished = 3 * in_.marking_departure.mm;
        flow_.paragraph(
            "Lie the piece flat, stretch nothing. Corner to corner as if the corners were square: lay two "
            "straightedges along the edges. Allowed: cut within " +
            strong(length_words(cut, in_.lengths)) + ", finished within " +
            strong(length_words(finished, in_.lengths)) +
            ". Both diagonals long or both short: the size is off; one long and one short: it is skewed.");
        if (in_.settings.dry_fit)
            flow_.paragraph(
                strong("Dry fit between the two: write what is taken off, and measure the cut again."));
        for (const Piece& piece : *in_.pieces) draw_piece(piece);
        flow_.skip(4);
        flow_.paragraph(
            "Measured by ____________________   before edging ______________   after ______________");
        return flow_.finish();
    }

  private:
    std::string size(double mm) const { return print_length(mm, plain_).text; }

    void draw_piece(const Piece& piece) {
        std::vector<std::vector<std::string>> rows;
        for (const EdgeReport& e : piece.edges)
            rows.push_back(
                {joined(e.from, "\u2013", e.to), size(e.cut_length_mm), "", size(e.net_length_mm), ""});
        const auto net = corners_of(piece.net.outer, piece, in_.disc_most_mm);
        const auto cut = corners_of(piece.cut.face.outer, piece, in_.disc_most_mm);
        // From the first corner to all that are no neighbours, and one across them: with the sides they fix the shape.
        const auto diagonal = [&](std::size_t a, std::size_t b) {
            const bool same = cut.size() == net.size();
            rows.push_back({net[a].name + "\u2013" + net[b].name + " across",
                            same ? size(distance(cut[a].at, cut[b].at)) : "", "",
                            size(distance(net[a].at, net[b].at)), ""});
        };
        for (std::size_t b = 2; b + 1 < net.size(); ++b) diagonal(0, b);
        if (net.size() > 3) diagonal(1, 3);
        for (const HoleReport& h : piece.holes)
            rows.push_back({"hole " + h.id, size(h.face_cut_diameter_mm), "", size(h.net_diameter_mm), ""});
        flow_.need(std::min(flow_.area().height(), 18 + 8.5 * static_cast<double>(rows.size())));
        flow_.heading(joined(std::to_string(piece.number), "  ", piece.name), 20);
        draw_table(flow_,
                   {{"size", 1.5, Anchor::start, Weight::semibold, 1},
                    {"cut: should be", 1, Anchor::start, Weight::regular, 1},
                    {"is", 1, Anchor::start, Weight::regular, 1},
                    {"finished: should be", 1, Anchor::start, Weight::semibold, 1},
                    {"is", 1, Anchor::start, Weight::regular, 1}},
                   rows, 4.6);
    }

    const PaperInput& in_;
    LengthStyle plain_;
    Flow flow_;
};

}  // namespace
}  // namespace paper

Sheet check_sheet(const PaperInput& in) {
    SPILE_CHECK(in.pieces);
    Sheet sheet;
    sheet.file_stem = "check";
    sheet.title = "Check sheet";
    sheet.purpose = "For whoever measures: sizes and diagonals before and after edging, with room to write";
    sheet.cutting = true;
    sheet.pages = paper::Check(in).pages();
    return sheet;
}

}  // namespace spile
