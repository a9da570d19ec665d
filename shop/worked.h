// A job of the book worked out. Inside of shop/.
#pragma once

#include "core/job/run_job.h"
#include "shop/sending.h"
#include "shop/stock.h"

namespace spile::shop {

/// The newest document of a job and what follows from it.
struct Worked {
    int rev = 0;
    Job job;
    Derived derived;
};

/// Without a solver only a kept layout is used. On bad input: "not-there", and every stop of the job.
Result<Worked> worked_out(Store& store, Id id, const LayoutSolver& solver);

/// An offcut and a roll as a layout names them; `free_um`: what of the roll the job may take.
Stretch stretch_of(const Offcut& offcut);
Stretch stretch_of(const Roll& roll, std::int64_t free_um);

/// The pieces placed on an offcut and proved; nothing when one finds no place. With a solver a tight fit is searched for.
std::optional<Layout> layout_on(const Worked& worked, const Offcut& offcut, const LayoutSolver& solver = {});

/// The solver's layout of pieces on these goods, proved; nothing when there is none.
std::optional<Layout> proved_layout(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                                    const LayoutSolver& solver);

/// The whole set on one length of a roll: as the job keeps it, else as short as it goes, since steps are of what is bought and
/// the end of a roll stays whole. Nothing when there is none.
std::optional<Layout> layout_on_a_roll(const Worked& worked, const LayoutSolver& solver);

/// The same of any pieces, none of them kept.
std::optional<Layout> shortest_layout(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                                      const LayoutSolver& solver);

struct Serving {
    Offcut offcut;
    Layout layout;  ///< of the whole set on it
};
/// The smallest offcuts of these goods that hold the whole set, at most `most` of them. The 10 000 smallest that are long and
/// wide enough are tried; a tight fit may be missed.
Result<std::vector<Serving>> serving_offcuts(Store& store, const Worked& worked, Id goods, std::size_t most);

}  // namespace spile::shop
