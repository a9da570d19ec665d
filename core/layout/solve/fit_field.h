// How deep one shape lies in another, looked up: the no-fit polygon of a pair as a field of depths.
#pragma once

#include <cstdint>
#include <vector>

#include "core/layout/solve/poly.h"

namespace spile::lay {

struct DPoint {
    double x = 0;
    double y = 0;

    friend DPoint operator+(DPoint a, DPoint b) { return {a.x + b.x, a.y + b.y}; }
    friend DPoint operator-(DPoint a, DPoint b) { return {a.x - b.x, a.y - b.y}; }
};

struct DBox {
    double min_x = 0, min_y = 0, max_x = 0, max_y = 0;

    bool holds(DPoint p) const { return p.x > min_x && p.x < max_x && p.y > min_y && p.y < max_y; }
};

/// Depth of a place in a forbidden surface: distance to its outline, which is how far the moving shape must go to touch
/// without overlapping. Relative coordinates: place of the moving shape less place of the fixed one.
class FitField {
  public:
    /// `cell`: width of the raster, units. Requires: loops of a no-fit polygon, material on their left.
    FitField(const Polys& loops, double cell);

    /// 0 outside. Exact near the outline; further in, the least over the nearest few edges of the cell (never too small).
    double depth(DPoint p) const;

    struct Contact {
        double depth = 0;       ///< negative: outside by that much (known within about a cell of the outline)
        double nx = 0, ny = 0;  ///< p + depth * n lies on the outline
    };
    /// False far outside.
    bool contact(DPoint p, Contact& out) const;

    /// Raster of depths: node (i, j) stands at ((x0 + i) cell, (y0 + j) cell).
    struct Raster {
        int x0 = 0, y0 = 0, nx = 0, ny = 0;
        const float* values = nullptr;  ///< row by row, nx each, then kMargin zeros
        int stride() const { return nx + kMargin; }
    };
    Raster raster() const { return {x0_, y0_, nx_, ny_, values_.data()}; }
    static constexpr int kMargin = 8;

    std::size_t bytes() const;

  private:
    struct Side {
        double ax, ay, ux, uy, length;
        bool a_dent, b_dent;  ///< the surface bends inwards at that end
    };
    struct Part;  // of the raster while it is filled
    struct Near {
        double distance;
        std::uint16_t side;
    };

    /// Signed: positive inside. Foot and direction in `out`.
    static double signed_distance(const Side& s, double x, double y, Contact& out);
    static double distance2(const Side& s, double x, double y);
    bool winds_round(double x, double y) const;
    void fill(const Part& part, std::vector<Near>& near);
    std::uint32_t code_at(DPoint p) const;

    double cell_, per_cell_;
    int x0_ = 0, y0_ = 0, nx_ = 0, ny_ = 0;
    std::vector<Side> sides_;
    std::vector<float> values_;
    std::vector<std::uint32_t> codes_;  ///< 0: outside; else where in lists_
    std::vector<std::uint16_t> lists_;  ///< count (top bit: wholly inside), then sides
};

}  // namespace spile::lay
