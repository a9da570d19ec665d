// Edging: from panels to numbered pieces of goods.
#include <algorithm>
#include <cmath>

#include "core/base/check.h"
#include "core/base/reporter.h"
#include "core/base/text.h"
#include "core/edging/cut_lines.h"
#include "core/edging/flap_cuts.h"
#include "core/edging/fold_check.h"
#include "core/edging/holes.h"
#include "core/edging/left_long.h"
#include "core/edging/match_strokes.h"
#include "core/edging/piece.h"
#include "core/edging/seams.h"
#include "core/edging/snap_check.h"
#include "core/geom/measure_of.h"
#include "core/geom/tolerance.h"

namespace spile {
namespace {

/// Moves everything of a piece from boat space to piece space.
void move_to_piece_space(Piece& piece) {
    piece.piece_from_boat = translation(-box_of(piece.cut.face.outer).min);
    const Rigid& move = piece.piece_from_boat;
    piece.cut.face = move(piece.cut.face);
    piece.cut.backing = move(piece.cut.backing);
    piece.net = move(piece.net);
    for (Path& slit : piece.slits) slit = move(slit);
    for (FlapCut& cut : piece.flap_cuts) cut.path = move(cut.path);
    for (Seam& seam : piece.seams) seam.path = move(seam.path);
    for (HoleReport& hole : piece.holes) hole.centre_mm = move(hole.centre_mm);
    for (Stud& stud : piece.studs) stud.at_mm = move(stud.at_mm);
    for (MatchStroke& stroke : piece.match_strokes) {
        stroke.from_mm = move(stroke.from_mm);
        stroke.to_mm = move(stroke.to_mm);
    }
}

/// Turned edges need a backing that comes off the face.
bool peels(const Panel& panel, const FlapPlan& plan, const FinishSettings& finish, Reporter& report) {
    const auto turned = [](const auto& one) { return one.finish == Finish::turned; };
    const bool edges = std::count(plan.finishes.begin(), plan.finishes.end(), Finish::turned) > 0;
    const bool holes = std::any_of(panel.openings.begin(), panel.openings.end(), turned);
    if (finish.backing_peels || (!edges && !holes)) return true;
    report.add("backing-does-not-peel", Severity::stop, "panel", "", {},
               "Panel " + panel.id + " has turned " +
                   (edges ? holes ? "edges and openings" : "edges" : "openings") +
                   ", but the backing of these goods does not come off the face: nothing can be folded.",
               "Bind or seal them, or cut it from goods whose backing peels.");
    return false;
}

/// Flap cuts, folds and what the papers say of them.
void turn_edges(const Panel& panel, const FlapPlan& plan, const FinishSettings& finish, Piece& piece,
                Reporter& report) {
    if (std::count(plan.finishes.begin(), plan.finishes.end(), Finish::turned) == 0) return;
    const Outline& net = panel.net_line.region.outer;
    FlapCuts cuts = flap_cuts(panel, plan, piece.cut.face.outer, finish, report);
    judge_folds(panel, plan, finish, report);
    piece.flap_cuts = std::move(cuts.cuts);
    piece.cut_margin_mm = cut_margin_mm(finish);
    const double under = finish.turn_mm - finish.backing_thickness_mm;
    piece.tape_from_edge_mm = (finish.stitch_from_edge_mm + under) / 2;
    for (std::size_t k = 0; k < net.size(); ++k) {
        const int tag = net.vertices[k].tag;
        const Flap& flap = plan.flaps[k];
        if (tag < 0 || flap.turn_mm <= 0) continue;
        EdgeReport& edge = piece.edges[static_cast<std::size_t>(tag)];
        edge.turn_mm = edge.turn_round == 0 ? flap.turn_mm : std::min(edge.turn_mm, flap.turn_mm);
        edge.turn_round = edge.turn_round == 0 ? flap.round : std::min(edge.turn_round, flap.round);
    }
    for (const Relief& relief : cuts.reliefs) {
        if (relief.tag < 0) continue;
        EdgeReport& edge = piece.edges[static_cast<std::size_t>(relief.tag)];
        edge.relief_cuts = relief.cuts;
        edge.relief_pitch_mm = relief.pitch_mm;
    }
}

std::optional<Piece> edge_piece(const Panel& panel, const FinishSettings& finish, Reporter& report) {
    const Panel as_it_is_cut = as_cut(panel);
    const FlapPlan plan = plan_flaps(as_it_is_cut.net_line.region.outer, panel.edges, finish);
    if (!peels(panel, plan, finish, report)) return std::nullopt;
    std::optional<OuterCuts> outer = outer_cuts(as_it_is_cut, plan, finish, report);
    if (!outer) return std::nullopt;

    Piece piece;
    piece.id = panel.id;
    piece.name = panel.name;
    piece.cut.face.outer = std::move(outer->face);
    piece.cut.backing.outer = std::move(outer->backing);
    piece.net = panel.net_line.region;
    piece.edges = edge_reports(panel, finish);
    turn_edges(as_it_is_cut, plan, finish, piece, report);
    piece.studs = panel.studs;

    OuterSeams seams = outer_seams(panel, finish, report);
    piece.seams = std::move(seams.seams);
    piece.binding_mm = seams.binding_mm;

    std::vector<HoleCuts> holes;
    for (const Outline& hole : panel.net_line.region.holes) {
        holes.push_back(
            hole_cuts(panel, static_cast<std::size_t>(-2 - hole.vertices.front().tag), finish, report));
    }
    judge_hole_flaps(panel, holes, finish, report);
    if (std::any_of(holes.begin(), holes.end(), [](const HoleCuts& h) { return !h.flap_cuts.empty(); }))
        piece.cut_margin_mm = cut_margin_mm(finish);
    for (HoleCuts& hole : holes) {
        piece.cut.face.holes.push_back(std::move(hole.face));
        piece.cut.backing.holes.push_back(std::move(hole.backing));
        for (Path& slit : hole.slits) piece.slits.push_back(std::move(slit));
        for (FlapCut& cut : hole.flap_cuts) piece.flap_cuts.push_back(std::move(cut));
        if (hole.report.finish == Finish::bound)
            hole.seam.binding_mm = hole.report.rim_mm + finish.binding_overlap_mm;
        piece.binding_mm += hole.seam.binding_mm;
        if (!hole.seam.path.vertices.empty()) piece.seams.push_back(std::move(hole.seam));
        piece.holes.push_back(std::move(hole.report));
    }
    judge_snaps(panel, finish, piece, report);
    piece.area_mm2 = area_mm2(piece.cut.face);
    piece.match_strokes = match_strokes(panel, piece.cut.face, finish);
    move_to_piece_space(piece);
    return piece;
}

/// The rim of an opening is worked corner by corner; what is alike at several of them is said once.
void say_once(std::vector<Finding>& findings, std::size_t from) {
    const auto alike = [](const Finding& a, const Finding& b) {
        if (a.code != b.code || a.subject.kind != "opening" || a.subject.kind != b.subject.kind ||
            a.subject.id != b.subject.id || a.numbers.size() != b.numbers.size())
            return false;
        for (std::size_t i = 0; i < a.numbers.size(); ++i)
            if (std::fabs(a.numbers[i].value - b.numbers[i].value) > noise_mm(a.numbers[i].value))
                return false;
        return true;
    };
    for (std::size_t i = from; i < findings.size(); ++i) {
        const auto more =
            std::remove_if(findings.begin() + static_cast<std::ptrdiff_t>(i) + 1, findings.end(),
                           [&](const Finding& f) { return alike(findings[i], f); });
        const auto others = static_cast<std::size_t>(findings.end() - more);
        findings.erase(more, findings.end());
        if (others > 0)
            findings[i].says += " So it is at " + count_of(others, "other place", "other places") + " of it.";
    }
}

}  // namespace

Result<std::vector<Piece>> edge_pieces(const std::vector<Panel>& panels, const FinishSettings& finish,
                                       const RunContext& run, const LengthStyle& lengths) {
    Result<std::vector<Piece>> result;
    std::vector<Piece> pieces;
    int number = 0;
    for (const Panel& panel : panels) {
        if (run.cancelled()) break;
        ++number;
        Reporter report(panel.id, panel.where, lengths, result.findings);
        const std::size_t before = result.findings.size();
        std::optional<Piece> piece = edge_piece(panel, finish, report);
        say_once(result.findings, before);
        if (!piece) continue;
        piece->number = number;
        pieces.push_back(std::move(*piece));
    }
    result.value = std::move(pieces);
    return result;
}

}  // namespace spile
