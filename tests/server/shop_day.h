// Every route of the shop's book once: goods, rolls, papers, money, repeat orders, settings, backup.
#pragma once

#include "tests/server/running.h"

namespace spile::testing {

/// A job with the layout it keeps, as the page has it before it is cut. Its id.
std::int64_t kept_job(Client& page, const std::string& text);
std::int64_t kept_example(Client& page);

void ask_the_shop(Client& page);

}  // namespace spile::testing
