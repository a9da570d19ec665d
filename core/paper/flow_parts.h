// What many sheets are made of: points, tasks to tick, lines to write on, the boat from above.
#pragma once

#include <string>
#include <vector>

#include "core/paper/view.h"

namespace spile::paper {

/// A paragraph hanging from a dot.
void bullet(Flow& flow, const std::string& words, double size_mm = 4.2);
/// The same with a box to tick.
void task(Flow& flow, const std::string& words, double size_mm = 4.2);
/// A task at a place of its own, `width_mm` wide; returns where a next one begins. `task_height`: what it takes.
double task_at(Canvas& canvas, Vec2 top_left, double width_mm, const std::string& words,
               double size_mm = 4.2);
double task_height(double width_mm, const std::string& words, double size_mm = 4.2);

/// Empty lines to write on.
void blank_lines(Flow& flow, std::size_t count, double pitch_mm = 9);
/// The same down to the foot of the page, but for `kept_mm`; at least `least` of them.
void fill_with_lines(Flow& flow, std::size_t least, double kept_mm = 0, double pitch_mm = 9);
/// Lines to write on down a place of its own, with what they are for at its top left; nothing where it is too low for
/// two.
void lines_in(Canvas& canvas, const Box& place, const std::string& what_for);
/// Blocks kept whole, set one under another from where `left_mm` are left of a page of `page_mm`: each one's share of what
/// its page would leave white at its foot. `after_mm` follows the last block, on its page where it has room.
/// Requires: no block is higher than a page.
std::vector<double> shares_of_white(double left_mm, double page_mm, const std::vector<double>& blocks_mm,
                                    double after_mm = 0);
/// The shop's own words, a paragraph for each of their lines; lines to write on when there are none.
void own_words(Flow& flow, const std::string& words, std::size_t blanks);
/// Lines of it `width_mm` wide, set as paragraphs.
std::vector<TextLine> own_lines(const std::string& words, double width_mm, double size_mm);

/// Frame of a paper that shows no goods to mark.
FrameText plain_frame(const PaperInput& in, const std::string& bar, const std::string& foot);

/// Spaces of the job that have panels, in their order; plain mats have none.
std::vector<std::string> spaces_of(const PaperInput& in);

struct BoatPlanWants {
    bool studs = true;        ///< and their names
    bool match_marks = true;  ///< at joints, a name on both sides
    bool names = true;        ///< of the pieces, where there is room
    bool points = false;      ///< corners of the pieces by the names of their points
};

/// A match mark between two pieces of a space; at a slit both numbers are one.
struct MeetingMarks {
    std::string name;
    int piece = 0, other = 0;  ///< numbers
    Vec2 at;                   ///< boat space, on the joint
    Vec2 across;               ///< unit, square to it
};
std::vector<MeetingMarks> meeting_marks(const PaperInput& in, const std::string& space);

/// The space from above, finished edges of its pieces over the boat line, bow to the right; the arrow with its flag.
/// Requires: in.panels; the space has panels.
void draw_boat_plan(Canvas& canvas, const Box& area, const PaperInput& in, const std::string& space,
                    const BoatPlanWants& wants);

}  // namespace spile::paper
