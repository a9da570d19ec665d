// spile layout: where each piece lies on the roll.
#include "cli/commands.h"
#include "cli/json_output.h"
#include "cli/load.h"
#include "cli/terminal.h"
#include "core/base/check.h"
#include "core/base/text.h"
#include "core/geom/measure_of.h"
#include "core/job/dividing.h"
#include "core/job/pattern_joints.h"
#include "core/layout/cuts_across.h"
#include "core/layout/solve/solve.h"

namespace spile::cli {
namespace {

/// Words of the papers as a terminal shows them: fractions with a plain slash.
std::string with_plain_fractions(std::string words) {
    const std::string fraction = "\u2044";
    for (std::size_t at = words.find(fraction); at != words.npos; at = words.find(fraction, at))
        words.replace(at, fraction.size(), "/");
    return words;
}

std::string cuts_text(const Job& job, const Layout& layout, const std::vector<LayoutPiece>& pieces,
                      const LengthStyle& style) {
    std::string text;
    for (std::size_t k = 0; k < stretch_count(layout); ++k) {
        std::vector<std::string> at;
        for (const double place : cut_places_mm(cuts_across(pieces, job.goods, layout, k), style))
            at.push_back(plain_length(place, style));
        if (at.empty()) continue;
        const std::string on = stretch_words(layout, k);
        text += (on.empty() ? "Comes" : harmless(on) + " comes") + " apart straight across at " +
                list_words(at) + ".\n";
    }
    return text;
}

std::string layout_text(const Job& job, const Derived& derived) {
    LengthStyle style = lengths_of(job);
    const Layout& layout = *derived.layout;
    const bool several = !layout.stretches.empty();
    const std::vector<LayoutPiece> pieces = layout_pieces(job, derived);
    std::vector<std::vector<std::string>> rows = {{"piece", "from the cut end", "from the selvedge"}};
    if (job.goods.turning != Turning::one_way) rows[0].push_back("quarter turns");
    if (several) rows[0].push_back("on");
    for (const Placement& p : layout.placements) {
        std::string name = p.piece;
        Vec2 at = p.move_mm();
        for (const Piece& piece : derived.pieces)
            if (piece.id == p.piece && !piece.name.empty()) name += "  " + piece.name;
        for (const LayoutPiece& piece : pieces)
            if (piece.id == p.piece) at = box_of(roll_from_piece(p)(piece.outline)).min;
        rows.push_back({harmless(name), plain_length(at.x, style), plain_length(at.y, style)});
        if (job.goods.turning != Turning::one_way) rows.back().push_back(std::to_string(p.turns));
        if (several) rows.back().push_back(stretch_words(layout, static_cast<std::size_t>(p.stretch)));
    }
    style.with_unit = true;
    std::string text = "Lower left of each piece on the roll, seen from the face\n" + table_text(rows) + '\n';
    text += "Takes " + plain_length(layout.used_mm, style) + " of the roll" +
            (several ? "" : "; to buy " + plain_length(layout.bought_mm, style)) +
            (layout.least_order ? ", the least order" : "") + ".\n";
    if (const std::string bound = bound_words(layout, style); !bound.empty())
        text += with_plain_fractions(bound) + ".\n";
    text += cuts_text(job, layout, pieces, style);
    if (const std::string fillers = filler_words(job.goods, layout); !fillers.empty())
        text += "In what is left beside the panels: " + harmless(fillers) + ".\n";
    if (job.goods.repeat.any() && job.pattern_carried)
        text +=
            "The pattern is carried: panels of one space lie on the roll as in the boat, but for whole "
            "repeats.\n";
    for (const PatternJoint& joint : pattern_at_joints(job, derived))
        text += with_plain_fractions(pattern_words(joint, style)) + "\n";
    text += fixed(100 * layout.goods_share, 0) + " % of what it takes is pieces. " +
            count_of(static_cast<std::size_t>(layout.rounds), "round", "rounds") + "; --rounds " +
            std::to_string(layout.rounds) + " gives the same again.\n";
    return text;
}

/// Progress on one line of stderr, wiped when done; nothing where nobody watches.
class Progress {
  public:
    explicit Progress(RunContext& run) {
        if (!stderr_is_watched()) return;
        run.progress = [this](double done, double of) {
            shown_ = true;
            complain("\rLaying out: " + fixed(of > 0 ? 100 * done / of : 0, 0) + " %  ");
        };
    }
    Progress(const Progress&) = delete;
    Progress& operator=(const Progress&) = delete;
    ~Progress() {
        if (shown_) complain("\r                        \r");
    }

  private:
    bool shown_ = false;
};

Derived laid_out(const Job& job, const LayoutOptions& options) {
    SolveOptions solve;
    if (options.rounds) solve.rounds = *options.rounds;
    if (options.seconds) solve.seconds = *options.seconds;
    RunContext run;
    const Progress progress(run);
    return run_job(job, solver_for(job, solve), run);
}

/// The ways to divide what is too wide, to choose from; empty without any.
std::string ways_text(const Divisions& divisions, const LengthStyle& style) {
    if (!divisions.any()) return "";
    std::vector<std::vector<std::string>> rows = {
        {"panel", "way", "joint", "long", "strips as cut", "readings"}};
    for (const Division& division : divisions.each)
        for (std::size_t k = 0; k < division.ways.size(); ++k) {
            std::vector<std::string> widths;
            for (const double width : division.ways[k].widths_mm)
                widths.push_back(plain_length(width, style));
            for (const ProposedJoint& joint : division.ways[k].joints)
                rows.push_back({harmless(division.panel), std::to_string(k + 1), harmless(joint.id),
                                plain_length(joint.length_mm, style), list_words(widths),
                                harmless(list_words(joint.readings))});
        }
    return "Joints that would divide what is too wide; you know where one is least seen\n" +
           table_text(rows) +
           "\n\"--divide NEW.json\" writes a job divided so, \"--way 2\" with it in the second way.\n";
}

/// The number of a panel that has no such way.
std::optional<std::string> no_such_way(const Divisions& divisions, int way) {
    for (const Division& division : divisions.each)
        if (!division.ways.empty() && division.ways.size() < static_cast<std::size_t>(way))
            return "panel " + division.panel + " has " + count_of(division.ways.size(), "way", "ways") +
                   " to be divided, and no way " + std::to_string(way);
    return std::nullopt;
}

/// What is proposed for panels wider than the goods, as a job of its own.
Exit divide(const Job& job, const Derived& derived, const Divisions& divisions,
            const LayoutOptions& options) {
    const std::string name = harmless(options.divide);
    if (!divisions.any()) {
        complain(findings_text(derived.findings, terminal_width()));
        complain((divisions.each.empty() ? "spile: no piece is too wide for the goods; "
                                         : "spile: no joint is proposed; ") +
                 name + " is not written.\n");
        return stopped;
    }
    if (const auto none = no_such_way(divisions, options.way)) {
        complain("spile: " + harmless(*none) + "; " + name + " is not written.\n");
        return not_read;
    }
    Result<JsonValue> said = apply_edits(settled_form(job.said), divisions.edits);
    SPILE_CHECK(said);
    const Result<std::string> written = write_new_file(options.divide, write_said(*said));
    if (!written) {
        complain(findings_text(written.findings, terminal_width()));
        return not_read;
    }
    std::string text;
    for (const Division& division : divisions.each)
        text += harmless(
                    "Panel " + division.panel + ". " +
                    (division.ways.empty()
                         ? why_not_words(division)
                         : way_words(division.panel, division.ways[static_cast<std::size_t>(options.way - 1)],
                                     lengths_of(job)))) +
                "\n";
    return print(text + name + " says so; tick the joints aboard before you cut.\n") ? all_well : not_read;
}

}  // namespace

Exit layout(const LayoutOptions& options) {
    std::optional<Job> job = load_job(options.job);
    if (!job) return not_read;
    if (options.rounds || options.seconds) job->kept_layout.reset();  // a new one was asked for
    Derived derived = laid_out(*job, options);
    const Divisions divisions =
        propose_divisions(*job, derived, {}, static_cast<std::size_t>(options.way - 1));
    say_where_to_divide(divisions, lengths_of(*job), derived);
    if (!options.divide.empty()) return divide(*job, derived, divisions, options);
    const Exit exit = derived.layout && derived.may_cut() ? all_well : stopped;
    const std::string findings = findings_text(derived.findings, terminal_width());
    if (options.json) {
        complain(findings);
        return print(layout_json(derived.layout)) ? exit : not_read;
    }
    const std::string text =
        derived.layout ? layout_text(*job, derived)
                       : "There is no layout: see above.\n" + ways_text(divisions, lengths_of(*job));
    return print(findings + text) ? exit : not_read;
}

}  // namespace spile::cli
