// Jobs within a transaction that does more than that. Inside of shop/.
#pragma once

#include "shop/database.h"
#include "shop/jobs.h"

namespace spile::shop {

JobHead read_head(Database& database, Id job);
Id insert_job(Database& database, const NewJob& job);
/// Refuses as change_job says.
/// `decimals`: of the book's currency, for what it says of money.
void set_state(Database& database, const JobHead& head, JobState becomes, const std::string& by, int decimals = 2);
/// As append_revision says.
JobHead insert_revision(Database& database, const NewRevision& revision);

}  // namespace spile::shop
