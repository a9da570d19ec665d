// The observation equations of a network for one choice of datum, and their adjustment. Internal to measuring.
#pragma once

#include <optional>
#include <vector>

#include "core/measure/network.h"
#include "core/num/least_squares.h"
#include "core/num/normal_equations.h"

namespace spile::survey {

/// What is held fixed. `origin` at (0, 0) and `axis` on the positive x axis; or, with origin < 0, the two square lines.
struct Datum {
    int origin = -1;
    int axis = -1;

    bool by_frame() const { return origin < 0; }
};

struct Places {
    std::vector<Vec2> at;  ///< by point number
    Pose pose;             ///< of the square lines
};

/// Parameters: x and y of every point that takes part, less what the datum holds; then the pose of the square lines
/// unless they are the datum. Observations that touch a point left out take no part.
class Equations : public LeastSquaresProblem {
  public:
    /// `takes_part`: by point; empty for all. `weight`: by observation, 0 leaves it out; empty for all 1.
    Equations(const Network& network, const Datum& datum, const std::vector<bool>& takes_part = {},
              const std::vector<double>& weight = {});

    std::size_t parameters() const override { return count_; }
    void evaluate(const std::vector<double>& x, std::vector<double>& residuals,
                  SparseRows* rows) const override;

    /// The observations that take part, in the order of the rows.
    const std::vector<int>& used() const { return used_; }
    int column_x(int point) const { return column_x_[point]; }  ///< -1: held
    int column_y(int point) const { return column_y_[point]; }
    bool takes_part(int point) const { return part_[point]; }
    const Network& network() const { return net_; }
    const Datum& datum() const { return datum_; }

    /// Derivatives of one observation at `places`, divided by its standard deviation.
    void add_row(const Observation& o, const Places& places, SparseRows& rows) const;

    std::vector<double> parameters_of(const Places& places) const;
    Places places_of(const std::vector<double>& x) const;

  private:
    void add_point(SparseRows& rows, int point, Vec2 slope) const;

    const Network& net_;
    Datum datum_;
    std::vector<bool> part_;
    std::vector<int> used_;
    std::vector<double> root_weight_;  // by row
    std::vector<int> column_x_, column_y_;
    int pose_column_ = -1;
    std::size_t count_ = 0;
};

/// Turns and shifts places so that the datum holds; points of the datum that coincide leave the turn as it is.
void bring_to(const Datum& datum, Places& places);

/// Mirrors about the x axis.
void mirror(Places& places);

struct Adjusted {
    Places places;
    double sum = 0;  ///< of squared residuals over their standard deviations
    bool found = false;
};

/// Steps shorter than this are noise.
constexpr double kNoise_mm = 1e-9;
/// Least squares from `start`, which need not be in the datum, until a step is shorter than `to_mm`.
Adjusted adjust(const Equations& equations, Places start, double to_mm = kNoise_mm);

}  // namespace spile::survey
