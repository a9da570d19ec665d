#include "bench/libnest2d_bin.h"

#include <cmath>
#include <libnest2d/libnest2d.hpp>

namespace spile {
namespace {

constexpr double kUnitsPerWidth = 1e6;
constexpr double kPi = 3.14159265358979323846;

}  // namespace

bool fits_one_bin(const std::vector<BinItem>& items, const std::vector<int>& quarter_turns, double length,
                  double width) {
    const double scale = kUnitsPerWidth / width;
    const auto units = [&](double v) { return static_cast<ClipperLib::cInt>(std::llround(v * scale)); };
    std::vector<libnest2d::Item> all;
    for (const BinItem& item : items) {
        // The library wants its outlines clockwise and closed.
        ClipperLib::Path path;
        for (auto p = item.corners.rbegin(); p != item.corners.rend(); ++p)
            path.emplace_back(units(p->first), units(p->second));
        path.push_back(path.front());
        for (int k = 0; k < item.demand; ++k) all.emplace_back(path);
    }
    using Placer = libnest2d::NfpPlacer;
    libnest2d::NestConfig<Placer> config;
    config.placer_config.rotations.clear();
    for (int turns : quarter_turns) config.placer_config.rotations.emplace_back(turns * kPi / 2);
    config.placer_config.alignment = Placer::Config::Alignment::BOTTOM_LEFT;
    config.placer_config.starting_point = Placer::Config::Alignment::BOTTOM_LEFT;
    config.placer_config.accuracy = 1;
    libnest2d::nest(all, libnest2d::Box(units(length), units(width)), 0, config);
    for (const libnest2d::Item& item : all)
        if (item.binId() != 0) return false;
    return true;
}

}  // namespace spile
