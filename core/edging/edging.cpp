// Edging: from panels to numbered pieces of goods.
#include "core/base/check.h"
#include "core/base/reporter.h"
#include "core/edging/cut_lines.h"
#include "core/edging/holes.h"
#include "core/edging/piece.h"
#include "core/edging/seams.h"
#include "core/geom/measure_of.h"

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
    for (Seam& seam : piece.seams) seam.path = move(seam.path);
    for (HoleReport& hole : piece.holes) hole.centre_mm = move(hole.centre_mm);
    for (Stud& stud : piece.studs) stud.at_mm = move(stud.at_mm);
}

std::optional<Piece> edge_piece(const Panel& panel, const FinishSettings& finish, Reporter& report) {
    std::optional<OuterCuts> outer = outer_cuts(panel, finish, report);
    if (!outer) return std::nullopt;

    Piece piece;
    piece.id = panel.id;
    piece.name = panel.name;
    piece.cut.face.outer = std::move(outer->face);
    piece.cut.backing.outer = std::move(outer->backing);
    piece.net = panel.net_line.region;
    piece.edges = edge_reports(panel, finish);
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
    for (HoleCuts& hole : holes) {
        piece.cut.face.holes.push_back(std::move(hole.face));
        piece.cut.backing.holes.push_back(std::move(hole.backing));
        for (Path& slit : hole.slits) piece.slits.push_back(std::move(slit));
        if (!hole.seam.path.vertices.empty()) piece.seams.push_back(std::move(hole.seam));
        if (hole.report.finish == Finish::bound) {
            piece.binding_mm += length_mm(hole.net) + finish.binding_overlap_mm;
        }
        piece.holes.push_back(std::move(hole.report));
    }
    piece.area_mm2 = area_mm2(piece.cut.face);
    move_to_piece_space(piece);
    return piece;
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
        std::optional<Piece> piece = edge_piece(panel, finish, report);
        if (!piece) continue;
        piece->number = number;
        pieces.push_back(std::move(*piece));
    }
    result.value = std::move(pieces);
    return result;
}

}  // namespace spile
