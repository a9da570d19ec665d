// Depth fields of all pairs of shapes.
#pragma once

#include <atomic>
#include <vector>

#include "core/layout/solve/fit_field.h"
#include "core/layout/solve/problem.h"

namespace spile::lay {

/// Made when first asked for; safe from several threads, since what is made depends on the shapes alone.
class FieldTable {
  public:
    FieldTable(const FitTable& table, double cell);
    ~FieldTable();
    FieldTable(const FieldTable&) = delete;
    FieldTable& operator=(const FieldTable&) = delete;

    const FitField& field(int fixed, int moving) const {
        const auto at = static_cast<std::size_t>(fixed) * n_ + static_cast<std::size_t>(moving);
        if (const FitField* made = fields_[at].load(std::memory_order_acquire)) return *made;
        return make(at, fixed, moving);
    }
    /// The forbidden surface's box, by pair.
    const DBox& box(int fixed, int moving) const {
        return boxes_[static_cast<std::size_t>(fixed) * n_ + static_cast<std::size_t>(moving)];
    }
    double cell() const { return cell_; }
    const Problem& problem() const { return table_.problem(); }

  private:
    const FitField& make(std::size_t at, int fixed, int moving) const;

    const FitTable& table_;
    double cell_;
    std::size_t n_;
    std::vector<DBox> boxes_;
    mutable std::vector<std::atomic<FitField*>> fields_;
};

/// A raster fine enough that an item of average size covers about 10 by 10 cells; coarser when there are very many shapes.
double usual_cell(const Problem& problem);

}  // namespace spile::lay
