#include "core/layout/solve/strip.h"

#include <algorithm>
#include <cmath>

#include "core/base/text.h"
#include "core/layout/solve/bottom_left.h"
#include "core/layout/solve/search.h"

namespace spile {
namespace {

// The larger of width and likely length becomes between 2^28 and 2^29 units.
constexpr double kLargest = 1 << 29;
constexpr double kLikelyDensity = 0.6;

struct Scaled {
    lay::Problem problem;
    std::vector<int> turns_of_shape;
    std::vector<int> id_of_item;
    double per_unit = 1;  ///< instance lengths to units
};

double area_of(const std::vector<Vec2>& polygon) {
    double twice = 0;
    for (std::size_t i = 0; i < polygon.size(); ++i)
        twice += cross(polygon[i], polygon[(i + 1) % polygon.size()]);
    return twice / 2;
}

double scale_for(const StripInstance& instance) {
    double area = 0;
    for (const StripItem& item : instance.items) area += item.demand * std::fabs(area_of(item.polygon));
    const double largest = std::max(instance.width, area / instance.width / kLikelyDensity);
    // A power of two, so that scaling itself rounds nothing.
    return std::exp2(std::floor(std::log2(kLargest / largest)));
}

Finding stop(const StripItem& item, const char* code, const std::string& says, const char* to_do) {
    const std::string id = std::to_string(item.id);
    return {code, Severity::stop, {"piece", id}, {}, "Item " + id + " " + says + ".", to_do, ""};
}

std::vector<Finding> scaled(const StripInstance& instance, Scaled& out) {
    std::vector<Finding> faults;
    out.per_unit = scale_for(instance);
    lay::Problem& problem = out.problem;
    problem.width = std::llround(instance.width * out.per_unit);
    int kind = 0;
    for (const StripItem& item : instance.items) {
        lay::Problem::Item placed;
        placed.kind = kind++;
        lay::Poly poly;
        for (Vec2 p : item.polygon)
            poly.push_back({std::llround(p.x * out.per_unit), std::llround(p.y * out.per_unit)});
        poly = lay::cleaned(poly);
        if (item.demand < 1) {
            faults.push_back(stop(item, "strip-demand",
                                  "is asked for " + std::to_string(item.demand) + " times",
                                  "Ask for it once at least, or leave it out."));
            continue;
        }
        if (poly.empty() || !(lay::area_of(poly) > 0)) {
            faults.push_back(stop(item, "strip-no-area", "has no area or runs clockwise",
                                  "Give its corners counter-clockwise."));
            continue;
        }
        for (int turns : item.quarter_turns) {
            const lay::Poly turned = lay::turned(poly, turns);
            const lay::IBox box = lay::box_of(turned);
            if (box.height() > problem.width) continue;
            const lay::Polys shrunk = lay::shrunk(turned, problem.slack_units);
            if (shrunk.size() != 1) continue;
            placed.shapes.push_back(static_cast<int>(problem.shapes.size()));
            problem.shapes.push_back(lay::make_shape(shrunk[0]));
            problem.boxes.push_back(box);
            out.turns_of_shape.push_back(turns);
        }
        if (placed.shapes.empty()) {
            faults.push_back(stop(item, "strip-too-wide",
                                  "does not fit the strip in any of its allowed turns",
                                  "Widen the strip or allow another turn."));
            continue;
        }
        for (int k = 0; k < item.demand; ++k) {
            problem.items.push_back(placed);
            out.id_of_item.push_back(item.id);
            problem.area += lay::area_of(poly);
        }
    }
    return faults;
}

double longest_item(const lay::Problem& problem) {
    double longest = 0;
    for (const lay::Problem::Item& item : problem.items) {
        double least = 1e300;
        for (int shape : item.shapes)
            least = std::min(least, static_cast<double>(problem.boxes[shape].width()));
        longest = std::max(longest, least);
    }
    return longest;
}

}  // namespace

double strip_tolerance(double width, double length) {
    return 1e-7 * std::max(width, length);
}

Result<StripResult> solve_strip(const StripInstance& instance, const StripOptions& options,
                                const RunContext& run) {
    Result<StripResult> result;
    Scaled in;
    result.findings = scaled(instance, in);
    if (has_stop(result.findings)) return result;
    const lay::Problem& problem = in.problem;
    const lay::FitTable table(problem);
    lay::Spots first;
    for (const std::vector<int>& order : lay::usual_orders(problem)) {
        lay::Spots spots = lay::bottom_left(table, order, nullptr);
        if (first.empty() || lay::length_of(problem, spots) < lay::length_of(problem, first))
            first = std::move(spots);
    }
    StripResult out;
    const double bound = std::max(problem.area / static_cast<double>(problem.width), longest_item(problem));
    out.bound = bound / in.per_unit;

    const lay::FieldTable fields(table, lay::usual_cell(problem));
    lay::SearchOptions search;
    search.rounds = options.rounds;
    search.threads = options.threads;
    search.seed = run.seed;
    search.long_enough = bound + problem.slack_units;
    search.done = options.done;
    search.halt = [&] { return run.cancelled(); };
    if (run.progress)
        search.progress = [&](int rounds, double length) { run.progress(rounds, length / in.per_unit); };
    const lay::SearchResult found = lay::search(fields, lay::to_places(first), search);

    out.rounds = found.rounds;
    const lay::Spots spots = lay::to_spots(found.places);
    for (std::size_t i = 0; i < spots.size(); ++i)
        out.placements.push_back({in.id_of_item[i],
                                  in.turns_of_shape[spots[i].shape],
                                  {static_cast<double>(spots[i].at.x) / in.per_unit,
                                   static_cast<double>(spots[i].at.y) / in.per_unit}});
    out.length = static_cast<double>(lay::length_of(problem, spots)) / in.per_unit;
    if (out.length > 0)
        out.density = 100 * problem.area / in.per_unit / in.per_unit / (out.length * instance.width);
    result.value = std::move(out);
    return result;
}

}  // namespace spile
