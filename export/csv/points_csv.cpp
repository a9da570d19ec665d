#include "export/csv/points_csv.h"

#include "core/base/text.h"

namespace spile {
namespace {

std::string field(const std::string& text) {
    if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
    std::string quoted = "\"";
    for (const char c : text) {
        if (c == '"') quoted += '"';
        quoted += c;
    }
    return quoted + '"';
}

}  // namespace

std::string points_csv(const MachineDrawing& drawing) {
    std::string out = "piece,seen_from,purpose,line,closed,index,x_mm,y_mm,bulge\r\n";
    for (const MachineLine& line : drawing.lines) {
        const std::string head = field(line.piece) + "," + field(words_for(drawing.side)) + "," +
                                 words_for(line.purpose) + "," + field(line.name) + "," +
                                 (line.closed ? "yes" : "no") + ",";
        for (std::size_t i = 0; i < line.vertices.size(); ++i) {
            const Vertex& v = line.vertices[i];
            const bool has_edge = line.closed || i + 1 < line.vertices.size();
            out += head + std::to_string(i) + "," + fixed(v.p.x, 4) + "," + fixed(v.p.y, 4) + "," +
                   (has_edge ? shortest(v.bulge) : "0") + "\r\n";
        }
    }
    return out;
}

}  // namespace spile
