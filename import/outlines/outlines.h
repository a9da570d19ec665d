// From the lines of a drawing to outlines in millimetres: joined, closed, chords turned into arcs.
#pragma once

#include "core/base/length.h"
#include "core/base/result.h"
#include "core/geom/tolerance.h"
#include "import/outlines/drawing.h"

namespace spile::import {

struct OutlineOptions {
    std::optional<double> mm_per_unit;  ///< goes before what the file says
    Allowance gap{0.5};                 ///< ends no farther apart are joined
    Resolution arcs{
        0.1};  ///< arcs and straight edges lie so near to the points they stand for: no knife cuts finer
    LengthStyle lengths;  ///< how findings say a length
};

/// One closed outline as offered.
struct Offered {
    std::string layer;
    Outline outline;           ///< counter-clockwise, mm; tags 0, 1, ...
    int inside = -1;           ///< index of the smallest outline that holds it; -1: none
    double departure_mm = 0;   ///< largest distance of a point of the drawing from the arcs that stand for it
    double widest_gap_mm = 0;  ///< that was closed
    std::size_t chords = 0;    ///< edges in the drawing
};

struct Offer {
    std::vector<Offered> outlines;  ///< largest first
    double mm_per_unit = 1;
};

/// Requires: nothing of the drawing.
/// Guarantees: (1) every outline is simple and counter-clockwise; (2) no end was moved by more than the gap, and every gap
/// that was closed is a note with its size and place; (3) every point of the drawing lies within `arcs` of the outline
/// that took it; of a polyline's chords, as many in a row as an arc passes within that become the arc, where no chord
/// stands off it by more than 4 times as much.
/// On bad input: a stop "units-missing" and no value where neither the file nor the options say the unit; a stop "no-lines" where
/// nothing can be used; a look each for lines that do not close ("line-open", with the gap that is left), outlines that
/// cross themselves ("outline-crosses"), lines drawn twice ("line-twice") and things passed over ("passed-over").
Result<Offer> offer_outlines(const Drawing& drawing, const OutlineOptions& options);

/// Arcs and straight edges for a chain of points, within `resolution` of every point. Sets `departure` to the largest distance.
std::vector<Edge> arcs_through(const std::vector<Vec2>& chain, Resolution resolution, double& departure);

}  // namespace spile::import
