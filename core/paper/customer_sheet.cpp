// What the customer gets: the set as drawn, what is included, how to look after it.
#include "core/base/check.h"
#include "core/paper/flow_parts.h"

namespace spile {

Sheet customer_sheet(const PaperInput& in) {
    using namespace paper;
    SPILE_CHECK(in.pieces && in.panels);
    FrameText text = plain_frame(in, "YOUR SET \u00b7 SEEN FROM ABOVE", "For the customer");
    text.right_2 = in.customer;
    Flow flow(in.bench_paper, text);
    for (const std::string& space : spaces_of(in)) {
        constexpr double height = 96;
        flow.need(height);
        draw_boat_plan(flow.canvas(), {{flow.area().min.x, flow.y()}, {flow.area().max.x, flow.y() + height}},
                       in, space, {false, false, true});
        flow.skip(height + 2);
    }
    std::vector<std::vector<std::string>> rows;
    for (const Piece& p : *in.pieces) {
        const Box box = box_of(p.net);
        rows.push_back({std::to_string(p.number), p.name,
                        print_length(box.width(), in.lengths).text + " \u00d7 " +
                            length_words(box.height(), in.lengths)});
    }
    draw_table(flow,
               {{"piece", 0.5, Anchor::start, Weight::semibold, 1},
                {"", 2.5, Anchor::start, Weight::regular, 2},
                {"finished, largest sizes", 1.6, Anchor::start, Weight::regular, 1}},
               rows, type::body);
    if (in.goods && !in.goods->name.empty()) flow.paragraph("Goods: " + strong(in.goods->name) + ".");
    const PaperSettings& s = in.settings;
    flow.heading("What is included", 24);
    own_words(flow, s.included, 3);
    flow.heading("What is not included", 24);
    own_words(flow, s.not_included, 3);
    flow.paragraph("Agreed ______________________________   date ____________________");

    flow.new_page();
    flow.heading("Looking after it", 30);
    if (!s.care.empty()) {
        own_words(flow, s.care, 0);
    } else {
        // Common practice; goods that say otherwise come first.
        for (const char* words : {"What the maker of the goods says comes first.",
                                  "Lift the pieces out to dry, under them too; lay them back dry.",
                                  "Rinse with fresh water; a soft brush and mild soap. No solvent, no "
                                  "bleach, no pressure washer on edges.",
                                  "Roll face out to store; never fold. Nothing heavy on a fold or an edge.",
                                  "Snaps: lift straight up at the snap, never pull the cloth."})
            bullet(flow, words, type::body);
    }
    if (!s.warranty.empty()) {
        flow.heading("Warranty", 30);
        own_words(flow, s.warranty, 0);
    }
    Sheet sheet;
    sheet.file_stem = "customer";
    sheet.title = "For the customer";
    sheet.purpose =
        "To send with the quote: the set from above, what is included and what is not, care, warranty";
    sheet.pages = flow.finish();
    return sheet;
}

}  // namespace spile
