// The words of a marking sheet: steps in the order of the hand, rows of the table.
#include <algorithm>
#include <cmath>

#include "core/base/text.h"
#include "core/paper/aboard.h"
#include "core/paper/applied_words.h"
#include "core/paper/flap_words.h"
#include "core/paper/marking_parts.h"

namespace spile::paper {
namespace {

std::string mark_name(const MarkingPlan& plan, std::size_t mark) {
    return plan.marks[mark].name;
}

std::string with_unit(const MarkingPlan& plan, const std::string& length) {
    return length + " " + unit_name(plan.lengths.unit);
}

/// "1-2-3-4-1"; of many, "1 to 40 in order and back to 1".
std::string chain_words(const MarkingPlan& plan, const PlanLine& line) {
    constexpr std::size_t most = 10;
    if (line.strokes.size() > most) {
        const std::string first = mark_name(plan, line.strokes.front().from);
        const PlanStroke& end = line.strokes.back();
        const std::size_t last = line.closed ? (end.via.empty() ? end.from : end.via.back()) : end.to;
        return first + " to " + mark_name(plan, last) + " in order" +
               (line.closed ? " and back to " + first : "");
    }
    std::string out = mark_name(plan, line.strokes.front().from);
    for (const PlanStroke& s : line.strokes) out += "-" + mark_name(plan, s.to);
    return out;
}

/// What is said of strokes that the straightedge does not draw.
std::string curve_words(const MarkingPlan& plan, const PlanStroke& s) {
    const std::string ends = mark_name(plan, s.from) + " to " + mark_name(plan, s.to);
    std::vector<std::string> via;
    for (const std::size_t m : s.via) via.push_back(mark_name(plan, m));
    switch (s.how) {
        case PlanStroke::How::straight:
            return "";
        case PlanStroke::How::batten:
            return strong(ends) + ": bend a batten through " + list_words(via) + ".";
        case PlanStroke::How::disc:
            return strong(ends) + ": round a disc of " + strong(with_unit(plan, s.radius.text)) +
                   " radius laid to both, bulging " +
                   (s.bulges_right ? "into the waste." : "into the piece.");
        case PlanStroke::How::swing:
            return strong(ends) + ": trammel at " + strong(with_unit(plan, s.radius.text)) +
                   "; cross it from both marks " +
                   (s.bulges_right ? "beyond the piece" : "on the waste side") + " and swing from there.";
    }
    return "";
}

void line_steps(const MarkingPlan& plan, const PlanLine& line, std::vector<std::string>& steps) {
    const bool through = line.cut == Cut::through;
    const bool edge = std::any_of(line.strokes.begin(), line.strokes.end(),
                                  [](const PlanStroke& s) { return s.how == PlanStroke::How::straight; });
    std::string s;
    if (edge)
        s = std::string(through ? "Join " : "Join, dashed, ") + strong(chain_words(plan, line));
    else
        s = "Draw " + strong(chain_words(plan, line));
    if (!through && !line.hole && plan.turned_in_mm > 0)
        s += "; it lies " + strong(length_words(plan.turned_in_mm, plan.lengths)) + " inside the cut";
    const std::string hole = line.name.empty() ? "a hole, " : "hole " + strong(line.name) + ", ";
    s += through ? (line.hole ? ": " + hole : ": ") + strong("CUT THROUGH") + "."
                 : ": " + (line.hole ? hole : "") + strong("BACKING ONLY") + ". Never cut the face there.";
    for (const PlanStroke& stroke : line.strokes)
        if (stroke.how != PlanStroke::How::straight) s += " " + curve_words(plan, stroke);
    steps.push_back(s);

    // Corners of one radius together, each with where its disc touches.
    std::vector<bool> said(line.rounds.size(), false);
    for (std::size_t i = 0; i < line.rounds.size(); ++i) {
        if (said[i]) continue;
        std::vector<std::string> marks;
        for (std::size_t k = i; k < line.rounds.size(); ++k) {
            const PlanRound& r = line.rounds[k];
            if (r.radius.text != line.rounds[i].radius.text) continue;
            said[k] = true;
            marks.push_back(strong(mark_name(plan, r.mark)) + " (" + r.touch_before.text +
                            (r.touch_before.text == r.touch_after.text ? "" : ", " + r.touch_after.text) +
                            ")");
        }
        steps.push_back("Round " + list_words(marks) + " with a disc of " +
                        strong(with_unit(plan, line.rounds[i].radius.text)) +
                        " radius. In brackets: from the mark to where it touches.");
    }
}

/// As the stroke is drawn: from the flag to the tail, then to the bow.
const char* turn_word(const PieceView& view) {
    return cross(-view.to_port, view.to_bow) > 0 ? "left" : "right";
}

/// "M1 with 2, M2 with 2 and M3 across the slit".
std::string match_words(const Piece& piece, const PaperInput& in) {
    std::vector<std::string> words;
    for (const MatchStroke& m : piece.match_strokes) {
        std::string with = "across the slit";
        if (in.pieces)
            for (const Piece& other : *in.pieces)
                if (other.id == m.other && m.other != piece.id) with = "with " + std::to_string(other.number);
        const std::string one = strong(m.name) + " " + with;
        if (std::find(words.begin(), words.end(), one) == words.end()) words.push_back(one);
    }
    return words.empty() ? "" : list_words(words);
}

std::string hole_step(const MarkingPlan& plan, const PlanHole& hole) {
    std::string s = "Hole" + (hole.id.empty() ? "" : " " + strong(hole.id)) + ": from " +
                    strong(mark_name(plan, hole.centre)) + " swing ";
    std::vector<std::string> circles;
    for (const PlanCircle& c : hole.circles) circles.push_back(strong(c.radius.text) + " " + name_of(c));
    s += list_words(circles) + ".";
    if (hole.slits > 0)
        s += " " + count_of(static_cast<std::size_t>(hole.slits), "slit", "slits") + " out to " +
             strong(hole.slit_radius.text) + ", evenly.";
    return s;
}

/// Where applied pieces are set: on this side by the chalk, on the other by pricked corners.
void set_steps(const MarkingPlan& plan, std::vector<std::string>& steps) {
    std::vector<std::string> here, over;
    for (const PlanSet& s : plan.sets)
        (s.on_marked_side ? here : over).push_back(strong(s.name) + ", " + s.words);
    if (!here.empty())
        steps.push_back("Chalk thin, not to cut, where " + list_words(here) + " " +
                        (here.size() == 1 ? "is" : "are") + " set.");
    if (!over.empty())
        steps.push_back(
            "On the " + strong(plan.on_back ? "face" : "back") + " " + list_words(over) + " " +
            (over.size() == 1 ? "is" : "are") +
            " set: chalk it there from its corners, once the piece is turned over; the sheet of applied "
            "pieces shows that side.");
}

}  // namespace

std::vector<std::string> steps_of(const MarkingPlan& plan, const Piece& piece, const PaperInput& in) {
    std::vector<std::string> steps;
    const bool inches = plan.lengths.unit == Unit::inch;
    steps.push_back("Goods " + strong(plan.on_back ? "back up" : "face up") +
                    ". Turn this sheet until the arrows agree.");

    std::string datum = plan.datum_is_edge
                            ? "Strike the datum line " + strong(mark_name(plan, plan.datum_from) + "\u2013" +
                                                                mark_name(plan, plan.datum_to))
                            : "Strike the datum line along the goods";
    if (const auto roll = on_roll(in, piece, plan)) {
        const auto at = [&](const OnRoll::Point& p) {
            return strong(p.over.text) + " lies " + strong(print_length(p.at.x, plan.lengths).text) +
                   " along, " + strong(print_length(p.at.y, plan.lengths).text) + " across";
        };
        datum += ". On " + (roll->cut_from.empty() ? "the roll" : strong(roll->cut_from)) + " its " +
                 at(roll->first) + "; its " + at(roll->second);
        if (!roll->turned.empty()) datum += ". It lies turned there: " + strong(roll->turned);
    }
    steps.push_back(datum + ".");
    steps.push_back("Square a line up from 0; prove it 3-4-5 (" +
                    std::string(inches ? "30, 40, 50 in)." : "600, 800, 1000 mm)."));
    steps.push_back("Tape fixed at 0: tick every " + strong("over") + ". Square up from each and mark its " +
                    strong("up") + ". Never measure from the mark before.");
    if (!plan.checks.empty()) {
        std::vector<std::string> must;
        for (const PlanCheck& c : plan.checks)
            must.push_back(strong(mark_name(plan, c.a) + "\u2013" + mark_name(plan, c.b)) + " must read " +
                           strong(c.reads.text));
        steps.push_back("Before any line: " + list_words(must) + ". If not, try each mark to the next.");
    }
    for (const PlanLine& line : plan.lines)
        if (line.cut == Cut::through) line_steps(plan, line, steps);
    for (const PlanHole& hole : plan.holes) steps.push_back(hole_step(plan, hole));
    for (const PlanSlit& slit : plan.slits)
        steps.push_back("Slit " + strong(mark_name(plan, slit.from) + "-" + mark_name(plan, slit.to)) +
                        ": CUT THROUGH.");
    for (const PlanLine& line : plan.lines)
        if (line.cut == Cut::backing_only) line_steps(plan, line, steps);
    const std::string cuts = flap_cut_words(in, piece);
    if (!cuts.empty())
        steps.push_back("In the flaps, thin lines: " + cuts + "; each stops " +
                        strong(length_words(piece.cut_margin_mm, plan.lengths)) +
                        " outside the fold. Cut them when the edge is turned.");
    if (const std::string match = match_words(piece, in); !match.empty())
        steps.push_back(
            "Match marks, strokes square to the edge from their place in the table to where the "
            "drawing ends them: " +
            match + ".");
    steps.push_back("Chalk " + strong(called(piece)) + ", " + strong(side_chalked(plan.on_back)) + ", " +
                    strong("BOW \u2192") + " and the arrow. Its flag to " + strong("PORT") + " turns " +
                    strong(turn_word(plan.view)) + " on the " + (plan.on_back ? "back." : "face."));
    const bool holes = !piece.holes.empty();
    steps.push_back(std::string(holes ? "Cut holes first. " : "") +
                    "Knife along the edge of the chalk on the side of the piece" +
                    (holes ? ", outside the ring at a hole" : "") + ": no chalk stays on it.");
    const std::string aboard = aboard_words(in, piece);
    if (!aboard.empty()) steps.push_back(aboard);
    if (const auto names = stud_names(piece, false); !names.empty())
        steps.push_back((names.size() == 1 ? "Stud " : "Studs ") + strong(list_words(names)) +
                        " of the boat: " + strong("never holed on the bench") +
                        "; found from above, aboard.");
    if (const auto names = stud_names(piece, true); !names.empty())
        steps.push_back((names.size() == 1 ? "New snap " : "New snaps ") + strong(list_words(names)) +
                        ": marked at the places in the table, set once the edges are finished.");
    set_steps(plan, steps);
    return steps;
}

std::vector<MarkRow> rows_of(const MarkingPlan& plan) {
    std::vector<MarkRow> rows;
    const auto row = [&](std::size_t mark, const std::string& check) {
        const PlanMark& m = plan.marks[mark];
        rows.push_back({m.name, m.over.text, m.up.text, check, false});
    };
    const auto check_from = [&](std::size_t mark) -> std::string {
        for (const PlanCheck& c : plan.side_checks)
            if (c.a == mark) return mark_name(plan, c.b) + ": " + c.reads.text;
        return "";
    };
    const auto line_rows = [&](const PlanLine& line) {
        for (const PlanStroke& s : line.strokes) {
            row(s.from, check_from(s.from));
            for (const std::size_t m : s.via) row(m, check_from(m));
        }
        if (!line.closed) row(line.strokes.back().to, "");
    };
    for (const PlanLine& line : plan.lines)
        if (line.cut == Cut::through) line_rows(line);
    for (const PlanHole& hole : plan.holes) {
        std::string check;
        for (const PlanCheck& c : plan.hole_checks)
            if (c.b == hole.centre) check = mark_name(plan, c.a) + ": " + c.reads.text;
        row(hole.centre, check);
    }
    for (const PlanSlit& slit : plan.slits) {
        row(slit.from, "");
        row(slit.to, "");
    }
    bool new_snaps = false;
    for (const Stud& s : plan.view.studs) {
        if (!s.by_rule) continue;
        if (!new_snaps) rows.push_back({"NEW SNAPS", "", "", "", true});
        new_snaps = true;
        rows.push_back({s.id, print_length(s.at_mm.x, plan.lengths).text,
                        print_length(s.at_mm.y, plan.lengths).text, "", false});
    }
    for (const PlanSet& s : plan.sets) {
        rows.push_back({"SET " + s.name +
                            (s.on_marked_side ? ""
                             : plan.on_back   ? ", ON FACE"
                                              : ", ON BACK"),
                        "", "", "", true});
        for (const PlanMark& m : s.marks)
            rows.push_back(
                {m.name, m.over.text, m.up.text, s.radius ? "radius " + s.radius->text : "", false});
    }
    if (!plan.view.match_strokes.empty()) rows.push_back({"MATCH MARKS", "", "", "", true});
    for (const MatchStroke& m : plan.view.match_strokes)
        rows.push_back({m.name, print_length(m.from_mm.x, plan.lengths).text,
                        print_length(m.from_mm.y, plan.lengths).text,
                        print_length(distance(m.from_mm, m.to_mm), plan.lengths).text + " long", false});
    bool headed = false;
    for (const PlanLine& line : plan.lines) {
        if (line.cut != Cut::backing_only) continue;
        if (!headed) rows.push_back({"BACKING ONLY", "", "", "", true});
        headed = true;
        line_rows(line);
    }
    return rows;
}

std::string finish_words(const Piece& piece) {
    std::vector<std::string> words;
    for (const EdgeReport& e : piece.edges) {
        // Nothing is sealed on what is put on a panel: it is raw.
        const bool raw = !piece.letter.empty() && e.plan.finish == Finish::sealed;
        const std::string w = raw ? "raw" : word_for(e.plan.finish);
        if (std::find(words.begin(), words.end(), w) == words.end()) words.push_back(w);
    }
    if (words.empty()) return "";
    return words.size() == 1 ? words[0] + " all round" : list_words(words);
}

namespace {

/// The back of the roll is the back of the piece: both are rolled over about a line along the goods, so that a turn runs
/// the other way round there.
Rigid side_of_roll_from_side(const Placement& placement, bool on_back, double axis_y) {
    if (!on_back) return roll_from_piece(placement);
    Rigid out = quarter_turns(4 - placement.turns);
    out.move = BackFromFace{axis_y}(placement.move_mm());
    return out;
}

std::string turned_words(Vec2 bow) {
    if (bow.x > 0) return "";
    if (bow.x < 0) return "bow to the cut end";
    return bow.y > 0 ? "bow to the far edge" : "bow to the near edge";
}

/// What a hand finds soonest on a tape: whole eighths of an inch, whole millimetres.
double places_mm(const LengthStyle& style) {
    return style.unit == Unit::inch ? 25.4 / 8 : 1;
}

/// Of the marks near an end of the datum the outermost whose place on the roll is read as whole in the most ways: sooner found on
/// a tape, and rounded no more than any other. Any two of its marks give the line.
struct Easiest {
    double step_mm, places_mm, reach_mm;

    double near(double end_mm, double inward_mm, const Rigid& roll_from_mark) const {
        const auto broken = [this](double v) {
            return std::fabs(v - places_mm * std::round(v / places_mm)) > step_mm / 2 ? 1 : 0;
        };
        double best = end_mm;
        int least = 3;
        for (int k = 0; k * step_mm <= reach_mm && least > 0; ++k) {
            const double over = end_mm + k * inward_mm;
            const Vec2 at = roll_from_mark(Vec2{over, 0});
            const int ways = broken(at.x) + broken(at.y);
            if (ways >= least) continue;
            least = ways;
            best = over;
        }
        return best;
    }
};

}  // namespace

std::optional<OnRoll> on_roll(const PaperInput& in, const Piece& piece, const MarkFrame& frame) {
    if (!in.layout || !in.goods) return std::nullopt;
    for (const Placement& placement : in.layout->placements) {
        if (placement.piece != piece.id) continue;
        const std::size_t stretch = static_cast<std::size_t>(placement.stretch);
        const Rigid roll_from_side = side_of_roll_from_side(
            placement, frame.on_back, goods_on(*in.goods, *in.layout, stretch).usable_width_mm / 2);
        OnRoll out;
        out.roll_from_mark = compose(roll_from_side, inverse(frame.mark_from_side));
        out.cut_from = stretch_words(*in.layout, stretch);
        out.turned = turned_words(roll_from_side.turn({1, 0}));
        // Whole marks of the tape, inwards; on the roll they lie where they lie, however the piece is turned.
        LengthStyle style = in.lengths;
        style.feet = style.with_unit = false;
        const double step = style.unit == Unit::inch ? 25.4 / style.inch_denominator : style.mm_step;
        const auto point = [&](double over) {
            const PrintedLength printed = print_length(over, style);
            return OnRoll::Point{printed, out.roll_from_mark(Vec2{printed.printed_mm, 0})};
        };
        const double from = step * std::ceil(frame.datum_from_mm / step),
                     to = step * std::floor(frame.datum_to_mm / step);
        const Easiest easiest{step, places_mm(style), std::fmin(25.4, (to - from) / 10)};
        out.first = point(easiest.near(from, step, out.roll_from_mark));
        out.second = point(easiest.near(to, -step, out.roll_from_mark));
        out.box = box_of(out.roll_from_mark(frame.view.face));
        return out;
    }
    return std::nullopt;
}

MarkingOptions marking_options(const PaperInput& in, const Piece& piece) {
    MarkingOptions options;
    options.on_back = in.mark_on_back;
    options.lengths = in.lengths;
    options.trammel_reach_mm = in.trammel_reach_mm;
    options.disc_most_mm = in.disc_most_mm;
    options.departure = in.marking_departure;
    options.applied = applied_on(in, piece);
    if (!in.layout || !in.pieces) return options;
    const std::vector<const Piece*> others = cut_from_goods(in);
    std::optional<Placement> own;
    for (const Placement& p : in.layout->placements)
        if (p.piece == piece.id) own = p;
    if (!own) return options;
    const auto roll_from_side = [&](const Placement& p) {
        return side_of_roll_from_side(p, in.mark_on_back, 0);
    };
    const Rigid own_from_roll = inverse(roll_from_side(*own));
    for (const Placement& p : in.layout->placements) {
        if (p.piece == piece.id || p.stretch != own->stretch) continue;
        for (const Piece* other : others)
            if (other->id == p.piece)
                options.neighbours.push_back(
                    compose(own_from_roll, roll_from_side(p))(view_of(*other, in.mark_on_back).face));
    }
    return options;
}

}  // namespace spile::paper
