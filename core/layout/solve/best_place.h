// Where an item would overlap the others least.
#pragma once

#include <functional>
#include <vector>

#include "core/layout/solve/field_table.h"

namespace spile::lay {

/// Where an item lies while the search moves it; fractions of a unit allowed.
struct Place {
    int shape = 0;
    DPoint at;
};
using Places = std::vector<Place>;

/// Part of a raster to be added to a sum of rasters.
struct RasterPart {
    const float* from;
    int to;  ///< index in the sum
    int stride;
    int rows, wides;  ///< whole vectors of columns
    float weight;
};

/// Finds places for one item at a time. Holds working memory: one per thread.
///
/// Method: all others' weighted depths are added up on a raster over the strip (one pass of multiply-and-add per neighbour;
/// cf. the penetration maps of Sato, Martins, Gomes and Tsuzuki 2019); the lowest places of the raster are then followed
/// exactly: near a place every neighbour's surface is bounded by lines, so that the least weighted depth stands where two
/// of them meet.
class PlaceFinder {
  public:
    /// `halt` answering true: nothing is found. May be empty.
    PlaceFinder(const FieldTable& fields, std::size_t candidates, std::function<bool()> halt);

    struct Found {
        Place place;
        double loss = 1e300;  ///< weighted sum of depths, units
    };

    /// `weights`: one per item, of its overlap with `item`. Looks for less than `below`; found.loss >= below means there
    /// was nothing.
    Found least(const Places& places, int item, const float* weights, double length, double below);

  private:
    struct Range {
        double min_x, min_y, max_x, max_y;
    };
    struct Neighbour {
        DBox box;  ///< around its forbidden surface
        DPoint at;
        float weight;
        const FitField* field;
    };
    struct Turn {
        int shape;
        Range range;
        std::vector<Neighbour> neighbours;
    };
    struct Low {
        float value;
        const Turn* turn;
        DPoint at;
    };
    struct Line {
        double nx, ny, depth, weight;  ///< depth left at p + (x, y) is depth - n . (x, y)
    };

    Range range(int shape, double length) const;
    void gather(const Places& places, int item, const float* weights, Turn& turn) const;
    void add_up(const Turn& turn);
    void lowest(const Turn& turn);
    Found follow(const Low& from, double below);
    double loss_here(DPoint p, double enough) const;

    const FieldTable& fields_;
    std::size_t candidates_;
    std::function<bool()> halt_;
    std::vector<float> sum_, column_, blocks_;
    std::vector<RasterPart> parts_;
    int nx_ = 0, ny_ = 0, stride_ = 0;
    std::vector<Turn> turns_;
    std::vector<Low> lows_;
    std::vector<Neighbour> near_;
    std::vector<Line> lines_;
    std::vector<std::pair<double, DPoint>> tries_;
};

}  // namespace spile::lay
