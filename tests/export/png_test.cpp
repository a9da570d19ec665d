#include "export/png/png.h"

#include <cairo.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/export/sample.h"

namespace spile {
namespace {

using ::testing::HasSubstr;

/// The picture as cairo reads it: 0 black .. 255 white.
struct Picture {
    int width = 0, height = 0;
    std::vector<int> grey;
    int at(int x, int y) const { return grey[static_cast<std::size_t>(y * width + x)]; }
};

Picture read(const std::string& png) {
    const std::string path = sample::written("page.png", png);
    cairo_surface_t* surface = cairo_image_surface_create_from_png(path.c_str());
    EXPECT_EQ(cairo_surface_status(surface), CAIRO_STATUS_SUCCESS);
    Picture picture;
    picture.width = cairo_image_surface_get_width(surface);
    picture.height = cairo_image_surface_get_height(surface);
    const unsigned char* data = cairo_image_surface_get_data(surface);
    const int stride = cairo_image_surface_get_stride(surface);
    for (int y = 0; y < picture.height; ++y)
        for (int x = 0; x < picture.width; ++x) picture.grey.push_back(data[y * stride + 4 * x]);
    cairo_surface_destroy(surface);
    return picture;
}

TEST(Png, IsThePageAtTheDotsAskedFor) {
    Page page{50, 30.01, {}};
    Shape square;
    square.stroked = false;
    square.filled = true;
    square.fill.grey = 0.5;
    square.closed = {rectangle({10, 5}, {20, 15})};
    page.items.emplace_back(square);
    const Picture picture = read(*png_bytes(page, 10));
    EXPECT_EQ(picture.width, 500);
    EXPECT_EQ(picture.height, 301);
    EXPECT_EQ(picture.at(0, 0), 255);
    EXPECT_EQ(picture.at(99, 100), 255);
    EXPECT_NEAR(picture.at(100, 50), 128, 1);
    EXPECT_NEAR(picture.at(199, 149), 128, 1);
    EXPECT_EQ(picture.at(200, 100), 255);
    EXPECT_EQ(picture.at(150, 150), 255);
}

TEST(Png, FillsEvenOdd) {
    Page page{40, 40, {}};
    Shape ring;
    ring.filled = true;
    ring.stroked = false;
    ring.closed = {circle({20, 20}, 15), circle({20, 20}, 8)};
    page.items.emplace_back(ring);
    const Picture picture = read(*png_bytes(page, 5));
    EXPECT_EQ(picture.at(100, 100), 255);
    EXPECT_EQ(picture.at(100, 42), 0);
}

TEST(Png, RefusesWhatIsTooLarge) {
    for (const double dots : {200.0, 60.0}) {
        const Result<std::string> result = png_bytes(Page{}, dots);
        ASSERT_FALSE(result);
        EXPECT_EQ(result.findings.at(0).code, "picture-too-large");
        EXPECT_THAT(result.findings.at(0).says, HasSubstr("100 million"));
    }
}

}  // namespace
}  // namespace spile
