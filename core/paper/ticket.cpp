// The shop ticket: the whole job on paper, from the goods to the order of work.
#include <algorithm>
#include <cmath>

#include "core/base/check.h"
#include "core/base/text.h"
#include "core/paper/aboard.h"
#include "core/paper/applied_words.h"
#include "core/paper/flap_words.h"
#include "core/paper/flow_parts.h"
#include "core/paper/marking_parts.h"
#include "core/paper/piece_picture.h"
#include "core/paper/plan_lines.h"
#include "core/paper/work_order.h"

namespace spile {
namespace paper {
namespace {

class Ticket {
  public:
    explicit Ticket(const PaperInput& in) : in_(in), flow_(in.bench_paper, frame(in)) {}

    std::vector<Page> pages() {
        facts();
        warnings();
        job_notes(notes_are_short());
        // First what is ticked all day, where the first page holds it; else after the pieces.
        const bool first = order_height() <= flow_.left();
        if (first) order_of_work();
        draw_pieces(first ? 0 : order_height());
        if (!first) {
            // With a page of its own it is read from the bench.
            for (const double larger : {5.4, 5.0, 4.6, 4.2})
                if (flow_.left() < order_height() && order_height(larger) <= flow_.area().height()) {
                    work_size_ = larger;
                    break;
                }
            order_of_work();
            // Where it has a page of its own, the rest of it is written on all day.
            if (flow_.left() > kNotes) {
                lines_in(flow_.canvas(), {{flow_.area().min.x, flow_.y()}, flow_.area().max}, "notes");
                flow_.skip(flow_.left());
            }
        }
        if (!notes_are_short()) job_notes(true);
        return flow_.finish();
    }

  private:
    static FrameText frame(const PaperInput& in) {
        FrameText text;
        text.name = in.title.empty() ? "Job" : in.title;
        text.right_1 = in.boat;
        text.right_2 = units_words(in.lengths);
        text.bar = "SHOP TICKET";
        text.bar_right = std::string("mark on the ") + (in.mark_on_back ? "back, mirrored" : "face") +
                         (any_dry_fitted(in) ? " \u00b7 " + dry_fit_bar(true) : "");
        text.foot_left = "Ticket";
        text.foot_right = joined(in.title, " \u00b7 ", in.boat);
        return text;
    }

    std::string said(double mm) const { return length_words(mm, in_.lengths); }
    std::string size_words(const Box& box) const {
        return print_length(box.width(), in_.lengths).text + " \u00d7 " + said(box.height());
    }

    // --- the job -------------------------------------------------------------------------------------------

    /// Name and value, two pairs to a line.
    void pairs(const std::vector<std::pair<std::string, std::string>>& facts) {
        const double column = (flow_.area().width() - 6) / 2, label = 25;
        for (std::size_t i = 0; i < facts.size(); i += 2) {
            std::vector<std::vector<TextLine>> set;
            std::size_t most = 1;
            for (std::size_t k = i; k < std::min(i + 2, facts.size()); ++k) {
                set.push_back(
                    wrapped_at_most(facts[k].second, column - label, type::body, 3, Weight::semibold));
                most = std::max(most, set.back().size());
            }
            const double height = static_cast<double>(most) * type::body * type::line + 0.6;
            flow_.need(height);
            for (std::size_t k = 0; k < set.size(); ++k) {
                const double x = flow_.area().min.x + static_cast<double>(k) * (column + 6);
                draw_fitted(flow_.canvas(), {x, flow_.y() + type::body}, facts[i + k].first, label - 2,
                            type::small);
                draw_lines(flow_.canvas(), {x + label, flow_.y() + type::body}, set[k], type::body);
            }
            flow_.skip(height);
        }
    }

    void facts() {
        std::vector<std::pair<std::string, std::string>> f;
        const auto add = [&](const std::string& name, const std::string& value) {
            if (!value.empty()) f.push_back({name, value});
        };
        add("job", in_.title);
        add("boat", in_.boat);
        add("customer", in_.customer);
        if (in_.goods) {
            add("goods", in_.goods->name);
            add("width", said(in_.goods->width_mm) + ", usable " + said(in_.goods->usable_width_mm));
            if (in_.goods->thickness_mm > 0) add("thickness", said(in_.goods->thickness_mm));
        }
        const std::string least = in_.layout && in_.layout->least_order ? ", the least order" : "";
        if (in_.layout)
            add("length",
                "used " + said(in_.layout->used_mm) +
                    (in_.layout->stretches.empty() ? ", buy " + said(in_.layout->bought_mm) + least : ""));
        if (in_.layout) add("shortest", bound_words(*in_.layout, in_.lengths));
        if (in_.layout && in_.goods) add("beside", filler_words(*in_.goods, *in_.layout));
        for (std::size_t k = 0; in_.layout && k < in_.layout->stretches.size(); ++k)
            add("from", stretch_words(*in_.layout, k));
        if (in_.layout && in_.layout->to_buy_mm > 0)
            add("to buy", said(in_.layout->to_buy_mm) + least + ", all of one lot");
        add("pieces", std::to_string(in_.pieces->size()));
        if (in_.finish) {
            add("binding", said(in_.finish->binding_width_mm) + ", grows the edge " +
                               said_fine(in_.finish->binding_growth_mm));
            add("turned edge", said(in_.finish->turn_mm) + ", stitched " +
                                   said(in_.finish->stitch_from_edge_mm) + " inside");
        }
        const SewingNotes& sewing = in_.settings.sewing;
        const std::string blank = "______________", needle = needle_words(sewing);
        add("thread", sewing.thread.empty() ? blank : sewing.thread);
        add("needle", needle.empty() ? blank : needle);
        add("stitch", stitch_words(sewing.stitch_mm, in_.lengths));
        f.push_back({"lot", in_.goods && !in_.goods->lot.empty() ? in_.goods->lot : blank});
        f.push_back({"begun", blank});
        pairs(f);
        flow_.skip(2);
    }

    std::string said_fine(double mm) const {
        LengthStyle fine = in_.lengths;
        fine.inch_denominator = std::max(fine.inch_denominator, 32);
        fine.mm_step = std::min(fine.mm_step, 0.1);
        return length_words(mm, fine);
    }

    /// What was passed over and what a person should know, before anything is cut.
    void warnings() {
        const std::string aboard = aboard_words(in_);
        if (in_.overrides.empty() && in_.findings.empty() && in_.pattern_at_joints.empty() && aboard.empty())
            return;
        flow_.heading("Know before you cut", 10);
        if (!aboard.empty()) bullet(aboard);
        for (const std::string& o : in_.overrides) bullet(strong("Passed over by name: ") + o);
        for (const std::string& joint : in_.pattern_at_joints) bullet(joint);
        constexpr std::size_t most =
            12;  // of more the rest is on the screen, so that the work keeps its page
        std::size_t count = 0;
        for (const Finding& f : in_.findings)
            if (f.severity != Severity::note && ++count <= most)
                bullet(f.says + (f.to_do.empty() ? "" : " " + f.to_do));
        if (count > most)
            bullet(strong(count_of(count - most, "more to look at", "more to look at") +
                          ": spile check lists them."));
        flow_.skip(2);
    }

    void bullet(const std::string& words) { paper::bullet(flow_, words, kBullet); }

    /// What the person who measured wrote down: before the work where it is short, else after all.
    bool notes_are_short() const {
        return own_lines(in_.notes, flow_.area().width(), type::body).size() <= 8;
    }
    void job_notes(bool now) {
        if (in_.notes.empty()) return;
        if (!now) {
            bullet(strong("Notes of the job") + " stand at the end of this ticket.");
            return;
        }
        flow_.heading("Notes of the job", 10);
        own_words(flow_, in_.notes, 0);
        flow_.skip(2);
    }

    // --- one piece -----------------------------------------------------------------------------------------

    static constexpr double kPicture = 29;  ///< width of each of the two; their height is more
    static constexpr double kHead = 12.5, kNote = 3.8, kBullet = 4.0, kNotes = 20;
    static constexpr std::size_t kBeside =
        14;  ///< edges that stand beside the pictures; more stand under them

    /// A piece's block, set and measured before it is drawn.
    struct Block {
        std::vector<std::string> notes;
        std::vector<std::vector<std::string>> rows;
        bool table_beside = true;
        std::vector<TextLine> sizes;
        double sizes_height = 0, right = 0, picture = 0, height = 0;
    };
    Block block_of(const Piece& piece) const {
        const double width = flow_.area().width(), beside = width - 2 * kPicture - 8;
        Block b;
        b.notes = notes_of(piece);
        b.rows = edge_rows(piece);
        b.table_beside = b.rows.size() <= kBeside;
        b.sizes = wrapped_at_most(size_line(piece), beside - 3, kNote, 4);
        b.sizes_height = static_cast<double>(b.sizes.size()) * kNote * type::line + 1;
        b.right = b.sizes_height + (b.table_beside ? table_height(beside, kEdges, b.rows, kNote) : 0);
        b.picture = std::max(38.0, std::min(b.right, 52.0));
        b.height = kHead + std::max(b.picture, b.right) + 6;
        for (const std::string& n : b.notes)
            b.height +=
                static_cast<double>(wrapped(n, width - 4, kBullet).size()) * kBullet * type::line + 0.4;
        return b;
    }

    /// All of them; what a page would leave white is shared out as lines to write on.
    void draw_pieces(double after) {
        std::vector<Block> blocks;
        std::vector<double> heights, shares(in_.pieces->size(), 0);
        bool whole = true;
        for (const Piece& piece : *in_.pieces) {
            blocks.push_back(block_of(piece));
            heights.push_back(blocks.back().height);
            whole = whole && blocks.back().table_beside && heights.back() <= flow_.area().height();
        }
        if (whole) shares = shares_of_white(flow_.left(), flow_.area().height(), heights, after);
        for (std::size_t i = 0; i < blocks.size(); ++i) draw_piece(in_.pieces->at(i), blocks[i], shares[i]);
    }

    void draw_piece(const Piece& piece, const Block& block, double share) {
        const double width = flow_.area().width(), beside = width - 2 * kPicture - 8;
        const auto& [notes, rows, table_beside, sizes, sizes_height, right, picture, height] = block;
        // Kept on one page where it fits one.
        flow_.need(std::min(flow_.area().height(), height + share));
        const double end = flow_.y() + height + share;
        if (flow_.y() > flow_.area().min.y) {
            flow_.canvas().line({flow_.area().min.x, flow_.y()}, {flow_.area().max.x, flow_.y()},
                                {0.5, ink::black, {}});
            flow_.skip(0.5);
        }
        piece_head(piece);

        const Vec2 at{flow_.area().min.x, flow_.y()};
        draw_piece_picture(flow_.canvas(), {at, at + Vec2{kPicture, picture}}, in_, piece,
                           {false, false, false, false, "from above"});
        draw_piece_picture(
            flow_.canvas(), {at + Vec2{kPicture + 3, 0}, at + Vec2{2 * kPicture + 3, picture}}, in_, piece,
            {in_.mark_on_back, false, false, false, in_.mark_on_back ? "BACK, MIRRORED" : "as marked: FACE"});
        const double x = flow_.area().max.x - beside;
        draw_lines(flow_.canvas(), {x + 1.5, at.y + kNote * 0.9}, sizes, kNote);
        if (table_beside && !rows.empty())
            draw_table(flow_.canvas(), {x, at.y + sizes_height}, beside, kEdges, rows, kNote);
        flow_.skip(std::max(picture, right) + 2);
        if (!table_beside) draw_table(flow_, kEdges, rows, kNote);
        for (const std::string& n : notes) bullet(n);
        flow_.skip(2.5);
        if (share == 0) return;
        lines_in(flow_.canvas(), {{flow_.area().min.x, flow_.y()}, {flow_.area().max.x, end - 2}},
                 "at the bench");
        flow_.skip(end - flow_.y());
    }

    /// Number and name, and boxes to tick as it goes through the shop.
    void piece_head(const Piece& piece) {
        const double base = flow_.y() + 9;
        const double x =
            flow_.canvas().text({flow_.area().min.x, base}, called(piece), 10, Weight::semibold).max.x + 3;
        double end = flow_.area().max.x;
        for (const char* word : {"packed", "measured", "edged", "cut"}) {
            const double w = text_width_mm(word, type::small, Weight::regular);
            flow_.canvas().text({end - w, base}, word, type::small);
            flow_.canvas().tick_box({end - w - 5.5, base}, 5);
            end -= w + 9.5;
        }
        draw_fitted(flow_.canvas(), {x, base}, piece.name, end - x, 6.4, Weight::semibold);
        flow_.skip(kHead);
    }

    /// Beside the pictures: what it measures.
    std::string size_line(const Piece& piece) const {
        std::string words = "finished " + strong(size_words(box_of(piece.net))) + ", cut " +
                            strong(size_words(box_of(piece.cut.face)));
        if (piece.binding_mm > 0) words += ", binding to cut " + strong(said(piece.binding_mm));
        return words + ", corners " + strong(corner_words(in_, piece));
    }

    // Widths in mm of the words they hold: "walked over" and names of points may take two lines.
    inline static const std::vector<Column> kEdges{{"edge", 17, Anchor::start, Weight::semibold, 1},
                                                   {"meets", 17, Anchor::start, Weight::regular, 2},
                                                   {"taped at", 18.5, Anchor::start, Weight::regular, 1},
                                                   {"less", 14, Anchor::start, Weight::regular, 1},
                                                   {"finish", 17, Anchor::start, Weight::semibold, 1},
                                                   {"finished", 16.5, Anchor::end, Weight::regular, 1},
                                                   {"cut", 16.5, Anchor::end, Weight::semibold, 1}};

    std::vector<std::vector<std::string>> edge_rows(const Piece& piece) const {
        LengthStyle plain = in_.lengths;
        plain.with_unit = false;
        const auto size = [&](double mm) { return print_length(mm, plain).text; };
        std::vector<std::vector<std::string>> rows;
        for (const EdgeReport& e : piece.edges)
            rows.push_back({joined(e.from, "\u2013", e.to), word_for(e.plan.situation),
                            word_for(e.plan.measured),
                            e.plan.clearance_mm > 0 ? said_fine(e.plan.clearance_mm) : "0",
                            word_for(e.plan.finish), size(e.net_length_mm), size(e.cut_length_mm)});
        return rows;
    }

    /// Distances of a point from the two nearest finished edges that stand across one another.
    std::string from_two_edges(const Piece& piece, Vec2 p) const {
        struct Near {
            double distance;
            Vec2 along;
            std::string name;
        };
        std::vector<Near> near;
        for (std::size_t i = 0; i < piece.net.outer.size(); ++i) {
            const Edge e = piece.net.outer.edge(i);
            if (e.tag < 0 || static_cast<std::size_t>(e.tag) >= piece.edges.size() ||
                distance(e.a, e.b) <= kSame.mm)
                continue;
            const EdgeReport& report = piece.edges[static_cast<std::size_t>(e.tag)];
            near.push_back({distance_to(e, p), unit(e.b - e.a), joined(report.from, "\u2013", report.to)});
        }
        std::stable_sort(near.begin(), near.end(),
                         [](const Near& a, const Near& b) { return a.distance < b.distance; });
        for (std::size_t k = 1; k < near.size(); ++k)
            if (4 * cross(near[0].along, near[k].along) * cross(near[0].along, near[k].along) >=
                1)  // 30 degrees or more
                return said(near[0].distance) + " from " + near[0].name + ", " + said(near[k].distance) +
                       " from " + near[k].name;
        return "";
    }

    std::vector<std::string> notes_of(const Piece& piece) const {
        std::vector<std::string> notes;
        const std::string left = left_long_words(piece, in_.lengths);
        if (!left.empty()) {
            const std::string square = square_corners_words(piece);
            notes.push_back("Left long, trimmed aboard before edging: " + strong(left) + "." +
                            (square.empty() ? "" : " " + square));
        }
        for (const HoleReport& h : piece.holes) {
            std::string words = strong("Hole " + h.id) + ": centre " + from_two_edges(piece, h.centre_mm) +
                                "; finished " + finished_words(h, in_.lengths) + ", " + word_for(h.finish);
            if (h.round) words += "; face cut " + said(h.face_cut_diameter_mm);
            if (h.turn_mm > 0 && !h.round) words += " by " + said(h.turn_mm);
            if (h.backing_cut_diameter_mm != h.face_cut_diameter_mm)
                words += ", backing cut " + said(h.backing_cut_diameter_mm);
            if (h.stitch_diameter_mm > 0) words += ", stitch circle " + said(h.stitch_diameter_mm);
            if (h.slits > 0) words += ", " + count_of(static_cast<std::size_t>(h.slits), "slit", "slits");
            notes.push_back(words + ".");
        }
        for (const AppliedPiece* a : applied_on(in_, piece)) notes.push_back(applied_line(*a, in_.lengths));
        if (const auto names = stud_names(piece, false); !names.empty())
            notes.push_back(strong((names.size() == 1 ? "Stud " : "Studs ") + list_words(names)) +
                            " of the boat: " + strong("never holed on the bench") +
                            "; found from above, aboard.");
        if (const auto names = stud_names(piece, true); !names.empty())
            notes.push_back(strong((names.size() == 1 ? "New snap " : "New snaps ") + list_words(names)) +
                            ": at the places of the marking sheet; their studs are set aboard under them.");
        if (const std::string posts = post_words(in_, piece); !posts.empty()) notes.push_back(posts);
        return notes;
    }

    // --- the work ------------------------------------------------------------------------------------------

    static constexpr double kWork = 3.9, kLeastWork = 5.8;
    static constexpr double kPlanned = 36, kTaken = 16, kMinutes = 15;  ///< from the right, and their width

    double work_width() const { return flow_.area().width() - kPlanned - 12; }
    static double after_work(double size) { return 1.2 * size / kWork; }
    static double work_height(const std::vector<TextLine>& lines, double size) {
        return std::max(static_cast<double>(lines.size()) * size * type::line, kLeastWork * size / kWork) +
               after_work(size);
    }
    /// With its heading, its sum and what is said of guesses.
    double order_height(double size = kWork) const {
        double whole = 2 + 12 + 2 * type::small * type::line + 1 + work_height({}, size);
        for (const WorkLine& w : work_in_order(in_))
            whole += work_height(wrapped(w.words, work_width(), size), size);
        return whole;
    }

    void order_of_work() {
        const double left = flow_.area().min.x, right = flow_.area().max.x;
        const double planned = right - kPlanned, taken = right - kTaken;
        const double size = work_size_;
        flow_.skip(2);
        // Ticked in one place: on one page where it fits one.
        const double whole = order_height(size);
        flow_.heading("Order of work", whole < flow_.area().height() ? whole - 12 : 30);
        const auto head = [&] {
            draw_fitted(flow_.canvas(), {planned, flow_.y() + type::small}, "planned", kMinutes + 3,
                        type::small);
            draw_fitted(flow_.canvas(), {taken, flow_.y() + type::small}, "taken, min", kTaken, type::small);
            flow_.skip(type::small * type::line + 1);
        };
        head();
        const auto blank = [&](double x) {
            flow_.canvas().line({x, flow_.y() + size + 1}, {x + kMinutes, flow_.y() + size + 1},
                                {0.25, ink::black, {}});
        };
        const auto minutes = [&](double value, bool guessed, Weight weight) {
            draw_fitted(flow_.canvas(), {planned + kMinutes, flow_.y() + size},
                        (guessed ? "~ " : "") + fixed(value, value == std::floor(value) ? 0 : 1), kMinutes,
                        size, weight, Anchor::end);
        };
        // What is not the job's own word stands in whole minutes, so rounded that the column adds up.
        double sum = 0, counted = 0;
        bool any_guess = false;
        for (const WorkLine& w : work_in_order(in_)) {
            const std::vector<TextLine> lines = wrapped(w.words, work_width(), size);
            const double height = work_height(lines, size);
            if (flow_.left() < height) {
                flow_.new_page();
                head();
            }
            StepMinutes step = in_.planned[static_cast<std::size_t>(w.step)];
            if (in_.settings.minutes[static_cast<std::size_t>(w.step)] < 0) {
                const double before = std::round(counted);
                counted += step.minutes;
                step.minutes = std::round(counted) - before;
            }
            sum += step.minutes;
            any_guess = any_guess || step.guessed;
            flow_.canvas().tick_box({left, flow_.y() + size}, 5.4);
            draw_lines(flow_.canvas(), {left + 8, flow_.y() + size}, lines, size);
            minutes(step.minutes, step.guessed, Weight::regular);
            blank(taken);
            flow_.skip(height);
        }
        flow_.need(work_height({}, size) + type::small * type::line);
        flow_.canvas().text({left + 8, flow_.y() + size}, "All together, minutes", size, Weight::semibold);
        minutes(sum, any_guess, Weight::semibold);
        blank(taken);
        flow_.skip(work_height({}, size));
        if (any_guess) {
            flow_.canvas().text({left + 8, flow_.y() + type::small},
                                "~ rests on a guess until finished tickets say better. Without measuring, "
                                "visits and the way.",
                                type::small);
            flow_.skip(type::small * type::line);
        }
        flow_.skip(3);
    }

    const PaperInput& in_;
    Flow flow_;
    double work_size_ = kWork;  ///< em of the order of work
};

}  // namespace
}  // namespace paper

Sheet ticket(const PaperInput& in) {
    SPILE_CHECK(in.pieces);
    Sheet sheet;
    sheet.file_stem = "ticket";
    sheet.title = "Shop ticket";
    sheet.purpose =
        "For the shop: goods, every piece from above and as marked, its edges, the order of work to tick";
    sheet.cutting = true;
    sheet.pages = paper::Ticket(in).pages();
    return sheet;
}

}  // namespace spile
