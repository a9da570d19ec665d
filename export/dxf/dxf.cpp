#include "export/dxf/dxf.h"

#include <dxflib/dl_dxf.h>

#include <array>
#include <exception>

#include "export/dxf/dxf_text.h"
#include "export/dxf/memory_file.h"

namespace spile {
namespace {

struct Layer {
    const char* name;
    int colour;  // AutoCAD colour index: black/white, red, ... so that they differ on a screen
};

constexpr std::array<Layer, 7> layers = {{{"GOODS", 8},
                                          {"MARKS", 3},
                                          {"STITCH", 5},
                                          {"SLITS", 6},
                                          {"BACKING_ONLY", 4},
                                          {"CUT_THROUGH", 1},
                                          {check_layer, 7}}};

/// The writer of dxflib with the few calls that are needed here.
class Writer {
  public:
    Writer(const std::string& path, DxfVersion version)
        : newer_(version == DxfVersion::r2000),
          to_(path.c_str(), newer_ ? DL_Codes::AC1015 : DL_Codes::AC1009) {}

    bool open() const { return !to_.openFailed(); }

    void header(const Box& box) {
        dxf_.writeHeader(to_);
        if (newer_) {
            variable("$INSUNITS", 4);
            variable("$MEASUREMENT", 1);
        }
        corner("$EXTMIN", box.min);
        corner("$EXTMAX", box.max);
        to_.sectionEnd();
    }

    void tables() {
        to_.sectionTables();
        dxf_.writeVPort(to_);
        to_.tableLinetypes(3);
        for (const char* name : {"BYBLOCK", "BYLAYER", "CONTINUOUS"})
            dxf_.writeLinetype(to_, DL_LinetypeData(name, name, 0, 0, 0.0));
        to_.tableEnd();
        to_.tableLayers(static_cast<int>(layers.size()) + 1);
        dxf_.writeLayer(to_, DL_LayerData("0", 0), DL_Attributes("", 7, -1, "CONTINUOUS", 1.0));
        for (const Layer& layer : layers)
            dxf_.writeLayer(to_, DL_LayerData(layer.name, 0),
                            DL_Attributes("", layer.colour, -1, "CONTINUOUS", 1.0));
        to_.tableEnd();
        to_.tableStyle(1);
        dxf_.writeStyle(to_, DL_StyleData("Standard", 0, 0.0, 1.0, 0.0, 0, 2.5, "txt", ""));
        to_.tableEnd();
        dxf_.writeView(to_);
        dxf_.writeUcs(to_);
        to_.tableAppid(1);
        dxf_.writeAppid(to_, "ACAD");
        to_.tableEnd();
        dxf_.writeDimStyle(to_, 1, 1, 1, 1, 1);
        if (newer_) {
            dxf_.writeBlockRecord(to_);
            to_.tableEnd();
        }
        to_.sectionEnd();
        to_.sectionBlocks();
        for (const char* name : {"*Model_Space", "*Paper_Space", "*Paper_Space0"}) {
            if (!newer_ && std::string(name) == "*Paper_Space0") continue;
            dxf_.writeBlock(to_, DL_BlockData(name, 0, 0.0, 0.0, 0.0));
            dxf_.writeEndBlock(to_, name);
        }
        to_.sectionEnd();
    }

    void begin_entities() { to_.sectionEntities(); }

    void polyline(const std::string& layer, const std::vector<Vertex>& vertices, bool closed) {
        const int count = static_cast<int>(vertices.size());
        dxf_.writePolyline(to_, DL_PolylineData(count, 0, 0, closed ? 1 : 0), on(layer));
        for (std::size_t i = 0; i < vertices.size(); ++i) {
            const Vertex& v = vertices[i];
            const bool has_edge = closed || i + 1 < vertices.size();
            dxf_.writeVertex(to_, DL_VertexData(v.p.x, v.p.y, 0.0, has_edge ? v.bulge : 0.0));
        }
        dxf_.writePolylineEnd(to_);
    }

    void text(const std::string& layer, Vec2 middle, double height, const std::string& utf8) {
        constexpr int centred = 1;
        dxf_.writeText(to_,
                       DL_TextData(middle.x, middle.y, 0, middle.x, middle.y, 0, height, 1.0, 0, centred, 0,
                                   dxf_text(utf8), "Standard", 0.0),
                       on(layer));
    }

    void end() {
        to_.sectionEnd();
        if (newer_) {
            dxf_.writeObjects(to_);
            dxf_.writeObjectsEnd(to_);
        }
        to_.dxfEOF();
        to_.close();
    }

  private:
    static DL_Attributes on(const std::string& layer) {
        return DL_Attributes(layer, 256, -1, "BYLAYER", 1.0);
    }

    void variable(const char* name, int value) {
        to_.dxfString(9, name);
        to_.dxfInt(70, value);
    }
    void corner(const char* name, Vec2 p) {
        to_.dxfString(9, name);
        to_.dxfReal(10, p.x);
        to_.dxfReal(20, p.y);
        to_.dxfReal(30, 0);
    }

    bool newer_;
    DL_Dxf dxf_;
    DL_WriterA to_;
};

void write(Writer& writer, const MachineDrawing& drawing) {
    const double below = 20;
    const Vec2 square_max = {drawing.box.min.x + check_square_mm, drawing.box.min.y - below};
    const Vec2 square_min = {drawing.box.min.x, square_max.y - check_square_mm};
    const Vec2 square_middle = 0.5 * (square_min + square_max);
    Box box = drawing.box;
    box.add(square_min);
    box.add(square_max);

    writer.header(box);
    writer.tables();
    writer.begin_entities();
    for (const MachineLine& line : drawing.lines)
        writer.polyline(layer_for(line.purpose), line.vertices, line.closed);
    for (const MachineText& text : drawing.texts)
        writer.text(layer_for(text.purpose), text.at_mm, text.height_mm, text.utf8);
    writer.polyline(check_layer, rectangle(square_min, square_max).vertices, true);
    writer.text(check_layer, square_middle + Vec2{0, 10}, 6, "100 x 100 mm");
    writer.text(check_layer, square_middle + Vec2{0, -10}, 4, drawing.title);
    writer.end();
}

Finding not_written(const std::string& why) {
    Finding finding;
    finding.code = "dxf-not-written";
    finding.severity = Severity::stop;
    finding.subject = {"paper", ""};
    finding.says = "The DXF file could not be written: " + why + ".";
    finding.to_do = "Close other programs and try again; the SVG and CSV hold the same lines.";
    return finding;
}

}  // namespace

Result<std::string> dxf_bytes(const MachineDrawing& drawing, DxfVersion version) {
    // dxflib writes to a path and knows no errors: what it wrote is read back and must be whole.
    try {
        MemoryFile file;
        if (!file.open())
            return Result<std::string>::refuse(not_written("the system gives no memory to write in"));
        {
            Writer writer(file.path(), version);
            if (!writer.open())
                return Result<std::string>::refuse(not_written("the system gives no memory to write in"));
            write(writer, drawing);
        }
        std::string bytes = file.bytes();
        if (bytes.size() < 4 || bytes.compare(bytes.size() - 4, 4, "EOF\n") != 0)
            return Result<std::string>::refuse(not_written("it was cut short"));
        return Result<std::string>::ok(std::move(bytes));
    } catch (const std::exception& e) {
        return Result<std::string>::refuse(not_written(e.what()));
    }
}

}  // namespace spile
