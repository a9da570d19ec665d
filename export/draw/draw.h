// The display list drawn with cairo; PDF and PNG share it, so that they show the same.
#pragma once

#include <string>
#include <vector>

#include "core/base/finding.h"
#include "core/paper/display_list.h"

typedef struct _cairo cairo_t;

namespace spile {

/// Draws every item in order. Requires: one user unit of `cr` is one millimetre, y down, origin at the page's
/// top left. Guarantees: 1. curves within `curve_error_mm` of their arcs, 2. every glyph stands where lay_out
/// puts it, 3. texts carry their characters, so that a PDF can be searched.
void draw_page(cairo_t* cr, const Page& page);

/// A look per sheet when its texts hold characters the font lacks (they are drawn as boxes); else nothing.
std::vector<Finding> unknown_characters(const Sheet& sheet);

}  // namespace spile
