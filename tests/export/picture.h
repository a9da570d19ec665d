// Papers as seen: grey pictures of PDF pages by poppler's pdftoppm.
#pragma once

#include <string>

#include "core/geom/outline.h"

namespace spile::sample {

struct Picture {
    int width = 0, height = 0;
    double dots_per_mm = 0;
    std::string bytes;

    int grey(int x, int y) const {
        return static_cast<unsigned char>(
            bytes[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
                  static_cast<std::size_t>(x)]);
    }
    bool dark(int x, int y) const { return grey(x, y) < 128; }
    /// Middle of a dot, page mm.
    Vec2 mm(int x, int y) const { return {(x + 0.5) / dots_per_mm, (y + 0.5) / dots_per_mm}; }
    /// The box of all dark dots between two heights, mm, to the outer sides of its dots.
    Box dark_box_mm(double y_from_mm, double y_to_mm) const;
};

/// Page 1, 2, ... of a PDF.
Picture rasterised(const std::string& pdf, int dots_per_inch, int page = 1);

}  // namespace spile::sample
