// Faults between readings that show before anything is adjusted.
#include <algorithm>
#include <cmath>
#include <map>

#include "core/measure/network.h"
#include "core/measure/say.h"

namespace spile::survey {
namespace {

constexpr double kSure = 3.2905;  // normal, .1 % two-sided
constexpr double kOutOfScale = 20;
constexpr double kOutOfScaleWithUnit = 8;  // when the unit was written out and differs from the others'

using Pair = std::pair<int, int>;
Pair pair_of(const Observation& o) {
    return {std::min(o.p, o.a), std::max(o.p, o.a)};
}

struct Ties {
    std::vector<int> distances;                // observations typed as ties, each with its length
    std::map<Pair, std::vector<int>> by_pair;  // every observed distance, the shortest of a pair first
};

void repeated(const SpaceInput& space, const Network& net, const Ties& ties, const Say& say) {
    for (const auto& [pair, list] : ties.by_pair) {
        if (list.size() < 2) continue;
        const Observation& least = net.observations[list.front()];
        const Observation& most = net.observations[list.back()];
        const double apart = most.value_mm - least.value_mm;
        const double limit = kSure * std::hypot(least.sd_mm, most.sd_mm);
        if (apart <= limit) continue;
        say.about_reading("tie-twice-contradicts", Severity::look, space.readings[most.reading],
                          {{"apart", apart, "mm"}, {"limit", limit, "mm"}},
                          spoken(space.readings[most.reading]) + " was taped twice: " +
                              say.size(least.value_mm) + " and " + say.size(most.value_mm) + ", " +
                              say.little(apart) + " apart; the tape allows " + say.little(limit) + ".",
                          "Tape it again, or take out the line that is wrong.");
    }
}

void triangles(const SpaceInput& space, const Network& net, const Ties& ties, const Say& say) {
    std::vector<std::map<int, int>> next(net.names.size());  // neighbour -> observation
    for (const auto& [pair, list] : ties.by_pair) {
        next[pair.first].emplace(pair.second, list[0]);
        next[pair.second].emplace(pair.first, list[0]);
    }
    for (const auto& [pair, list] : ties.by_pair) {
        const Observation& longest = net.observations[list[0]];
        const auto& [p, q] = pair;
        const int fewer = next[p].size() <= next[q].size() ? p : q;
        const int other = fewer == p ? q : p;
        for (const auto& [third, tie] : next[fewer]) {
            const auto closing = next[other].find(third);
            if (closing == next[other].end()) continue;
            const Observation& a = net.observations[tie];
            const Observation& b = net.observations[closing->second];
            if (longest.value_mm < a.value_mm || longest.value_mm < b.value_mm) continue;
            const double over = longest.value_mm - a.value_mm - b.value_mm;
            const double limit =
                kSure * std::sqrt(longest.sd_mm * longest.sd_mm + a.sd_mm * a.sd_mm + b.sd_mm * b.sd_mm);
            if (over <= limit) continue;
            const auto name = [&](const Observation& o) {
                return spoken(space.readings[o.reading]) + " " + say.size(o.value_mm);
            };
            say.about_reading("triangle-open", Severity::stop, space.readings[longest.reading],
                              {{"longer than the two others by", over, "mm"}, {"limit", limit, "mm"}},
                              "These three cannot close: " + name(longest) + " is longer than " + name(a) +
                                  " and " + name(b) + " together, by " + say.little(over) + ".",
                              "Tape the three again; one of them is wrong.");
        }
    }
}

const TypedLength* length_of(const Reading& reading) {
    const Tie* tie = std::get_if<Tie>(&reading.what);
    return tie ? &tie->distance : nullptr;
}

/// A size far from every other of its space is asked about when it is out of scale, sooner when its unit differs.
void out_of_scale(const SpaceInput& space, const Network& net, const Ties& ties, const Say& say) {
    if (ties.distances.size() < 4) return;
    std::vector<double> sizes;
    int by_unit[2] = {0, 0};
    for (const int i : ties.distances) {
        sizes.push_back(net.observations[i].value_mm);
        ++by_unit[static_cast<int>(length_of(space.readings[net.observations[i].reading])->unit)];
    }
    std::nth_element(sizes.begin(), sizes.begin() + static_cast<std::ptrdiff_t>(sizes.size() / 2),
                     sizes.end());
    const double middle = sizes[sizes.size() / 2];
    const Unit usual = by_unit[0] >= by_unit[1] ? Unit::inch : Unit::mm;
    for (const int i : ties.distances) {
        const Observation& o = net.observations[i];
        const Reading& reading = space.readings[o.reading];
        const bool other_unit = length_of(reading)->unit != usual;
        const double limit = other_unit ? kOutOfScaleWithUnit : kOutOfScale;
        if (o.value_mm * limit >= middle && o.value_mm <= limit * middle) continue;
        const std::string size = say.size(o.value_mm);
        const std::string reads = length_of(reading)->unit == space.unit
                                      ? size
                                      : length_of(reading)->typed + ", that is " + size + ",";
        say.about_reading("reading-unlike", Severity::look, reading,
                          {{"reads", o.value_mm, "mm"}, {"middle of the others", middle, "mm"}},
                          spoken(reading) + " reads " + reads + " among ties of about " + say.size(middle) +
                              ": is the unit right?",
                          "Write the unit behind the number, or leave it when it is right.");
    }
}

}  // namespace

void check_readings(const SpaceInput& space, const Network& network, std::vector<Finding>& findings) {
    const Say say(space, findings);
    Ties ties;
    for (std::size_t i = 0; i < network.observations.size(); ++i) {
        const Observation& o = network.observations[i];
        if (o.kind != Kind::distance) continue;
        if (length_of(space.readings[o.reading])) ties.distances.push_back(static_cast<int>(i));
        ties.by_pair[pair_of(o)].push_back(static_cast<int>(i));
    }
    for (auto& [pair, list] : ties.by_pair) {
        std::stable_sort(list.begin(), list.end(), [&](int i, int j) {
            return network.observations[i].value_mm < network.observations[j].value_mm;
        });
    }
    repeated(space, network, ties, say);
    triangles(space, network, ties, say);
    out_of_scale(space, network, ties, say);
}

}  // namespace spile::survey
