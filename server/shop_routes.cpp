// Customers, boats, repeat orders, settings, and the safe keeping of the book.
#include <algorithm>

#include "core/job/edit_faults.h"
#include "core/job/json_with_lines.h"
#include "server/inside.h"
#include "shop/safe.h"
#include "shop/settings.h"
#include "shop/show.h"

namespace spile::server {
namespace {

/// Settings that a page may read and write; the rest are the server's own secrets.
constexpr const char* kOpenSettings[] = {"shop", "paper", "screen"};

bool is_open_setting(const std::string& name) {
    return std::any_of(std::begin(kOpenSettings), std::end(kOpenSettings),
                       [&](const char* n) { return name == n; });
}

template <class T>
Reply shown_as(const char* name, const Result<T>& result, int status = 200) {
    return result ? ok({{name, shop::shown(*result)}}, status) : refusal(result.findings);
}

std::size_t limit_of(const Asked& a) {
    return static_cast<std::size_t>(std::min<std::int64_t>(a.query_number("limit", 50), 1000));
}
std::size_t skip_of(const Asked& a) {
    return static_cast<std::size_t>(a.query_number("skip", 0));
}

shop::Customer customer_of(Body& body, shop::Customer c) {
    body.only({"name", "phone", "email", "address", "notes"});
    c.name = body.text_or("name", c.name);
    c.phone = body.text_or("phone", c.phone);
    c.email = body.text_or("email", c.email);
    c.address = body.text_or("address", c.address);
    c.notes = body.text_or("notes", c.notes);
    return c;
}

shop::Boat boat_of(Body& body, shop::Boat b) {
    body.only({"customer", "name", "make", "model", "year", "hull_number", "berth", "notes"});
    b.customer = body.whole_or("customer", b.customer, 0, 1'000'000'000);
    b.name = body.text_or("name", b.name);
    b.make = body.text_or("make", b.make);
    b.model = body.text_or("model", b.model);
    b.year = static_cast<int>(body.whole_or("year", b.year, 0, 2200));
    b.hull_number = body.text_or("hull_number", b.hull_number);
    b.berth = body.text_or("berth", b.berth);
    b.notes = body.text_or("notes", b.notes);
    return b;
}

}  // namespace

void Server::Inside::people_routes() {
    routes.push_back({"GET", "/api/customers", Route::Who::session, [this](const Asked& a) {
                          return shown_as("customers", book->with([&](shop::Store& s) {
                              return shop::find_customers(s, a.query_text("text"), limit_of(a), skip_of(a));
                          }));
                      }});
    routes.push_back({"POST", "/api/customers", Route::Who::session, [this](const Asked& a) {
                          Body body(a.body);
                          const shop::Customer customer = customer_of(body, {});
                          if (!body.good()) return body.refusal();
                          return shown_as("customer", book->with([&](shop::Store& s) {
                              return shop::save_customer(s, customer);
                          }),
                                          201);
                      }});
    routes.push_back(
        {"PATCH", "/api/customers/{id}", Route::Who::session, [this](const Asked& a) {
             Body body(a.body);
             const auto old =
                 book->with([&](shop::Store& s) { return shop::read_customer(s, a.number("id")); });
             if (!old) return refusal(old.findings);
             const shop::Customer customer = customer_of(body, *old);
             if (!body.good()) return body.refusal();
             return shown_as("customer",
                             book->with([&](shop::Store& s) { return shop::save_customer(s, customer); }));
         }});
    routes.push_back({"DELETE", "/api/customers/{id}", Route::Who::session, [this](const Asked& a) {
                          const auto done = book->with(
                              [&](shop::Store& s) { return shop::remove_customer(s, a.number("id")); });
                          return done ? ok({}) : refusal(done.findings);
                      }});
    routes.push_back({"GET", "/api/boats", Route::Who::session, [this](const Asked& a) {
                          return shown_as("boats", book->with([&](shop::Store& s) {
                              return shop::find_boats(s, a.query_text("text"), a.query_number("customer", 0),
                                                      limit_of(a), skip_of(a));
                          }));
                      }});
    routes.push_back({"POST", "/api/boats", Route::Who::session, [this](const Asked& a) {
                          Body body(a.body);
                          const shop::Boat boat = boat_of(body, {});
                          if (!body.good()) return body.refusal();
                          return shown_as(
                              "boat", book->with([&](shop::Store& s) { return shop::save_boat(s, boat); }),
                              201);
                      }});
    routes.push_back(
        {"PATCH", "/api/boats/{id}", Route::Who::session, [this](const Asked& a) {
             Body body(a.body);
             const auto old = book->with([&](shop::Store& s) { return shop::read_boat(s, a.number("id")); });
             if (!old) return refusal(old.findings);
             const shop::Boat boat = boat_of(body, *old);
             if (!body.good()) return body.refusal();
             return shown_as("boat", book->with([&](shop::Store& s) { return shop::save_boat(s, boat); }));
         }});
    routes.push_back({"DELETE", "/api/boats/{id}", Route::Who::session, [this](const Asked& a) {
                          const auto done = book->with(
                              [&](shop::Store& s) { return shop::remove_boat(s, a.number("id")); });
                          return done ? ok({}) : refusal(done.findings);
                      }});
}

void Server::Inside::repeat_routes() {
    routes.push_back({"POST", "/api/jobs/{id}/fitted", Route::Who::session, [this](const Asked& a) {
                          Body body(a.body);
                          body.only({"base_rev"});
                          const int base = static_cast<int>(body.whole("base_rev", 1, 2'000'000'000));
                          if (!body.good()) return body.refusal();
                          const auto head = book->with([&](shop::Store& s) -> Result<shop::JobHead> {
                              const auto newest = shop::read_revision(s, a.number("id"));
                              if (!newest) return {std::nullopt, newest.findings};
                              return shop::mark_as_fitted(s, a.number("id"), base, newest->document, a.who);
                          });
                          if (!head) return refusal(head.findings);
                          tell_revision(*head, a.who, "as fitted");
                          return ok({{"head", shop::shown(*head)}});
                      }});
    routes.push_back({"POST", "/api/jobs/{id}/repeat", Route::Who::session, [this](const Asked& a) {
                          Body body(a.body);
                          body.only({"goods", "customer", "boat", "sister", "promised"});
                          shop::NewRepeat repeat;
                          repeat.job = a.number("id");
                          repeat.goods = body.whole_or("goods", 0, 1, 1'000'000'000);
                          repeat.customer = body.whole_or("customer", 0, 1, 1'000'000'000);
                          repeat.boat = body.whole_or("boat", 0, 1, 1'000'000'000);
                          repeat.sister = body.flag_or("sister", false);
                          repeat.promised = body.text_or("promised", "");
                          repeat.by = a.who;
                          if (!body.good()) return body.refusal();
                          const auto head =
                              book->with([&](shop::Store& s) { return shop::start_repeat(s, repeat); });
                          if (!head) return refusal(head.findings);
                          news.tell({0, "job", {{"id", head->id}}});
                          return ok({{"head", shop::shown(*head)}}, 201);
                      }});
    // Without sizes nothing is judged: the list of what to tape.
    routes.push_back(
        {"POST", "/api/jobs/{id}/check-sizes", Route::Who::session, [this](const Asked& a) {
             Body body(a.body);
             body.only({"lines"});
             std::vector<std::string> lines;
             for (const JsonValue& line : body.value("lines").items) lines.push_back(line.text);
             if (!body.value("lines").is(JsonValue::Kind::list) || lines.size() > 100)
                 body.fault("\"lines\" is a list of at most 100 readings.", "Give what was taped, or none.");
             if (!body.good()) return body.refusal();
             const auto checked = book->with(
                 [&](shop::Store& s) { return shop::check_repeat(s, a.number("id"), lines, a.who); });
             if (!checked) return refusal(checked.findings);
             news.tell({0, "job", {{"id", checked->job.id}}});
             return ok({{"checked", shop::shown(*checked)}, {"findings", surface::shown(checked.findings)}});
         }});
    routes.push_back({"GET", "/api/ballpark", Route::Who::session, [this](const Asked& a) {
                          shop::Enquiry enquiry;
                          enquiry.boat_length_mm = static_cast<double>(a.query_number("length_mm", 0));
                          enquiry.kind = a.query_text("kind");
                          enquiry.panels =
                              static_cast<int>(std::min<std::int64_t>(a.query_number("panels", 1), 1000));
                          const auto range = book->with([&](shop::Store& s) {
                              enquiry.day = shop::date_of(s.now());
                              return shop::ballpark(s, enquiry);
                          });
                          return shown_as("ballpark", range);
                      }});
}

void Server::Inside::safe_routes() {
    routes.push_back({"GET", "/api/settings", Route::Who::session, [this](const Asked&) {
                          Json settings = Json::object();
                          for (const char* name : kOpenSettings) {
                              const auto kept =
                                  book->with([&](shop::Store& s) { return shop::read_setting(s, name); });
                              if (!kept) return refusal(kept.findings);
                              settings[name] = *kept ? Json::parse(**kept, nullptr, false) : Json();
                          }
                          return ok({{"settings", settings}});
                      }});
    routes.push_back(
        {"PUT", "/api/settings/{name}", Route::Who::session, [this](const Asked& a) {
             const std::string name = a.part("name");
             if (!is_open_setting(name))
                 return refusal(404, "not-there", "There is no such setting.", "List the settings.");
             if (a.raw.size() > 100'000)
                 return refusal(422, "question", "A setting is a group of at most 100 kB.", "Write less.");
             const auto done =
                 book->with([&](shop::Store& s) { return shop::write_setting(s, name, flat_json(a.body)); });
             return done ? ok({}) : refusal(done.findings);
         }});
    routes.push_back({"GET", "/api/book", Route::Who::session, [this](const Asked&) {
                          const auto store = own_store();
                          if (!store) return refusal(store.findings);
                          const auto says = shop::check_book(**store);
                          if (!says) return refusal(says.findings);
                          const auto rolls = shop::audit_stock(**store);
                          if (!rolls) return refusal(rolls.findings);
                          return ok({{"says", *says}, {"version", shop::book_version()}, {"rolls", *rolls}});
                      }});
    backup_routes();
}

}  // namespace spile::server
