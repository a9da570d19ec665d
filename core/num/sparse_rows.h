// Rows of a Jacobian, compressed: each observation touches a handful of parameters.
#pragma once

#include <cstddef>
#include <vector>

namespace spile {

struct SparseRows {
    std::vector<std::size_t> start{0};  ///< row i holds the entries [start[i], start[i + 1])
    std::vector<int> column;
    std::vector<double> value;

    std::size_t rows() const { return start.size() - 1; }
    void clear() {
        start.assign(1, 0);
        column.clear();
        value.clear();
    }
    void add(int col, double v) {
        column.push_back(col);
        value.push_back(v);
    }
    void end_row() { start.push_back(column.size()); }
};

}  // namespace spile
