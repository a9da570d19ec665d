// Same input, same bytes: again, in another time zone, and in a locale of which the decimal point is two bytes long.
#include <gtest/gtest.h>

#include <map>

#include "export/csv/points_csv.h"
#include "export/dxf/dxf.h"
#include "export/hpgl/hpgl.h"
#include "export/pdf/pdf.h"
#include "export/png/png.h"
#include "export/qr/qr.h"
#include "export/svg/cut_svg.h"
#include "export/svg/page_svg.h"
#include "tests/export/sample.h"

namespace spile {
namespace {

std::map<std::string, std::string> every_file() {
    Sheet sheet;
    sheet.title = "Łódź";
    sheet.pages = {sample::page(), sample::page()};
    const MachineDrawing drawing = machine_drawing(sample::piece(), SeenFrom::back);
    return {{"pdf", *pdf_bytes(sheet)},
            {"png", *png_bytes(sample::page(), 4)},
            {"page svg", page_svg(sample::page(), sheet.title, qr_squares)},
            {"cut svg", cut_svg(drawing)},
            {"csv", points_csv(drawing)},
            {"hpgl", hpgl_strips(drawing, HpglRange::wide)->at(0)},
            {"dxf", dxf_bytes(drawing)},
            {"dxf r12", dxf_bytes(drawing, DxfVersion::r12)}};
}

TEST(Export, SameBytesAnywhere) {
    const auto here = every_file();
    EXPECT_EQ(here, every_file());
    const sample::Elsewhere elsewhere;
    for (const auto& [name, bytes] : every_file()) EXPECT_TRUE(bytes == here.at(name)) << name;
}

}  // namespace
}  // namespace spile
