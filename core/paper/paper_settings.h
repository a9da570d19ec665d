// What a job and its shop say about their papers: which ones, on what, and the words the shop owns.
#pragma once

#include <array>
#include <string>
#include <vector>

namespace spile {

struct PaperSize {
    std::string name;  ///< "A4"
    double width_mm = 210;
    double height_mm = 297;
};
PaperSize a4();       ///< ISO 216:2007
PaperSize a3();       ///< ISO 216:2007
PaperSize letter();   ///< 8 1/2 x 11 in
PaperSize tabloid();  ///< 11 x 17 in

/// The papers a person can ask for, in the order of the index.
enum class PaperKind {
    ticket,
    roll,
    pieces,  ///< a marking sheet each
    materials,
    sewing,
    check,
    fitting,
    labels,
    field,
    customer,
    tiles,    ///< full size, on sheets to tape together
    strips,   ///< full size, on a roll of paper
    machine,  ///< DXF 2000, SVG, PDF, CSV
    dxf_r12,
    hpgl,
};
inline constexpr int paper_kinds = 15;

/// The word a person writes: "pieces", "dxf-r12".
const char* word_for(PaperKind kind);

/// The steps of a job in the shop, in their order, as the ticket plans and ticks them.
enum class WorkStep { goods, mark, cut, dry_fit, holes, apply, turn, bind, seal, measure, pack, studs, fit };
inline constexpr int work_steps = 13;

/// The word a person writes: "dry_fit".
const char* word_for(WorkStep step);

/// Minutes planned for each step; negative: not said. The ticket then guesses and says so.
using PlannedMinutes = std::array<double, work_steps>;
inline constexpr PlannedMinutes no_minutes{-1, -1, -1, -1, -1, -1, -1, -1, -1, -1, -1, -1, -1};

struct SewingNotes {
    std::string thread;           ///< "V92"; empty: written in by hand
    std::string needle;           ///< "Nm 110"; empty: what suits the thread, where that is known
    double stitch_mm = 25.4 / 6;  ///< common practice on heavy goods
    double throat_width_mm = 0;   ///< under the machine's arm, needle to upright; 0: not known
    double throat_height_mm = 0;  ///< 0: not known
    double binder_passes_mm = 0;  ///< thickest goods with their binding; 0: not known
};

/// The needle as said; else by the thread; else empty.
/// Source of the pairs: V69/T70 Nm 90-110, V92/T90 100-110, V138/T135 125-150 (a thread maker's table).
std::string needle_words(const SewingNotes& sewing);

struct PaperSettings {
    SewingNotes sewing;
    std::vector<PaperKind> sheets{PaperKind::ticket, PaperKind::roll, PaperKind::pieces};
    std::vector<PaperSize> tiles;       ///< of full-size sheets; empty: the paper of the bench
    double strip_width_mm = 36 * 25.4;  ///< of the roll plotter's paper; common practice
    double rule_measured_mm = 200;      ///< what the 200.0 mm rule of the last print measured
    bool one_strip = false;  ///< a strip is one page however long it is; not every program reads such a page
    PlannedMinutes minutes = no_minutes;
    bool dry_fit = false;                                ///< every piece is tried aboard before it is edged
    std::string included, not_included, care, warranty;  ///< for the customer, in the shop's words
};

}  // namespace spile
