// What the customer gets: the set as drawn, what is included, how to look after it.
#include <algorithm>

#include "core/base/check.h"
#include "core/base/text.h"
#include "core/paper/aboard.h"
#include "core/paper/applied_words.h"
#include "core/paper/flow_parts.h"

namespace spile {
namespace paper {
namespace {

/// As large as the page lets the drawings be beside what else stands on it.
void drawings(Flow& flow, const PaperInput& in, double rest) {
    const std::vector<std::string> spaces = spaces_of(in);
    for (std::size_t i = 0; i < spaces.size(); ++i) {
        Box all;
        for (const Panel& p : *in.panels)
            if (p.space == spaces[i] && !p.mat) all.add(box_of(p.boat_line.outline));
        const double wanted = (flow.area().width() - 2) * all.height() / std::max(all.width(), 1.0) + 24;
        const double share = (flow.left() - rest) / static_cast<double>(spaces.size() - i) - 2;
        const double height = std::clamp(std::min(wanted, share), 70.0, flow.area().height() - 10);
        flow.need(height);
        draw_boat_plan(flow.canvas(), {{flow.area().min.x, flow.y()}, {flow.area().max.x, flow.y() + height}},
                       in, spaces[i], {false, false, true, false});
        flow.skip(height + 2);
    }
}

/// What is made, as far as the job tells: goods, edges, openings, studs.
std::vector<std::string> made_words(const PaperInput& in) {
    std::vector<std::string> out;
    if (in.goods && !in.goods->name.empty()) out.push_back("Goods: " + strong(in.goods->name) + ".");
    std::vector<std::string> edges, openings;
    std::size_t studs = 0, placed = 0;
    for (const Finish finish : {Finish::bound, Finish::turned, Finish::sealed}) {
        std::vector<std::string> on;
        for (const Piece& p : *in.pieces)
            if (std::any_of(p.edges.begin(), p.edges.end(),
                            [&](const EdgeReport& e) { return e.plan.finish == finish; }))
                on.push_back(called(p));
        if (on.empty()) continue;
        const bool every = on.size() == in.pieces->size();
        edges.push_back(std::string(word_for(finish)) + (every ? "" : " on " + list_words(on)));
    }
    for (const Piece& p : *in.pieces) {
        studs += stud_names(p, false).size();
        placed += stud_names(p, true).size();
        for (const HoleReport& h : p.holes)
            openings.push_back((h.id.empty() ? "an opening" : h.id) + " in " + called(p));
    }
    std::string words;
    for (std::size_t i = 0; i < edges.size(); ++i) words += (i ? "; " : "Edges: ") + strong(edges[i]);
    if (!words.empty()) words += ". ";
    if (!openings.empty()) words += "Openings: " + strong(list_words(openings)) + ". ";
    if (studs > 0) words += "Fastened to " + count_of(studs, "stud", "studs") + " of the boat, found aboard.";
    if (placed > 0)
        words += (studs > 0 ? " " : "") + count_of(placed, "new stud", "new studs") + " set in the deck.";
    if (!words.empty()) out.push_back(words);
    for (const Piece& p : *in.pieces) {
        std::vector<std::string> put_on;
        for (const AppliedPiece* a : applied_on(in, p)) put_on.push_back(a->piece.name);
        if (!put_on.empty()) out.push_back("On " + called(p) + ": " + strong(list_words(put_on)) + ".");
    }
    return out;
}

/// A heading with the shop's words under it, or lines to write on, in a column `width` wide.
double column_height(const std::string& words, double width, double blank) {
    return 11 + (words.empty() ? blank
                               : static_cast<double>(own_lines(words, width, type::body).size()) *
                                     type::body * type::line);
}
void column(Canvas& canvas, Vec2 at, double width, const std::string& head, const std::string& words,
            double blank) {
    draw_fitted(canvas, {at.x, at.y + type::table}, head, width, type::table, Weight::semibold);
    const double y = at.y + 10;
    if (!words.empty()) {
        draw_lines(canvas, {at.x, y + type::body}, own_lines(words, width, type::body), type::body);
        return;
    }
    for (double line = 9; line <= blank; line += 9)
        canvas.line({at.x, y + line - 1}, {at.x + width, y + line - 1}, {0.2, ink::black, {}});
}

/// What is and is not included, side by side where a page holds them.
void included(Flow& flow, const PaperSettings& s) {
    const double gap = 8, width = (flow.area().width() - gap) / 2, blank = 6 * 9.0;
    const double height =
        std::max(column_height(s.included, width, blank), column_height(s.not_included, width, blank));
    if (height > flow.area().height()) {
        flow.heading("What is included", 24);
        own_words(flow, s.included, 6);
        flow.heading("What is not included", 24);
        own_words(flow, s.not_included, 6);
        return;
    }
    flow.need(height);
    const Vec2 at{flow.area().min.x, flow.y()};
    column(flow.canvas(), at, width, "What is included", s.included, blank);
    column(flow.canvas(), at + Vec2{width + gap, 0}, width, "What is not included", s.not_included, blank);
    flow.skip(height + 4);
}

void care(Flow& flow, const std::string& words) {
    flow.heading("Looking after it", 30);
    if (!words.empty()) return own_words(flow, words, 0);
    // Common practice; goods that say otherwise come first.
    for (const char* line :
         {"What the maker of the goods says comes first.",
          "Lift the pieces out to dry, under them too; lay them back dry.",
          "Rinse with fresh water; a soft brush and mild soap. No solvent, no bleach, no pressure "
          "washer on edges.",
          "Roll face out to store; never fold. Nothing heavy on a fold or an edge.",
          "Snaps: lift straight up at the snap, never pull the cloth."}) {
        bullet(flow, line, type::body);
        flow.skip(1);
    }
}

}  // namespace
}  // namespace paper

Sheet customer_sheet(const PaperInput& in) {
    using namespace paper;
    SPILE_CHECK(in.pieces && in.panels);
    FrameText text = plain_frame(in, "YOUR SET \u00b7 SEEN FROM ABOVE", "For the customer");
    text.right_2 = in.customer;
    Flow flow(in.bench_paper, text);
    std::vector<std::vector<std::string>> rows;
    for (const Piece& p : *in.pieces) {
        const Box box = box_of(p.net);
        rows.push_back({called(p), p.name,
                        print_length(box.width(), in.lengths).text + " \u00d7 " +
                            length_words(box.height(), in.lengths)});
    }
    const std::vector<Column> columns{{"piece", 0.5, Anchor::start, Weight::semibold, 1},
                                      {"", 2.5, Anchor::start, Weight::regular, 2},
                                      {"finished, largest sizes", 1.6, Anchor::start, Weight::regular, 1}};
    std::vector<std::string> words = made_words(in);
    // A long name is cut short in the head; here it stands whole.
    if (fitted(in.customer, 0.42 * flow.area().width(), type::body, Weight::regular).utf8 != in.customer)
        words.insert(words.begin(), "For " + strong(in.customer) + ".");
    if (any_dry_fitted(in))
        words.push_back(
            "Before their edges are finished the pieces are tried aboard once, and trimmed to the boat: "
            "please have her clear and at her berth. " +
            aboard_words(in));
    double rest = table_height(flow.area().width(), columns, rows, type::body) + 6;
    for (const std::string& w : words)
        rest +=
            static_cast<double>(wrapped(w, flow.area().width(), type::body).size()) * type::body * type::line;
    drawings(flow, in, rest);
    draw_table(flow, columns, rows, type::body);
    for (const std::string& w : words) flow.paragraph(w);

    flow.new_page();
    included(flow, in.settings);
    care(flow, in.settings.care);
    flow.skip(3);
    flow.heading("Warranty", 30);
    const bool agreed_fits = flow.left() > 40;
    if (in.settings.warranty.empty() && agreed_fits)
        fill_with_lines(flow, 3, 24);
    else
        own_words(flow, in.settings.warranty, 3);
    flow.need(16);
    if (flow.left() > 18) flow.skip(flow.left() - 16);  // signed at the foot
    flow.skip(8);
    flow.paragraph("Agreed ______________________________   date ____________________");

    Sheet sheet;
    sheet.file_stem = "customer";
    sheet.title = "For the customer";
    sheet.purpose =
        "To send with the quote: the set from above, what is included and what is not, care, warranty";
    sheet.pages = flow.finish();
    return sheet;
}

}  // namespace spile
