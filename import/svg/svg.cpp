#include "import/svg/svg.h"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <pugixml.hpp>

#include "core/base/stop.h"
#include "import/svg/path.h"

namespace spile::import {
namespace {

constexpr double kPi = 3.14159265358979323846;
constexpr int kChords = 64;  ///< of one Bezier curve

Finding fault(const char* code, std::string says, std::string to_do) {
    return stop_finding(code, std::move(says), std::move(to_do), {"drawing", ""});
}

/// x' = a x + c y + e, y' = b x + d y + f, as SVG writes it.
struct Matrix {
    double a = 1, b = 0, c = 0, d = 1, e = 0, f = 0;
    Vec2 operator()(Vec2 p) const { return {a * p.x + c * p.y + e, b * p.x + d * p.y + f}; }
    Matrix operator*(const Matrix& m) const {
        return {a * m.a + c * m.b, b * m.a + d * m.b,     a * m.c + c * m.d,
                b * m.c + d * m.d, a * m.e + c * m.f + e, b * m.e + d * m.f + f};
    }
};

Matrix turned(double degrees) {
    const double w = degrees * kPi / 180;
    return {std::cos(w), std::sin(w), -std::sin(w), std::cos(w), 0, 0};
}

Matrix read_transform(std::string_view text, bool& sound) {
    Matrix all;
    while (true) {
        const std::size_t open = text.find('(');
        if (open == text.npos) break;
        const std::size_t close = text.find(')', open);
        if (close == text.npos) {
            sound = false;
            break;
        }
        std::string name(text.substr(0, open));
        name.erase(std::remove_if(name.begin(), name.end(),
                                  [](char ch) {
                                      return ch == ' ' || ch == ',' || ch == '\n' || ch == '\t' || ch == '\r';
                                  }),
                   name.end());
        const std::vector<double> v = read_numbers(text.substr(open + 1, close - open - 1));
        const std::size_t n = v.size();
        Matrix m;
        if (name == "matrix" && n == 6) {
            m = {v[0], v[1], v[2], v[3], v[4], v[5]};
        } else if (name == "translate" && (n == 1 || n == 2)) {
            m.e = v[0];
            m.f = n == 2 ? v[1] : 0;
        } else if (name == "scale" && (n == 1 || n == 2)) {
            m.a = v[0];
            m.d = n == 2 ? v[1] : v[0];
        } else if (name == "rotate" && (n == 1 || n == 3)) {
            m = turned(v[0]);
            if (n == 3) m = Matrix{1, 0, 0, 1, v[1], v[2]} * m * Matrix{1, 0, 0, 1, -v[1], -v[2]};
        } else if (name == "skewX" && n == 1) {
            m.c = std::tan(v[0] * kPi / 180);
        } else if (name == "skewY" && n == 1) {
            m.b = std::tan(v[0] * kPi / 180);
        } else {
            sound = false;
        }
        all = all * m;
        text = text.substr(close + 1);
    }
    return all;
}

/// Millimetres of a length such as "210mm"; nothing without a unit that has a size.
std::optional<double> physical(const char* text) {
    const std::vector<double> v = read_numbers(text);
    if (v.empty() || !(v[0] > 0)) return std::nullopt;
    const std::string all(text);
    const std::size_t at = all.find_first_not_of("0123456789+-.eE ");
    std::string unit = at == all.npos ? "" : all.substr(at);
    while (!unit.empty() && unit.back() == ' ') unit.pop_back();
    const std::pair<const char*, double> units[] = {
        {"mm", 1}, {"cm", 10}, {"in", 25.4}, {"pt", 25.4 / 72}, {"pc", 25.4 / 6}};
    for (const auto& [name, mm] : units)
        if (unit == name || (at != all.npos && all.substr(at) == name)) return v[0] * mm;
    return std::nullopt;
}

class Reader {
  public:
    Drawing drawing;

    void run(const pugi::xml_node& root) {
        const std::vector<double> box = read_numbers(root.attribute("viewBox").as_string());
        const auto width = physical(root.attribute("width").as_string());
        const auto height = physical(root.attribute("height").as_string());
        if (box.size() == 4 && box[2] > 0 && box[3] > 0) {
            if (width) drawing.mm_per_unit = *width / box[2];
            // Unless it is told to stretch, the picture keeps its shape.
            if (width && height) drawing.mm_per_unit = std::min(*width / box[2], *height / box[3]);
        }
        const Matrix up{1, 0, 0, -1, 0, 0};
        children(root, up, "", 0);
    }

    bool too_large = false;

  private:
    void pass(const std::string& kind) {
        auto& all = drawing.passed_over;
        if (std::find(all.begin(), all.end(), kind) == all.end()) all.push_back(kind);
    }

    void children(const pugi::xml_node& node, const Matrix& m, const std::string& layer, int depth) {
        if (depth > limits::depth) return pass("groups nested too deeply");
        for (const pugi::xml_node& child : node.children()) {
            if (too_large) return;
            if (child.type() == pugi::node_element) element(child, m, layer, depth);
        }
    }

    void element(const pugi::xml_node& node, const Matrix& outer, const std::string& layer, int depth) {
        const std::string name = node.name();
        const char* style = node.attribute("style").as_string();
        if (std::strcmp(node.attribute("display").as_string(), "none") == 0 ||
            std::strstr(style, "display:none"))
            return pass("what is not shown");
        bool sound = true;
        const Matrix m = outer * read_transform(node.attribute("transform").as_string(), sound);
        if (!sound) return pass("things with a transform that cannot be read");
        const auto number = [&](const char* key) {
            const std::vector<double> v = read_numbers(node.attribute(key).as_string());
            return v.empty() ? 0.0 : v[0];
        };
        if (name == "g" || name == "svg" || name == "a" || name == "switch") {
            const std::string id = node.attribute("id").as_string();
            children(node, m, name == "g" && !id.empty() ? id : layer, depth + 1);
        } else if (name == "path") {
            for (SubPath& sub : read_path(node.attribute("d").as_string(), kChords, sound))
                add(std::move(sub.points), sub.closed, m, layer);
            if (!sound) pass("the rest of a path that cannot be read");
        } else if (name == "line") {
            add({{number("x1"), number("y1")}, {number("x2"), number("y2")}}, false, m, layer);
        } else if (name == "polyline" || name == "polygon") {
            const std::vector<double> v = read_numbers(node.attribute("points").as_string());
            std::vector<Vec2> points;
            for (std::size_t i = 0; i + 1 < v.size(); i += 2) points.push_back({v[i], v[i + 1]});
            add(std::move(points), name == "polygon", m, layer);
        } else if (name == "rect") {
            rectangle({number("x"), number("y")}, number("width"), number("height"), number("rx"),
                      number("ry"), m, layer);
        } else if (name == "circle") {
            ellipse({number("cx"), number("cy")}, number("r"), number("r"), m, layer);
        } else if (name == "ellipse") {
            ellipse({number("cx"), number("cy")}, number("rx"), number("ry"), m, layer);
        } else if (name == "text" || name == "image" || name == "use") {
            pass(name == "text" ? "text" : name == "image" ? "pictures" : "copies by \"use\"");
        }
    }

    void rectangle(Vec2 at, double w, double h, double rx, double ry, const Matrix& m,
                   const std::string& layer) {
        if (!(w > 0) || !(h > 0)) return;
        if (rx == 0) rx = ry;
        if (ry == 0) ry = rx;
        rx = std::min(rx, w / 2);
        ry = std::min(ry, h / 2);
        std::vector<Vec2> p;
        const Vec2 corner[] = {{at.x + w, at.y}, {at.x + w, at.y + h}, {at.x, at.y + h}, at};
        const Vec2 into[] = {{-rx, 0}, {0, -ry}, {rx, 0}, {0, ry}},
                   out[] = {{0, ry}, {-rx, 0}, {0, -ry}, {rx, 0}};
        for (int i = 0; i < 4; ++i) {
            p.push_back(corner[i] + into[i]);
            if (rx > 0) add_ellipse_arc(p, p.back(), rx, ry, 0, false, true, corner[i] + out[i], kChords);
        }
        add(std::move(p), true, m, layer);
    }

    void ellipse(Vec2 c, double rx, double ry, const Matrix& m, const std::string& layer) {
        if (!(rx > 0) || !(ry > 0)) return;
        std::vector<Vec2> p{{c.x + rx, c.y}};
        add_ellipse_arc(p, p[0], rx, ry, 0, false, true, {c.x - rx, c.y}, 4 * kChords);
        add_ellipse_arc(p, {c.x - rx, c.y}, rx, ry, 0, false, true, {c.x + rx, c.y}, 4 * kChords);
        p.pop_back();
        add(std::move(p), true, m, layer);
    }

    void add(std::vector<Vec2> points, bool closed, const Matrix& m, const std::string& layer) {
        for (Vec2& p : points) {
            p = m(p);
            if (!std::isfinite(p.x + p.y) || std::fabs(p.x) + std::fabs(p.y) > 1e9)
                return pass("lines without a place");
        }
        DrawnLine line{layer, {}, closed, 0};
        for (std::size_t i = 0; i + 1 < points.size(); ++i)
            if (!(points[i] == points[i + 1])) line.edges.push_back({points[i], points[i + 1], 0, 0});
        if (line.edges.empty()) return;
        if (closed && !(points.back() == points.front()))
            line.edges.push_back({points.back(), points.front(), 0, 0});
        edges_ += line.edges.size();
        too_large = edges_ > limits::edges || drawing.lines.size() >= limits::lines;
        if (!too_large) drawing.lines.push_back(std::move(line));
    }

    std::size_t edges_ = 0;
};

}  // namespace

Result<Drawing> read_svg(const std::string& bytes) {
    if (bytes.size() > limits::bytes)
        return Result<Drawing>::refuse(fault("drawing-too-large", "The drawing is larger than 20 MB.",
                                             "Leave in it what a panel needs and save it again."));
    pugi::xml_document document;
    const pugi::xml_parse_result parsed =
        document.load_buffer(bytes.data(), bytes.size(), pugi::parse_minimal | pugi::parse_escapes);
    if (!parsed)
        return Result<Drawing>::refuse(
            fault("not-svg",
                  "The file is no SVG that can be read: " + std::string(parsed.description()) + ", at byte " +
                      std::to_string(parsed.offset) + ".",
                  "Save it again as plain SVG, not packed."));
    const pugi::xml_node root = document.document_element();
    if (std::string(root.name()) != "svg")
        return Result<Drawing>::refuse(
            fault("not-svg", "The file is XML but no SVG.", "Save it as plain SVG."));
    Reader reader;
    reader.run(root);
    if (reader.too_large)
        return Result<Drawing>::refuse(fault("drawing-too-large",
                                             "The drawing holds more than 200000 edges or 20000 lines.",
                                             "Leave in it what a panel needs and save it again."));
    return Result<Drawing>::ok(std::move(reader.drawing));
}

}  // namespace spile::import
