// The order of the knife in what machines are given, read back by readers of the formats that know nothing of it
// (tests/export/read_knife_order.py): from inside out, so that goods hang together while anything within them is cut.
#include <gtest/gtest.h>

#include <algorithm>

#include "core/geom/offset.h"
#include "export/dxf/dxf.h"
#include "export/hpgl/hpgl.h"
#include "export/svg/cut_svg.h"
#include "tests/export/sample.h"

namespace spile {
namespace {

struct Order {
    int lines = 0, loose = 0, late = 0;
};

Order order_of(const std::string& name, const std::string& bytes) {
    Order out;
    for (const std::string& line :
         sample::script("read_knife_order.py", "'" + sample::written(name, bytes) + "'"))
        EXPECT_EQ(
            std::sscanf(line.c_str(), "knife lines %d loose %d late %d", &out.lines, &out.loose, &out.late),
            3)
            << line;
    return out;
}

/// Two pieces with a post hole, one of them with a second hole, on a roll.
MachineDrawing roll(SeenFrom side) {
    std::vector<Piece> pieces = {sample::piece(), sample::piece()};
    pieces[1].id = "4";
    pieces[1].number = 4;
    pieces[1].cut.face.holes.push_back(reversed(circle({640, 300}, 60)));
    pieces[1].cut.backing.holes.push_back(reversed(circle({640, 300}, 60)));
    Layout layout;
    layout.placements = {{"4", 6350, 6350}, {"3", 1000000, 900000}};
    layout.bought_mm = 2 * 914.4;
    Goods goods;
    goods.usable_width_mm = 1800;
    return machine_drawing(pieces, layout, goods, side);
}

std::vector<std::pair<std::string, std::string>> files_of(const MachineDrawing& drawing) {
    return {{"order.dxf", dxf_bytes(drawing)},
            {"order-r12.dxf", dxf_bytes(drawing, DxfVersion::r12)},
            {"order.svg", cut_svg(drawing)},
            {"order.plt", hpgl_strips(drawing, HpglRange::wide)->front()}};
}

TEST(KnifeOrder, FromInsideOutInEveryFormat) {
    for (const SeenFrom side : {SeenFrom::face, SeenFrom::back})
        for (const auto& [name, bytes] : files_of(roll(side))) {
            const Order order = order_of(name, bytes);
            // Of each piece 8 slits, the hole and the turned edge of the backing, hole and outside of the face; one hole more.
            EXPECT_EQ(order.lines, 2 * 12 + 1) << name;
            EXPECT_EQ(order.loose, 5) << name;
            EXPECT_EQ(order.late, 0) << name;
        }
}

TEST(KnifeOrder, TheWrongWayRoundIsSeen) {
    MachineDrawing drawing = roll(SeenFrom::back);
    std::reverse(drawing.lines.begin(), drawing.lines.end());
    for (const auto& [name, bytes] : files_of(drawing)) {
        if (name == "order.svg") continue;  // its groups stand in an order of their own
        EXPECT_GE(order_of(name, bytes).late, 10) << name;
    }
}

}  // namespace
}  // namespace spile
