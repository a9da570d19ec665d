// What is written down beside a job: notes, files, the minutes of its ticket; and what a stretch of days came to.
#include "core/base/stop.h"
#include "server/inside.h"
#include "shop/attachments.h"
#include "shop/base64.h"
#include "shop/show.h"
#include "shop/tickets.h"
#include "shop/totals.h"

namespace spile::server {
namespace {

constexpr int kMostVisits = 1000;
constexpr double kMostMinutes = 100'000;

template <class T>
Reply shown_as(const char* name, const Result<T>& result, int status = 200) {
    return result ? ok({{name, shop::shown(*result)}}, status) : refusal(result.findings);
}

/// Pictures and PDF are shown where they are; anything else is only ever saved, never run.
std::string shown_type(const std::string& media) {
    for (const char* known : {"image/jpeg", "image/png", "image/webp", "application/pdf", "text/plain"})
        if (media == known) return media;
    return "application/octet-stream";
}

}  // namespace

void Server::Inside::record_routes() {
    routes.push_back({"GET", "/api/jobs/{id}/notes", Route::Who::session, [this](const Asked& a) {
                          return shown_as("notes", book->with([&](shop::Store& s) {
                              return shop::list_notes(s, a.number("id"));
                          }));
                      }});
    routes.push_back({"POST", "/api/jobs/{id}/notes", Route::Who::session, [this](const Asked& a) {
                          Body body(a.body);
                          body.only({"text"});
                          const std::string text = body.text("text");
                          if (body.good() && text.empty())
                              body.fault("A note without a word.", "Write what is to be known.");
                          if (!body.good()) return body.refusal();
                          return shown_as("note", book->with([&](shop::Store& s) {
                              return shop::add_note(s, a.number("id"), text, a.who);
                          }),
                                          201);
                      }});
    routes.push_back({"GET", "/api/jobs/{id}/files", Route::Who::session, [this](const Asked& a) {
                          return shown_as("files", book->with([&](shop::Store& s) {
                              return shop::list_attachments(s, a.number("id"));
                          }));
                      }});
    routes.push_back({"POST", "/api/jobs/{id}/files", Route::Who::session, [this](const Asked& a) {
                          Body body(a.body);
                          body.only({"name", "media", "base64"});
                          const std::string name = body.text("name"), media = body.text_or("media", "");
                          const std::optional<std::string> bytes = shop::from_base64(body.text("base64"));
                          if (!bytes)
                              body.fault("\"base64\" is no base64.", "Send the bytes of the file in base64.");
                          if (!body.good()) return body.refusal();
                          return shown_as("file", book->with([&](shop::Store& s) {
                              return shop::add_attachment(s, a.number("id"), name, media, *bytes, a.who);
                          }),
                                          201);
                      }});
    routes.push_back({"GET", "/api/jobs/{id}/files/{file}", Route::Who::session, [this](const Asked& a) {
                          const auto head = attachment_of(a);
                          if (!head) return refusal(head.findings);
                          const auto bytes =
                              book->with([&](shop::Store& s) { return shop::read_attachment(s, head->id); });
                          if (!bytes) return refusal(bytes.findings);
                          Reply reply;
                          reply.body = *bytes;
                          reply.type = shown_type(head->media);
                          reply.headers["Content-Disposition"] =
                              reply.type == "application/octet-stream" ? "attachment" : "inline";
                          reply.headers["Content-Security-Policy"] = "default-src 'none'; sandbox";
                          return reply;
                      }});
    routes.push_back({"DELETE", "/api/jobs/{id}/files/{file}", Route::Who::session, [this](const Asked& a) {
                          const auto head = attachment_of(a);
                          if (!head) return refusal(head.findings);
                          const auto done = book->with(
                              [&](shop::Store& s) { return shop::remove_attachment(s, head->id); });
                          return done ? ok({}) : refusal(done.findings);
                      }});
    routes.push_back({"PUT", "/api/jobs/{id}/ticket", Route::Who::session, [this](const Asked& a) {
                          Body body(a.body);
                          body.only({"minutes", "visits"});
                          const double minutes = body.number("minutes", 0, kMostMinutes);
                          const auto visits = static_cast<int>(body.whole_or("visits", 2, 0, kMostVisits));
                          if (!body.good()) return body.refusal();
                          const auto store = own_store();
                          if (!store) return refusal(store.findings);
                          return shown_as("ticket", shop::finish_ticket(**store, a.number("id"), minutes,
                                                                        visits, solvers(), a.who));
                      }});
    routes.push_back({"GET", "/api/tickets", Route::Who::session, [this](const Asked&) {
                          return shown_as("tickets",
                                          book->with([](shop::Store& s) { return shop::list_tickets(s); }));
                      }});
    routes.push_back(
        {"GET", "/api/totals", Route::Who::session, [this](const Asked& a) {
             const auto sums = book->with([&](shop::Store& s) {
                 const std::string to = a.query_text("to");
                 return shop::totals_of(s, a.query_text("from"), to.empty() ? shop::date_of(s.now()) : to);
             });
             if (!sums) return refusal(sums.findings);
             const int decimals = book->with([](shop::Store& s) { return shop::book_currency(s).decimals; });
             return ok({{"totals", shop::shown(*sums, decimals)}});
         }});
}

Result<shop::AttachmentHead> Server::Inside::attachment_of(const Asked& a) {
    const auto files = book->with([&](shop::Store& s) { return shop::list_attachments(s, a.number("id")); });
    if (!files) return {std::nullopt, files.findings};
    for (const shop::AttachmentHead& file : *files)
        if (file.id == a.number("file")) return Result<shop::AttachmentHead>::ok(file);
    return Result<shop::AttachmentHead>::refuse(stop_finding(
        "not-there", "The job has no such file.", "List its files.", {"attachment", a.part("file")}));
}

}  // namespace spile::server
