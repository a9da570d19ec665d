// docs/openapi.json, copied into the program. Inside of server/.
#pragma once

#include <string_view>

namespace spile::server {

std::string_view api_description();

}  // namespace spile::server
