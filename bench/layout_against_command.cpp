// spile-bench layout-against: instances laid out by Spile and by the general packing library libnest2d, side by side.
#include <cstdio>
#include <ctime>

#include "bench/commands.h"
#include "bench/strip_check.h"
#include "bench/strip_json.h"
#ifdef SPILE_LIBNEST2D
#include "bench/libnest2d_bin.h"
#endif

namespace spile {
namespace {

double cpu_seconds() {
    return static_cast<double>(std::clock()) / CLOCKS_PER_SEC;
}

#ifdef SPILE_LIBNEST2D
bool fits(const StripInstance& instance, double length) {
    std::vector<BinItem> items;
    for (const StripItem& item : instance.items) {
        BinItem& to = items.emplace_back();
        to.demand = item.demand;
        for (Vec2 p : item.polygon) to.corners.push_back({p.x, p.y});
    }
    return fits_one_bin(items, instance.items[0].quarter_turns, length, instance.width);
}

/// The shortest of the bins tried: halving between the area and the longest that was needed.
double shortest_bin(const StripInstance& instance, double area_length, int halvings) {
    double too_short = area_length, enough = 2 * area_length;
    while (!fits(instance, enough)) {
        too_short = enough;
        enough *= 1.5;
    }
    for (int k = 0; k < halvings; ++k) {
        const double middle = (too_short + enough) / 2;
        (fits(instance, middle) ? enough : too_short) = middle;
    }
    return enough;
}
#endif

}  // namespace

int layout_against_command(const std::vector<std::string>& words) {
    double seconds = 10;
    bool locked = false;
    std::vector<std::string> files;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (words[i] == "--seconds" && i + 1 < words.size())
            seconds = std::stod(words[++i]);
        else if (words[i] == "--locked")
            locked = true;
        else if (words[i].rfind("--", 0) != 0)
            files.push_back(words[i]);
        else
            return 2;
    }
    if (files.empty()) return 2;
    std::printf("instance, density %% of Spile after %.0f s of processor time, density %% of libnest2d, its seconds\n",
                seconds);
    for (const std::string& file : files) {
        StripInstance instance;
        try {
            instance = read_strip_instance(file);
        } catch (const std::exception& e) {
            std::fprintf(stderr, "spile-bench layout-against: %s\n", e.what());
            return 1;
        }
        if (locked)
            for (StripItem& item : instance.items) item.quarter_turns.resize(1);
        const double began = cpu_seconds();
        StripOptions options;
        options.done = [&](int) { return cpu_seconds() - began >= seconds; };
        const Result<StripResult> ours = solve_strip(instance, options, RunContext{});
        for (const Finding& f : ours.findings) std::fprintf(stderr, "%s %s\n", f.says.c_str(), f.to_do.c_str());
        if (!ours ||
            !faults_of_strip(instance, *ours, strip_tolerance(instance.width, ours->length)).empty())
            return 1;
        std::printf("%s, %.2f, ", instance.name.c_str(), ours->density);
#ifdef SPILE_LIBNEST2D
        const double theirs_began = cpu_seconds();
        const double area_length = ours->length * ours->density / 100;
        const double length = shortest_bin(instance, area_length, 7);
        std::printf("%.2f, %.1f\n", 100 * area_length / length, cpu_seconds() - theirs_began);
#else
        std::printf("(built without libnest2d)\n");
#endif
        std::fflush(stdout);
    }
    return 0;
}

}  // namespace spile
