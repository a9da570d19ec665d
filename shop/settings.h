// What the shop has settled for itself: one JSON text per name ("prices", "minutes", "paper").
#pragma once

#include <optional>
#include <string>

#include "shop/store.h"

namespace spile::shop {

/// No value inside: never set.
Result<std::optional<std::string>> read_setting(Store& store, const std::string& name);
/// On bad input: "not-json".
Result<Done> write_setting(Store& store, const std::string& name, const std::string& json);

}  // namespace spile::shop
