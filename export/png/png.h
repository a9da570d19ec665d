// A page as a picture.
#pragma once

#include <string>

#include "core/base/result.h"
#include "core/paper/display_list.h"

namespace spile {

/// Guarantees: ceil(size x dots_per_mm) pixels each way, white ground, pixel (0, 0) at the page's top left;
/// same page, same bytes. On bad input: a stop "picture-too-large" beyond `most_picture_pixels`. Requires:
/// dots_per_mm finite and > 0.
Result<std::string> png_bytes(const Page& page, double dots_per_mm);

inline constexpr double most_picture_pixels = 100e6;  ///< 400 MB while it is drawn

}  // namespace spile
