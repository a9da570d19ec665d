#include "core/paper/page_frame.h"

#include <algorithm>

#include "core/base/check.h"
#include "core/base/text.h"

namespace spile::paper {
namespace {

// The grid, mm. Most printers leave 4 to 6 mm white; the margins keep clear of that and leave room to hold the
// sheet and for two punched holes. Common practice.
constexpr double kSide = 14;
constexpr double kTop = 11;
constexpr double kBottom = 10;
constexpr double kHeader = 20;  ///< to the rule under the header
constexpr double kBar = 12.5;
constexpr double kFooter = 7;
constexpr double kGap = 4;
constexpr double kCapital = 0.727;  ///< of the shipped font, em
constexpr double kRow = 1.5;        ///< pitch of table rows, ems

Box inner(const PaperSize& paper) {
    return {{kSide, kTop}, {paper.width_mm - kSide, paper.height_mm - kBottom}};
}

}  // namespace

Canvas::Canvas(double width_mm, double height_mm) {
    page.width_mm = width_mm, page.height_mm = height_mm;
}

Box Canvas::text(Vec2 at, const std::string& utf8, double size, Weight weight, Anchor anchor, Ink colour,
                 double angle_deg) {
    Text t{at, utf8, size, weight, anchor, angle_deg, colour};
    if (utf8.empty()) return {at, at};
    const Box box = text_box_mm(t);
    page.items.push_back(std::move(t));
    return box;
}

void Canvas::line(Vec2 a, Vec2 b, const Stroke& stroke) {
    chain({a, b}, stroke);
}

void Canvas::chain(const std::vector<Vec2>& points, const Stroke& stroke) {
    Shape s;
    s.stroke = stroke;
    Path path;
    for (const Vec2 p : points) path.vertices.push_back({p, 0, 0});
    s.open.push_back(std::move(path));
    page.items.push_back(std::move(s));
}

void Canvas::frame(const Box& box, const Stroke& stroke) {
    Shape s;
    s.stroke = stroke;
    s.closed.push_back(rectangle(box.min, box.max));
    page.items.push_back(std::move(s));
}

void Canvas::fill(const Box& box, Ink colour) {
    Shape s;
    s.stroked = false;
    s.filled = true;
    s.fill = colour;
    s.closed.push_back(rectangle(box.min, box.max));
    page.items.push_back(std::move(s));
}

void Canvas::disc(Vec2 centre, double radius, const Stroke& stroke, bool filled, Ink colour) {
    Shape s;
    s.stroke = stroke;
    s.filled = filled;
    s.fill = colour;
    s.closed.push_back(circle(centre, radius));
    page.items.push_back(std::move(s));
}

void Canvas::tick_box(Vec2 baseline, double size) {
    const double side = size * 0.85;
    const double low = baseline.y + (side - size * kCapital) / 2;
    frame({{baseline.x, low - side}, {baseline.x + side, low}}, {0.4, ink::black, {}});
}

PaperSize landscape(const PaperSize& paper) {
    return {paper.name, std::max(paper.width_mm, paper.height_mm), std::min(paper.width_mm, paper.height_mm)};
}

Box content_box(const PaperSize& paper, bool with_bar) {
    Box box = inner(paper);
    box.min.y += kHeader + (with_bar ? 2.5 + kBar : 0) + kGap;
    box.max.y -= kFooter;
    return box;
}

void draw_frame(Canvas& canvas, const FrameText& text, int sheet, int sheets) {
    const Box box = inner({"", canvas.page.width_mm, canvas.page.height_mm});
    const double width = box.width();
    const double rule = box.min.y + kHeader;
    const double baseline = rule - 4.2;

    // Job and boat at the right, at most two fifths of the width; number and name take the rest.
    double right = 0;
    const double most = width * 0.42;
    const auto right_line = [&](const std::string& s, double y) {
        const Box b = draw_fitted(canvas, {box.max.x, y}, s, most, type::body, Weight::regular, Anchor::end);
        right = std::max(right, b.width());
    };
    right_line(text.right_1, baseline - type::body * 1.32);
    right_line(text.right_2, baseline);

    double x = box.min.x;
    if (!text.number.empty()) {
        const Box b =
            draw_fitted(canvas, {x, baseline}, text.number, width * 0.3, type::number, Weight::semibold);
        x = b.max.x + 3.5;
    }
    const double room = box.max.x - right - 5 - x;
    const Fitted one = fitted(text.name, room, type::title, Weight::semibold, type::title * 0.75);
    if (one.utf8 == text.name) {
        canvas.text({x, baseline}, one.utf8, one.size_mm, Weight::semibold);
    } else {  // a long name: two lines, smaller
        const double size = type::title * 0.62;
        const auto lines = wrapped_at_most(text.name, room, size, 2, Weight::semibold);
        draw_lines(canvas, {x, baseline - size * type::line * static_cast<double>(lines.size() - 1)}, lines,
                   size);
    }
    canvas.line({box.min.x, rule}, {box.max.x, rule}, {0.9, ink::black, {}});

    if (!text.bar.empty()) {
        const Box bar{{box.min.x, rule + 2.5}, {box.max.x, rule + 2.5 + kBar}};
        canvas.fill(bar, ink::black);
        const double y = (bar.min.y + bar.max.y) / 2;
        const Box b = draw_fitted(canvas, {bar.min.x + 4, y + type::title * kCapital / 2}, text.bar,
                                  width * 0.7, type::title, Weight::semibold, Anchor::start, ink::white);
        if (!text.bar_right.empty())
            draw_fitted(canvas, {bar.max.x - 4, y + type::body * kCapital / 2}, text.bar_right,
                        bar.max.x - 4 - b.max.x - 5, type::body, Weight::regular, Anchor::end, ink::white);
    }

    const double foot = box.max.y - 4.6;
    canvas.line({box.min.x, foot}, {box.max.x, foot}, {0.25, ink::black, {}});
    const std::string count = "sheet " + std::to_string(sheet) + " of " + std::to_string(sheets);
    const Box l = draw_fitted(canvas, {box.min.x, box.max.y}, joined(text.foot_left, " \u00b7 ", count),
                              width * 0.48, type::small);
    draw_fitted(canvas, {box.max.x, box.max.y}, text.foot_right, box.max.x - l.max.x - 6, type::small,
                Weight::regular, Anchor::end);
}

Flow::Flow(PaperSize paper, FrameText text)
    : paper_(std::move(paper)), text_(std::move(text)), area_(content_box(paper_, !text_.bar.empty())) {
    new_page();
}

void Flow::new_page() {
    pages_.emplace_back(paper_.width_mm, paper_.height_mm);
    y_ = area_.min.y;
}

void Flow::need(double height_mm) {
    SPILE_CHECK(height_mm <= area_.height());
    if (y_ + height_mm > area_.max.y) new_page();
}

void Flow::heading(const std::string& text, double with_mm) {
    const double size = type::table;
    const double height = size * type::line + 3;
    need(std::min(height + with_mm, area_.height()));
    if (y_ > area_.min.y) y_ += 2;
    draw_fitted(canvas(), {area_.min.x, y_ + size}, text, area_.width(), size, Weight::semibold);
    y_ += height - 1;
}

void Flow::paragraph(const std::string& text, double size_mm) {
    for (const TextLine& line : wrapped(text, area_.width(), size_mm)) {
        need(size_mm * type::line);
        draw_lines(canvas(), {area_.min.x, y_ + size_mm}, {line}, size_mm);
        y_ += size_mm * type::line;
    }
}

std::vector<Page> Flow::finish(int before, int after) {
    std::vector<Page> out;
    const int count = static_cast<int>(pages_.size());
    for (int i = 0; i < count; ++i) {
        draw_frame(pages_[static_cast<std::size_t>(i)], text_, before + i + 1, before + count + after);
        out.push_back(std::move(pages_[static_cast<std::size_t>(i)].page));
    }
    pages_.clear();
    return out;
}

namespace {

/// Columns side by side, and how their rows are set.
class Grid {
  public:
    using Cells = std::vector<std::vector<TextLine>>;

    Grid(double x, double width_mm, const std::vector<Column>& columns, double size_mm)
        : x_(x), all_(width_mm), columns_(columns), size_(size_mm) {
        double shares = 0;
        for (const Column& c : columns) shares += c.share;
        for (const Column& c : columns) {
            left_.push_back(x);
            width_.push_back(width_mm * c.share / shares);
            x += width_.back();
        }
    }

    static constexpr double head_height = type::small * type::line + 2.6;

    void head(Canvas& canvas, double y) const {
        for (std::size_t i = 0; i < columns_.size(); ++i)
            draw_fitted(canvas, {at(i), y + type::small}, columns_[i].head, width_[i] - 2 * kPad, type::small,
                        Weight::regular, columns_[i].anchor);
        const double line = y + head_height - 0.6;
        canvas.line({x_, line}, {x_ + all_, line}, {0.5, ink::black, {}});
    }
    Cells set(const std::vector<std::string>& row) const {
        SPILE_CHECK(row.size() == columns_.size());
        Cells cells;
        for (std::size_t i = 0; i < columns_.size(); ++i)
            cells.push_back(wrapped_at_most(row[i], width_[i] - 2 * kPad, size_, columns_[i].most_lines,
                                            columns_[i].weight));
        return cells;
    }
    double height(const Cells& cells) const {
        std::size_t most = 1;
        for (const auto& cell : cells) most = std::max(most, cell.size());
        return static_cast<double>(most) * size_ * type::line + size_ * (kRow - type::line) + 0.8;
    }
    void row(Canvas& canvas, double top, const Cells& cells) const {
        for (std::size_t i = 0; i < columns_.size(); ++i) {
            double y = top + size_;
            for (const TextLine& line : cells[i]) {
                const double start = columns_[i].anchor == Anchor::end ? at(i) - line.width_mm : at(i);
                draw_lines(canvas, {start, y}, {line}, size_);
                y += size_ * type::line;
            }
        }
        const double end = top + height(cells) - 0.3;
        canvas.line({x_, end}, {x_ + all_, end}, {0.12, ink::black, {}});
    }

  private:
    static constexpr double kPad = kTablePads / 2;
    double at(std::size_t i) const {
        return columns_[i].anchor == Anchor::end ? left_[i] + width_[i] - kPad : left_[i] + kPad;
    }

    double x_, all_;
    const std::vector<Column>& columns_;
    double size_;
    std::vector<double> left_, width_;
};

}  // namespace

void draw_table(Flow& flow, const std::vector<Column>& columns,
                const std::vector<std::vector<std::string>>& rows, double size_mm) {
    const Grid grid(flow.area().min.x, flow.area().width(), columns, size_mm);
    const auto head = [&] {
        grid.head(flow.canvas(), flow.y());
        flow.skip(Grid::head_height);
    };
    flow.need(Grid::head_height + 2 * size_mm * kRow);
    head();
    for (const auto& row : rows) {
        const Grid::Cells cells = grid.set(row);
        const double height = grid.height(cells);
        if (flow.left() < height) {
            flow.new_page();
            head();
        }
        grid.row(flow.canvas(), flow.y(), cells);
        flow.skip(height);
    }
    flow.skip(2);
}

double table_height(double width_mm, const std::vector<Column>& columns,
                    const std::vector<std::vector<std::string>>& rows, double size_mm) {
    const Grid grid(0, width_mm, columns, size_mm);
    double height = Grid::head_height;
    for (const auto& row : rows) height += grid.height(grid.set(row));
    return height;
}

double draw_table(Canvas& canvas, Vec2 top_left, double width_mm, const std::vector<Column>& columns,
                  const std::vector<std::vector<std::string>>& rows, double size_mm) {
    const Grid grid(top_left.x, width_mm, columns, size_mm);
    grid.head(canvas, top_left.y);
    double y = top_left.y + Grid::head_height;
    for (const auto& row : rows) {
        const Grid::Cells cells = grid.set(row);
        grid.row(canvas, y, cells);
        y += grid.height(cells);
    }
    return y;
}

std::string side_words(bool on_back) {
    return on_back ? "BACK \u00b7 MIRRORED" : "FACE";
}

std::string units_words(const LengthStyle& style) {
    if (style.unit == Unit::inch)
        return "inches, to the nearest 1\u2044" + std::to_string(style.inch_denominator);
    LengthStyle fine = style;
    fine.mm_step = 0.1;
    return "millimetres, to the nearest " + print_length(style.mm_step, fine).text;
}

std::string length_words(double mm, LengthStyle style) {
    style.with_unit = true;
    return print_length(mm, style).text;
}

std::string stitch_words(double stitch_mm, const LengthStyle& style) {
    if (style.unit != Unit::inch) return fixed(stitch_mm, 1) + " mm";
    std::string count = fixed(25.4 / stitch_mm, 1);
    if (count.size() > 2 && count.substr(count.size() - 2) == ".0") count.resize(count.size() - 2);
    return count + " to the inch (" + fixed(stitch_mm, 1) + " mm)";
}

std::string joined(const std::string& a, const std::string& between, const std::string& b) {
    if (a.empty() || b.empty()) return a + b;
    return a + between + b;
}

}  // namespace spile::paper
