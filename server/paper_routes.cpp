// Papers and cutting files of the newest revision.
#include "server/inside.h"

namespace spile::server {
namespace {

const char* type_of(const std::string& name) {
    const std::string ending = name.substr(name.rfind('.') + 1);
    if (ending == "pdf") return "application/pdf";
    if (ending == "svg") return "image/svg+xml";
    if (ending == "csv") return "text/csv; charset=utf-8";
    if (ending == "html") return "text/html; charset=utf-8";
    if (ending == "dxf") return "image/vnd.dxf";
    return "application/octet-stream";
}

}  // namespace

void Server::Inside::paper_routes() {
    const auto papers_of = [this](const Asked& a,
                                  std::shared_ptr<const Papers>& made) -> std::optional<Reply> {
        const auto revision =
            book->with([&](shop::Store& s) { return shop::read_revision(s, a.number("id")); });
        if (!revision) return refusal(revision.findings);
        const auto hours =
            book->with([](shop::Store& s) { return shop::book_hours(s, shop::date_of(s.now())); });
        if (!hours) return refusal(hours.findings);
        made = papers.get(a.number("id"), revision->rev, revision->document, hours->times);
        return std::nullopt;
    };
    routes.push_back({"GET", "/api/jobs/{id}/papers", Route::Who::session, [papers_of](const Asked& a) {
                          std::shared_ptr<const Papers> made;
                          if (std::optional<Reply> none = papers_of(a, made)) return *none;
                          return ok({{"may_cut", made->may_cut},
                                     {"findings", surface::shown(made->findings)},
                                     {"papers", surface::list_of(made->files, [](const PaperFile& f) {
                                          return Json{{"name", f.name},       {"title", f.title},
                                                      {"purpose", f.purpose}, {"group", words_for(f.group)},
                                                      {"cutting", f.cutting}, {"bytes", f.bytes.size()}};
                                      })}});
                      }});
    routes.push_back(
        {"GET", "/api/jobs/{id}/papers/{name}", Route::Who::session, [papers_of](const Asked& a) {
             std::shared_ptr<const Papers> made;
             if (std::optional<Reply> none = papers_of(a, made)) return *none;
             // Found among the names that were made, never looked for on the disk.
             for (const PaperFile& f : made->files) {
                 if (f.name != a.part("name")) continue;
                 Reply reply;
                 reply.body = f.bytes;
                 reply.type = type_of(f.name);
                 reply.headers["Content-Disposition"] = "inline; filename=\"" + f.name + "\"";
                 // A paper is looked at by itself, where nothing in it may run.
                 reply.headers["Content-Security-Policy"] =
                     "default-src 'none'; style-src 'unsafe-inline'; sandbox";
                 return reply;
             }
             return refusal(404, "not-there", "This job has no such paper.",
                            made->may_cut ? "Ask for the list of papers."
                                          : "Files to cut from are held back while something stops.");
         }});
}

}  // namespace spile::server
