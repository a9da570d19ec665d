// The fitting sheet: what goes where aboard, and what to try before leaving.
#include <algorithm>

#include "core/base/check.h"
#include "core/base/text.h"
#include "core/paper/aboard.h"
#include "core/paper/cautions.h"
#include "core/paper/flow_parts.h"

namespace spile {
namespace paper {
namespace {

/// Edges of the job that meet something, "3 E-J6".
std::vector<std::string> edges_that_meet(const PaperInput& in, Situation situation) {
    std::vector<std::string> out;
    for (const Piece& p : *in.pieces)
        for (const EdgeReport& e : p.edges)
            if (e.plan.situation == situation)
                out.push_back(called(p) + " " + joined(e.from, "\u2013", e.to));
    return out;
}

Box box_of_space(const PaperInput& in, const std::string& space) {
    Box all;
    for (const Panel& p : *in.panels)
        if (p.space == space && !p.mat) all.add(box_of(p.boat_line.outline));
    return all;
}

/// As high as its width on the page makes it, so that nothing is left white; no higher than `most`.
double plan_height(const Flow& flow, const Box& space, double most) {
    const double wanted = (flow.area().width() - 2) * space.height() / std::max(space.width(), 1.0) + 24;
    return std::clamp(wanted, 60.0, std::max(60.0, most));
}

void plan(Flow& flow, const PaperInput& in, const std::string& space, double height) {
    flow.need(height + 12);
    flow.heading(space, 12);
    draw_boat_plan(flow.canvas(), {{flow.area().min.x, flow.y()}, {flow.area().max.x, flow.y() + height}}, in,
                   space, {});
    flow.skip(height + 2);
}

std::string marks_words(const PaperInput& in, const std::string& space) {
    std::vector<std::string> marks;
    for (const MeetingMarks& m : meeting_marks(in, space))
        marks.push_back(strong(m.name) + " " + std::to_string(m.piece) +
                        (m.piece == m.other ? " across its slit" : " to " + std::to_string(m.other)));
    return marks.empty() ? "" : "Marks that meet: " + list_words(marks) + ".";
}

/// What stands beside the plan: mats that have no place of their own, and what the person who measured wrote down.
std::vector<std::string> asides(const PaperInput& in) {
    std::vector<std::string> mats, out;
    for (const Panel& p : *in.panels)
        if (p.mat) mats.push_back(p.name.empty() ? p.id : p.name);
    if (!mats.empty()) out.push_back("Plain mats, laid where they are wanted: " + list_words(mats) + ".");
    constexpr std::size_t longest = 400;  // bytes; of more the ticket has them
    if (!in.notes.empty())
        out.push_back(strong("Notes: ") + (in.notes.size() <= longest ? in.notes : "on the ticket."));
    return out;
}

/// What is done aboard, in the order of the hand.
std::vector<std::string> tasks_of(const PaperInput& in) {
    std::vector<std::string> w;
    w.push_back("Clean and dry the sole. Lay the pieces out by number, arrows to the bow, " +
                strong("face up") + ".");
    const std::string aboard = aboard_words(in);
    if (!aboard.empty())
        w.push_back(aboard +
                    " Mark in chalk what comes off, on the face and on this sheet; trim, try again; only "
                    "then are edges finished.");
    w.push_back(
        "Lay them from the bow aft, marks meeting; look along every joint: even, and no edge on another.");
    std::vector<std::string> studs, placed;
    for (const Piece& p : *in.pieces)
        for (const Stud& s : p.studs) (s.by_rule ? placed : studs).push_back(s.id + " in " + called(p));
    if (!studs.empty()) {
        w.push_back(
            "Find each stud from above with all pieces in place and weighted, prick, then set its snap: " +
            strong(list_words(studs)) + ".");
        if (placed.empty())
            w.push_back("New studs only where no old one is left to use. " + strong(caution::drilling) + " " +
                        caution::defer);
    }
    if (!placed.empty())
        w.push_back(
            "With all pieces in place and weighted, mark the deck through each new snap, then set its "
            "stud: " +
            strong(list_words(placed)) + ". " + strong(caution::drilling) + " " + caution::defer);
    const auto lids = edges_that_meet(in, Situation::lid);
    if (!lids.empty())
        w.push_back(
            "Open and shut every lid and door beside " + strong(list_words(lids)) +
            ": nothing rubs, lifts or jams. Goods and binding are thicker than what lay there before.");
    w.push_back("Lift out every piece that must open alone, and lay it back.");
    w.push_back(strong(caution::ways) + " Drains run.");
    const auto walked = edges_that_meet(in, Situation::walked_over);
    if (in.applied)
        for (const AppliedPiece& a : *in.applied)
            if (a.plan.kind == AppliedPlan::Kind::hook_and_loop)
                w.push_back(strong("Hook-and-loop " + called(a.piece)) + ": press its " +
                            (a.plan.loop ? "hook" : "loop") +
                            " half onto the one on the panel, backing off; with the panel in place press it "
                            "down, lift the "
                            "panel off, roll the half firm. Deck clean, dry and warm first.");
    w.push_back(strong(caution::trips) +
                (walked.empty() ? "" : " Walk over " + list_words(walked) + " first."));
    w.push_back("Photograph every piece in its place. Write what was changed, and keep it with the pattern:");
    return w;
}

}  // namespace
}  // namespace paper

Sheet fitting_sheet(const PaperInput& in) {
    using namespace paper;
    SPILE_CHECK(in.pieces && in.panels);
    FrameText text = plain_frame(in, "FIT ABOARD \u00b7 SEEN FROM ABOVE", "Fitting sheet");
    text.bar_right = joined("face up", " \u00b7 ", dry_fit_bar(any_dry_fitted(in)));
    Flow flow(in.bench_paper, text);
    const std::vector<std::string> spaces = spaces_of(in), tasks = tasks_of(in);

    // On one page while the plan keeps at least half its size; else the work goes overleaf, with room to write.
    constexpr double lines = 3 * 9.0;
    const double width = flow.area().width();
    const auto height = [&](const std::string& words) {
        return words.empty()
                   ? 0
                   : static_cast<double>(wrapped(words, width, type::body).size()) * type::body * type::line;
    };
    double said = 0;
    for (const std::string& words : asides(in)) said += height(words);
    double work = 14 + lines + said;
    for (const std::string& t : tasks) work += task_height(width, t);
    for (const std::string& space : spaces) {
        const std::string marks = marks_words(in, space);
        const double around = 14 + height(marks), page = flow.area().height();
        const double alone = plan_height(flow, box_of_space(in, space), page - around);
        const double beside = plan_height(flow, box_of_space(in, space), page - around - work);
        plan(flow, in, space,
             spaces.size() == 1 && beside >= 0.5 * alone && beside + around + work <= page ? beside : alone);
        if (!marks.empty()) flow.paragraph(marks);
    }
    for (const std::string& words : asides(in)) flow.paragraph(words);
    if (flow.left() < work - said && flow.left() > 40) {
        flow.skip(2);
        flow.heading("Changed aboard", 20);
        fill_with_lines(flow, 2);
    }
    if (flow.left() < work - said && work <= flow.area().height()) flow.new_page();
    flow.heading("In this order", 20);
    for (const std::string& t : tasks) task(flow, t);
    fill_with_lines(flow, 3);

    Sheet sheet;
    sheet.file_stem = "fitting";
    sheet.title = "Fitting sheet";
    sheet.purpose = "To take aboard with the pieces: what lies where, studs, marks that meet, lids to try";
    sheet.pages = flow.finish();
    return sheet;
}

}  // namespace spile
