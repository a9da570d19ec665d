// Labels: for the pieces and for the rolled-up pattern, several to a page, each with its code.
#include <algorithm>

#include "core/base/check.h"
#include "core/geom/measure_of.h"
#include "core/paper/aboard.h"
#include "core/paper/page_frame.h"

namespace spile {
namespace paper {
namespace {

struct Label {
    std::string number, name, line_1, line_2, code;
};

/// A text cut after so many bytes, between characters.
std::string at_most(const std::string& text, std::size_t bytes) {
    if (text.size() <= bytes) return text;
    while (bytes > 0 && (static_cast<unsigned char>(text[bytes]) & 0xC0) == 0x80) --bytes;
    return text.substr(0, bytes);
}

constexpr double kMargin = 10, kHeight = 50;
constexpr std::size_t kColumns = 2;
constexpr double kCode = 30;

void draw_label(Canvas& canvas, const Box& box, const Label& label) {
    canvas.frame(box, {0.2, ink::soft, {1.6, 1.6}});
    const double left = box.min.x + 4, code_left = box.max.x - 3 - kCode;
    canvas.page.items.push_back(QrCode{{code_left, box.min.y + 4}, kCode, label.code});
    const double room = code_left - left - 2;
    const Box number = draw_fitted(canvas, {left, box.min.y + 17.5}, label.number, room * 0.6, type::number,
                                   Weight::semibold);
    // The face of a finished piece is plain to see; what must be said is which way it lies.
    draw_fitted(canvas, {number.max.x + 4, box.min.y + 13}, "TOP", code_left - number.max.x - 6, type::table,
                Weight::semibold);
    draw_fitted(canvas, {number.max.x + 4, box.min.y + 19.6}, "BOW \u2192", code_left - number.max.x - 6,
                type::body, Weight::semibold);
    draw_lines(canvas, {left, box.min.y + 30},
               wrapped_at_most(label.name, room, type::body, 2, Weight::semibold), type::body);
    draw_fitted(canvas, {left, box.max.y - 9}, label.line_1, box.max.x - left - 3, type::small);
    draw_fitted(canvas, {left, box.max.y - 3.6}, label.line_2, box.max.x - left - 3, type::small);
}

/// The roll or offcut, where there are several.
std::string cut_from(const PaperInput& in, const Piece& piece) {
    if (in.layout)
        for (const Placement& p : in.layout->placements)
            if (p.piece == piece.id) return stretch_words(*in.layout, static_cast<std::size_t>(p.stretch));
    return "";
}

std::vector<Label> labels_of(const PaperInput& in) {
    const std::string job = joined(in.title, " \u00b7 ", in.boat);
    const std::string in_code = "SPILE\nJOB " + at_most(in.title, 200) + "\nBOAT " + at_most(in.boat, 200);
    std::vector<Label> out;
    for (const Piece* piece : all_pieces(in)) {
        const Piece& p = *piece;
        const Box box = box_of(p.net);
        const std::string size =
            print_length(box.width(), in.lengths).text + " \u00d7 " + length_words(box.height(), in.lengths);
        out.push_back({called(p), p.name, job,
                       joined(joined(joined(dry_fit_bar(is_dry_fitted(in, p)), " \u00b7 ", size), " \u00b7 ",
                                     in.goods ? in.goods->name : ""),
                              " \u00b7 ", cut_from(in, p)),
                       in_code + "\nPIECE " + called(p) + " " + at_most(p.name, 200)});
    }
    std::string numbers = std::to_string(in.pieces->empty() ? 0 : in.pieces->front().number);
    if (in.pieces->size() > 1) numbers += "\u2013" + std::to_string(in.pieces->back().number);
    out.push_back({numbers, "pattern, as fitted", job, "rolled ______________   kept at ______________",
                   in_code + "\nPATTERN " + numbers});
    return out;
}

}  // namespace
}  // namespace paper

Sheet label_sheet(const PaperInput& in) {
    using namespace paper;
    SPILE_CHECK(in.pieces);
    const PaperSize& paper = in.bench_paper;
    const double width = (paper.width_mm - 2 * kMargin) / kColumns;
    const auto rows = static_cast<std::size_t>((paper.height_mm - 2 * kMargin) / kHeight);
    Sheet sheet;
    sheet.file_stem = "labels";
    sheet.title = "Labels";
    sheet.purpose =
        "To cut and pin on: number, which way it lies and a code for every piece and for the pattern roll";
    std::vector<Canvas> pages;
    const std::vector<Label> labels = labels_of(in);
    for (std::size_t i = 0; i < labels.size(); ++i) {
        const std::size_t on_page = i % (rows * kColumns);
        if (on_page == 0) pages.emplace_back(paper.width_mm, paper.height_mm);
        const Vec2 at{kMargin + width * static_cast<double>(on_page % kColumns),
                      kMargin + kHeight * static_cast<double>(on_page / kColumns)};
        draw_label(pages.back(), {at, at + Vec2{width, kHeight}}, labels[i]);
    }
    for (Canvas& c : pages) sheet.pages.push_back(std::move(c.page));
    return sheet;
}

}  // namespace spile
