#include "core/job/run_job.h"

#include <cmath>

#include "core/base/text.h"
#include "core/geom/measure_of.h"
#include "core/geom/transform.h"
#include "core/job/decisions.h"
#include "core/job/goods_movement.h"
#include "core/job/lid_room.h"
#include "core/job/panel_fit.h"
#include "core/job/pattern_joints.h"
#include "core/job/planned_minutes.h"
#include "core/job/ready_to_leave.h"
#include "core/job/unsettled.h"
#include "core/layout/check/check.h"
#include "core/layout/too_large.h"

namespace spile {
namespace {

Finding about(const char* kind, const char* code, Severity severity, std::string says, std::string to_do) {
    Finding f;
    f.code = code;
    f.severity = severity;
    f.subject = {kind, ""};
    f.says = std::move(says);
    f.to_do = std::move(to_do);
    return f;
}

/// Takes the value of a stage and its findings.
template <class T>
std::optional<T> taken(Result<T> result, std::vector<Finding>& findings) {
    append(findings, std::move(result.findings));
    return std::move(result.value);
}

/// All goods before the first piece lost to a flaw right across: said, since nothing else shows it.
void say_what_lies_behind_a_flaw(const Job& job, const std::vector<LayoutPiece>& pieces, Derived& derived) {
    const Goods& goods = job.goods;
    if (!derived.layout || !derived.layout->stretches.empty()) return;
    double first = derived.layout->used_mm;
    for (const Placement& p : derived.layout->placements)
        for (const LayoutPiece& piece : pieces)
            if (piece.id == p.piece)
                first = std::fmin(first, box_of(roll_from_piece(p)(piece.outline)).min.x);
    for (const Flaw& flaw : goods.flaws) {
        const bool across = flaw.at_mm.min.y <= 0 && flaw.at_mm.max.y >= goods.usable_width_mm;
        if (!across || flaw.at_mm.max.x > first + kPlacementRounding_mm) continue;
        LengthStyle style = lengths_of(job);
        style.with_unit = true;
        const double without = bought_length_mm(goods, derived.layout->used_mm - flaw.at_mm.max.x);
        derived.findings.push_back(about("goods", "flaw-before-all", Severity::look,
                                         "Every piece lies behind flaw " + flaw.id + ", which ends " +
                                             plain_length(flaw.at_mm.max.x, style) +
                                             " from the cut end: nothing before that is used.",
                                         "Cut the goods off behind it, or take others: then " +
                                             plain_length(without, style) + " will do."));
        derived.findings.back().numbers = {{"ends", flaw.at_mm.max.x, "mm"}, {"would do", without, "mm"}};
        return;
    }
}

std::optional<Layout> solved(const Job& job, const std::vector<LayoutPiece>& pieces,
                             const LayoutSolver& solver, const RunContext& run,
                             std::vector<Finding>& findings) {
    std::optional<Layout> layout = taken(solver(pieces, job.goods, run), findings);
    if (!layout) return std::nullopt;
    std::vector<Finding> refusals = check_layout(pieces, job.goods, *layout, lengths_of(job));
    if (refusals.empty()) return layout;
    append(findings, std::move(refusals));
    return std::nullopt;
}

/// Fillers beside a layout that a person kept: with everything pinned the solver has nothing else to do.
void fill(const Job& job, std::vector<LayoutPiece> pieces, const LayoutSolver& solver, const RunContext& run,
          Derived& derived) {
    if (!solver || job.goods.fillers.empty() || !derived.layout->stretches.empty()) return;
    for (LayoutPiece& piece : pieces)
        for (const Placement& p : derived.layout->placements)
            if (p.piece == piece.id) piece.pin = p;
    const std::optional<Layout> filled = solved(job, pieces, solver, run, derived.findings);
    if (filled) derived.layout->fillers = filled->fillers;
}

/// The panels of a space are seen side by side and, where the goods have a repeat, read as one cloth; a plain mat has no
/// place among them.
LayoutPiece layout_piece(const Job& job, const Piece& piece) {
    LayoutPiece out{piece.id, piece.cut.face};
    for (const PanelInput& panel : job.panels) {
        if (panel.id != piece.id) continue;
        out.seen_with = panel.space;
        if (!job.goods.repeat.any() || !job.pattern_carried) continue;
        out.cloth = panel.space;
        out.in_cloth_mm = inverse(piece.piece_from_boat)({0, 0});
    }
    return out;
}

void lay_out(const Job& job, const LayoutSolver& solver, const RunContext& run, Derived& derived) {
    if (derived.pieces.empty()) return;
    if (!job.has_goods) {
        derived.findings.push_back(
            about("goods", "goods-missing", Severity::look,
                  "The job names no goods, so nothing is laid out and no length is known.",
                  "Say what it is cut from: the width of the roll is enough to begin with."));
        return;
    }
    if (derived.pieces.size() < job.panels_said) {
        const std::size_t missing = job.panels_said - derived.pieces.size();
        derived.findings.push_back(about("goods", "layout-waits", Severity::note,
                                         "Nothing is laid out: " + count_of(missing, "panel", "panels") +
                                             " of " + std::to_string(job.panels_said) + " could not be made.",
                                         "See to the stops of the panels first."));
        return;
    }
    const std::vector<LayoutPiece> pieces = layout_pieces(job, derived);
    derived.layout = judge_kept_layout(job, pieces, derived.findings);
    if (derived.layout) fill(job, pieces, solver, run, derived);
    if (!derived.layout) {
        if (solver)
            derived.layout = solved(job, pieces, solver, run, derived.findings);
        else  // whoever could lay them out would refuse these
            append(derived.findings, pieces_too_large(pieces, job.goods, lengths_of(job)));
    }
    say_what_lies_behind_a_flaw(job, pieces, derived);
}

}  // namespace

std::vector<LayoutPiece> layout_pieces(const Job& job, const Derived& derived) {
    std::vector<LayoutPiece> out;
    for (const Piece& piece : derived.pieces) out.push_back(layout_piece(job, piece));
    for (const AppliedPiece& a : derived.applied)
        if (a.own_goods()) out.push_back({a.piece.id, a.piece.cut.face});
    return out;
}

Derived run_job(const Job& job, const LayoutSolver& solver, const RunContext& run) {
    Derived derived;
    derived.findings = job.faults;
    const LengthStyle lengths = lengths_of(job);

    using Stage = std::function<void()>;
    const Stage stages[] = {
        [&] {
            for (const SpaceInput& space : job.spaces) {
                if (run.cancelled()) return;
                if (auto survey = taken(measure(space, run), derived.findings))
                    derived.surveys.emplace(space.id, std::move(*survey));
            }
        },
        [&] {
            if (auto panels =
                    taken(shape(job.panels, derived.surveys, job.finish, run, lengths), derived.findings))
                derived.panels = std::move(*panels);
            fit_panels(job, derived);
            judge_lids(job, derived);
            judge_movement(job, derived);
            ready_to_leave(job, derived);
        },
        [&] {
            if (auto pieces = taken(edge_pieces(derived.panels, job.finish, run, lengths), derived.findings))
                derived.pieces = std::move(*pieces);
            if (auto applied = taken(edge_applied(derived.panels, derived.pieces, job.finish, run, lengths),
                                     derived.findings))
                derived.applied = std::move(*applied);
        },
        [&] { lay_out(job, solver, run, derived); },
        [&] {
            if (derived.layout)
                derived.takeoff = take_off(derived.pieces, job.goods, *derived.layout, job.takeoff, lengths,
                                           derived.applied);
        },
    };
    for (const Stage& stage : stages) {
        if (run.cancelled()) break;
        stage();
    }
    apply_overrides(job, derived);
    append(derived.findings, unsettled_findings(job));  // settled, not overridden
    if (run.cancelled()) {
        derived.findings.push_back(about("job", "cancelled", Severity::stop,
                                         "The work was called off before it was done.", "Run it again."));
    }
    sort_worst_first(derived.findings);
    return derived;
}

PaperInput paper_input(const Job& job, const Derived& derived, const WorkTimes& times) {
    PaperInput in;
    in.title = job.title;
    in.boat = job.boat;
    in.customer = job.customer;
    in.notes = job.notes;
    in.mark_on_back = job.mark_on != MarkOn::face;
    in.lengths = lengths_of(job);
    in.bench_paper = job.paper == Paper::a4 ? a4() : letter();
    in.settings = job.papers;
    in.planned = planned_minutes(job, derived, times);
    in.goods = &job.goods;
    in.finish = &job.finish;
    in.panels = &derived.panels;
    in.pieces = &derived.pieces;
    in.applied = &derived.applied;
    if (derived.layout) in.layout = &*derived.layout;
    if (derived.takeoff) in.takeoff = &*derived.takeoff;
    for (const auto& [id, survey] : derived.surveys)
        in.spaces.push_back({id, survey.verdict, survey.missing, survey.advice});
    for (const Finding& f : derived.findings) {
        // What a person left open stands on the papers like what a person must look at; other notes do not.
        const bool left_open = f.code == "left-open";
        if (f.severity != Severity::look && !left_open) continue;
        in.findings.push_back(f);
        in.findings.back().severity = Severity::look;
    }
    for (const PatternJoint& joint : pattern_at_joints(job, derived))
        in.pattern_at_joints.push_back(pattern_words(joint, in.lengths));
    for (std::size_t i = 0; i < derived.overridden.size(); ++i) {
        const Finding& f = derived.overridden[i];
        in.overrides.push_back(f.code + (f.subject.id.empty() ? "" : ", " + f.subject.id) + ": " +
                               derived.override_reasons[i]);
    }
    return in;
}

}  // namespace spile
