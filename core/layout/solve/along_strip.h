// What lies where along the strip, so that many pieces are laid out without each looking at all others.
#pragma once

#include <vector>

#include "core/layout/solve/problem.h"

namespace spile::lay {

/// Items by where they lie along the strip.
class AlongStrip {
  public:
    explicit AlongStrip(const Problem& problem);

    void add(int item, const Spot& spot);
    /// All items whose shapes reach into low..high, each once; valid until the next call.
    const std::vector<int>& around(std::int64_t low, std::int64_t high);
    const std::vector<int>& all() const { return all_; }

  private:
    struct Entry {
        int item;
        std::size_t first;  ///< stretch of the strip it begins in
        std::int64_t low, high;
    };
    std::size_t stretch_of(std::int64_t x) const;

    const Problem& problem_;
    std::int64_t stretch_;  ///< length of one
    std::vector<std::vector<Entry>> stretches_;
    std::vector<int> all_, found_;
};

/// The least height of a shape in equal stations along its box: what it needs across the strip there.
struct Profile {
    std::int64_t begins = 0, station = 1;
    std::vector<double> needs;

    bool empty() const { return needs.empty(); }
};
Profile profile_of(const Shape& shape);

/// The widest gap that is left across the strip, on lines at equal distances. Tells quickly where nothing can lie.
class RoomAcross {
  public:
    explicit RoomAcross(const Problem& problem);

    void take(const Spot& spot);
    /// False: a shape of that profile finds no room across with its origin at x. True says nothing.
    bool may_hold(const Profile& profile, std::int64_t x);

  private:
    struct Line {
        std::vector<std::pair<double, double>> taken;  ///< in order, apart
        double widest = 0;
    };
    Line& line(std::size_t k);

    const Problem& problem_;
    std::int64_t apart_ = 1;
    double low_ = 0, high_ = 0;  ///< ends of every line: how far the shapes may stand over the strip
    std::vector<Line> lines_;
    std::size_t full_ = 0;  ///< the line that was last too full
    std::vector<double> ys_;
};

}  // namespace spile::lay
