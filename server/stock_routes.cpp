// Goods, rolls and offcuts, and the cutting of them.
#include <cmath>

#include "core/geom/measure_of.h"
#include "server/inside.h"
#include "shop/choice.h"
#include "shop/cutting.h"
#include "shop/show.h"

namespace spile::server {
namespace {

constexpr double kLongestRoll_mm = 1e6;

std::int64_t um_of(double mm) {
    return std::llround(mm * 1000);
}

template <class T>
Reply shown_as(const char* name, const Result<T>& result, int status = 200) {
    return result ? ok({{name, shop::shown(*result)}}, status) : refusal(result.findings);
}

/// With its outline ready to be drawn, in the drawing space of the core's surface (wasm/show.h).
Json drawn(const shop::Offcut& offcut) {
    Json json = shop::shown(offcut);
    json["d"] = surface::path_data(offcut.outline);
    json["box"] = surface::box(box_of(offcut.outline));
    return json;
}
Reply drawn_offcuts(const Result<std::vector<shop::Offcut>>& offcuts) {
    if (!offcuts) return refusal(offcuts.findings);
    return ok({{"offcuts", surface::list_of(*offcuts, drawn)}});
}

std::size_t limit_of(const Asked& a) {
    return static_cast<std::size_t>(std::min<std::int64_t>(a.query_number("limit", 100), 1000));
}
std::size_t skip_of(const Asked& a) {
    return static_cast<std::size_t>(a.query_number("skip", 0));
}

/// A layout is accepted on the screen before it is cut: nothing is searched for while the book is held.
shop::SolverFor kept_layouts_only() {
    return [](const Job&) { return LayoutSolver(); };
}

}  // namespace

void Server::Inside::stock_routes() {
    const auto goods_of = [](Body& body, shop::Id id) {
        body.only({"name", "goods", "notes"});
        shop::GoodsRow row;
        row.id = id;
        row.name = body.text("name");
        row.notes = body.text_or("notes", "");
        row.document = write_said(body.value("goods"));
        return row;
    };
    routes.push_back({"GET", "/api/goods", Route::Who::session, [this](const Asked& a) {
                          return shown_as("goods", book->with([&](shop::Store& s) {
                              return shop::find_goods(s, a.query_text("text"), limit_of(a), skip_of(a));
                          }));
                      }});
    routes.push_back({"POST", "/api/goods", Route::Who::session, [this, goods_of](const Asked& a) {
                          Body body(a.body);
                          const shop::GoodsRow row = goods_of(body, 0);
                          if (!body.good()) return body.refusal();
                          return shown_as(
                              "goods", book->with([&](shop::Store& s) { return shop::save_goods(s, row); }),
                              201);
                      }});
    routes.push_back({"PUT", "/api/goods/{id}", Route::Who::session, [this, goods_of](const Asked& a) {
                          Body body(a.body);
                          const shop::GoodsRow row = goods_of(body, a.number("id"));
                          if (!body.good()) return body.refusal();
                          if (row.id == 0)
                              return refusal(404, "not-there", "There are no such goods.", "List them.");
                          return shown_as(
                              "goods", book->with([&](shop::Store& s) { return shop::save_goods(s, row); }));
                      }});
    routes.push_back({"DELETE", "/api/goods/{id}", Route::Who::session, [this](const Asked& a) {
                          const auto done = book->with(
                              [&](shop::Store& s) { return shop::remove_goods(s, a.number("id")); });
                          return done ? ok({}) : refusal(done.findings);
                      }});

    routes.push_back({"GET", "/api/rolls", Route::Who::session, [this](const Asked& a) {
                          return shown_as("rolls", book->with([&](shop::Store& s) {
                              return shop::list_rolls(s, a.query_number("goods", 0));
                          }));
                      }});
    routes.push_back({"POST", "/api/rolls", Route::Who::session, [this](const Asked& a) {
                          Body body(a.body);
                          body.only({"goods", "lot", "label", "length_mm"});
                          const shop::Id goods = body.whole("goods", 1, 1'000'000'000);
                          const std::string lot = body.text("lot"), label = body.text_or("label", "");
                          const double mm = body.number("length_mm", 0, kLongestRoll_mm);
                          if (!body.good()) return body.refusal();
                          return shown_as("roll", book->with([&](shop::Store& s) {
                              return shop::receive_roll(s, goods, lot, label, um_of(mm), a.who);
                          }),
                                          201);
                      }});
    routes.push_back({"GET", "/api/rolls/{id}", Route::Who::session, [this](const Asked& a) {
                          const auto roll =
                              book->with([&](shop::Store& s) { return shop::read_roll(s, a.number("id")); });
                          if (!roll) return refusal(roll.findings);
                          const auto moved = book->with([&](shop::Store& s) {
                              return shop::list_movements(s, roll->id, 0, limit_of(a), skip_of(a));
                          });
                          if (!moved) return refusal(moved.findings);
                          const auto held = book->with(
                              [&](shop::Store& s) { return shop::list_reservations(s, roll->id); });
                          if (!held) return refusal(held.findings);
                          return ok({{"roll", shop::shown(*roll)},
                                     {"reserved_for", shop::shown(*held)},
                                     {"movements", shop::shown(*moved)}});
                      }});
    routes.push_back({"POST", "/api/rolls/{id}/count", Route::Who::session, [this](const Asked& a) {
                          Body body(a.body);
                          body.only({"left_mm", "note"});
                          const double mm = body.number("left_mm", 0, kLongestRoll_mm);
                          const std::string note = body.text_or("note", "");
                          if (!body.good()) return body.refusal();
                          return shown_as("roll", book->with([&](shop::Store& s) {
                              return shop::count_roll(s, a.number("id"), um_of(mm), note, a.who);
                          }));
                      }});
    routes.push_back({"POST", "/api/rolls/{id}/reserve", Route::Who::session, [this](const Asked& a) {
                          Body body(a.body);
                          body.only({"job", "length_mm"});
                          const shop::Id job = body.whole("job", 1, 1'000'000'000);
                          const double mm = body.number("length_mm", 0, kLongestRoll_mm);
                          if (!body.good()) return body.refusal();
                          return shown_as("roll", book->with([&](shop::Store& s) {
                              return shop::reserve(s, a.number("id"), job, um_of(mm), a.who);
                          }));
                      }});

    routes.push_back({"GET", "/api/offcuts", Route::Who::session, [this](const Asked& a) {
                          shop::OffcutQuery query;
                          query.goods = a.query_number("goods", 0);
                          query.lot = a.query_text("lot");
                          query.least_length_um = 1000 * a.query_number("length_mm", 0);
                          query.least_width_um = 1000 * a.query_number("width_mm", 0);
                          query.limit = limit_of(a);
                          query.skip = skip_of(a);
                          return drawn_offcuts(
                              book->with([&](shop::Store& s) { return shop::find_offcuts(s, query); }));
                      }});
    routes.push_back({"POST", "/api/offcuts/{id}/discard", Route::Who::session, [this](const Asked& a) {
                          Body body(a.body);
                          body.only({"note"});
                          const std::string note = body.text_or("note", "");
                          if (!body.good()) return body.refusal();
                          const auto offcut = book->with([&](shop::Store& s) {
                              return shop::discard_offcut(s, a.number("id"), note, a.who);
                          });
                          return offcut ? ok({{"offcut", drawn(*offcut)}}) : refusal(offcut.findings);
                      }});
    routes.push_back({"GET", "/api/movements", Route::Who::session, [this](const Asked& a) {
                          return shown_as("movements", book->with([&](shop::Store& s) {
                              return shop::list_movements(s, a.query_number("roll", 0),
                                                          a.query_number("job", 0), limit_of(a), skip_of(a));
                          }));
                      }});

    routes.push_back({"GET", "/api/jobs/{id}/offcuts", Route::Who::session, [this](const Asked& a) {
                          const auto store = own_store();
                          if (!store) return refusal(store.findings);
                          return drawn_offcuts(shop::offcuts_for(**store, a.number("id"), solvers()));
                      }});
    routes.push_back(
        {"GET", "/api/jobs/{id}/choices", Route::Who::session, [this](const Asked& a) {
             const auto store = own_store();
             if (!store) return refusal(store.findings);
             const auto choices = shop::stock_choices(**store, a.number("id"), solvers());
             if (!choices) return refusal(choices.findings);
             return ok({{"choices", shop::shown(*choices)}, {"findings", surface::shown(choices.findings)}});
         }});
    routes.push_back({"GET", "/api/jobs/{id}/cut", Route::Who::session, [this](const Asked& a) {
                          return shown_as("layouts", book->with([&](shop::Store& s) {
                              return shop::list_layouts(s, a.number("id"));
                          }));
                      }});
    routes.push_back({"POST", "/api/jobs/{id}/cut", Route::Who::session, [this](const Asked& a) {
                          Body body(a.body);
                          body.only({"roll", "offcut", "again"});
                          shop::ToCut cut;
                          cut.job = a.number("id");
                          cut.roll = body.whole_or("roll", 0, 1, 1'000'000'000);
                          cut.offcut = body.whole_or("offcut", 0, 1, 1'000'000'000);
                          cut.again = body.flag_or("again", false);
                          cut.by = a.who;
                          if (!body.good()) return body.refusal();
                          const auto done = book->with(
                              [&](shop::Store& s) { return shop::cut_job(s, cut, kept_layouts_only()); });
                          if (!done) return refusal(done.findings);
                          tell_revision(done->job, a.who, "layout accepted");
                          return ok({{"head", shop::shown(done->job)}, {"offcuts", done->offcuts}}, 201);
                      }});
    routes.push_back({"DELETE", "/api/cut/{layout}", Route::Who::session, [this](const Asked& a) {
                          const auto head = book->with(
                              [&](shop::Store& s) { return shop::uncut_layout(s, a.part("layout"), a.who); });
                          if (!head) return refusal(head.findings);
                          tell_revision(*head, a.who, "layout taken back");
                          return ok({{"head", shop::shown(*head)}});
                      }});
}

}  // namespace spile::server
