// From the bytes of a drawing made elsewhere to a job of panels, for a terminal and for a page alike.
#pragma once

#include <string>
#include <vector>

#include "core/job/document.h"
#include "import/outlines/outlines.h"

namespace spile::import {

/// What a person says of a drawing, as typed.
struct Wanted {
    std::string units;             ///< mm, cm, m, in, ft; empty: as the drawing says
    std::string gap = "1/2 mm";    ///< ends no farther apart are joined
    std::string arcs = "0.1 mm";   ///< how far arcs may lie from the points they stand for
};

struct Looked {
    Offer offer;
    LengthStyle lengths;  ///< with the unit, finer than a tape
};

/// The outlines of a drawing; the end of its name says what it is: .dxf, .svg, .csv or .txt.
/// On bad input: "drawing-unknown", "units-unknown", "length-unknown", and those of the readers and of offer_outlines().
Result<Looked> look_at_drawing(const std::string& name, const std::string& bytes, const Wanted& wanted);

/// Which of them become panels.
struct Choice {
    std::vector<std::string> layers;  ///< only these; empty: all
    std::vector<int> outlines;        ///< only these, from 1 as offered; empty: all
};

/// A job in which each outline is a panel of one space, with points and curves of its own; what lies in it its openings.
/// On bad input: "outline-missing", "too-many-corners".
Result<JsonValue> job_of_drawing(const Looked& looked, const Choice& choice, const std::string& title);

}  // namespace spile::import
