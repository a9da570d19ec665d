#include "import/dxf/dxf.h"

#include <dxflib/dl_creationadapter.h>
#include <dxflib/dl_dxf.h>

#include <algorithm>
#include <cmath>
#include <sstream>

#include "core/base/stop.h"
#include "core/geom/fair.h"

namespace spile::import {
namespace {

constexpr double kPi = 3.14159265358979323846;
constexpr int kChordsOfEllipse = 720;
constexpr int kChordsOfSpan = 48;  ///< of a spline, from knot to knot

Finding fault(const char* code, std::string says, std::string to_do) {
    return stop_finding(code, std::move(says), std::move(to_do), {"drawing", ""});
}

/// Millimetres of a unit of $INSUNITS (DXF reference, header variables); nothing for 0 and those no boat is drawn in.
std::optional<double> unit_of(int code) {
    switch (code) {
        case 1:
            return 25.4;
        case 2:
            return 304.8;
        case 4:
            return 1;
        case 5:
            return 10;
        case 6:
            return 1000;
        case 10:
            return 914.4;
        case 14:
            return 100;
        default:
            return std::nullopt;
    }
}

struct TooLarge {};

/// A point of a spline of any degree by de Boor's recursion (from memory).
Vec2 spline_at(const std::vector<double>& knots, const std::vector<Vec2>& control, std::size_t degree,
               std::size_t span, double t) {
    std::vector<Vec2> d(control.begin() + static_cast<std::ptrdiff_t>(span - degree),
                        control.begin() + static_cast<std::ptrdiff_t>(span + 1));
    for (std::size_t r = 1; r <= degree; ++r)
        for (std::size_t j = degree; j >= r; --j) {
            const double low = knots[j + span - degree], high = knots[j + 1 + span - r];
            const double share = high > low ? (t - low) / (high - low) : 0;
            d[j] = lerp(d[j - 1], d[j], share);
        }
    return d[degree];
}

class Reader : public DL_CreationAdapter {
  public:
    Drawing drawing;

    void setVariableInt(const std::string& key, int value, int) override {
        if (key == "$INSUNITS") drawing.mm_per_unit = unit_of(value);
    }
    void addBlock(const DL_BlockData&) override { in_block_ = true; }
    void endBlock() override { in_block_ = false; }
    void addInsert(const DL_InsertData&) override { pass("inserted blocks"); }
    void addText(const DL_TextData&) override { pass("text"); }
    void addMText(const DL_MTextData&) override { pass("text"); }
    void addHatch(const DL_HatchData&) override { pass("hatches"); }
    void addPoint(const DL_PointData&) override { pass("points"); }
    void addDimLinear(const DL_DimensionData&, const DL_DimLinearData&) override { pass("dimensions"); }
    void addDimAlign(const DL_DimensionData&, const DL_DimAlignedData&) override { pass("dimensions"); }

    void addLine(const DL_LineData& l) override {
        finish();
        add({{{l.x1, l.y1}, {l.x2, l.y2}, 0, 0}}, false);
    }
    void addArc(const DL_ArcData& a) override {
        finish();
        double sweep = a.angle2 - a.angle1;
        while (sweep <= 0) sweep += 360;
        while (sweep > 360) sweep -= 360;
        add(arc({a.cx, a.cy}, a.radius, a.angle1 * kPi / 180, sweep * kPi / 180), false);
    }
    void addCircle(const DL_CircleData& c) override {
        finish();
        add(arc({c.cx, c.cy}, c.radius, 0, 2 * kPi), true);
    }
    void addEllipse(const DL_EllipseData& e) override {
        finish();
        const Vec2 centre{e.cx, e.cy}, major{e.mx, e.my};
        const Vec2 minor = e.ratio * left_of(major);
        double sweep = e.angle2 - e.angle1;
        if (sweep <= 0) sweep += 2 * kPi;
        const bool whole = sweep > 2 * kPi - 1e-9;
        std::vector<Vec2> points;
        for (int i = 0; i <= kChordsOfEllipse; ++i) {
            const double w = e.angle1 + sweep * i / kChordsOfEllipse;
            points.push_back(centre + std::cos(w) * major + std::sin(w) * minor);
        }
        if (whole) points.back() = points.front();
        add(chain(points), whole);
    }
    void addPolyline(const DL_PolylineData& p) override {
        finish();
        in_polyline_ = (p.flags & (16 | 64)) == 0;  // no meshes
        if (!in_polyline_) pass("meshes");
        closed_ = (p.flags & 1) != 0;
        layer_ = attributes.getLayer();
    }
    void addVertex(const DL_VertexData& v) override {
        if (in_polyline_) count(1), vertices_.push_back({{v.x, v.y}, v.bulge, 0});
    }
    void addSpline(const DL_SplineData& s) override {
        finish();
        in_spline_ = true;
        degree_ = s.degree;
        closed_ = (s.flags & 1) != 0;
        layer_ = attributes.getLayer();
    }
    void addControlPoint(const DL_ControlPointData& p) override {
        if (std::fabs(p.w - 1) > 1e-9 && p.w != 0) weighed_ = true;
        if (in_spline_) count(1), control_.push_back({p.x, p.y});
    }
    void addFitPoint(const DL_FitPointData& p) override {
        if (in_spline_) count(1), fit_.push_back({p.x, p.y});
    }
    void addKnot(const DL_KnotData& k) override {
        if (in_spline_) count(1), knots_.push_back(k.k);
    }
    void endEntity() override { finish(); }
    void endSequence() override { finish(); }

    /// What is begun and not ended by an entity of its own.
    void finish() {
        if (in_polyline_) finish_polyline();
        if (in_spline_) finish_spline();
        in_polyline_ = in_spline_ = weighed_ = false;
        vertices_.clear();
        control_.clear();
        fit_.clear();
        knots_.clear();
    }

  private:
    void pass(const std::string& kind) {
        finish();
        auto& all = drawing.passed_over;
        if (!in_block_ && std::find(all.begin(), all.end(), kind) == all.end()) all.push_back(kind);
    }

    void count(std::size_t n) {
        edges_ += n;
        if (edges_ > limits::edges || drawing.lines.size() > limits::lines) throw TooLarge{};
    }

    static std::vector<Edge> arc(Vec2 centre, double radius, double start, double sweep) {
        // At most half a circle each.
        const int parts = sweep > kPi ? 2 : 1;
        std::vector<Edge> out;
        const auto at = [&](double w) { return centre + radius * Vec2{std::cos(w), std::sin(w)}; };
        for (int i = 0; i < parts; ++i)
            out.push_back({at(start + sweep * i / parts), at(start + sweep * (i + 1) / parts),
                           std::tan(sweep / parts / 4), 0});
        if (parts == 2) out[1].a = out[0].b;
        if (sweep > 2 * kPi - 1e-9 && parts == 2) out[1].b = out[0].a;
        return out;
    }

    static std::vector<Edge> chain(const std::vector<Vec2>& points) {
        std::vector<Edge> out;
        for (std::size_t i = 0; i + 1 < points.size(); ++i) out.push_back({points[i], points[i + 1], 0, 0});
        return out;
    }

    void add(std::vector<Edge> edges, bool closed) {
        if (in_block_) return;
        for (const Edge& e : edges)
            if (!std::isfinite(e.a.x + e.a.y + e.b.x + e.b.y + e.bulge) ||
                std::fabs(e.a.x) + std::fabs(e.a.y) > 1e9)
                return pass("lines without a place");
        count(edges.size());
        drawing.lines.push_back({attributes.getLayer(), std::move(edges), closed, 0});
    }

    void finish_polyline() {
        std::vector<Edge> edges;
        const std::size_t n = vertices_.size();
        for (std::size_t i = 0; i + 1 < n || (closed_ && i < n); ++i) {
            const Vec2 a = vertices_[i].p, b = vertices_[(i + 1) % n].p;
            const double bulge = vertices_[i].bulge;
            if (!(a == b)) add_arc(a, b, bulge, edges);
        }
        if (!edges.empty()) add_on(layer_, std::move(edges), closed_);
    }

    void finish_spline() {
        if (weighed_) return pass_kept("weighted splines");
        if (control_.size() <= degree_ || degree_ < 1 || degree_ > 11 ||
            knots_.size() != control_.size() + degree_ + 1 || !std::is_sorted(knots_.begin(), knots_.end()))
            return pass_kept("splines without control points");
        std::vector<Vec2> points;
        for (std::size_t span = degree_; span < control_.size(); ++span) {
            const double from = knots_[span], to = knots_[span + 1];
            if (!(to > from)) continue;
            count(kChordsOfSpan);
            for (int i = points.empty() ? 0 : 1; i <= kChordsOfSpan; ++i)
                points.push_back(
                    spline_at(knots_, control_, degree_, span, from + (to - from) * i / kChordsOfSpan));
        }
        if (points.size() < 2) return;
        const bool closed =
            points.front() == points.back() ||
            (closed_ && distance(points.front(), points.back()) < 1e-9 * norm(points.front()));
        if (closed) points.back() = points.front();
        add_on(layer_, chain(points), closed);
    }

    void pass_kept(const char* kind) {
        auto& all = drawing.passed_over;
        if (!in_block_ && std::find(all.begin(), all.end(), kind) == all.end()) all.push_back(kind);
    }

    void add_on(const std::string& layer, std::vector<Edge> edges, bool closed) {
        const std::size_t before = drawing.lines.size();
        add(std::move(edges), closed);
        if (drawing.lines.size() > before) drawing.lines.back().layer = layer;
    }

    bool in_block_ = false, in_polyline_ = false, in_spline_ = false, closed_ = false, weighed_ = false;
    std::string layer_;
    std::size_t degree_ = 0, edges_ = 0;
    std::vector<Vertex> vertices_;
    std::vector<Vec2> control_, fit_;
    std::vector<double> knots_;
};

/// Whether the text is whole pairs of a group code and a value, from SECTION to EOF: what the library is given must be, for
/// it waits for the rest of what breaks off.
bool whole_pairs(const std::string& text) {
    bool code = true, ended = false, section = false;
    std::size_t at = 0;
    while (at < text.size() && !ended) {
        std::size_t end = text.find('\n', at);
        if (end == text.npos) end = text.size();
        std::size_t a = at, b = end;
        while (a < b && (text[a] == ' ' || text[a] == '\t')) ++a;
        while (b > a && (text[b - 1] == ' ' || text[b - 1] == '\t' || text[b - 1] == '\r')) --b;
        const std::string line = text.substr(a, std::min<std::size_t>(b - a, 300));
        if (b - a > 250) return false;  // the library's own limit is 256
        if (code) {
            if (line.empty() || line.size() > 5) return false;
            for (std::size_t i = 0; i < line.size(); ++i)
                if ((line[i] < '0' || line[i] > '9') && !(i == 0 && line[i] == '-' && line.size() > 1))
                    return false;
        } else {
            section = section || line == "SECTION";
            ended = line == "EOF";
        }
        code = !code;
        at = end + 1;
    }
    return section && ended;
}

}  // namespace

Result<Drawing> read_dxf(const std::string& bytes) {
    if (bytes.size() > limits::bytes)
        return Result<Drawing>::refuse(fault("drawing-too-large", "The drawing is larger than 20 MB.",
                                             "Leave in it what a panel needs and save it again."));
    if (!whole_pairs(bytes))
        return Result<Drawing>::refuse(
            fault("not-dxf",
                  "The file is no whole text DXF: pairs of a group code and a value from SECTION to EOF.",
                  "Save it again as DXF in text form (ASCII), not binary."));
    try {
        std::istringstream in(bytes);
        in.imbue(std::locale::classic());
        DL_Dxf dxf;
        Reader reader;
        if (!dxf.in(in, &reader))
            return Result<Drawing>::refuse(fault("not-dxf", "The DXF cannot be read.", "Save it again."));
        reader.finish();
        return Result<Drawing>::ok(std::move(reader.drawing));
    } catch (const TooLarge&) {
        return Result<Drawing>::refuse(fault("drawing-too-large",
                                             "The drawing holds more than 200000 edges or 20000 lines.",
                                             "Leave in it what a panel needs and save it again."));
    } catch (const std::exception&) {
        return Result<Drawing>::refuse(fault("not-dxf", "The DXF cannot be read.", "Save it again."));
    }
}

}  // namespace spile::import
