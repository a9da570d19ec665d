// Test helper: whether rectangles of whole sizes fit a strip, by trying every place of a grid.
#pragma once

#include <vector>

namespace spile {

struct Rectangle {
    int along, across;
};

/// Every place, one rectangle after another. Requires: `taken` of length x width, those before `next` marked.
inline bool fit_on_grid(const std::vector<Rectangle>& all, int width, int length, std::vector<char>& taken,
                        std::size_t next) {
    if (next == all.size()) return true;
    const Rectangle r = all[next];
    for (int x = 0; x + r.along <= length; ++x)
        for (int y = 0; y + r.across <= width; ++y) {
            const auto each = [&](auto&& act) {
                for (int i = x; i < x + r.along; ++i)
                    for (int j = y; j < y + r.across; ++j)
                        if (!act(taken[static_cast<std::size_t>(i * width + j)])) return false;
                return true;
            };
            if (!each([](char& cell) { return cell == 0; })) continue;
            each([](char& cell) { return cell = 1, true; });
            const bool fits = fit_on_grid(all, width, length, taken, next + 1);
            each([](char& cell) { return cell = 0, true; });
            if (fits) return true;
        }
    return false;
}

/// Rectangles of whole sizes need no more than a layout on whole places (push all to the cut end and the selvedge), so the
/// shortest length is a whole number.
inline int shortest_on_grid(const std::vector<Rectangle>& all, int width) {
    for (int length = 1;; ++length) {
        std::vector<char> taken(static_cast<std::size_t>(length * width), 0);
        if (fit_on_grid(all, width, length, taken, 0)) return length;
    }
}

}  // namespace spile
