// The questions of the core, and the description of the API.
#include "server/api_description.h"
#include "server/inside.h"
#include "wasm/surface.h"
#include "wasm/worked.h"

namespace spile::server {

void Server::Inside::other_routes() {
    routes.push_back({"POST", "/api/ask", Route::Who::session, [](const Asked& a) {
                          Reply reply;
                          reply.body = surface::answer(a.raw);
                          surface::forget_worked();
                          return reply;
                      }});
    routes.push_back({"GET", "/api/openapi.json", Route::Who::anyone, [](const Asked&) {
                          Reply reply;
                          reply.body = std::string(api_description());
                          return reply;
                      }});
}

}  // namespace spile::server
