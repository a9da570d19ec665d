// Field sheets: forms to take aboard, large enough for pencil and wet hands, and what is still open.
#include <algorithm>

#include "core/paper/flow_parts.h"

namespace spile {
namespace paper {
namespace {

constexpr double kRowPitch = 11;  ///< of a line to write on with a wet hand
constexpr double kNamed = 5.4;    ///< em of what is read at arm's length

/// A shape to write on: its corners, in the unit square, y up, bow to the right.
struct Form {
    const char* title;
    std::vector<Vec2> corners;
    std::vector<std::pair<int, int>> ties;  ///< that fix it, with spare ones
    const char* advice;
    bool baseline = false;
};

const Form kForms[] = {
    {"Cockpit",
     {{0, 0.12}, {1, 0}, {1, 1}, {0, 0.88}},
     {{0, 1}, {1, 2}, {2, 3}, {3, 0}, {0, 2}, {1, 3}},
     "Four sides and both diagonals: one diagonal fixes the shape, the other shows a slip.",
     false},
    {"Cabin sole",
     {{0, 0.1}, {0.55, 0}, {1, 0.3}, {1, 0.7}, {0.55, 1}, {0, 0.9}},
     {{0, 1}, {1, 2}, {2, 3}, {3, 4}, {4, 5}, {5, 0}, {0, 4}, {1, 5}, {1, 4}, {1, 3}, {2, 4}},
     "Every side, then across until each corner hangs on three others. No two tapes flatter than 30 degrees.",
     false},
    {"Odd shape",
     {{0, 0.25}, {0.2, 0}, {0.6, 0.08}, {1, 0.2}, {0.85, 1}, {0.45, 0.8}, {0.1, 0.95}},
     {},
     "A string from A to B. Along it from A, square off it to each point, right or left. Curves: the chord, "
     "and how far its "
     "middle stands off.",
     true},
};

void form_drawing(Flow& flow, const Form& form) {
    const Box area{{flow.area().min.x, flow.y()}, {flow.area().max.x, flow.y() + 88}};
    flow.skip(90);
    Canvas& canvas = flow.canvas();
    canvas.frame(area, {0.3, ink::black, {}});
    PieceView above;
    above.to_bow = {1, 0};
    above.to_port = {0, 1};
    const Witness w = witness_at({area.min.x + 24, area.min.y + 8}, 24, above, {1, {0, 0}});
    draw_witness(canvas, w);
    canvas.text({w.head.x + 2, w.head.y + type::small * 0.36}, "BOW", type::small, Weight::semibold);
    const Box room{{area.min.x + 26, area.min.y + 20}, {area.max.x - 26, area.max.y - 14}};
    const auto at = [&](Vec2 p) {
        return Vec2{room.min.x + p.x * room.width(), room.max.y - p.y * room.height()};
    };
    const Vec2 middle = at({0.5, 0.5});
    std::vector<Vec2> points;
    for (const Vec2 p : form.corners) points.push_back(at(p));
    for (const auto& [a, b] : form.ties)
        canvas.line(points[static_cast<std::size_t>(a)], points[static_cast<std::size_t>(b)], stroke::guide);
    if (form.baseline) canvas.line(at({-0.05, 0.5}), at({1.05, 0.5}), stroke::datum);
    points.push_back(points.front());
    canvas.chain(points, form.baseline ? stroke::diagonal : stroke::cut_through);
    for (std::size_t i = 0; i + 1 < points.size() && !form.baseline; ++i) {
        const Vec2 out = unit(points[i] - middle);
        canvas.text(points[i] + 6.5 * out + Vec2{0, 2}, std::string(1, static_cast<char>('A' + i)),
                    type::figure, Weight::semibold, Anchor::middle);
    }
    if (form.baseline) {
        canvas.text(at({-0.05, 0.5}) + Vec2{-4, 2}, "A", type::figure, Weight::semibold, Anchor::middle);
        canvas.text(at({1.05, 0.5}) + Vec2{4, 2}, "B", type::figure, Weight::semibold, Anchor::middle);
    }
}

/// Two blocks of lines to write on beside one another.
void form_table(Flow& flow, const std::vector<std::string>& heads, const std::vector<double>& shares,
                const std::vector<std::vector<std::string>>& said) {
    const double gap = 6, width = (flow.area().width() - gap) / 2;
    const double top = flow.y(), bottom = flow.area().max.y;
    const std::size_t rows = static_cast<std::size_t>((bottom - top - 6) / kRowPitch);
    double all = 0;
    for (const double s : shares) all += s;
    for (int block = 0; block < 2; ++block) {
        const double left = flow.area().min.x + block * (width + gap);
        double x = left;
        for (std::size_t c = 0; c < heads.size(); ++c) {
            const double w = width * shares[c] / all;
            draw_fitted(flow.canvas(), {x + 1, top + type::small}, heads[c], w - 2, type::small);
            for (std::size_t r = 0; r < rows; ++r) {
                const std::size_t k = static_cast<std::size_t>(block) * rows + r;
                if (k < said.size() && c < said[k].size())
                    draw_fitted(flow.canvas(), {x + 1, top + 6 + kRowPitch * static_cast<double>(r) + 8},
                                said[k][c], w - 2, kNamed, Weight::semibold);
            }
            if (c > 0)
                flow.canvas().line({x, top + 6}, {x, top + 6 + kRowPitch * static_cast<double>(rows)},
                                   {0.15, ink::black, {}});
            x += w;
        }
        for (std::size_t r = 0; r <= rows; ++r) {
            const double y = top + 6 + kRowPitch * static_cast<double>(r);
            flow.canvas().line({left, y}, {left + width, y}, {r == 0 ? 0.5 : 0.2, ink::black, {}});
        }
    }
    flow.skip(6 + kRowPitch * static_cast<double>(rows));
}

void form_page(Flow& flow, const Form& form, bool first) {
    if (!first) flow.new_page();
    flow.heading(
        std::string(form.title) + "    boat ______________________   date ____________   tape ______________",
        40);
    form_drawing(flow, form);
    flow.paragraph(form.advice);
    flow.skip(1);
    std::vector<std::vector<std::string>> said;
    for (const auto& [a, b] : form.ties)
        said.push_back(
            {std::string(1, static_cast<char>('A' + a)) + " " + std::string(1, static_cast<char>('A' + b))});
    if (form.baseline)
        form_table(flow, {"point", "along", "off", "R / L"}, {1, 1.5, 1.5, 0.8}, {});
    else
        form_table(flow, {"from, to", "reads", "again"}, {1, 1.6, 1.6}, said);
}

void notes_page(Flow& flow) {
    flow.new_page();
    flow.heading("Before you leave", 40);
    for (const char* words :
         {"Every corner hangs on at least three tapes; the spare ones were taken.",
          "Tape zero: held at 0, never at 1 in. Feet and inches said aloud and read back.",
          "Joint lines agreed: which pieces lift alone, which hatch must open alone, which way the weave "
          "runs.",
          "Every stud, drain, hinge, lid and door, with its height over the sole. Lids open: what swings "
          "where.",
          "Clearance of lids and doors over the sole measured; the new goods are thicker.",
          "Table post and pedestal: diameter, and whether it lifts out.",
          "Photographs: whole, each corner, each fitting, the old set and its back."})
        task(flow, words, 4.8);
    flow.heading("Fittings", 40);
    form_table(flow, {"what", "where", "size, height"}, {1.2, 1.5, 1.2}, {});
}

/// What keeps a person aboard, the next tapes, the space as it is drawn so far, and the rest of the page to write on.
void open_space(Flow& flow, const PaperInput& in, const OpenSpace& space) {
    constexpr double size = 4.9;
    flow.heading("Still to do: " + space.space, 40);
    flow.paragraph(space.verdict, size);
    flow.skip(2);
    if (space.missing.empty()) flow.paragraph("Nothing keeps you here.", size);
    for (const std::string& m : space.missing) task(flow, m, size);
    if (!space.next_ties.empty()) {
        flow.heading("The next best tapes, best first", 30);
        for (const std::string& t : space.next_ties) task(flow, t + "   ______________", size);
    }
    bool drawn = false;
    if (in.panels && in.pieces)
        for (const Panel& p : *in.panels) drawn = drawn || (p.space == space.space && !p.mat);
    constexpr double least_plan = 80, rows = 3 * kRowPitch + 8;
    if (drawn && flow.left() > least_plan + rows) {
        flow.skip(2);
        const double height = std::min(flow.left() - rows, 110.0);
        draw_boat_plan(flow.canvas(), {{flow.area().min.x, flow.y()}, {flow.area().max.x, flow.y() + height}},
                       in, space.space, {false, false, false, true});
        flow.skip(height + 2);
    }
    if (flow.left() >= rows - 2.5) form_table(flow, {"from, to", "reads", "again"}, {1, 1.6, 1.6}, {});
}

}  // namespace
}  // namespace paper

Sheet field_sheets(const PaperInput& in) {
    using namespace paper;
    FrameText text = plain_frame(in, "TAKE ABOARD", "Field sheets");
    text.bar_right =
        "drawn from above \u00b7 " + std::string(in.lengths.unit == Unit::inch ? "inches" : "millimetres");
    text.right_2 = "";
    Flow flow(in.bench_paper, text);
    bool first = true;
    for (const OpenSpace& space : in.spaces) {
        if (!first) flow.new_page();
        first = false;
        open_space(flow, in, space);
    }
    for (const Form& form : kForms) {
        form_page(flow, form, first);
        first = false;
    }
    notes_page(flow);
    Sheet sheet;
    sheet.file_stem = "field";
    sheet.title = "Field sheets";
    sheet.purpose = "To take aboard: what is still open in this job, and forms to write on";
    sheet.pages = flow.finish();
    return sheet;
}

}  // namespace spile
