// Backups: checked copies beside the book, carried away and proved. For the shop's own computer alone: they fill its disk,
// and hold all that the shop knows.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "server/brought_copy.h"
#include "server/inside.h"
#include "shop/base64.h"
#include "shop/put_back.h"
#include "shop/safe.h"
#include "shop/show.h"

namespace spile::server {
namespace {

namespace fs = std::filesystem;

constexpr const char* kEnding = ".spile";
constexpr std::int64_t kMostWhole =
    1'000'000'000'000'000;  // whatever is more than a copy may have is said as such

/// "shop 2026-03-01 14-05-09.spile", by the moment.
std::string name_at(const char* what, shop::Seconds now) {
    std::string name = std::string(what) + ' ' + shop::date_time_of(now) + kEnding;
    std::replace(name.begin(), name.end(), ':', '-');
    return name;
}

struct Kept {
    std::string name;
    std::uintmax_t bytes = 0;
};

/// "shop 2026-03-01 14-05-09.spile" without its first word: the moment.
std::string_view moment_of(const std::string& name) {
    return std::string_view(name).substr(std::min(name.find(' '), name.size()));
}

/// Newest first.
std::vector<Kept> kept_in(const fs::path& folder) {
    std::vector<Kept> list;
    std::error_code ignored;
    for (const fs::directory_entry& entry : fs::directory_iterator(folder, ignored))
        if (entry.is_regular_file(ignored) && entry.path().extension() == kEnding)
            list.push_back({entry.path().filename().string(), entry.file_size(ignored)});
    std::sort(list.begin(), list.end(), [](const Kept& a, const Kept& b) {
        return std::pair(moment_of(a.name), a.name) > std::pair(moment_of(b.name), b.name);
    });
    return list;
}

/// Only what stands in the list is touched, so no name leads out of the folder.
std::optional<fs::path> named(const fs::path& folder, const std::string& name) {
    for (const Kept& kept : kept_in(folder))
        if (kept.name == name) return folder / name;
    return std::nullopt;
}

Reply no_backup(const std::string& name) {
    return refusal(404, "not-there", "There is no backup \"" + name + "\".", "List the backups.");
}

/// A name that no copy has yet.
std::string free_name(const fs::path& folder, const char* what, shop::Seconds now) {
    std::string name = name_at(what, now);
    while (fs::exists(folder / name)) name = name_at(what, ++now);
    return name;
}

}  // namespace

void Server::Inside::backup_routes() {
    const fs::path folder = fs::path(options.book).parent_path() / "backups";
    routes.push_back({"GET", "/api/backups", Route::Who::local, [this, folder](const Asked&) {
                          return ok({{"folder", folder.string()},
                                     {"put_back", put_back},
                                     {"backups", surface::list_of(kept_in(folder), [](const Kept& k) {
                                          return Json{{"name", k.name}, {"bytes", k.bytes}};
                                      })}});
                      }});
    routes.push_back({"POST", "/api/backups", Route::Who::local, [this, folder](const Asked& a) {
                          Body body(a.body);
                          body.only({});
                          if (!body.good()) return body.refusal();
                          const auto store = own_store();
                          if (!store) return refusal(store.findings);
                          std::error_code ignored;
                          fs::create_directories(folder, ignored);
                          const std::string name = name_at("shop", (*store)->now());
                          const auto says = shop::back_up(**store, (folder / name).string());
                          return says ? ok({{"name", name}, {"says", *says}}, 201) : refusal(says.findings);
                      }});
    const auto brought = std::make_shared<BroughtCopy>(folder);
    routes.push_back(
        {"POST", "/api/backups/brought", Route::Who::local, [this, folder, brought](const Asked& a) {
             Body body(a.body);
             body.only({"from", "of", "base64"});
             const std::int64_t from = body.whole("from", 0, kMostWhole),
                                of = body.whole("of", 1, kMostWhole);
             const std::optional<std::string> bytes = shop::from_base64(body.text("base64"));
             if (!bytes) body.fault("\"base64\" is no base64.", "Send the bytes of the copy in base64.");
             if (!body.good()) return body.refusal();
             const auto there = brought->take(from, of, *bytes);
             if (!there) return refusal(there.findings);
             if (*there < of) return ok({{"there", *there}});
             const auto now = book->with([](shop::Store& s) { return s.now(); });
             const std::string name = free_name(folder, "brought", now);
             const auto says = brought->prove(of, folder / name);
             if (says) return ok({{"name", name}, {"says", *says}}, 201);
             Reply reply = refusal(says.findings);
             // It is the file that was brought that is damaged, not the machine.
             if (says.findings[0].code == "shop-damaged") reply.status = 422;
             return reply;
         }});
    routes.push_back({"GET", "/api/backups/{name}", Route::Who::local, [folder](const Asked& a) {
                          const auto path = named(folder, a.part("name"));
                          if (!path) return no_backup(a.part("name"));
                          std::ifstream file(*path, std::ios::binary);
                          std::ostringstream bytes;
                          bytes << file.rdbuf();
                          Reply reply;
                          reply.body = std::move(bytes).str();
                          reply.type = "application/octet-stream";
                          reply.headers["Content-Disposition"] =
                              "attachment; filename=\"" + a.part("name") + "\"";
                          return reply;
                      }});
    routes.push_back({"POST", "/api/backups/{name}/try", Route::Who::local, [folder](const Asked& a) {
                          Body body(a.body);
                          body.only({});
                          if (!body.good()) return body.refusal();
                          const auto path = named(folder, a.part("name"));
                          if (!path) return no_backup(a.part("name"));
                          const auto says = proved_copy(*path);
                          return says ? ok({{"says", *says}}) : refusal(says.findings);
                      }});
    routes.push_back(
        {"POST", "/api/backups/{name}/put-back", Route::Who::local, [this, folder](const Asked& a) {
             Body body(a.body);
             body.only({"instead_of_the_book"});
             if (!body.flag_or("instead_of_the_book", false))
                 body.fault("Nobody said that this copy shall take the place of the book.",
                            "Say it, or leave the book as it is.");
             if (!body.good()) return body.refusal();
             const auto path = named(folder, a.part("name"));
             if (!path) return no_backup(a.part("name"));
             const auto says = proved_copy(*path);
             if (!says) return refusal(says.findings);
             const auto now = book->with([](shop::Store& s) { return s.now(); });
             const std::string aside = free_name(folder, "replaced", now);
             const auto asked =
                 shop::ask_to_put_back(options.book, path->string(), (folder / aside).string());
             if (!asked) return refusal(asked.findings);
             // Done when nobody has the book open: between this end and the next start.
             again = true;
             stop();
             return ok({{"says", *says}, {"aside", aside}});
         }});
}

}  // namespace spile::server
