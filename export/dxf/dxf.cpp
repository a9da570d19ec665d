// The order of sections and the records below are those of the published DXF reference for release 2000 (from memory), held to it
// by an independent reader in the tests.
#include "export/dxf/dxf.h"

#include <algorithm>
#include <array>

#include "export/dxf/dxf_text.h"
#include "export/dxf/tags.h"

namespace spile {
namespace {

struct Layer {
    const char* name;
    int colour;  // of the 255 numbered ones: 1 red, 3 green, 4 cyan, 5 blue, 6 magenta, 7 black or white, 8 grey
};

constexpr std::array<Layer, 7> layers = {{{"GOODS", 8},
                                          {"MARKS", 3},
                                          {"STITCH", 5},
                                          {"SLITS", 6},
                                          {"BACKING_ONLY", 4},
                                          {"CUT_THROUGH", 1},
                                          {check_layer, 7}}};

/// Handles of the two spaces that entities and blocks belong to.
struct Spaces {
    std::string model, paper;
};

void line_types(Tags& out) {
    const std::vector<std::string> names = out.newer()
                                               ? std::vector<std::string>{"ByBlock", "ByLayer", "Continuous"}
                                               : std::vector<std::string>{"CONTINUOUS"};
    const std::string table = out.begin_table("LTYPE", static_cast<int>(names.size()));
    for (const std::string& name : names) {
        out.record("LTYPE", table, "AcDbLinetypeTableRecord", name);
        out.tag(70, 0);
        out.tag(3, name == "Continuous" || name == "CONTINUOUS" ? "Solid line" : "");
        out.tag(72, 65);
        out.tag(73, 0);
        out.number(40, 0);
    }
    out.end_table();
}

void layer_table(Tags& out) {
    const std::string table = out.begin_table("LAYER", static_cast<int>(layers.size()) + 1);
    const auto layer = [&](const char* name, int colour) {
        out.record("LAYER", table, "AcDbLayerTableRecord", name);
        out.tag(70, 0);
        out.tag(62, colour);
        out.tag(6, out.newer() ? "Continuous" : "CONTINUOUS");
    };
    layer("0", 7);
    for (const Layer& l : layers) layer(l.name, l.colour);
    out.end_table();
}

void text_styles(Tags& out) {
    const std::string table = out.begin_table("STYLE", 1);
    out.record("STYLE", table, "AcDbTextStyleTableRecord", "Standard");
    out.tag(70, 0);
    out.number(40, 0);
    out.number(41, 1);
    out.number(50, 0);
    out.tag(71, 0);
    out.number(42, 2.5);
    out.tag(3, "txt");
    out.tag(4, "");
    out.end_table();
}

/// A view of everything, so that the file opens on the drawing.
void view_port(Tags& out, const Box& box) {
    const std::string table = out.begin_table("VPORT", 1);
    out.record("VPORT", table, "AcDbViewportTableRecord", "*Active");
    out.tag(70, 0);
    out.pair(10, {0, 0});
    out.pair(11, {1, 1});
    out.pair(12, 0.5 * (box.min + box.max));
    out.pair(13, {0, 0});
    out.pair(14, {10, 10});
    out.pair(15, {10, 10});
    out.point(16, {0, 0});
    out.number(36,
               1);  // looking straight down: the last of three parts of the direction is written once more
    out.point(17, {0, 0});
    out.number(40, 1.1 * std::max(box.height(), box.width() / 1.5));
    out.number(41, 1.5);
    out.number(42, 50);
    for (const int code : {43, 44, 50, 51}) out.number(code, 0);
    for (const int code : {71, 73, 75, 76, 77, 78}) out.tag(code, 0);
    out.tag(72, 1000);
    out.tag(74, 3);
    out.end_table();
}

Spaces tables(Tags& out, const Box& box) {
    out.begin_section("TABLES");
    if (out.newer()) view_port(out, box);
    line_types(out);
    layer_table(out);
    text_styles(out);
    Spaces spaces;
    if (out.newer()) {
        for (const char* name : {"VIEW", "UCS"}) {
            out.begin_table(name, 0);
            out.end_table();
        }
        const std::string applications = out.begin_table("APPID", 1);
        out.record("APPID", applications, "AcDbRegAppTableRecord", "ACAD");
        out.tag(70, 0);
        out.end_table();
        const std::string dimensions = out.begin_table("DIMSTYLE", 1);
        out.subclass("AcDbDimStyleTable");
        out.tag(71, 1);
        out.record("DIMSTYLE", dimensions, "AcDbDimStyleTableRecord", "Standard", 105);
        out.tag(70, 0);
        out.end_table();
        const std::string blocks = out.begin_table("BLOCK_RECORD", 2);
        spaces.model = out.record("BLOCK_RECORD", blocks, "AcDbBlockTableRecord", "*Model_Space");
        out.tag(340, "0");
        spaces.paper = out.record("BLOCK_RECORD", blocks, "AcDbBlockTableRecord", "*Paper_Space");
        out.tag(340, "0");
        out.end_table();
    }
    out.end_section();
    return spaces;
}

void blocks(Tags& out, const Spaces& spaces) {
    out.begin_section("BLOCKS");
    for (const bool paper : {false, true}) {
        const std::string& owner = paper ? spaces.paper : spaces.model;
        const char* name = paper ? "*Paper_Space" : "*Model_Space";
        const auto entity = [&](const char* kind, const char* subclass) {
            out.begin(kind, owner);
            out.subclass("AcDbEntity");
            if (paper) out.tag(67, 1);
            out.tag(8, "0");
            out.subclass(subclass);
        };
        entity("BLOCK", "AcDbBlockBegin");
        out.tag(2, name);
        out.tag(70, 0);
        out.point(10, {0, 0});
        out.tag(3, name);
        out.tag(1, "");
        entity("ENDBLK", "AcDbBlockEnd");
    }
    out.end_section();
}

void polyline(Tags& out, const Spaces& spaces, const std::string& layer, const std::vector<Vertex>& vertices,
              bool closed) {
    const auto bulge = [&](std::size_t i) {
        return closed || i + 1 < vertices.size() ? vertices[i].bulge : 0.0;
    };
    if (out.newer()) {
        out.begin("LWPOLYLINE", spaces.model);
        out.subclass("AcDbEntity");
        out.tag(8, layer);
        out.subclass("AcDbPolyline");
        out.tag(90, static_cast<int>(vertices.size()));
        out.tag(70, closed ? 1 : 0);
        for (std::size_t i = 0; i < vertices.size(); ++i) {
            out.pair(10, vertices[i].p);
            if (bulge(i) != 0) out.number(42, bulge(i));
        }
        return;
    }
    out.tag(0, "POLYLINE");
    out.tag(8, layer);
    out.tag(66, 1);
    out.point(10, {0, 0});
    out.tag(70, closed ? 1 : 0);
    for (std::size_t i = 0; i < vertices.size(); ++i) {
        out.tag(0, "VERTEX");
        out.tag(8, layer);
        out.point(10, vertices[i].p);
        if (bulge(i) != 0) out.number(42, bulge(i));
    }
    out.tag(0, "SEQEND");
    out.tag(8, layer);
}

void text(Tags& out, const Spaces& spaces, const std::string& layer, Vec2 middle, double height,
          const std::string& utf8) {
    out.begin("TEXT", spaces.model);
    out.subclass("AcDbEntity");
    out.tag(8, layer);
    out.subclass("AcDbText");
    out.point(10, middle);
    out.number(40, height);
    out.tag(1, dxf_text(utf8));
    out.tag(72, 1);  // centred on the second point
    out.point(11, middle);
    out.subclass("AcDbText");
}

void objects(Tags& out) {
    out.begin_section("OBJECTS");
    const std::string root = out.begin("DICTIONARY", "0");
    out.subclass("AcDbDictionary");
    out.tag(281, 1);
    out.tag(3, "ACAD_GROUP");
    out.tag(350, out.next_handle());
    out.begin("DICTIONARY", root);
    out.subclass("AcDbDictionary");
    out.tag(281, 1);
    out.end_section();
}

/// Comes first in the file but names the first free handle.
std::string header(const Tags& body, const Box& box) {
    Tags out(body.newer() ? DxfVersion::r2000 : DxfVersion::r12);
    out.begin_section("HEADER");
    const auto variable = [&](const char* name) { out.tag(9, name); };
    variable("$ACADVER");
    out.tag(1, body.newer() ? "AC1015" : "AC1009");
    variable("$DWGCODEPAGE");
    out.tag(3, "ANSI_1252");
    variable("$EXTMIN");
    out.point(10, box.min);
    variable("$EXTMAX");
    out.point(10, box.max);
    if (body.newer()) {
        variable("$INSUNITS");
        out.tag(70, 4);
        variable("$MEASUREMENT");
        out.tag(70, 1);
        variable("$HANDSEED");
        out.tag(5, body.next_handle());
    }
    out.end_section();
    return out.text();
}

}  // namespace

std::string dxf_bytes(const MachineDrawing& drawing, DxfVersion version) {
    const double below = 20;
    const Vec2 square_min = {drawing.box.min.x, drawing.box.min.y - below - check_square_mm};
    const Vec2 square_max = square_min + Vec2{check_square_mm, check_square_mm};
    const Vec2 middle = 0.5 * (square_min + square_max);
    Box box = drawing.box;
    box.add(square_min);
    box.add(square_max);

    Tags body(version);
    const Spaces spaces = tables(body, box);
    if (body.newer()) blocks(body, spaces);
    body.begin_section("ENTITIES");
    for (const MachineLine& line : drawing.lines)
        polyline(body, spaces, layer_for(line.purpose), line.vertices, line.closed);
    for (const MachineText& t : drawing.texts)
        text(body, spaces, layer_for(t.purpose), t.at_mm, t.height_mm, t.utf8);
    polyline(body, spaces, check_layer, rectangle(square_min, square_max).vertices, true);
    text(body, spaces, check_layer, middle + Vec2{0, 10}, 6, "100 x 100 mm");
    text(body, spaces, check_layer, middle + Vec2{0, -10}, 4, drawing.title);
    body.end_section();
    if (body.newer()) objects(body);
    body.tag(0, "EOF");
    return header(body, box) + body.text();
}

}  // namespace spile
