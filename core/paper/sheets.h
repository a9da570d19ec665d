// The sheets of a job, drawn as display lists.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "core/base/length.h"
#include "core/edging/piece.h"
#include "core/geom/tolerance.h"
#include "core/layout/layout.h"
#include "core/measure/survey.h"
#include "core/paper/display_list.h"
#include "core/paper/paper_settings.h"
#include "core/takeoff/takeoff.h"

namespace spile {

/// What still keeps a person from leaving a boat, in sentences.
struct OpenSpace {
    std::string space, verdict;
    std::vector<std::string> missing, next_ties;  ///< worst and best first
};

/// The minutes planned for a step of the work.
struct StepMinutes {
    double minutes = 0;
    bool guessed = false;  ///< rests on a guess of ours
};

/// All that papers need to know, so that no sheet asks the job document.
struct PaperInput {
    std::string title, boat, customer;
    std::string notes;  ///< of the job; may have many lines
    bool mark_on_back = true;
    LengthStyle lengths;
    PaperSize bench_paper;                ///< of tickets and marking sheets
    double trammel_reach_mm = 72 * 25.4;  ///< the shop's beam; common practice
    double disc_most_mm =
        12 * 25.4;  ///< largest disc the shop cuts of card to round a corner; common practice
    Allowance marking_departure{25.4 /
                                16};  ///< how far a line drawn from a marking sheet may lie from the true one
    PaperSettings settings;
    std::array<StepMinutes, work_steps> planned{};  ///< by WorkStep
    double print_margin_mm = 6;  ///< what the printer leaves white; full-size tiles keep clear of it
    const Goods* goods = nullptr;
    const FinishSettings* finish = nullptr;
    const std::vector<Panel>* panels = nullptr;
    const std::vector<Piece>* pieces = nullptr;
    const std::vector<AppliedPiece>* applied = nullptr;  ///< may be null
    const Layout* layout = nullptr;                      ///< may be null
    const Takeoff* takeoff = nullptr;                    ///< may be null
    std::vector<OpenSpace> spaces;                       ///< for the field sheets
    std::vector<Finding> findings;                       ///< looks and notes to print
    std::vector<std::string> overrides;  ///< "code, subject: reason", printed on every cutting paper
    std::vector<std::string> pattern_at_joints;  ///< sentences: how far it is out where panels meet
};

/// What is cut from the goods: the pieces of the panels, then what is put on them and is of the same goods.
std::vector<const Piece*> cut_from_goods(const PaperInput& in);
/// The same, and what is put on the panels of other goods.
std::vector<const Piece*> all_pieces(const PaperInput& in);

/// Whether an applied piece is cut by its sizes alone: no side of it is curved but a full circle.
bool is_cut_by_sizes(const AppliedPiece& applied);

Sheet ticket(
    const PaperInput& in);  ///< job, goods, each piece from above and as marked, edges, order of work
Sheet marking_sheet(
    const PaperInput& in,
    const Piece& piece);  ///< running sizes from two datum lines, mirrored when marked on the back
/// What is put on the panels: for each panel where it is set, seen from that side; for each piece what is cut. Requires: in.pieces,
/// in.applied.
Sheet applied_sheet(const PaperInput& in);
Sheet roll_sheet(const PaperInput& in);       ///< where each piece lies from the cut end; Requires: in.layout
Sheet materials_sheet(const PaperInput& in);  ///< Requires: in.takeoff
/// Whether the rolled panel passes under the arm, and the goods the binder; per seam how it is sewn. Requires: in.pieces.
Sheet sewing_sheet(const PaperInput& in);
Sheet check_sheet(const PaperInput& in);  ///< sizes and diagonals before and after edging, with room to write
Sheet fitting_sheet(
    const PaperInput&
        in);  ///< the boat from above: pieces, studs, match marks, lids to try; Requires: in.panels
Sheet label_sheet(const PaperInput& in);     ///< for pieces and pattern rolls, each with a QR code
Sheet field_sheets(const PaperInput& in);    ///< forms to take aboard, and what is still open
Sheet customer_sheet(const PaperInput& in);  ///< the set as drawn, what is included, care, warranty

/// 1:1 over sheets of that size: register marks, rules, an assembly map. Everything on the sheets is enlarged by 200 mm over
/// `rule_measured_mm`, so that what a printer draws too small comes out true.
Sheet full_size_tiles(const PaperInput& in, const Piece& piece, const PaperSize& size);
/// 1:1 on a roll of paper `strip_width_mm` wide, along it; beside one another where one is not wide enough. No page is
/// longer than a PDF page may be.
Sheet full_size_strips(const PaperInput& in, const Piece& piece);

}  // namespace spile
