// A marking sheet: drawing, table of marks, steps, composed on as few pages as hold them at a readable size.
#include <algorithm>

#include "core/base/text.h"
#include "core/paper/aboard.h"
#include "core/paper/marking_parts.h"

namespace spile {
namespace paper {
namespace {

constexpr double kRow = 7.9;          ///< pitch of the table of marks
constexpr double kLeastDrawing = 74;  ///< height a drawing needs to be read
constexpr double kSideTable = 76;     ///< width of the table beside the drawing
constexpr double kColumnGap = 7;

/// Steps set in two columns, none broken over them.
struct Steps {
    std::vector<std::vector<TextLine>> set;
    std::size_t split = 0;  ///< steps of the first column
    double height = 0;
    double size = type::body, indent = 0, between = 0;

    double lines(const std::vector<TextLine>& step) const {
        return static_cast<double>(step.size()) * size * type::line + between;
    }

    Steps(const std::vector<std::string>& steps, double width, double size_mm = type::body)
        : size(size_mm), indent(1.7 * size_mm), between(0.25 * size_mm) {
        double total = 0;
        for (const std::string& s : steps) {
            set.push_back(wrapped(s, (width - kColumnGap) / 2 - indent, size));
            total += lines(set.back());
        }
        double left = 0;
        height = total;
        for (std::size_t i = 0; i < set.size(); ++i) {
            left += lines(set[i]);
            if (std::max(left, total - left) < height) {
                height = std::max(left, total - left);
                split = i + 1;
            }
        }
    }

    void draw(Canvas& canvas, Vec2 top_left, double width) const {
        double y = top_left.y;
        double x = top_left.x;
        for (std::size_t i = 0; i < set.size(); ++i) {
            if (i == split) {
                y = top_left.y;
                x = top_left.x + (width + kColumnGap) / 2;
            }
            canvas.text({x + indent - 2.2, y + size}, std::to_string(i + 1), size, Weight::semibold,
                        Anchor::end);
            draw_lines(canvas, {x + indent, y + size}, set[i], size);
            y += lines(set[i]);
        }
    }
};

/// The table of marks in side-by-side blocks.
struct MarkTable {
    static constexpr double head = 6.6;

    /// Rows of the left block: half, but a heading goes over with what it heads.
    static std::size_t split(const std::vector<MarkRow>& rows, std::size_t from, std::size_t to) {
        const std::size_t half = (to - from + 1) / 2;
        return half > 1 && rows[from + half - 1].heading ? half - 1 : half;
    }
    static double height(const std::vector<MarkRow>& rows, std::size_t from, std::size_t to) {
        const std::size_t left = split(rows, from, to);
        return head + kRow * static_cast<double>(std::max(left, to - from - left)) + 1;
    }

    static void draw_block(Canvas& canvas, const Box& box, const std::vector<MarkRow>& rows, std::size_t from,
                           std::size_t to) {
        const double w = box.width();
        const double over = box.min.x + 0.135 * w, up = box.min.x + 0.42 * w, check = box.min.x + 0.705 * w;
        const double y = box.min.y + type::small + 0.6;
        draw_fitted(canvas, {box.min.x, y}, "mark", over - box.min.x - 1, type::small);
        draw_fitted(canvas, {over, y}, "over", up - over - 1, type::small);
        draw_fitted(canvas, {up, y}, "up", check - up - 1, type::small);
        draw_fitted(canvas, {check, y}, "try to", box.max.x - check, type::small);
        double line = box.min.y + head - 0.6;
        canvas.line({box.min.x, line}, {box.max.x, line}, {0.5, ink::black, {}});
        for (std::size_t i = from; i < to; ++i) {
            const MarkRow& r = rows[i];
            const double base = line + kRow - 2;
            if (r.heading) {
                draw_fitted(canvas, {box.min.x, base}, r.mark, w, type::body, Weight::semibold);
            } else {
                draw_fitted(canvas, {box.min.x, base}, r.mark, over - box.min.x - 1, type::table,
                            Weight::semibold);
                draw_fitted(canvas, {over, base}, r.over, up - over - 1, type::table, Weight::semibold);
                draw_fitted(canvas, {up, base}, r.up, check - up - 1, type::table, Weight::semibold);
                draw_fitted(canvas, {check, base}, r.check, box.max.x - check, type::body);
            }
            line += kRow;
            canvas.line({box.min.x, line}, {box.max.x, line}, {0.14, ink::black, {}});
        }
    }

    static void draw(Canvas& canvas, const Box& area, const std::vector<MarkRow>& rows, std::size_t from,
                     std::size_t to) {
        const std::size_t half = split(rows, from, to);
        const double w = (area.width() - kColumnGap) / 2;
        draw_block(canvas, {area.min, {area.min.x + w, area.max.y}}, rows, from, from + half);
        if (from + half < to)
            draw_block(canvas, {{area.max.x - w, area.min.y}, area.max}, rows, from + half, to);
    }
};

class Composer {
  public:
    Composer(const PaperInput& in, const Piece& piece)
        : in_(in),
          piece_(piece),
          plan_(plan_marking(piece, marking_options(in, piece))),
          rows_(rows_of(plan_)) {
        frame_.number = called(piece);
        frame_.name = piece.name;
        frame_.right_1 = joined(in.title, " \u00b7 ", in.boat);
        frame_.right_2 = units_words(plan_.lengths) + " \u00b7 line within " + plan_.within;
        frame_.bar = "MARK ON THE " + side_words(plan_.on_back);
        // What must not be missed goes before what is also on the ticket.
        frame_.bar_right = is_dry_fitted(in, piece) ? dry_fit_bar(true) : finish_words(piece);
        frame_.foot_left =
            "Piece " + called(piece) +
            (in.pieces && piece.letter.empty() ? " of " + std::to_string(in.pieces->size()) : "");
        frame_.foot_right = "Blades: cut away from the hand, board under the goods.";
    }

    std::vector<Page> pages() {
        Flow flow(in_.bench_paper, frame_);
        const double width = flow.area().width();
        const Steps steps(steps_of(plan_, piece_, in_), width);
        const double notes = notes_height(width);
        const double table = MarkTable::height(rows_, 0, rows_.size());

        // One page when the drawing keeps at least three fifths of the size it has with a page of its own: the table under the
        // drawing or beside it, the steps below. Else the steps go overleaf; and the table with them when the drawing
        // would still be much the smaller for it.
        const Box page = flow.area();
        const double end = page.max.y - notes, with_steps = end - steps.height - 3;
        const double long_table = MarkTable::head + kRow * static_cast<double>(rows_.size()) + 1;
        const Box beside{page.min, {page.max.x - kSideTable - 6, with_steps}};
        const auto over = [&](double low) { return Box{page.min, {page.max.x, low}}; };
        const auto scale = [&](const Box& area, bool possible) {
            return possible && area.height() >= kLeastDrawing ? marking_scale(area, plan_, piece_) : 0.0;
        };
        const double s_whole = marking_scale(over(end), plan_, piece_);
        const double s_beside = scale(beside, long_table <= beside.height());
        const double s_under = scale(over(with_steps - table - 3), true);
        const double s_table = scale(over(end - table - 3), true);
        const bool one_page = std::max(s_under, s_beside) >= 0.6 * s_whole;
        const bool table_beside = one_page && s_beside > s_under;
        const bool table_under = !table_beside && (one_page || s_table >= 0.75 * s_whole);

        Box drawing = over((one_page ? with_steps : end) - (table_under ? table + 3 : 0));
        Box spare;  // under the table, when that stands beside the drawing
        if (table_beside) {
            drawing = beside;
            spare = {{page.max.x - kSideTable, page.min.y + long_table + 3}, {page.max.x, with_steps}};
        }
        draw_marking(flow.canvas(), drawing, spare, plan_, piece_);
        flow.skip(drawing.height());
        if (table_beside)
            MarkTable::draw_block(flow.canvas(),
                                  {{page.max.x - kSideTable, page.min.y}, {page.max.x, with_steps}}, rows_, 0,
                                  rows_.size());
        if (table_under) {
            MarkTable::draw(flow.canvas(), {{page.min.x, flow.y() + 1}, {page.max.x, flow.y() + 1 + table}},
                            rows_, 0, rows_.size());
            flow.skip(table + 3);
        }
        if (one_page) draw_steps(flow, steps);
        draw_notes(flow, width);
        if (one_page) return flow.finish();
        if (!table_under) table_overleaf(flow);
        if (table_under || steps.height + 6 > flow.left()) flow.new_page();
        // With room to spare they are set larger, to be read from the bench.
        for (const double size : {7.0, 6.4, 5.8, 5.2, 4.8, type::body}) {
            const Steps large(steps_of(plan_, piece_, in_), width, size);
            if (large.height + 6 > flow.left()) continue;
            draw_steps(flow, large);
            return flow.finish();
        }
        steps_overleaf(flow, width);
        return flow.finish();
    }

  private:
    void draw_steps(Flow& flow, const Steps& steps) {
        flow.skip(3);
        steps.draw(flow.canvas(), {flow.area().min.x, flow.y()}, flow.area().width());
        flow.skip(steps.height);
    }

    void table_overleaf(Flow& flow) {
        flow.new_page();
        for (std::size_t from = 0; from < rows_.size();) {
            if (from > 0) flow.new_page();
            const std::size_t block = static_cast<std::size_t>((flow.left() - MarkTable::head - 1) / kRow);
            const std::size_t to = std::min(rows_.size(), from + 2 * block - 1);  // one spare for a heading
            MarkTable::draw(flow.canvas(), {{flow.area().min.x, flow.y()}, flow.area().max}, rows_, from, to);
            flow.skip(MarkTable::height(rows_, from, to) + 3);
            from = to;
        }
    }

    /// One column of steps over as many pages as it takes.
    void steps_overleaf(Flow& flow, double width) {
        flow.heading("In this order");
        const std::vector<std::string> steps = steps_of(plan_, piece_, in_);
        for (std::size_t i = 0; i < steps.size(); ++i) {
            // A step is read in one piece: it never runs over a page.
            constexpr double size = type::body, indent = 7.5, between = 1.1;
            const auto lines = wrapped(steps[i], width - indent, size);
            const double height = static_cast<double>(lines.size()) * size * type::line;
            flow.need(std::min(height, flow.area().height()));
            flow.canvas().text({flow.area().min.x + indent - 2.2, flow.y() + size}, std::to_string(i + 1),
                               size, Weight::semibold, Anchor::end);
            for (const TextLine& line : lines) {
                flow.need(size * type::line);
                draw_lines(flow.canvas(), {flow.area().min.x + indent, flow.y() + size}, {line}, size);
                flow.skip(size * type::line);
            }
            flow.skip(between);
        }
    }

    std::vector<TextLine> note_lines(double width) const {
        std::vector<TextLine> lines;
        for (const std::string& o : in_.overrides)
            for (TextLine& l : wrapped(strong("Passed over by name: ") + o, width, type::small))
                lines.push_back(std::move(l));
        return lines;
    }
    double notes_height(double width) const {
        const std::size_t n = note_lines(width).size();
        return n == 0
                   ? 0
                   : static_cast<double>(std::min<std::size_t>(n, kMostNotes)) * type::small * type::line + 2;
    }
    /// What a person let pass stands on every cutting paper; more than a few lines are on the ticket.
    void draw_notes(Flow& flow, double width) {
        std::vector<TextLine> lines = note_lines(width);
        if (lines.empty()) return;
        if (lines.size() > kMostNotes) {
            lines.resize(kMostNotes - 1);
            lines.push_back(wrapped("More on the ticket: " + std::to_string(in_.overrides.size()) +
                                        " passed over in all.",
                                    width, type::small)
                                .front());
        }
        flow.skip(1);
        draw_lines(flow.canvas(), {flow.area().min.x, flow.y() + type::small}, lines, type::small);
        flow.skip(notes_height(width) - 1);
    }

    static constexpr std::size_t kMostNotes = 5;
    const PaperInput& in_;
    const Piece& piece_;
    MarkingPlan plan_;
    std::vector<MarkRow> rows_;
    FrameText frame_;
};

}  // namespace
}  // namespace paper

Sheet marking_sheet(const PaperInput& in, const Piece& piece) {
    Sheet sheet;
    sheet.file_stem = paper::joined("marking-" + called(piece), "-", file_words(piece.name));
    sheet.title = paper::joined("Marking sheet " + called(piece), ", ", piece.name);
    sheet.purpose = std::string("For the hand that marks and cuts: sizes to chalk on the ") +
                    (in.mark_on_back ? "back, mirrored" : "face");
    sheet.cutting = true;
    sheet.pages = paper::Composer(in, piece).pages();
    return sheet;
}

}  // namespace spile
