// Stock within a transaction that does more than that. Inside of shop/.
#pragma once

#include "shop/database.h"
#include "shop/stock.h"

namespace spile::shop {

Roll roll_row(Database& database, Id id);
void add_movement(Database& database, const Movement& movement);  ///< stamped with the time of the book
void add_to_roll(Database& database, Id roll, std::int64_t um);
/// Refuses with "short-of-roll" unless so much is free for this job: what others reserved counts as gone.
void need_free(Database& database, const Roll& roll, Id job, std::int64_t um);

}  // namespace spile::shop
