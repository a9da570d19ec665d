#include "core/paper/roll_parts.h"

#include <algorithm>
#include <cmath>

#include "core/geom/measure_of.h"
#include "core/paper/clip.h"

namespace spile::paper {

void draw_flaws(Canvas& canvas, const PageFrom& page, const Box& strip, const PaperInput& in,
                LabelField& field) {
    const BackFromFace back{in.goods->usable_width_mm / 2};
    for (const Flaw& flaw : in.goods->flaws) {
        Box at;
        for (const Vec2 corner : {flaw.at_mm.min, flaw.at_mm.max})
            at.add(in.mark_on_back ? back(corner) : corner);
        at.min = {std::max(at.min.x, strip.min.x), std::max(at.min.y, strip.min.y)};
        at.max = {std::min(at.max.x, strip.max.x), std::min(at.max.y, strip.max.y)};
        if (!(at.width() > 0 && at.height() > 0)) continue;
        const Box box = page(at);
        canvas.fill(box, ink::white);
        const Vec2 a = box.min, c = box.max, b{c.x, a.y}, d{a.x, c.y};
        for (const auto& [from, to] : {std::pair{a, b}, {b, c}, {c, d}, {d, a}, {a, c}, {b, d}})
            canvas.line(from, to, stroke::thin);
        field.keep_off(box);
    }
}

void draw_fillers(Canvas& canvas, const PageFrom& page, const Box& strip, const PaperInput& in,
                  LabelField& field) {
    const std::vector<LayoutPiece> wanted = filler_pieces(*in.goods);
    const BackFromFace back{in.goods->usable_width_mm / 2};
    for (const Placement& p : in.layout->fillers) {
        const auto piece =
            std::find_if(wanted.begin(), wanted.end(), [&](const LayoutPiece& w) { return w.id == p.piece; });
        if (piece == wanted.end()) continue;
        const Outline on_face = roll_from_piece(p)(piece->outline.outer);
        const Outline lies = in.mark_on_back ? back(on_face) : on_face;
        const Clipped part = clip(lies, strip);
        Shape shape;
        shape.stroke = stroke::thin;
        for (const Outline& closed : part.closed) shape.closed.push_back(page(closed));
        for (const Path& open : part.open) shape.open.push_back(page(open));
        if (shape.closed.empty() && shape.open.empty()) continue;
        shape.filled = shape.open.empty();
        shape.fill = ink::white;
        Box box = box_of(lies);
        box.min.x = std::max(box.min.x, strip.min.x);
        box.max.x = std::min(box.max.x, strip.max.x);
        const Box there = page(box);
        canvas.page.items.push_back(std::move(shape));
        const Vec2 middle = 0.5 * (there.min + there.max);
        // A name that has no room is left out: the note under the table counts them all.
        const std::string name = filler_name(p);
        const double size = std::min(type::small, there.height() * 0.6);
        if (size >= type::least && text_width_mm(name, size, Weight::regular) <= there.width() - 1.5)
            canvas.text({middle.x, middle.y + size * 0.36}, name, size, Weight::regular, Anchor::middle);
        field.keep_off(there);
    }
}

void draw_ruler(Canvas& canvas, const PageFrom& page, std::pair<double, double> from_to,
                const LengthStyle& style, const std::vector<RulerFigure>& named) {
    constexpr double kLeastStep = 17, kBetween = 2;  // page mm
    const double from = from_to.first, to = from_to.second;
    const double unit = style.unit == Unit::inch ? 25.4 : 1;
    const std::vector<double> steps = style.unit == Unit::inch
                                          ? std::vector<double>{6, 12, 36, 72, 144, 360}
                                          : std::vector<double>{100, 200, 500, 1000, 2000, 5000};
    double step = steps.back() * unit;
    for (const double s : steps)
        if (s * unit * page.scale >= kLeastStep) {
            step = s * unit;
            break;
        }
    const double y = page(Vec2{0, 0}).y;
    std::vector<std::pair<double, double>> taken;
    const auto figure = [&](double at, const std::string& words, Weight weight) {
        const double x = page(Vec2{at, 0}).x, width = text_width_mm(words, type::small, weight);
        const double start =
            std::min(std::max(x - width / 2, page(Vec2{from, 0}).x - 2), canvas.page.width_mm - 12 - width);
        const bool room = std::none_of(taken.begin(), taken.end(), [&](const auto& t) {
            return start < t.second + kBetween && t.first < start + width + kBetween;
        });
        if (room || weight == Weight::semibold) canvas.line({x, y}, {x, y + 2}, {0.3, ink::black, {}});
        if (!room) return;
        canvas.text({start, y + 2.6 + type::small * 0.97}, words, type::small, weight);
        taken.emplace_back(start, start + width);
    };
    for (const RulerFigure& f : named)
        if (f.at_mm > from && f.at_mm <= to) figure(f.at_mm, f.words, Weight::semibold);
    for (long k = static_cast<long>(std::ceil(from / step)); static_cast<double>(k) * step <= to; ++k) {
        const double at = static_cast<double>(k) * step;
        figure(at, print_length(at, style).text, Weight::regular);
    }
}

}  // namespace spile::paper
