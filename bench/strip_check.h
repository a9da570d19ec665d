// A second opinion on the placements of a strip packing result: rebuilds every polygon from the instance and clips.
#pragma once

#include <cmath>
#include <map>
#include <polyclipping/clipper.hpp>
#include <string>
#include <vector>

#include "core/layout/solve/strip.h"

namespace spile {

/// Faults in words; empty when every item is there as often as asked, in an allowed turn, inside the strip, and no two
/// share area when each is made smaller by `tolerance`.
inline std::vector<std::string> faults_of_strip(const StripInstance& instance, const StripResult& result,
                                                double tolerance) {
    namespace cl = ClipperLib;
    std::vector<std::string> faults;
    std::map<int, const StripItem*> items;
    std::map<int, int> wanted;
    for (const StripItem& item : instance.items) {
        items[item.id] = &item;
        wanted[item.id] = item.demand;
    }
    double largest = std::max(instance.width, result.length);
    for (const StripItem& item : instance.items)
        for (Vec2 p : item.polygon) largest = std::max({largest, std::fabs(p.x), std::fabs(p.y)});
    // Far finer than the tolerance, and not the solver's own units.
    const double scale = 3e15 / largest / 1e3;
    std::vector<cl::Paths> shrunk;
    double far_end = 0;
    for (const StripPlacement& p : result.placements) {
        const auto found = items.find(p.id);
        if (found == items.end()) {
            faults.push_back("unknown item " + std::to_string(p.id));
            continue;
        }
        --wanted[p.id];
        const StripItem& item = *found->second;
        bool allowed = false;
        for (int turns : item.quarter_turns) allowed = allowed || turns == p.quarter_turns;
        if (!allowed) faults.push_back("item " + std::to_string(p.id) + " in a turn it may not take");
        cl::Path path;
        for (Vec2 q : item.polygon) {
            for (int k = 0; k < ((p.quarter_turns % 4) + 4) % 4; ++k) q = left_of(q);
            q = q + p.at;
            if (q.x < -tolerance || q.y < -tolerance || q.y > instance.width + tolerance)
                faults.push_back("item " + std::to_string(p.id) + " stands out of the strip");
            far_end = std::max(far_end, q.x);
            path.push_back({std::llround(q.x * scale), std::llround(q.y * scale)});
        }
        cl::ClipperOffset offset;
        offset.AddPath(path, cl::jtMiter, cl::etClosedPolygon);
        shrunk.emplace_back();
        offset.Execute(shrunk.back(), -tolerance * scale);
    }
    if (std::fabs(far_end - result.length) > tolerance)
        faults.push_back("the length told is not the one used");
    for (const auto& [id, missing] : wanted)
        if (missing != 0)
            faults.push_back("item " + std::to_string(id) + " off by " + std::to_string(-missing) +
                             " copies");
    for (std::size_t i = 0; i < shrunk.size(); ++i)
        for (std::size_t j = 0; j < i; ++j) {
            cl::Clipper clipper;
            clipper.AddPaths(shrunk[i], cl::ptSubject, true);
            clipper.AddPaths(shrunk[j], cl::ptClip, true);
            cl::Paths both;
            clipper.Execute(cl::ctIntersection, both, cl::pftNonZero, cl::pftNonZero);
            if (!both.empty())
                faults.push_back("placements " + std::to_string(j) + " and " + std::to_string(i) +
                                 " overlap");
        }
    return faults;
}

}  // namespace spile
