// Full-size tiles: a piece at 1:1 over as many sheets as it takes, to be laid together by their register marks.
#include "core/paper/tiles.h"

#include <algorithm>
#include <cmath>

#include "core/base/text.h"
#include "core/paper/clip.h"
#include "core/paper/print_scale.h"
#include "core/paper/view.h"

namespace spile {
namespace paper {
namespace {

constexpr double kHead = 12;  ///< strip above the drawing: piece, tile, side
constexpr double kFoot = 12;  ///< strip under it: the short rule
constexpr double kLongRule = 200;
constexpr double kSideStrip = 14;       ///< strip at its right: the long rule
constexpr double kLongestStrip = 5000;  ///< a PDF page is read up to 5080 mm (PDF 1.6)
constexpr double kCross = 5;            ///< half a register mark

/// A tile's share of the lines.
Shape clipped_lines(const Region& region, const Box& box, const PageFrom& page, const Stroke& stroke) {
    Shape shape;
    shape.stroke = stroke;
    const auto take = [&](const Outline& outline) {
        Clipped part = clip(outline, box);
        for (const Outline& closed : part.closed) shape.closed.push_back(page(closed));
        for (const Path& open : part.open) shape.open.push_back(page(open));
    };
    take(region.outer);
    for (const Outline& hole : region.holes) take(hole);
    return shape;
}

bool draws(const Shape& shape) {
    return !shape.closed.empty() || !shape.open.empty();
}

/// Rows go by letters: A, B, ... Z, AA.
std::string row_letters(std::size_t row) {
    std::string out;
    for (std::size_t n = row + 1; n > 0; n = (n - 1) / 26)
        out.insert(out.begin(), static_cast<char>('A' + (n - 1) % 26));
    return out;
}

void rule(Canvas& canvas, Vec2 from, Vec2 direction, double length_mm) {
    const Vec2 side = left_of(direction);
    canvas.line(from, from + length_mm * direction, {0.25, ink::black, {}});
    const int tens = static_cast<int>(std::lround(length_mm / 10));
    for (int i = 0; i <= tens; ++i) {
        const double reach = i == 0 || i == tens ? 3.2 : i % 5 == 0 ? 2.0 : 1.2;
        const Vec2 at = from + 10.0 * i * direction;
        canvas.line(at - reach * side, at + reach * side, {0.25, ink::black, {}});
    }
}

/// A register cross on the middle of an overlap, a quarter of its length from one end or as near to that as keeps it off
/// match marks.
Vec2 cross_on(Vec2 from, Vec2 to, bool far, const PieceView& view) {
    if (far) std::swap(from, to);
    const auto at = [&](double share) { return from + share * (to - from); };
    for (const double share : {0.25, 0.3, 0.2, 0.35, 0.15, 0.4, 0.1, 0.45}) {
        const auto is_by = [&](const MatchStroke& m) {
            return nearest_on(Edge{m.from_mm, m.to_mm}, at(share)).distance < 2 * kCross;
        };
        if (std::none_of(view.match_strokes.begin(), view.match_strokes.end(), is_by)) return at(share);
    }
    return at(0.25);
}

void cross_mark(Canvas& canvas, Vec2 at, double reach) {
    canvas.line(at - Vec2{reach, 0}, at + Vec2{reach, 0}, {0.2, ink::black, {}});
    canvas.line(at - Vec2{0, reach}, at + Vec2{0, reach}, {0.2, ink::black, {}});
}

/// The arrow with its flag and their words in a strip 12 mm high, its right end at `right`.
void witness_strip(Canvas& canvas, const PieceView& view, Vec2 right) {
    constexpr double length = 17;
    const double word = text_width_mm("BOW", type::least, Weight::semibold);
    const Witness w = witness_at({right.x - word - 1.5 - length / 2, right.y}, length, view, {1, {0, 0}});
    draw_witness(canvas, w, 0.7);
    canvas.text({right.x, w.head.y + 1}, "BOW", type::least, Weight::semibold, Anchor::end);
    canvas.text({w.flag.x - 1.5, w.flag.y + (w.flag.y > w.tail.y ? 0 : 2)}, "PORT", type::least,
                Weight::semibold, Anchor::end);
}

/// Adds tiles until all hang together by their sides: a hole in the middle of a piece would else lie on sheets that
/// nothing places. Each part is led to the first by the shortest way, along its row, then its column.
void join_up(std::vector<bool>& kept, std::size_t rows, std::size_t columns) {
    const auto part_of_first = [&] {
        std::vector<bool> in(kept.size(), false);
        std::vector<std::size_t> open;
        for (std::size_t i = 0; i < kept.size() && open.empty(); ++i)
            if (kept[i]) open.push_back(i), in[i] = true;
        while (!open.empty()) {
            const std::size_t i = open.back(), row = i / columns, column = i % columns;
            open.pop_back();
            const auto step = [&](bool there, std::size_t to) {
                if (!there || !kept[to] || in[to]) return;
                in[to] = true;
                open.push_back(to);
            };
            step(row > 0, i - columns);
            step(row + 1 < rows, i + columns);
            step(column > 0, i - 1);
            step(column + 1 < columns, i + 1);
        }
        return in;
    };
    for (std::vector<bool> first = part_of_first();; first = part_of_first()) {
        std::size_t from = kept.size(), to = kept.size(), least = kept.size();
        const auto apart = [](std::size_t a, std::size_t b) { return a > b ? a - b : b - a; };
        for (std::size_t i = 0; i < kept.size(); ++i)
            for (std::size_t k = 0; kept[i] && !first[i] && k < kept.size(); ++k) {
                if (!first[k]) continue;
                const std::size_t way = apart(i / columns, k / columns) + apart(i % columns, k % columns);
                if (way < least) least = way, from = i, to = k;
            }
        if (from == kept.size()) return;
        for (std::size_t c = std::min(from % columns, to % columns);
             c <= std::max(from % columns, to % columns); ++c)
            kept[from / columns * columns + c] = true;
        for (std::size_t r = std::min(from / columns, to / columns);
             r <= std::max(from / columns, to / columns); ++r)
            kept[r * columns + to % columns] = true;
    }
}

/// The map: every tile that is printed, with the lines of the piece over them.
Page assembly_map(const PaperInput& in, const Piece& piece, const PieceView& view, const TilePlan& plan,
                  const PaperSize& size) {
    Canvas canvas(size.width_mm, size.height_mm);
    FrameText text;
    text.number = called(piece);
    text.name = piece.name;
    text.right_1 = in.title;
    text.right_2 = in.boat;
    text.bar = "FULL SIZE \u00b7 " + side_words(view.from_back);
    text.bar_right = count_of(plan.tiles.size(), "sheet", "sheets") + " of " + size.name + " after this one";
    text.foot_left = "How the sheets lie together";
    text.foot_right = "Print at 100 %, no fitting to the page.";
    draw_frame(canvas, text, 1, static_cast<int>(plan.tiles.size()) + 1);

    const Box area = content_box(size, true);
    std::string steps =
        "Measure both rules on every sheet: " + strong(fixed(plan.long_rule_mm, 1) + " mm") + " and " +
        strong(fixed(plan.short_rule_mm, 1) + " mm") +
        ". If they are off, print again without scaling; a printer that is still off is corrected by what "
        "its long "
        "rule measured (rule_measured in the job). Lay each sheet over the next so that the crosses "
        "meet, tape them, and cut the paper along the solid line. ";
    steps += view.from_back ? "The side you read lies up while you mark the back of the goods."
                            : "The side you read lies up while you mark the face of the goods.";
    constexpr double beside = 44;  // for the arrow
    const std::vector<TextLine> lines = wrapped(steps, area.width() - beside, type::body);
    witness_strip(canvas, view, {area.max.x, area.min.y + 6});
    const double below = draw_lines(canvas, {area.min.x, area.min.y + type::body}, lines, type::body);

    Box grid;
    for (const TilePlan::Tile& t : plan.tiles) grid.add(t.box);
    grid.add(box_of(view.face));
    const Box room{{area.min.x, below + 2}, area.max};
    const PageFrom page = page_from(grid, room, 1);
    for (const TilePlan::Tile& t : plan.tiles) {
        const Box on_page = page(t.box);
        canvas.frame(on_page, {0.2, ink::soft, {}});
    }
    draw_cut_lines(canvas, page, view, 0.6);
    for (const TilePlan::Tile& t : plan.tiles) {
        const Vec2 middle = page(0.5 * (t.box.min + t.box.max));
        const double room_mm = page.scale * std::min(t.box.width(), t.box.height());
        const double em = std::clamp(room_mm * 0.35, type::least, type::table);
        const double half = 0.5 * text_width_mm(t.label, em, Weight::semibold) + 0.6;
        canvas.fill({{middle.x - half, middle.y - 0.5 * em}, {middle.x + half, middle.y + 0.5 * em}},
                    ink::white);
        canvas.text({middle.x, middle.y + 0.36 * em}, t.label, em, Weight::semibold, Anchor::middle);
    }
    return std::move(canvas.page);
}

}  // namespace

TilePlan plan_tiles(const PaperInput& in, const PieceView& view, const PaperSize& size) {
    TilePlan plan;
    const double margin = in.print_margin_mm;
    plan.area = {{margin, margin + kHead},
                 {size.width_mm - margin - kSideStrip, size.height_mm - margin - kFoot}};
    plan.long_rule_mm =
        plan.area.height() >= kLongRule ? kLongRule : std::floor(plan.area.height() / 50) * 50;
    plan.short_rule_mm = std::min(150.0, std::floor((plan.area.width() - 60) / 50) * 50);
    const double step_x = plan.area.width() - plan.overlap_mm, step_y = plan.area.height() - plan.overlap_mm;
    const Box piece = box_of(view.face);
    const auto count = [&](double extent, double step) {
        // The line itself and a little paper around it must lie on the sheets.
        return static_cast<std::size_t>(std::max(1.0, std::ceil((extent + plan.overlap_mm) / step)));
    };
    plan.columns = count(piece.width(), step_x);
    plan.rows = count(piece.height(), step_y);
    const Vec2 middle = 0.5 * (piece.min + piece.max);
    const Vec2 corner{middle.x - 0.5 * (step_x * static_cast<double>(plan.columns) + plan.overlap_mm),
                      middle.y + 0.5 * (step_y * static_cast<double>(plan.rows) + plan.overlap_mm)};
    // Shared sides are computed once, from the grid, so that neighbours agree to the bit.
    const auto box_at = [&](std::size_t row, std::size_t column) {
        const double left = corner.x + step_x * static_cast<double>(column);
        const double top = corner.y - step_y * static_cast<double>(row);
        return Box{{left, top - plan.area.height()}, {left + plan.area.width(), top}};
    };
    std::vector<bool> kept;
    for (std::size_t row = 0; row < plan.rows; ++row)
        for (std::size_t column = 0; column < plan.columns; ++column) {
            const Box box = box_at(row, column);
            const auto any = [&](const Region& region) {
                return !clip(region.outer, box).empty() ||
                       std::any_of(region.holes.begin(), region.holes.end(),
                                   [&](const Outline& hole) { return !clip(hole, box).empty(); });
            };
            kept.push_back(any(view.face) || any(view.backing));
        }
    join_up(kept, plan.rows, plan.columns);
    const auto printed = [&](std::size_t row, std::size_t column) {  // below 0 wraps to beyond the last
        return row < plan.rows && column < plan.columns && kept[row * plan.columns + column];
    };
    for (std::size_t row = 0; row < plan.rows; ++row)
        for (std::size_t column = 0; column < plan.columns; ++column) {
            if (!kept[row * plan.columns + column]) continue;
            TilePlan::Tile tile;
            tile.row = row;
            tile.column = column;
            tile.label = row_letters(row) + std::to_string(column + 1);
            tile.box = box_at(row, column);
            const double left = tile.box.min.x, top = tile.box.max.y;
            // Crosses on the middle of each overlap, two on a side: the same points for both neighbours.
            const double mid_left = left + 0.5 * plan.overlap_mm,
                         mid_right = left + step_x + 0.5 * plan.overlap_mm;
            const double mid_top = top - 0.5 * plan.overlap_mm,
                         mid_bottom = top - step_y - 0.5 * plan.overlap_mm;
            const Vec2 a{mid_left, mid_top}, b{mid_right, mid_top}, c{mid_left, mid_bottom},
                d{mid_right, mid_bottom};
            for (const bool far : {false, true}) {
                if (printed(row, column - 1)) tile.crosses.push_back(cross_on(a, c, far, view));
                if (printed(row, column + 1)) tile.crosses.push_back(cross_on(b, d, far, view));
                if (printed(row - 1, column)) tile.crosses.push_back(cross_on(a, b, far, view));
                if (printed(row + 1, column)) tile.crosses.push_back(cross_on(c, d, far, view));
            }
            plan.tiles.push_back(std::move(tile));
        }
    return plan;
}

}  // namespace paper

namespace paper {
namespace {

/// A place well inside a piece and how far every line is from it.
struct Inside {
    Vec2 at;
    double clear_mm = 0;
};

Inside inside(const PieceView& view) {
    Inside out{inside_of(view.face), 0};
    out.clear_mm = nearest_on(view.face.outer, out.at).distance;
    for (const Region* region : {&view.face, &view.backing}) {
        if (!region->outer.empty())
            out.clear_mm = std::min(out.clear_mm, nearest_on(region->outer, out.at).distance);
        for (const Outline& hole : region->holes)
            out.clear_mm = std::min(out.clear_mm, nearest_on(hole, out.at).distance);
    }
    for (const MatchStroke& m : view.match_strokes)  // and its name
        out.clear_mm = std::min(out.clear_mm, distance(m.to_mm, out.at) - 4 * type::table);
    return out;
}

/// The pattern's number, name and side in its middle, where the page shows all of that place: a pattern cut out keeps no
/// margin that says what it is.
void name_pattern(Canvas& canvas, const PageFrom& page, const Box& tile, const Piece& piece,
                  const PieceView& view, const Inside& middle) {
    const double half = std::min(0.7 * middle.clear_mm, 60.0);
    const Box place{middle.at - Vec2{half, half}, middle.at + Vec2{half, half}};
    if (half < 10 || !within(grown(place, 12), tile)) return;
    const Vec2 at = page(middle.at);
    const Fitted number = fitted(called(piece), 1.6 * half, 0.9 * half, Weight::semibold);
    canvas.text({at.x, at.y - 0.05 * half}, number.utf8, number.size_mm, Weight::semibold, Anchor::middle);
    const Fitted name = fitted(piece.name, 2 * half, std::min(0.2 * half, 9.0), Weight::semibold);
    canvas.text({at.x, at.y + 0.44 * half}, name.utf8, name.size_mm, Weight::semibold, Anchor::middle);
    const Fitted side =
        fitted(side_words(view.from_back), 2 * half, std::min(0.2 * half, 9.0), Weight::regular);
    canvas.text({at.x, at.y + 0.78 * half}, side.utf8, side.size_mm, Weight::regular, Anchor::middle);
}

/// Match marks, each named at its inner end where that lies well on the tile, clear of other names and of the crosses.
void match_marks(Canvas& canvas, const PageFrom& page, const TilePlan::Tile& on, const PieceView& view) {
    const Box& tile = on.box;
    Shape strokes;
    strokes.stroke = {0.6, ink::black, {}};
    std::vector<Box> named;
    for (const MatchStroke& m : view.match_strokes) {
        for (const Path& part : clip(Path{{{m.from_mm, 0, 0}, {m.to_mm, 0, 0}}}, tile))
            strokes.open.push_back(page(part));
        const double half = text_width_mm(m.name, type::table, Weight::semibold) / 2 + 1;
        const Vec2 at = m.to_mm + (half + type::table / 2) * unit(m.to_mm - m.from_mm);
        const Box box{at - Vec2{half, type::table}, at + Vec2{half, type::table}};
        const auto taken = [&](const Box& other) { return overlap(box, other); };
        const auto by_a_cross = [&](Vec2 c) { return within(Box{c, c}, grown(box, kCross)); };
        if (!within(box, tile) || std::any_of(named.begin(), named.end(), taken) ||
            std::any_of(on.crosses.begin(), on.crosses.end(), by_a_cross))
            continue;
        named.push_back(box);
        const Vec2 middle = page(at);
        canvas.text({middle.x, middle.y + 0.36 * type::table}, m.name, type::table, Weight::semibold,
                    Anchor::middle);
    }
    if (draws(strokes)) canvas.page.items.push_back(std::move(strokes));
}

Page tile_page(const PaperInput& in, const Piece& piece, const PieceView& view, const TilePlan& plan,
               const TilePlan::Tile& tile, const PaperSize& size, const std::string& count,
               const Inside& middle) {
    Canvas canvas(size.width_mm, size.height_mm);
    const PageFrom page{1, {plan.area.min.x - tile.box.min.x, plan.area.max.y + tile.box.min.y}};
    // Fine lines: a printed pattern is cut along their middle.
    const bool two = !(view.backing.outer == view.face.outer) || !(view.backing.holes == view.face.holes);
    if (two) {
        Shape backing = clipped_lines(view.backing, tile.box, page, {0.3, ink::black, {3.2, 1.6}});
        if (draws(backing)) canvas.page.items.push_back(std::move(backing));
    }
    Shape face = clipped_lines(view.face, tile.box, page, {0.35, ink::black, {}});
    if (draws(face)) canvas.page.items.push_back(std::move(face));
    Shape slits;
    slits.stroke = {0.3, ink::black, {}};
    for (const std::vector<Path>* cuts : {&view.slits, &view.flap_cuts})
        for (const Path& cut : *cuts)
            for (const Path& part : clip(cut, tile.box)) slits.open.push_back(page(part));
    if (draws(slits)) canvas.page.items.push_back(std::move(slits));
    match_marks(canvas, page, tile, view);
    for (const Vec2 at : tile.crosses) cross_mark(canvas, page(at), std::min(kCross, 0.5 * plan.overlap_mm));
    canvas.frame(plan.area, {0.12, ink::soft, {0.5, 1.1}});

    name_pattern(canvas, page, tile.box, piece, view, middle);

    const double left = plan.area.min.x, right = plan.area.max.x;
    const double base = plan.area.min.y - 4;
    const std::string side = "FULL SIZE \u00b7 " + side_words(view.from_back);
    canvas.text({left, base}, tile.label, type::title, Weight::semibold);
    const double name_from = left + text_width_mm(tile.label, type::title, Weight::semibold) + 4;
    const Box bar = draw_fitted(canvas, {right, base}, side, 0.45 * plan.area.width(), type::body,
                                Weight::semibold, Anchor::end);
    draw_fitted(canvas, {name_from, base},
                joined("piece " + joined(called(piece), " ", piece.name), " \u00b7 ", in.title),
                bar.min.x - 4 - name_from, type::body);
    const double under = plan.area.max.y + 0.5 * kFoot;
    rule(canvas, {left + 1, under}, {1, 0}, plan.short_rule_mm);
    draw_fitted(canvas, {left + plan.short_rule_mm + 5, under + 1.2},
                "it must be " + fixed(plan.short_rule_mm, 1) + " mm", right - left - plan.short_rule_mm - 45,
                type::least);
    witness_strip(canvas, view, {right, under});
    const double beside = right + 6;
    rule(canvas, {beside, plan.area.min.y + 1}, {0, 1}, plan.long_rule_mm);
    const double half_way = plan.area.min.y + 0.5 * plan.long_rule_mm;
    canvas.text({beside + 6, half_way}, "measure this: it must be " + fixed(plan.long_rule_mm, 1) + " mm",
                type::small, Weight::semibold, Anchor::middle, ink::black, 90);
    canvas.text({beside + 6, plan.area.max.y - 8}, count, type::least, Weight::regular, Anchor::start,
                ink::black, 90);
    return std::move(canvas.page);
}

/// A map, unless one tile holds it all, then every tile. `map` is the paper of the map.
std::vector<Page> tile_pages(const PaperInput& in, const Piece& piece, const PieceView& view,
                             const PaperSize& size, const PaperSize& map) {
    const double by = print_scale(in);
    const PaperSize drawn{size.name, size.width_mm / by, size.height_mm / by};
    const TilePlan plan = plan_tiles(in, view, drawn);
    std::vector<Page> pages;
    if (plan.tiles.size() > 1) pages.push_back(assembly_map(in, piece, view, plan, map));
    const std::size_t all = plan.tiles.size() + pages.size();
    const Inside middle = inside(view);
    for (const TilePlan::Tile& tile : plan.tiles) {
        const std::string count = std::to_string(pages.size() + 1) + " of " + std::to_string(all);
        pages.push_back(enlarged(tile_page(in, piece, view, plan, tile, drawn, count, middle), by, size));
    }
    return pages;
}

Sheet full_size(const PaperInput& in, const Piece& piece, const std::string& on,
                const std::string& joined_by) {
    Sheet sheet;
    sheet.file_stem =
        joined("full-size-" + called(piece), "-", joined(file_words(piece.name), "-", file_words(on)));
    sheet.title = "Full size, " + joined(called(piece), " ", piece.name) + ", on " + on;
    sheet.purpose = "For whoever marks: the cut lines at 1:1, " +
                    std::string(in.mark_on_back ? "as marked on the back" : "as marked on the face") +
                    joined_by;
    sheet.cutting = true;
    return sheet;
}

}  // namespace
}  // namespace paper

Sheet full_size_tiles(const PaperInput& in, const Piece& piece, const PaperSize& size) {
    using namespace paper;
    Sheet sheet = full_size(in, piece, size.name, ", to tape together into a paper pattern");
    sheet.pages = tile_pages(in, piece, view_of(piece, in.mark_on_back), size, size);
    return sheet;
}

Sheet full_size_strips(const PaperInput& in, const Piece& piece) {
    using namespace paper;
    const double by = print_scale(in), width = in.settings.strip_width_mm;
    const PieceView level = view_of(piece, in.mark_on_back);
    // Turned so that fewer strips hold it; then so that they are shorter.
    const PieceView upright = moved(Rigid{0, 1, {}}, level);
    const auto size_for = [&](const PieceView& view) {
        // Never so short that the long rule does not fit.
        const double drawn = std::max(box_of(view.face).height() + 2 * TilePlan{}.overlap_mm, kLongRule);
        const double needed = drawn + 2 * in.print_margin_mm + kHead + kFoot + 1;
        return PaperSize{"strip", width,
                         in.settings.one_strip ? by * needed : std::min(by * needed, kLongestStrip)};
    };
    const auto tiles = [&](const PieceView& view) {
        const PaperSize size = size_for(view);
        return plan_tiles(in, view, {size.name, size.width_mm / by, size.height_mm / by}).tiles.size();
    };
    const std::size_t as_it_is = tiles(level), turned = tiles(upright);
    const bool turn =
        turned < as_it_is || (turned == as_it_is && size_for(upright).height_mm < size_for(level).height_mm);
    const PieceView& view = turn ? upright : level;
    Sheet sheet = full_size(in, piece, "strip", ", on a roll of paper");
    sheet.pages = tile_pages(in, piece, view, size_for(view), in.bench_paper);
    return sheet;
}

}  // namespace spile
