#include "core/layout/solve/problem.h"

#include <algorithm>

namespace spile::lay {

IBox range_of(const Problem& problem, int shape, std::int64_t length) {
    const IBox& b = problem.boxes[shape];
    IBox range;
    range.min_x = -b.min_x;
    range.max_x = length - b.max_x;
    range.min_y = -b.min_y;
    range.max_y = problem.width - b.max_y;
    return range;
}

std::int64_t length_of(const Problem& problem, const Spots& spots) {
    std::int64_t length = 0;
    for (std::size_t i = 0; i < spots.size(); ++i)
        if (!problem.items[i].flaw)
            length = std::max(length, spots[i].at.x + problem.boxes[spots[i].shape].max_x);
    return length;
}

FitTable::FitTable(const Problem& problem, bool keep)
    : problem_(problem), n_(problem.shapes.size()), pairs_(keep ? n_ * n_ : 0) {}

FitTable::~FitTable() {
    for (auto& p : pairs_) delete p.load();
}

IBox FitTable::box(int fixed, int moving) const {
    const IBox &a = problem_.shapes[fixed].box, &b = problem_.shapes[moving].box;
    return {a.min_x - b.max_x, a.min_y - b.max_y, a.max_x - b.min_x, a.max_y - b.min_y};
}

const FitTable::Pair& FitTable::pair(int fixed, int moving) const {
    std::atomic<Pair*>& slot =
        pairs_[static_cast<std::size_t>(fixed) * n_ + static_cast<std::size_t>(moving)];
    if (const Pair* made = slot.load(std::memory_order_acquire)) return *made;
    std::unique_ptr<Pair> fresh = made(fixed, moving);
    Pair* expected = nullptr;
    if (slot.compare_exchange_strong(expected, fresh.get(), std::memory_order_acq_rel))
        return *fresh.release();
    return *expected;
}

std::unique_ptr<FitTable::Pair> FitTable::made(int fixed, int moving) const {
    auto fresh = std::make_unique<Pair>();
    // One of the two orders is worked out, the other is its point reflection: both always agree.
    if (fixed <= moving) {
        fresh->loops = no_fit(problem_.shapes[fixed], problem_.shapes[moving]);
    } else {
        for (const Poly& loop : no_fit(problem_.shapes[moving], problem_.shapes[fixed]))
            fresh->loops.push_back(negated(loop));
    }
    for (const Poly& loop : fresh->loops)
        for (IPoint p : loop) fresh->box.add(p);
    return fresh;
}

bool strictly_inside(const Polys& loops, IPoint p) {
    int winding = 0;
    for (const Poly& loop : loops)
        for (std::size_t i = 0, n = loop.size(); i < n; ++i) {
            const IPoint a = loop[i], b = loop[i + 1 == n ? 0 : i + 1];
            if (std::max(a.x, b.x) < p.x || std::max(a.y, b.y) < p.y || std::min(a.y, b.y) > p.y) continue;
            const std::int64_t side = cross(b - a, p - a);
            if (side == 0 && std::min(a.x, b.x) <= p.x) return false;  // on the outline
            if (a.y <= p.y && b.y > p.y && side > 0) ++winding;
            if (b.y <= p.y && a.y > p.y && side < 0) --winding;
        }
    return winding != 0;
}

bool legal(const FitTable& table, const Spots& spots, std::int64_t length) {
    const Problem& problem = table.problem();
    for (std::size_t i = 0; i < spots.size(); ++i) {
        const IBox range = range_of(problem, spots[i].shape, length);
        const IPoint at = spots[i].at;
        if (!problem.items[i].flaw &&
            (at.x < range.min_x || at.x > range.max_x || at.y < range.min_y || at.y > range.max_y))
            return false;
        for (std::size_t j = 0; j < i; ++j) {
            if (problem.items[i].flaw && problem.items[j].flaw) continue;
            const IPoint d = at - spots[j].at;
            const IBox box = table.box(spots[j].shape, spots[i].shape);
            if (d.x <= box.min_x || d.x >= box.max_x || d.y <= box.min_y || d.y >= box.max_y) continue;
            if (strictly_inside(table.pair(spots[j].shape, spots[i].shape).loops, d)) return false;
        }
    }
    return true;
}

}  // namespace spile::lay
