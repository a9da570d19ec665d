// The shipped font inside the program, for cairo.
#pragma once

#include <string_view>

#include "core/paper/display_list.h"

typedef struct _cairo_font_face cairo_font_face_t;

namespace spile {

/// The bytes of the font file that was built in; no file is opened when the program runs.
std::string_view font_bytes(Weight weight);

/// Shared by the whole program and never freed; unhinted, so that glyphs stand where core/paper put them.
cairo_font_face_t* font_face(Weight weight);

}  // namespace spile
