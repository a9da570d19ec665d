// Drawings made elsewhere: looked at, and made a job of. Nothing of a drawing is kept but the job.
#include <algorithm>
#include <cmath>
#include <mutex>

#include "core/geom/measure_of.h"
#include "import/job/job.h"
#include "server/inside.h"
#include "shop/base64.h"
#include "shop/show.h"

namespace spile::server {
namespace {

/// Outlines that are shown; no sheet of panels has more, and nobody picks among them.
constexpr std::size_t kMostShown = 1000;
constexpr std::size_t kMostWords = 200;

Json shown(const import::Offer& offer, const LengthStyle& lengths) {
    Json list = Json::array();
    for (std::size_t i = 0; i < std::min(kMostShown, offer.outlines.size()); ++i) {
        const import::Offered& o = offer.outlines[i];
        const Box size = box_of(o.outline);
        list.push_back({{"number", i + 1},
                        {"layer", o.layer},
                        {"along", surface::length(size.width(), lengths)},
                        {"across", surface::length(size.height(), lengths)},
                        {"d", surface::path_data(o.outline)},
                        {"corners", o.outline.size()},
                        {"inside", o.inside + 1},
                        {"departure", surface::length(o.departure_mm, lengths)},
                        {"widest_gap", surface::length(o.widest_gap_mm, lengths)}});
    }
    return list;
}

/// What is asked of a drawing, and its bytes.
struct Question {
    std::string name, bytes;
    import::Wanted wanted;
};

Question question_of(Body& body) {
    Question q;
    q.name = body.text("name");
    if (q.name.size() > kMostWords) body.fault("The name of the drawing is too long.", "Give it a shorter one.");
    std::optional<std::string> bytes = shop::from_base64(body.text("base64"));
    if (!bytes) body.fault("\"base64\" is no base64.", "Send the bytes of the drawing in base64.");
    q.bytes = std::move(bytes).value_or("");
    q.wanted.units = body.text_or("units", "");
    q.wanted.gap = body.text_or("gap", q.wanted.gap);
    q.wanted.arcs = body.text_or("arcs", q.wanted.arcs);
    return q;
}

import::Choice choice_of(Body& body) {
    import::Choice choice;
    if (!body.has("outlines")) return choice;
    const JsonValue& list = body.value("outlines");
    for (const JsonValue& item : list.items) {
        if (item.is(JsonValue::Kind::number) && item.number == std::floor(item.number) && item.number >= 1 &&
            item.number <= static_cast<double>(import::limits::lines))
            choice.outlines.push_back(static_cast<int>(item.number));
        else
            body.fault("An outline is named by its number, from 1.", "Name those that were offered.");
    }
    if (!list.is(JsonValue::Kind::list) || list.items.empty())
        body.fault("\"outlines\" names none.", "Name the numbers of those that become panels.");
    return choice;
}

/// A large drawing takes a processor for a while: one at a time, whoever asks.
std::mutex reading;

Result<import::Looked> looked_at(const Question& q) {
    const std::lock_guard lock(reading);
    return import::look_at_drawing(q.name, q.bytes, q.wanted);
}

}  // namespace

void Server::Inside::drawing_routes() {
    routes.push_back({"POST", "/api/drawings/look", Route::Who::session, [](const Asked& a) {
                          Body body(a.body);
                          body.only({"name", "base64", "units", "gap", "arcs"});
                          const Question q = question_of(body);
                          if (!body.good()) return body.refusal();
                          const Result<import::Looked> looked = looked_at(q);
                          if (!looked) return refusal(looked.findings);
                          Box all;
                          for (const import::Offered& o : looked->offer.outlines) all.add(box_of(o.outline));
                          return ok({{"mm_per_unit", looked->offer.mm_per_unit},
                                     {"count", looked->offer.outlines.size()},
                                     {"outlines", shown(looked->offer, looked->lengths)},
                                     {"box", surface::box(all)},
                                     {"findings", surface::shown(looked.findings)}});
                      }});
    routes.push_back({"POST", "/api/drawings/job", Route::Who::session, [this](const Asked& a) {
                          Body body(a.body);
                          body.only({"name", "base64", "units", "gap", "arcs", "outlines", "title"});
                          const Question q = question_of(body);
                          const import::Choice choice = choice_of(body);
                          const std::string title = body.text_or("title", q.name).substr(0, kMostWords);
                          if (!body.good()) return body.refusal();
                          const Result<import::Looked> looked = looked_at(q);
                          if (!looked) return refusal(looked.findings);
                          const Result<JsonValue> job = import::job_of_drawing(*looked, choice, title);
                          if (!job) return refusal(job.findings);
                          const auto head = book->add(write_said(*job), a.who);
                          return head ? ok({{"head", shop::shown(*head)}}, 201) : refusal(head.findings);
                      }});
}

}  // namespace spile::server
