// A finished ticket: how long a job took, beside what it took off.
#pragma once

#include "shop/hours.h"
#include "shop/sending.h"

namespace spile::shop {

/// Writes the whole working time of a job down. What it took off is worked out anew from its newest document, so that minutes
/// and counts belong together; `visits`: how often somebody was aboard. The solver runs before the book is written to.
/// On bad input: "not-there", the findings of the job while it has no layout, and those of save_ticket.
Result<TicketWork> finish_ticket(Store& store, Id job, double minutes, int visits, const SolverFor& solver,
                                 const std::string& by);

}  // namespace spile::shop
