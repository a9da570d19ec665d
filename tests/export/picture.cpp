#include "tests/export/picture.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cstdio>

#include "tests/export/sample.h"

namespace spile::sample {

Box Picture::dark_box_mm(double y_from_mm, double y_to_mm) const {
    Box box;
    for (int y = static_cast<int>(y_from_mm * dots_per_mm);
         y < std::min(height, static_cast<int>(y_to_mm * dots_per_mm)); ++y)
        for (int x = 0; x < width; ++x)
            if (dark(x, y)) {
                box.add(Vec2{x / dots_per_mm, y / dots_per_mm});
                box.add(Vec2{(x + 1) / dots_per_mm, (y + 1) / dots_per_mm});
            }
    return box;
}

Picture rasterised(const std::string& pdf, int dots_per_inch, int page) {
    const std::string path = written("page.pdf", pdf), number = std::to_string(page);
    const std::string pgm = output_of("pdftoppm -gray -singlefile -f " + number + " -l " + number + " -r " +
                                      std::to_string(dots_per_inch) + " '" + path + "'");
    Picture picture;
    int header = 0, deepest = 0;
    EXPECT_EQ(std::sscanf(pgm.c_str(), "P5 %d %d %d%n", &picture.width, &picture.height, &deepest, &header),
              3);
    EXPECT_EQ(deepest, 255);
    picture.bytes = pgm.substr(static_cast<std::size_t>(header) + 1);
    picture.dots_per_mm = dots_per_inch / 25.4;
    return picture;
}

}  // namespace spile::sample
