// Revisions of a document as rows. Inside of shop/.
#pragma once

#include <string>
#include <vector>

#include "shop/database.h"
#include "shop/jobs.h"

namespace spile::shop {

/// Stores `text` as revision `rev` of the job, whole or as what differs from `before` (the revision before it; empty for
/// the first), with its edits. Every 32nd revision is whole, so that reading one stays quick.
void write_revision(Database& database, Id job, int rev, const std::string& before, const std::string& text,
                    const std::string& by, const std::string& why, const std::vector<Edit>& edits);

/// Refuses with "not-there", or "shop-damaged" when the text does not agree with its sum.
Revision read_kept_revision(Database& database, Id job, int rev);

}  // namespace spile::shop
