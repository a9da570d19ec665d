// Searches for a layout, and the stream of news of a job.
#include "core/job/limits.h"
#include "server/fillers_of.h"
#include "server/inside.h"

namespace spile::server {
namespace {

constexpr int most_rounds = 100'000, usual_rounds = 640;
constexpr std::size_t most_pins = 1000;
constexpr std::int64_t most_um = 1'000'000'000;  // a kilometre
constexpr int heartbeat_ms = 10'000;

Json shown_place(const Placement& p) {
    return {{"piece", p.piece}, {"x_um", p.x_um}, {"y_um", p.y_um}, {"turns", p.turns}};
}

Json shown(const SearchState& s) {
    Json out = {{"state", s.state},
                {"rev", s.rev},
                {"fingerprint", s.fingerprint},
                {"rounds", s.rounds},
                {"done", s.done},
                {"layout", nullptr},
                {"findings", surface::shown(s.findings)}};
    if (!s.best) return out;
    out["layout"] = {{"placements", surface::list_of(s.best->placements, shown_place)},
                     {"rounds", s.best->rounds},
                     {"used_mm", s.best->used_mm},
                     {"bought_mm", s.best->bought_mm},
                     {"bound_mm", s.best->bound_mm},
                     {"bound_reason", s.best->bound_reason},
                     {"goods_share", s.best->goods_share}};
    return out;
}

/// Where pieces lie on the one length of the roll; none without the key.
std::vector<Placement> places_of(Body& body, const char* key) {
    std::vector<Placement> pins;
    if (!body.has(key)) return pins;
    const JsonValue& list = body.value(key);
    bool good = list.is(JsonValue::Kind::list) && list.items.size() <= most_pins;
    for (std::size_t i = 0; good && i < list.items.size(); ++i) {
        Body pin(list.items[i]);
        pin.only({"piece", "x_um", "y_um", "turns", "stretch"});
        Placement at;
        at.piece = pin.text("piece");
        at.x_um = pin.whole("x_um", -most_um, most_um);
        at.y_um = pin.whole("y_um", -most_um, most_um);
        if (pin.has("turns")) at.turns = static_cast<int>(pin.whole("turns", 0, 3));
        // The search lays out on one length of the roll: what lies on another is free.
        const bool elsewhere = pin.has("stretch") && pin.whole("stretch", 0, limits::stretches) > 0;
        good = pin.good();
        if (!elsewhere) pins.push_back(std::move(at));
    }
    if (!good)
        body.fault("\"" + std::string(key) + "\" is a list of at most " + std::to_string(most_pins) +
                       " places, each with \"piece\", \"x_um\" and \"y_um\" in whole micrometres.",
                   "Name pieces and where they lie.");
    return pins;
}

std::string event(const NewsItem& item) {
    return "event: " + item.kind + "\nid: " + std::to_string(item.number) +
           "\ndata: " + surface::as_text(item.says) + "\n\n";
}

struct KeptJob {
    int rev = 0;
    Job job;
};

/// The newest revision of a job of the book, read.
Result<KeptJob> kept_job(Book& book, std::int64_t id) {
    Result<KeptJob> kept;
    auto revision = book.with([&](shop::Store& s) { return shop::read_revision(s, id); });
    kept.findings = std::move(revision.findings);
    if (!revision) return kept;
    Result<Job> job = read_job(revision->document);
    kept.findings = std::move(job.findings);
    if (job) kept.value = KeptJob{revision->rev, std::move(*job)};
    return kept;
}

}  // namespace

void Server::Inside::layout_routes() {
    routes.push_back(
        {"POST", "/api/jobs/{id}/layout", Route::Who::session, [this](const Asked& a) {
             Body body(a.body);
             body.only({"rounds", "pins"});
             const int rounds = static_cast<int>(body.whole_or("rounds", usual_rounds, 0, most_rounds));
             std::vector<Placement> pins = places_of(body, "pins");
             if (!body.good()) return body.refusal();
             Result<KeptJob> kept = kept_job(*book, a.number("id"));
             if (!kept) return refusal(kept.findings);
             if (!searches->start(a.number("id"), kept->rev, std::move(kept->job), rounds, std::move(pins)))
                 return refusal(503, "too-busy", "Too many searches wait already.", "Try again in a minute.");
             return ok({{"search", shown(*searches->state(a.number("id")))}}, 202);
         }});
    routes.push_back({"GET", "/api/jobs/{id}/layout", Route::Who::session, [this](const Asked& a) {
                          const std::optional<SearchState> state = searches->state(a.number("id"));
                          if (!state)
                              return refusal(404, "not-there", "No layout has been looked for.",
                                             "Begin a search.");
                          return ok({{"search", shown(*state)}});
                      }});
    routes.push_back({"DELETE", "/api/jobs/{id}/layout", Route::Who::session, [this](const Asked& a) {
                          searches->stop(a.number("id"));
                          const std::optional<SearchState> state = searches->state(a.number("id"));
                          if (!state)
                              return refusal(404, "not-there", "No layout has been looked for.",
                                             "Begin a search.");
                          return ok({{"search", shown(*state)}});
                      }});
    routes.push_back(
        {"POST", "/api/jobs/{id}/fillers", Route::Who::session, [this](const Asked& a) {
             Body body(a.body);
             body.only({"placements"});
             std::vector<Placement> placements = places_of(body, "placements");
             if (!body.good()) return body.refusal();
             Result<KeptJob> kept = kept_job(*book, a.number("id"));
             if (!kept) return refusal(kept.findings);
             const std::lock_guard one_at_a_time(filling);
             return ok({{"fillers",
                         surface::list_of(fillers_of(std::move(kept->job), std::move(placements)), shown_place)}});
         }});
    const auto stream = [this](const Asked& a, std::int64_t job) {
        if (!streams.enter(a.session))
            return refusal(503, "too-many-streams", "Too many pages are listening already.",
                           "Close one, or ask for the job now and then instead.");
        Reply reply;
        reply.type = "text/event-stream";
        reply.headers["Cache-Control"] = "no-store";
        reply.stream = [this, job, session = a.session, seen = news.newest(),
                        begun = false](const std::function<bool(std::string_view)>& write) mutable {
            if (!begun) {
                begun = true;
                return write("retry: 2000\nevent: ready\ndata: {}\n\n");
            }
            bool missed = false;
            const std::vector<NewsItem> items = news.follow(job, seen, heartbeat_ms, missed);
            if (news.ended() || !sessions->still(session)) return false;
            if (missed) return write("event: missed\ndata: {}\n\n");
            if (items.empty()) return write(": still here\n\n");
            std::string text;
            for (const NewsItem& item : items) text += event(item);
            return write(text);
        };
        reply.stream_done = [this, session = a.session] { streams.leave(session); };
        return reply;
    };
    routes.push_back({"GET", "/api/jobs/{id}/events", Route::Who::session, [this, stream](const Asked& a) {
                          const auto head =
                              book->with([&](shop::Store& s) { return shop::job_head(s, a.number("id")); });
                          return head ? stream(a, head->id) : refusal(head.findings);
                      }});
    routes.push_back(
        {"GET", "/api/events", Route::Who::session, [stream](const Asked& a) { return stream(a, 0); }});
}

}  // namespace spile::server
