// The check sheet: sizes and diagonals before and after edging, with room to write.
#include <algorithm>
#include <array>

#include "core/base/check.h"
#include "core/paper/aboard.h"
#include "core/paper/flow_parts.h"
#include "core/paper/piece_picture.h"

namespace spile {
namespace paper {
namespace {

constexpr double kRow = 7.2;  ///< a cell that a pencil fills; higher where the page has room
constexpr double kMostRow = 12;
constexpr double kSize = 4.6;      ///< em of a size
constexpr double kHead = 9.8;      ///< two lines over the columns
constexpr double kPicture = 62;    ///< width of the picture beside the table
constexpr double kLeastHigh = 48;  ///< of the picture
constexpr double kGap = 5;

/// What is measured: its name, and what it should be as cut and finished.
struct Row {
    std::string name, cut, finished;
};

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
        if (any_dry_fitted(in_))
            flow_.paragraph(strong("Dry fit between the two:") +
                            " write what is taken off, and measure the cut again.");
        std::vector<double> heights, shares(in_.pieces->size(), 0);
        for (const Piece& piece : *in_.pieces) heights.push_back(block_height(piece));
        if (std::all_of(heights.begin(), heights.end(), [&](double h) { return h <= flow_.area().height(); }))
            shares = shares_of_white(flow_.left(), flow_.area().height(), heights, kSigned);
        for (std::size_t i = 0; i < shares.size(); ++i) draw_piece(in_.pieces->at(i), shares[i]);
        flow_.skip(2);
        flow_.paragraph(
            "Measured by ____________________   before edging ______________   after ______________");
        return flow_.finish();
    }

  private:
    std::string size(double mm) const { return print_length(mm, plain_).text; }

    std::vector<Row> rows_of(const Piece& piece) const {
        std::vector<Row> rows;
        for (const EdgeReport& e : piece.edges)
            rows.push_back({joined(e.from, "\u2013", e.to), size(e.cut_length_mm), size(e.net_length_mm)});
        const auto net = corners_of(piece.net.outer, piece, in_.disc_most_mm);
        const auto cut = corners_of(piece.cut.face.outer, piece, in_.disc_most_mm);
        const bool same = cut.size() == net.size();
        for (const auto& [a, b] : diagonals_of(net.size()))
            rows.push_back({net[a].name + "\u2013" + net[b].name + " across",
                            same ? size(distance(cut[a].at, cut[b].at)) : "",
                            size(distance(net[a].at, net[b].at))});
        for (const HoleReport& h : piece.holes) {
            if (h.round) {
                rows.push_back({"hole " + h.id, size(h.face_cut_diameter_mm), size(h.net_diameter_mm)});
                continue;
            }
            rows.push_back({"hole " + h.id + ", length", "", size(h.along_mm)});
            rows.push_back({"hole " + h.id + ", width", "", size(h.across_mm)});
        }
        return rows;
    }

    static constexpr double kTitle = 11.6, kSigned = 2 + 2 * type::body * type::line;

    double note_height(const Piece& piece) const {
        const std::string aboard = aboard_words(in_, piece);
        if (aboard.empty()) return 0;
        return static_cast<double>(wrapped(aboard, flow_.area().width(), 4.2).size()) * 4.2 * type::line + 1;
    }
    double block_height(const Piece& piece) const {
        const double table = kHead + kRow * static_cast<double>(rows_of(piece).size());
        return kTitle + note_height(piece) + std::max(table, kLeastHigh) + 5;
    }

    /// `share`: of the white its page would have at its foot; its rows take of it what a pencil can use.
    void draw_piece(const Piece& piece, double share) {
        const std::vector<Row> rows = rows_of(piece);
        const std::string aboard = aboard_words(in_, piece);
        const double all = flow_.area().width(), beside = all - kPicture - kGap, note = note_height(piece);
        const double count = std::max(1.0, static_cast<double>(rows.size()));
        const double block = block_height(piece) + share;
        const bool at_side = block <= flow_.area().height();
        row_ = at_side ? std::min(kMostRow, (block - kTitle - note - 5 - kHead) / count) : kRow;
        const double table = kHead + row_ * count;
        flow_.need(at_side ? block : kTitle + note + kLeastHigh + kHead + 3 * kRow);
        flow_.heading(joined(called(piece), "  ", piece.name), 20);
        if (note > 0) flow_.paragraph(aboard, 4.2);
        flow_.skip(1);
        const Vec2 at{flow_.area().min.x, flow_.y()};
        const PictureWants wants{false, true, true, true, "finished, from above"};
        if (at_side) {
            const double high = std::clamp(table, kLeastHigh, 66.0);
            draw_piece_picture(flow_.canvas(), {at, at + Vec2{kPicture, high}}, in_, piece, wants);
            const Vec2 from{at.x + kPicture + kGap, at.y};
            head(from, beside);
            for (std::size_t i = 0; i < rows.size(); ++i)
                row({from.x, from.y + kHead + row_ * static_cast<double>(i)}, beside, rows[i]);
            flow_.skip(share > 0 ? block - kTitle - note - 1 : std::max(table, high) + 4);
            return;
        }
        // More sizes than a page holds: the picture first, then the table over as many pages as it takes.
        draw_piece_picture(flow_.canvas(), {at, at + Vec2{all, kLeastHigh}}, in_, piece, wants);
        flow_.skip(kLeastHigh + 3);
        bool headed = false;
        for (const Row& r : rows) {
            if (!headed || flow_.left() < kRow) {
                flow_.need(kHead + kRow);
                head({at.x, flow_.y()}, all);
                flow_.skip(kHead);
                headed = true;
            }
            row({at.x, flow_.y()}, all, r);
            flow_.skip(kRow);
        }
        flow_.skip(4);
    }

    /// Left sides of the columns: name, should and is as cut, should and is finished; and the right side of the last.
    static std::array<double, 6> columns(double x, double width) {
        const double name = 0.27 * width, rest = (width - name) / 4;
        return {x, x + name, x + name + rest, x + name + 2 * rest, x + name + 3 * rest, x + width};
    }

    void head(Vec2 at, double width) {
        const auto c = columns(at.x, width);
        Canvas& canvas = flow_.canvas();
        const double first = at.y + type::small, second = first + type::small * type::line;
        draw_fitted(canvas, {c[1] + 1.5, first}, "CUT", c[3] - c[1] - 3, type::small, Weight::semibold);
        draw_fitted(canvas, {c[3] + 1.5, first}, "FINISHED", c[5] - c[3] - 3, type::small, Weight::semibold);
        for (const std::size_t i : {std::size_t{1}, std::size_t{3}}) {
            draw_fitted(canvas, {c[i] + 1.5, second}, "should be", c[i + 1] - c[i] - 3, type::small);
            draw_fitted(canvas, {c[i + 1] + 1.5, second}, "is", c[i + 2] - c[i + 1] - 3, type::small);
        }
        canvas.line({at.x, at.y + kHead}, {at.x + width, at.y + kHead}, {0.5, ink::black, {}});
    }

    /// A size to read, and beside it a box to write in.
    void row(Vec2 at, double width, const Row& r) {
        const auto c = columns(at.x, width);
        Canvas& canvas = flow_.canvas();
        const double base = at.y + row_ / 2 + kSize * 0.36;
        draw_fitted(canvas, {at.x, base}, r.name, c[1] - at.x - 1.5, kSize, Weight::semibold);
        draw_fitted(canvas, {c[1] + 1.5, base}, r.cut, c[2] - c[1] - 3, kSize);
        draw_fitted(canvas, {c[3] + 1.5, base}, r.finished, c[4] - c[3] - 3, kSize);
        for (const std::size_t i : {std::size_t{2}, std::size_t{4}})
            canvas.frame({{c[i], at.y + 0.5}, {c[i + 1] - (i == 2 ? 2.5 : 0), at.y + row_ - 0.5}},
                         {0.22, ink::black, {}});
        canvas.line({at.x, at.y + row_}, {at.x + width, at.y + row_}, {0.12, ink::black, {}});
    }

    const PaperInput& in_;
    LengthStyle plain_;
    Flow flow_;
    double row_ = kRow;  ///< of the piece being drawn
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
