// A job's account within a transaction that does more than that. Inside of shop/.
#pragma once

#include "shop/database.h"
#include "shop/payments.h"

namespace spile::shop {

Account read_account(Database& database, Id job);

}  // namespace spile::shop
