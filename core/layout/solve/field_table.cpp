#include "core/layout/solve/field_table.h"

#include <algorithm>
#include <cmath>
#include <memory>

namespace spile::lay {

FieldTable::FieldTable(const FitTable& table, double cell)
    : table_(table), cell_(cell), n_(table.problem().shapes.size()), boxes_(n_ * n_), fields_(n_ * n_) {
    for (std::size_t a = 0; a < n_; ++a)
        for (std::size_t b = 0; b < n_; ++b) {
            const IBox box = table.box(static_cast<int>(a), static_cast<int>(b));
            boxes_[a * n_ + b] = {static_cast<double>(box.min_x), static_cast<double>(box.min_y),
                                  static_cast<double>(box.max_x), static_cast<double>(box.max_y)};
        }
}

FieldTable::~FieldTable() {
    for (auto& f : fields_) delete f.load();
}

const FitField& FieldTable::make(std::size_t at, int fixed, int moving) const {
    auto fresh = std::make_unique<FitField>(table_.pair(fixed, moving).loops, cell_);
    FitField* expected = nullptr;
    if (fields_[at].compare_exchange_strong(expected, fresh.get(), std::memory_order_acq_rel))
        return *fresh.release();
    return *expected;
}

double usual_cell(const Problem& problem) {
    double area = 0, count = 0;
    for (const Problem::Item& item : problem.items) {
        if (item.flaw) continue;
        ++count;
        const IBox& box = problem.boxes[item.shapes[0]];
        area += static_cast<double>(box.width()) * static_cast<double>(box.height());
    }
    // The rasters of all pairs together stay at some hundred megabytes however many different shapes there are.
    const double across = std::clamp(2500 / static_cast<double>(problem.shapes.size()), 4.0, 10.0);
    return std::ceil(std::sqrt(area / count) / across);
}

}  // namespace spile::lay
