// What several files of this folder read or settle about rows. Inside of shop/.
#pragma once

#include <optional>
#include <string>

#include "shop/database.h"

namespace spile::shop {

/// Refuses with "not-there" unless `table` has row `id`. `what` names it: "job".
void need_row(Database& database, const char* table, const char* what, Id id);

/// Refuses with "date-refused" unless empty or a date.
void check_date(const std::string& date);

/// None instead of 0, for a reference that may be absent.
std::optional<Id> or_none(Id id);

/// What a search for this job looks in: its own words, its customer's and its boat's.
void refresh_job_search(Database& database, Id job);

/// Refuses with "not-there", or with "boat-of-another" when the boat is another customer's.
void check_owner(Database& database, Id customer, Id boat);

}  // namespace spile::shop
