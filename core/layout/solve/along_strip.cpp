#include "core/layout/solve/along_strip.h"

#include <algorithm>

namespace spile::lay {
namespace {

constexpr int kStations = 16;
constexpr int kLinesPerItem = 16;  // of an item of mean length
constexpr double kRounding = 4;    // units, of chords that are compared

std::int64_t mean_length(const Problem& problem) {
    double sum = 0, count = 0;
    for (const Problem::Item& item : problem.items) {
        if (item.flaw) continue;
        sum += static_cast<double>(problem.shapes[static_cast<std::size_t>(item.shapes[0])].box.width());
        ++count;
    }
    return count > 0 ? std::max<std::int64_t>(1, static_cast<std::int64_t>(sum / count)) : 1;
}

/// Where the line x = const crosses the shape, in order: in and out in turn.
void crossings(const Shape& shape, double x, std::vector<double>& ys) {
    ys.clear();
    const auto add = [&](const Poly& loop) {
        for (std::size_t i = 0, n = loop.size(); i < n; ++i) {
            const IPoint p = loop[i], q = loop[i + 1 == n ? 0 : i + 1];
            const double px = static_cast<double>(p.x), qx = static_cast<double>(q.x);
            if ((px <= x) == (qx <= x)) continue;
            ys.push_back(static_cast<double>(p.y) + (x - px) / (qx - px) * static_cast<double>(q.y - p.y));
        }
    };
    add(shape.outer);
    for (const Poly& hole : shape.holes) add(hole);
    std::sort(ys.begin(), ys.end());
}

}  // namespace

AlongStrip::AlongStrip(const Problem& problem) : problem_(problem), stretch_(mean_length(problem)) {}

std::size_t AlongStrip::stretch_of(std::int64_t x) const {
    return static_cast<std::size_t>(std::max<std::int64_t>(x, 0) / stretch_);
}

void AlongStrip::add(int item, const Spot& spot) {
    const IBox& box = problem_.shapes[static_cast<std::size_t>(spot.shape)].box;
    const std::int64_t low = spot.at.x + box.min_x, high = spot.at.x + box.max_x;
    const std::size_t first = stretch_of(low), last = stretch_of(high);
    if (stretches_.size() <= last) stretches_.resize(last + 1);
    for (std::size_t k = first; k <= last; ++k) stretches_[k].push_back({item, first, low, high});
    all_.push_back(item);
}

const std::vector<int>& AlongStrip::around(std::int64_t low, std::int64_t high) {
    found_.clear();
    const std::size_t first = stretch_of(low), last = stretch_of(high);
    for (std::size_t k = first; k <= last && k < stretches_.size(); ++k)
        for (const Entry& e : stretches_[k])
            if (std::max(e.first, first) == k && e.low <= high && e.high >= low) found_.push_back(e.item);
    return found_;
}

Profile profile_of(const Shape& shape) {
    Profile out;
    out.station = std::max<std::int64_t>(1, shape.box.width() / kStations);
    out.begins = shape.box.min_x;
    std::vector<double> ys;
    const auto chord = [&](int k) {
        // Just inside at both ends.
        const double in = k == 0 ? 1 : k == kStations ? -1 : 0;
        crossings(shape, static_cast<double>(out.begins + k * out.station) + in, ys);
        double longest = 0;
        for (std::size_t i = 0; i + 1 < ys.size(); i += 2) longest = std::max(longest, ys[i + 1] - ys[i]);
        return longest;
    };
    double before = chord(0);
    for (int k = 1; k <= kStations; ++k) {
        const double here = chord(k);
        out.needs.push_back(std::min(before, here) - kRounding);
        before = here;
    }
    return out;
}

RoomAcross::RoomAcross(const Problem& problem)
    : problem_(problem), apart_(std::max<std::int64_t>(1, mean_length(problem) / kLinesPerItem)) {
    std::int64_t over = 0;
    for (std::size_t s = 0; s < problem.shapes.size(); ++s)
        over = std::max({over, problem.boxes[s].min_y - problem.shapes[s].box.min_y,
                         problem.shapes[s].box.max_y - problem.boxes[s].max_y});
    low_ = -static_cast<double>(over);
    high_ = static_cast<double>(problem.width + over);
}

RoomAcross::Line& RoomAcross::line(std::size_t k) {
    if (lines_.size() <= k) lines_.resize(k + 1, Line{{}, high_ - low_});
    return lines_[k];
}

void RoomAcross::take(const Spot& spot) {
    const Shape& shape = problem_.shapes[static_cast<std::size_t>(spot.shape)];
    const std::int64_t first = std::max<std::int64_t>(0, spot.at.x + shape.box.min_x + apart_ - 1) / apart_;
    const std::int64_t last = (spot.at.x + shape.box.max_x) / apart_;
    for (std::int64_t k = first; k <= last; ++k) {
        crossings(shape, static_cast<double>(k * apart_ - spot.at.x), ys_);
        Line& on = line(static_cast<std::size_t>(k));
        for (std::size_t i = 0; i + 1 < ys_.size(); i += 2) {
            const double y = static_cast<double>(spot.at.y);
            on.taken.push_back({ys_[i] + y, ys_[i + 1] + y});
        }
        std::sort(on.taken.begin(), on.taken.end());
        on.widest = 0;
        double reached = low_;
        for (const auto& [from, to] : on.taken) {
            on.widest = std::max(on.widest, from - reached);
            reached = std::max(reached, to);
        }
        on.widest = std::max(on.widest, high_ - reached);
    }
}

bool RoomAcross::may_hold(const Profile& profile, std::int64_t x) {
    const std::int64_t begins = x + profile.begins,
                       length = profile.station * static_cast<std::int64_t>(profile.needs.size());
    const auto fits = [&](std::size_t k) {
        const std::int64_t off = static_cast<std::int64_t>(k) * apart_ - begins;
        if (off < 0 || off >= length) return true;
        return lines_[k].widest >= profile.needs[static_cast<std::size_t>(off / profile.station)];
    };
    if (full_ < lines_.size() && !fits(full_)) return false;
    const auto first = static_cast<std::size_t>(std::max<std::int64_t>(0, begins + apart_ - 1) / apart_);
    for (std::size_t k = first; k < lines_.size(); ++k) {
        if (static_cast<std::int64_t>(k) * apart_ >= begins + length) return true;
        if (fits(k)) continue;
        full_ = k;
        return false;
    }
    return true;
}

}  // namespace spile::lay
