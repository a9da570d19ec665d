#include "export/svg/cut_svg.h"

#include <array>

#include "core/paper/text_layout.h"
#include "export/svg/svg_words.h"

namespace spile {
namespace {

constexpr std::array<Purpose, 6> drawing_order = {Purpose::goods,        Purpose::marks,
                                                  Purpose::stitch,       Purpose::slits,
                                                  Purpose::backing_only, Purpose::cut_through};

/// The colours of the DXF layers. Solid lines: a machine that honours dashes would cut them.
const char* colour_for(Purpose purpose) {
    switch (purpose) {
        case Purpose::goods:
            return "#808080";
        case Purpose::marks:
            return "#00a000";
        case Purpose::stitch:
            return "#0000ff";
        case Purpose::slits:
            return "#ff00ff";
        case Purpose::backing_only:
            return "#00a0a0";
        case Purpose::cut_through:
            return "#ff0000";
    }
    return "";
}

/// SVG's coordinates of the same drawing: y counted down from the top, arcs turning the other way in those terms.
struct SvgFromDrawing {
    Box box;

    Vec2 operator()(Vec2 p) const { return {p.x - box.min.x, box.max.y - p.y}; }
    std::vector<Vertex> operator()(std::vector<Vertex> vertices) const {
        for (Vertex& v : vertices) v = {(*this)(v.p), -v.bulge, v.tag};
        return vertices;
    }
};

std::string svg(const MachineLine& line, const SvgFromDrawing& svg_from_drawing) {
    const std::vector<Vertex> vertices = svg_from_drawing(line.vertices);
    std::string out = "<path";
    if (!line.piece.empty()) out += " data-piece=\"" + xml_escaped(line.piece) + "\"";
    out += " data-name=\"" + xml_escaped(line.name) + "\" d=\"";
    out += line.closed ? svg_path(Outline{vertices}) : svg_path(Path{vertices});
    return out + "\"/>\n";
}

std::string svg(const MachineText& text, const SvgFromDrawing& svg_from_drawing) {
    const Vec2 at = svg_from_drawing(text.at_mm);
    const double em = text.height_mm / font_heights().capital;
    return "<text x=\"" + svg_number(at.x) + "\" y=\"" + svg_number(at.y) + "\" font-size=\"" +
           svg_number(em) + "\" textLength=\"" + svg_number(text_width_mm(text.utf8, em, Weight::regular)) +
           "\" text-anchor=\"middle\">" + xml_escaped(text.utf8) + "</text>\n";
}

}  // namespace

std::string cut_svg(const MachineDrawing& drawing) {
    const std::string width = svg_number(drawing.box.width());
    const std::string height = svg_number(drawing.box.height());
    std::string out =
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"" +
        width + "mm\" height=\"" + height + "mm\" viewBox=\"0 0 " + width + " " + height +
        "\" fill=\"none\" stroke-width=\"0.4\" overflow=\"visible\">\n<title>" + xml_escaped(drawing.title) +
        "</title>\n";
    const SvgFromDrawing svg_from_drawing{drawing.box};
    for (const Purpose purpose : drawing_order) {
        std::string group;
        for (const MachineLine& line : drawing.lines)
            if (line.purpose == purpose) group += svg(line, svg_from_drawing);
        std::string writing;
        for (const MachineText& text : drawing.texts)
            if (text.purpose == purpose) writing += svg(text, svg_from_drawing);
        if (!writing.empty())
            group += "<g fill=\"#000000\" stroke=\"none\" font-family=\"Inter,sans-serif\">\n" + writing +
                     "</g>\n";
        if (!group.empty())
            out += std::string("<g id=\"") + layer_for(purpose) + "\" stroke=\"" + colour_for(purpose) +
                   "\">\n<title>" + words_for(purpose) + "</title>\n" + group + "</g>\n";
    }
    return out + "</svg>\n";
}

}  // namespace spile
