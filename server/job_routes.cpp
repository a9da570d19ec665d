// Jobs, their revisions, edits and undo.
#include <algorithm>

#include "server/inside.h"
#include "shop/show.h"

namespace spile::server {
namespace {

constexpr std::size_t longest_op_id = 80, longest_why = 200;

Reply edited(const Edited& e, int status) {
    return ok({{"head", shop::shown(e.head)},
               {"made", e.made},
               {"again", e.again},
               {"merged", e.merged},
               {"job", e.document},
               {"more", surface::shown(edits_as_json(e.more))}},
              status);
}

std::string op_id_of(Body& body) {
    std::string op_id = body.text("op_id");
    if (body.good() && (op_id.empty() || op_id.size() > longest_op_id))
        body.fault("\"op_id\" has 1 to " + std::to_string(longest_op_id) + " characters.",
                   "Make one that is used once.");
    return op_id;
}

}  // namespace

void Server::Inside::job_routes() {
    routes.push_back(
        {"GET", "/api/jobs", Route::Who::session, [this](const Asked& a) {
             shop::JobQuery query;
             query.text = a.query_text("text");
             query.skip = static_cast<std::size_t>(a.query_number("skip", 0));
             query.limit =
                 static_cast<std::size_t>(std::min<std::int64_t>(a.query_number("limit", 50), 1000));
             const std::string state = a.query_text("state");
             query.state = shop::state_of(state);
             if (!state.empty() && !query.state)
                 return refusal(422, "question", "There is no state \"" + state + "\".", "Ask for another.");
             const auto heads = book->with([&](shop::Store& s) { return shop::find_jobs(s, query); });
             if (!heads) return refusal(heads.findings);
             const auto count = book->with([&](shop::Store& s) { return shop::count_jobs(s, query); });
             if (!count) return refusal(count.findings);
             return ok({{"count", *count}, {"jobs", surface::list_of(*heads, [](const shop::JobHead& h) {
                                                return shop::shown(h);
                                            })}});
         }});
    routes.push_back({"POST", "/api/jobs", Route::Who::session, [this](const Asked& a) {
                          Body body(a.body);
                          body.only({"text"});
                          const std::string text = body.text("text");
                          if (!body.good()) return body.refusal();
                          const auto head = book->add(text, a.who);
                          return head ? ok({{"head", shop::shown(*head)}}, 201) : refusal(head.findings);
                      }});
    routes.push_back({"GET", "/api/jobs/{id}", Route::Who::session, [this](const Asked& a) {
                          const auto head =
                              book->with([&](shop::Store& s) { return shop::job_head(s, a.number("id")); });
                          if (!head) return refusal(head.findings);
                          const auto revision = book->with(
                              [&](shop::Store& s) { return shop::read_revision(s, head->id, head->rev); });
                          if (!revision) return refusal(revision.findings);
                          return ok({{"head", shop::shown(*head)}, {"job", revision->document}, {"life", life}});
                      }});
    routes.push_back({"PATCH", "/api/jobs/{id}", Route::Who::session, [this](const Asked& a) {
                          Body body(a.body);
                          body.only({"state", "promised", "customer", "boat"});
                          shop::JobChange change;
                          change.by = a.who;
                          if (body.has("state")) {
                              change.state = shop::state_of(body.text("state"));
                              if (body.good() && !change.state)
                                  body.fault("There is no such state of a job.", "Name another.");
                          }
                          if (body.has("promised")) change.promised = body.text("promised");
                          if (body.has("customer"))
                              change.customer = body.whole("customer", 0, 1'000'000'000);
                          if (body.has("boat")) change.boat = body.whole("boat", 0, 1'000'000'000);
                          if (!body.good()) return body.refusal();
                          const auto head = book->with(
                              [&](shop::Store& s) { return shop::change_job(s, a.number("id"), change); });
                          if (!head) return refusal(head.findings);
                          news.tell({0, "job", {{"id", head->id}}});
                          return ok({{"head", shop::shown(*head)}});
                      }});
    routes.push_back({"GET", "/api/jobs/{id}/states", Route::Who::session, [this](const Asked& a) {
                          const auto list = book->with(
                              [&](shop::Store& s) { return shop::list_states(s, a.number("id")); });
                          return list ? ok({{"states", shop::shown(*list)}}) : refusal(list.findings);
                      }});
    routes.push_back({"GET", "/api/jobs/{id}/revisions", Route::Who::session, [this](const Asked& a) {
                          const auto list = book->with([&](shop::Store& s) {
                              return shop::list_revisions(s, a.number("id"), 100,
                                                          static_cast<int>(a.query_number("before", 0)));
                          });
                          if (!list) return refusal(list.findings);
                          return ok(
                              {{"revisions", surface::list_of(*list, [](const shop::RevisionHead& r) {
                                    return Json{{"rev", r.rev}, {"at", r.at}, {"by", r.by}, {"why", r.why}};
                                })}});
                      }});
    routes.push_back({"GET", "/api/jobs/{id}/revisions/{rev}", Route::Who::session, [this](const Asked& a) {
                          const std::int64_t rev = a.number("rev");
                          if (rev < 1 || rev > 2'000'000'000)
                              return refusal(404, "not-there", "There is no such revision.", "");
                          const auto revision = book->with([&](shop::Store& s) {
                              return shop::read_revision(s, a.number("id"), static_cast<int>(rev));
                          });
                          if (!revision) return refusal(revision.findings);
                          return ok({{"rev", revision->rev},
                                     {"at", revision->at},
                                     {"by", revision->by},
                                     {"why", revision->why},
                                     {"job", revision->document}});
                      }});
    routes.push_back({"POST", "/api/jobs/{id}/edits", Route::Who::session, [this](const Asked& a) {
                          Body body(a.body);
                          body.only({"op_id", "base_rev", "why", "edits", "life"});
                          Action action;
                          action.op_id = op_id_of(body);
                          action.base_rev = static_cast<int>(body.whole("base_rev", 1, 2'000'000'000));
                          action.why = body.text_or("why", "edit").substr(0, longest_why);
                          Result<std::vector<spile::Edit>> edits = edits_from_json(body.value("edits"));
                          if (!body.good()) return body.refusal();
                          if (!edits) return refusal(edits.findings);
                          if (body.text_or("life", life) != life)
                              return refusal(409, "another-book",
                                             "A copy has taken the place of the book since this page was opened; "
                                             "the change was made to the book before it.",
                                             "Look at what the book has now, and do it again.");
                          action.edits = std::move(*edits);
                          const Result<Edited> done = book->edit(a.number("id"), action, a.who);
                          return done ? edited(*done, 200) : refusal(done.findings);
                      }});
    routes.push_back({"POST", "/api/jobs/{id}/undo", Route::Who::session, [this](const Asked& a) {
                          Body body(a.body);
                          body.only({"op_id", "rev"});
                          const std::string op_id = op_id_of(body);
                          const int rev = static_cast<int>(body.whole("rev", 1, 2'000'000'000));
                          if (!body.good()) return body.refusal();
                          const Result<Edited> done = book->undo(a.number("id"), rev, op_id, a.who);
                          return done ? edited(*done, 200) : refusal(done.findings);
                      }});
}

}  // namespace spile::server
