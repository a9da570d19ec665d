#include "core/paper/labels.h"

#include <algorithm>
#include <cmath>

#include "core/geom/measure_of.h"
#include "core/geom/tolerance.h"

namespace spile::paper {
namespace {

constexpr Resolution kDrawn{0.3};  ///< a label is kept further than this from any line

constexpr int kDirections = 24;

/// Unit vectors 15 degrees apart, by square roots alone: places are the same on every machine.
Vec2 direction(int k) {
    const double c = (std::sqrt(6.0) + std::sqrt(2.0)) / 4, s = (std::sqrt(6.0) - std::sqrt(2.0)) / 4;
    Vec2 u{1, 0};
    for (int i = 0; i < (k + kDirections) % kDirections; ++i) u = {c * u.x - s * u.y, s * u.x + c * u.y};
    return u;
}

}  // namespace

bool overlap(const Box& a, const Box& b) {
    return a.min.x < b.max.x && b.min.x < a.max.x && a.min.y < b.max.y && b.min.y < a.max.y;
}

bool within(const Box& inner, const Box& outer) {
    return inner.min.x >= outer.min.x && inner.max.x <= outer.max.x && inner.min.y >= outer.min.y &&
           inner.max.y <= outer.max.y;
}

Box grown(const Box& box, double by) {
    return {{box.min.x - by, box.min.y - by}, {box.max.x + by, box.max.y + by}};
}

bool crosses(Vec2 a, Vec2 b, const Box& box) {
    // Liang and Barsky: the stretch of a-b inside each pair of sides.
    double from = 0, to = 1;
    const auto side = [&](double start, double delta, double low, double high) {
        if (delta == 0) return start > low && start < high;
        double t0 = (low - start) / delta, t1 = (high - start) / delta;
        if (t0 > t1) std::swap(t0, t1);
        from = std::max(from, t0);
        to = std::min(to, t1);
        return from < to;
    };
    return side(a.x, b.x - a.x, box.min.x, box.max.x) && side(a.y, b.y - a.y, box.min.y, box.max.y);
}

void LabelField::keep_off(const Outline& chain) {
    const std::vector<Vec2> points = flatten(chain, kDrawn);
    for (std::size_t i = 0; i < points.size(); ++i) keep_off(points[i], points[(i + 1) % points.size()]);
}

void LabelField::keep_off(const Path& chain) {
    const std::vector<Vec2> points = flatten(chain, kDrawn);
    for (std::size_t i = 0; i + 1 < points.size(); ++i) keep_off(points[i], points[i + 1]);
}

bool LabelField::free(const Box& box) const {
    if (!within(box, area_)) return false;
    for (const Box& other : boxes_)
        if (overlap(grown(box, clear_mm), other)) return false;
    for (const Line& line : lines_)
        if (line.cost == 0 && crosses(line.a, line.b, box)) return false;
    return true;
}

double LabelField::cost_of(const Box& box) const {
    double cost = 0;
    for (const Line& line : lines_)
        if (line.cost > 0 && crosses(line.a, line.b, box)) cost += line.cost;
    return cost;
}

bool LabelField::leader_free(Vec2 a, Vec2 b) const {
    for (const Box& box : boxes_)
        if (crosses(a, b, box)) return false;
    return true;
}

std::optional<LabelField::Placed> LabelField::place(const Ask& ask) {
    std::optional<Placed> best;
    double least = 0;
    const Vec2 half{ask.width / 2, ask.height / 2};
    for (double gap = ask.near_mm; gap <= ask.reach_mm; gap = gap < 4 ? gap + 1 : gap * 1.25) {
        for (int k = 0; k < kDirections; ++k) {
            // 0, 1, -1, 2, -2 ... steps away from the preferred direction
            const int steps = (k + 1) / 2 * (k % 2 == 1 ? 1 : -1);
            const Vec2 turn = direction(steps);
            const Vec2 u{turn.x * ask.prefer.x - turn.y * ask.prefer.y,
                         turn.y * ask.prefer.x + turn.x * ask.prefer.y};
            // The box touches the circle of radius `gap` about `at` from outside, in direction u.
            const double reach = std::min(std::fabs(u.x) > 0 ? half.x / std::fabs(u.x) : 1e9,
                                          std::fabs(u.y) > 0 ? half.y / std::fabs(u.y) : 1e9);
            const Vec2 centre = ask.at + (ask.stop_mm + gap + reach) * u;
            const Placed place{{centre - half, centre + half},
                               gap > ask.leader_from_mm,
                               ask.at + (ask.stop_mm + gap) * u,
                               ask.at + ask.stop_mm * u};
            // Cheaper places only: what costs more need not be tested.
            const double cost = gap + 0.25 * std::abs(steps) * (1 + 0.1 * gap) + (place.leader ? 2 : 0);
            if (best && cost >= least) continue;
            const double all = cost + cost_of(place.box);
            if (best && all >= least) continue;
            if (!free(place.box) || (ask.allowed && !ask.allowed(place.box))) continue;
            if (place.leader && !leader_free(place.from, place.to)) continue;
            best = place;
            least = all;
        }
        if (best && gap > least) break;
    }
    if (!best) return best;
    keep_off(best->box);
    if (best->leader) keep_off(best->from, best->to);
    return best;
}

std::optional<Box> LabelField::place_near(double width, double height, Vec2 wanted, double step_mm,
                                          const std::function<bool(const Box&)>& allowed, double reach_mm) {
    const Vec2 half{width / 2, height / 2};
    const int most =
        static_cast<int>(std::min(reach_mm, std::max(area_.width(), area_.height())) / step_mm) + 1;
    std::optional<Box> best;
    double least = 0;
    // Square rings outwards, until no further ring can be cheaper.
    for (int ring = 0; ring <= most && !(best && ring * step_mm > least); ++ring)
        for (int i = -ring; i <= ring; ++i)
            for (int j = -ring; j <= ring; ++j) {
                if (std::max(std::abs(i), std::abs(j)) != ring) continue;
                const Vec2 centre = wanted + step_mm * Vec2{static_cast<double>(i), static_cast<double>(j)};
                const Box box{centre - half, centre + half};
                const double cost = distance(centre, wanted) + cost_of(box);
                if ((best && cost >= least) || !free(box) || (allowed && !allowed(box))) continue;
                best = box;
                least = cost;
            }
    if (best) keep_off(*best);
    return best;
}

std::optional<std::vector<double>> spread(const std::vector<Interval>& intervals, double gap, double low,
                                          double high) {
    double total = 0;
    for (const Interval& i : intervals) total += i.size;
    if (!intervals.empty()) total += gap * static_cast<double>(intervals.size() - 1);
    if (total > high - low) return std::nullopt;

    // Pool adjacent violators: a block of touching intervals stands where the mean of its members wants it.
    struct Block {
        double start = 0, size = 0, sum = 0;  ///< sum of the starts its members want the block to have
        std::size_t count = 0;
    };
    std::vector<Block> blocks;
    const auto settle = [&](Block& b) {
        b.start = std::min(std::max(b.sum / static_cast<double>(b.count), low), high - b.size);
    };
    for (const Interval& i : intervals) {
        Block block{0, i.size, i.wanted - i.size / 2, 1};
        settle(block);
        while (!blocks.empty() && blocks.back().start + blocks.back().size + gap > block.start) {
            const Block before = blocks.back();
            blocks.pop_back();
            const double shift = before.size + gap;
            block = {0, shift + block.size, before.sum + block.sum - shift * static_cast<double>(block.count),
                     before.count + block.count};
            settle(block);
        }
        blocks.push_back(block);
    }
    std::vector<double> middles;
    std::size_t next = 0;
    for (const Block& block : blocks) {
        double at = block.start;
        for (std::size_t k = 0; k < block.count; ++k, ++next) {
            middles.push_back(at + intervals[next].size / 2);
            at += intervals[next].size + gap;
        }
    }
    return middles;
}

std::vector<TextFault> text_faults(const Page& page) {
    std::vector<TextFault> faults;
    std::vector<std::pair<Box, const Text*>> texts;
    const Box paper{{0, 0}, {page.width_mm, page.height_mm}};
    for (const Item& item : page.items)
        if (const Text* text = std::get_if<Text>(&item)) {
            const Box box = text_box_mm(*text);
            if (!within(box, paper)) faults.push_back({text->utf8, ""});
            for (const auto& [other, what] : texts)
                if (overlap(box, other)) faults.push_back({text->utf8, what->utf8});
            texts.push_back({box, text});
        }
    return faults;
}

}  // namespace spile::paper
