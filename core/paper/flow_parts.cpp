#include "core/paper/flow_parts.h"

#include <algorithm>
#include <set>

namespace spile::paper {
namespace {

constexpr double kPoint = 4.41;  ///< em of a point's name: set semibold, as all above the body's size
constexpr double kSlack = 0.1;   ///< of a page, mm: shares of its white never add up to more than there is
constexpr double kTaskIndent = 8, kTaskAfter = 1.8;  ///< of a task: for its box, and to the next

/// Lines under one another beside a mark that stands at the first.
template <class Mark>
void hanging(Flow& flow, const std::string& words, double size, double indent, double after, Mark mark) {
    bool first = true;
    for (const TextLine& line : wrapped(words, flow.area().width() - indent, size)) {
        flow.need(size * type::line);
        if (first) mark(Vec2{flow.area().min.x, flow.y() + size});
        first = false;
        draw_lines(flow.canvas(), {flow.area().min.x + indent, flow.y() + size}, {line}, size);
        flow.skip(size * type::line);
    }
    flow.skip(after);
}

const Piece* piece_of(const PaperInput& in, const Panel& panel) {
    for (const Piece& p : *in.pieces)
        if (p.id == panel.id) return &p;
    return nullptr;
}

}  // namespace

void bullet(Flow& flow, const std::string& words, double size_mm) {
    hanging(flow, words, size_mm, 4, 0.4,
            [&](Vec2 at) { flow.canvas().text(at, "\u2022", size_mm, Weight::semibold); });
}

void task(Flow& flow, const std::string& words, double size_mm) {
    flow.need(2 * size_mm * type::line);
    hanging(flow, words, size_mm, kTaskIndent, kTaskAfter, [&](Vec2 at) { flow.canvas().tick_box(at, 5.4); });
}

double task_at(Canvas& canvas, Vec2 top_left, double width_mm, const std::string& words, double size_mm) {
    double y = top_left.y + size_mm;
    canvas.tick_box({top_left.x, y}, 5.4);
    for (const TextLine& line : wrapped(words, width_mm - kTaskIndent, size_mm)) {
        draw_lines(canvas, {top_left.x + kTaskIndent, y}, {line}, size_mm);
        y += size_mm * type::line;
    }
    return y - size_mm + kTaskAfter;
}

double task_height(double width_mm, const std::string& words, double size_mm) {
    return static_cast<double>(wrapped(words, width_mm - kTaskIndent, size_mm).size()) * size_mm *
               type::line +
           kTaskAfter;
}

void fill_with_lines(Flow& flow, std::size_t least, double kept_mm, double pitch_mm) {
    const double room = (flow.left() - kept_mm) / pitch_mm;
    blank_lines(flow, std::max(least, room > 0 ? static_cast<std::size_t>(room) : 0), pitch_mm);
}

std::vector<TextLine> own_lines(const std::string& words, double width_mm, double size_mm) {
    std::vector<TextLine> out;
    std::size_t from = 0;
    while (from <= words.size()) {
        const std::size_t to = std::min(words.find('\n', from), words.size());
        if (to > from)
            for (TextLine& line : wrapped(words.substr(from, to - from), width_mm, size_mm))
                out.push_back(std::move(line));
        from = to + 1;
    }
    return out;
}

void blank_lines(Flow& flow, std::size_t count, double pitch_mm) {
    for (std::size_t i = 0; i < count; ++i) {
        flow.need(pitch_mm);
        flow.skip(pitch_mm);
        flow.canvas().line({flow.area().min.x, flow.y() - 1}, {flow.area().max.x, flow.y() - 1},
                           {0.2, ink::black, {}});
    }
}

void lines_in(Canvas& canvas, const Box& place, const std::string& what_for) {
    constexpr double pitch = 8.5;
    const auto count = static_cast<std::size_t>(std::max(0.0, place.height() / pitch));
    if (count < 2) return;
    draw_fitted(canvas, {place.min.x, place.min.y + type::small + 0.4}, what_for, place.width(), type::small);
    for (std::size_t i = 1; i <= count; ++i) {
        const double y = place.min.y + pitch * static_cast<double>(i) - 0.6;
        canvas.line({place.min.x, y}, {place.max.x, y}, {0.2, ink::black, {}});
    }
}

std::vector<double> shares_of_white(double left_mm, double page_mm, const std::vector<double>& blocks_mm,
                                    double after_mm) {
    std::vector<double> shares(blocks_mm.size(), 0);
    std::size_t first = 0;  // on this page
    double left = left_mm;
    const auto share_out = [&](std::size_t end, double white) {
        for (std::size_t i = first; i < end; ++i)
            shares[i] = std::max(0.0, white - kSlack) / static_cast<double>(end - first);
        first = end;
    };
    for (std::size_t i = 0; i < blocks_mm.size(); ++i) {
        if (blocks_mm[i] > left) {
            share_out(i, left);
            left = page_mm;
        }
        left -= blocks_mm[i];
    }
    share_out(blocks_mm.size(), after_mm <= left ? left - after_mm : left);
    return shares;
}

void own_words(Flow& flow, const std::string& words, std::size_t blanks) {
    if (words.empty()) return blank_lines(flow, blanks);
    std::size_t from = 0;
    while (from <= words.size()) {
        const std::size_t to = std::min(words.find('\n', from), words.size());
        if (to > from) flow.paragraph(words.substr(from, to - from));
        from = to + 1;
    }
}

FrameText plain_frame(const PaperInput& in, const std::string& bar, const std::string& foot) {
    FrameText text;
    text.name = in.title.empty() ? "Job" : in.title;
    text.right_1 = in.boat;
    text.right_2 = units_words(in.lengths);
    text.bar = bar;
    text.foot_left = foot;
    text.foot_right = joined(in.title, " \u00b7 ", in.boat);
    return text;
}

std::vector<std::string> spaces_of(const PaperInput& in) {
    std::vector<std::string> out;
    for (const Panel& p : *in.panels)
        if (!p.mat && std::find(out.begin(), out.end(), p.space) == out.end()) out.push_back(p.space);
    return out;
}

std::vector<MeetingMarks> meeting_marks(const PaperInput& in, const std::string& space) {
    std::vector<MeetingMarks> out;
    std::set<std::string> named;
    for (const Panel& panel : *in.panels) {
        const Piece* one = piece_of(in, panel);
        if (panel.space != space || panel.mat || !one) continue;
        for (const MatchMark& m : panel.match_marks)
            for (const Panel& neighbour : *in.panels) {
                const Piece* two = piece_of(in, neighbour);
                if (neighbour.id != m.other || !two || !named.insert(m.name).second) continue;
                out.push_back({m.name, one->number, two->number, m.at_mm, m.inward});
            }
    }
    return out;
}

void draw_boat_plan(Canvas& canvas, const Box& area, const PaperInput& in, const std::string& space,
                    const BoatPlanWants& wants) {
    Box all;
    std::vector<std::pair<const Panel*, const Piece*>> shown;
    for (const Panel& panel : *in.panels) {
        if (panel.space != space || panel.mat) continue;
        const Piece* piece = piece_of(in, panel);
        if (!piece) continue;
        shown.push_back({&panel, piece});
        all.add(box_of(panel.boat_line.outline));
    }
    if (shown.empty()) return;
    // The arrow stands in a strip of its own above the plan.
    constexpr double strip = 20;
    const Box room{{area.min.x + 1, area.min.y + strip}, {area.max.x - 1, area.max.y - 1}};
    const PageFrom page = page_from(all, room);
    PieceView above;
    above.to_bow = {1, 0};
    above.to_port = {0, 1};
    const Witness w = witness_at({area.min.x + 26, area.min.y + 9}, 26, above, page);
    draw_witness(canvas, w);
    canvas.text({w.head.x + 2, w.head.y + type::small * 0.36}, "BOW", type::small, Weight::semibold);
    canvas.text({w.flag.x - 1.5, w.flag.y + type::small * 0.7}, "PORT", type::small, Weight::semibold,
                Anchor::end);
    draw_scale_bar(canvas, {area.max.x - 75, area.min.y + 9}, page, in.lengths, 40);

    LabelField field(room);
    for (const auto& [panel, piece] : shown) {
        Shape boat;
        boat.stroke = stroke::guide;
        boat.closed.push_back(page(panel->boat_line.outline));
        canvas.page.items.push_back(std::move(boat));
        const Region net = inverse(piece->piece_from_boat)(piece->net);
        Shape finished;
        finished.stroke = {0.55, ink::black, {}};
        finished.closed.push_back(page(net.outer));
        for (const Outline& h : net.holes) finished.closed.push_back(page(h));
        for (const Outline& o : finished.closed) field.keep_off(o);
        canvas.page.items.push_back(std::move(finished));
    }
    const auto words = [&](const Box& box, const std::vector<std::pair<std::string, double>>& lines) {
        double y = box.min.y;
        for (const auto& [text, size] : lines) {
            canvas.text({0.5 * (box.min.x + box.max.x), y + size * 0.99}, text, size,
                        size > type::body ? Weight::semibold : Weight::regular, Anchor::middle);
            y += size * type::line;
        }
    };
    for (const auto& [panel, piece] : shown) {
        const Region net = inverse(piece->piece_from_boat)(piece->net);
        const Vec2 middle = page(inside_of(net));
        for (const bool named : {true, false}) {
            if (named && (!wants.names || piece->name.empty())) continue;
            std::vector<std::pair<std::string, double>> lines{{called(*piece), 9}};
            double width = text_width_mm(lines[0].first, 9, Weight::semibold);
            if (named) {
                lines.push_back({piece->name, type::small});
                width = std::max(width, text_width_mm(piece->name, type::small, Weight::regular));
            }
            const double height = 9 * type::line + (named ? type::small * type::line : 0);
            const auto inside = [&](const Box& b) {
                const Vec2 c = 0.5 * (b.min + b.max);
                return side_of(net, {(c.x - page.origin.x) / page.scale,
                                     (page.origin.y - c.y) / page.scale}) == Side::inside;
            };
            const Box piece_box = page(box_of(net));
            const auto place = field.place_near(width + 1, height, middle, 1.5, inside,
                                                std::max(piece_box.width(), piece_box.height()));
            if (!place) continue;
            words(*place, lines);
            break;
        }
    }
    if (wants.points) {
        std::set<std::string> named;  // neighbours share their points
        for (const auto& [panel, piece] : shown) {
            const Outline& line = panel->boat_line.outline;
            const Vec2 middle = page(inside_of({line, {}}));
            for (std::size_t k = 0; k < line.size(); ++k) {
                const int tag = line.vertices[k].tag;
                if (tag < 0 || tag == line.vertices[(k + line.size() - 1) % line.size()].tag) continue;
                const std::string& name = panel->corners[static_cast<std::size_t>(tag)].at;
                const Vec2 at = page(line.vertices[k].p), away = at - middle;
                if (!named.insert(name).second || norm2(away) == 0) continue;
                canvas.disc(at, 0.7, stroke::thin, true, ink::black);
                const double width = text_width_mm(name, kPoint, Weight::semibold) + 0.6;
                if (const auto place =
                        field.place({width, kPoint * type::line, at, unit(away), 1.0, 14, 4, {}})) {
                    if (place->leader) canvas.line(place->from, place->to, stroke::thin);
                    words(place->box, {{name, kPoint}});
                }
            }
        }
    }
    if (wants.match_marks)
        for (const MeetingMarks& m : meeting_marks(in, space)) {
            const Vec2 at = page(m.at), across{m.across.x, -m.across.y};
            canvas.line(at - 2.2 * across, at + 2.2 * across, {0.5, ink::black, {}});
            const double width = text_width_mm(m.name, type::body, Weight::semibold) + 0.6;
            if (const auto place = field.place({width, type::body * type::line, at, across, 1.5, 20, 6, {}}))
                words(place->box, {{m.name, type::body + 0.01}});
        }
    if (wants.studs)
        for (const auto& [panel, piece] : shown)
            for (const Stud& s : panel->studs) {
                const Vec2 at = page(s.at_mm);
                canvas.disc(at, 1.1, stroke::thin, true);
                canvas.disc(at, 0.4, stroke::thin, true, ink::black);
                field.keep_off(Box{at - Vec2{1.2, 1.2}, at + Vec2{1.2, 1.2}});
                const Fitted name = fitted(s.id, 24, type::small, Weight::regular);
                const double width = text_width_mm(name.utf8, name.size_mm, Weight::regular) + 0.6;
                if (const auto place =
                        field.place({width, type::small * type::line, at, {1, 0}, 1.6, 20, 5, {}})) {
                    if (place->leader) canvas.line(place->from, place->to, stroke::thin);
                    words(place->box, {{name.utf8, name.size_mm}});
                }
            }
}

}  // namespace spile::paper
