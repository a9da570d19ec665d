// The question "slide_piece". Inside of wasm/.
#pragma once

#include "wasm/json.h"
#include "wasm/request.h"

namespace spile::surface {

/// A piece of a layout dragged to a place: there when it may lie there, else as far on the straight way as it may and then
/// along what stopped it, or beyond that where a legal place is nearer (core/layout/check/nearest.h). From a layout that is not legal itself nothing is moved back.
Json slide_piece(Request& r);

}  // namespace spile::surface
