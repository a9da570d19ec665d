// The sheets of a job, drawn as display lists.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/base/length.h"
#include "core/edging/piece.h"
#include "core/geom/tolerance.h"
#include "core/layout/layout.h"
#include "core/measure/survey.h"
#include "core/paper/display_list.h"
#include "core/takeoff/takeoff.h"

namespace spile {

struct PaperSize {
    std::string name;  ///< "A4"
    double width_mm = 210;
    double height_mm = 297;
};
PaperSize a4();      ///< ISO 216:2007
PaperSize letter();  ///< 8 1/2 x 11 in

/// All that papers need to know, so that no sheet asks the job document.
struct PaperInput {
    std::string title, boat, customer;
    bool mark_on_back = true;
    LengthStyle lengths;
    PaperSize bench_paper;                ///< of tickets and marking sheets
    double trammel_reach_mm = 72 * 25.4;  ///< the shop's beam; common practice
    double disc_most_mm =
        12 * 25.4;  ///< largest disc the shop cuts of card to round a corner; common practice
    Allowance marking_departure{25.4 /
                                16};  ///< how far a line drawn from a marking sheet may lie from the true one
    double print_margin_mm = 6;       ///< what the printer leaves white; full-size tiles keep clear of it
    const Goods* goods = nullptr;
    const FinishSettings* finish = nullptr;
    const std::vector<Panel>* panels = nullptr;
    const std::vector<Piece>* pieces = nullptr;
    const Layout* layout = nullptr;      ///< may be null
    const Takeoff* takeoff = nullptr;    ///< may be null
    std::vector<Finding> findings;       ///< looks and notes to print
    std::vector<std::string> overrides;  ///< "code, subject: reason", printed on every cutting paper
};

Sheet ticket(
    const PaperInput& in);  ///< job, goods, each piece from above and as marked, edges, order of work
Sheet marking_sheet(
    const PaperInput& in,
    const Piece& piece);  ///< running sizes from two datum lines, mirrored when marked on the back
Sheet roll_sheet(const PaperInput& in);       ///< where each piece lies from the cut end; Requires: in.layout
Sheet materials_sheet(const PaperInput& in);  ///< Requires: in.takeoff
Sheet full_size_tiles(const PaperInput& in, const Piece& piece,
                      const PaperSize& size);  ///< 1:1, register marks, check rule

}  // namespace spile
