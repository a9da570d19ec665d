// The question "propose_joints". Inside of wasm/.
#pragma once

#include "wasm/json.h"
#include "wasm/request.h"

namespace spile::surface {

/// How a panel would be divided by joints along the direction, whether it is too wide for the goods or not.
Json propose_joints(Request& r);

}  // namespace spile::surface
