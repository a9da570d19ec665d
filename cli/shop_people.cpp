// spile shop customer, boat.
#include "cli/shop_call.h"

namespace spile::cli {
namespace {

constexpr shop::Id kLimit = 50;

template <class Row>
void set(const Call& call, const char* option, std::string Row::*field, Row& row) {
    if (call.has(option)) row.*field = call.text(option);
}

void take(const Call& call, shop::Customer& c) {
    set(call, "name", &shop::Customer::name, c);
    set(call, "phone", &shop::Customer::phone, c);
    set(call, "email", &shop::Customer::email, c);
    set(call, "address", &shop::Customer::address, c);
    set(call, "notes", &shop::Customer::notes, c);
}

void take(const Call& call, shop::Boat& b) {
    set(call, "name", &shop::Boat::name, b);
    set(call, "make", &shop::Boat::make, b);
    set(call, "model", &shop::Boat::model, b);
    set(call, "hull", &shop::Boat::hull_number, b);
    set(call, "berth", &shop::Boat::berth, b);
    set(call, "notes", &shop::Boat::notes, b);
    if (call.has("year")) b.year = static_cast<int>(call.whole("year"));
    if (call.has("customer")) b.customer = call.whole("customer");
}

std::size_t limit_of(const Call& call) {
    return static_cast<std::size_t>(call.whole("limit", kLimit));
}

Result<Said> customer_add(const Call& call) {
    shop::Customer customer;
    take(call, customer);
    customer.name = call.text("NAME");
    return say(shop::save_customer(*call.store, customer));
}

Result<Said> customer_change(const Call& call) {
    Result<shop::Customer> customer = shop::read_customer(*call.store, call.whole("CUSTOMER"));
    if (!customer) return say(std::move(customer));
    take(call, *customer);
    return say(shop::save_customer(*call.store, *customer));
}

Result<Said> customer_find(const Call& call) {
    return say(shop::find_customers(*call.store, call.text("TEXT"), limit_of(call),
                                    static_cast<std::size_t>(call.whole("skip"))),
               "customers");
}

Result<Said> customer_show(const Call& call) {
    const shop::Id id = call.whole("CUSTOMER");
    Result<Said> said = say(shop::read_customer(*call.store, id));
    if (!said) return said;
    const auto boats = shop::find_boats(*call.store, "", id, 1000);
    shop::JobQuery query;
    query.customer = id;
    query.limit = 1000;
    const auto jobs = shop::find_jobs(*call.store, query);
    if (boats) said->json["boats"] = shop::shown(*boats);
    if (jobs) said->json["jobs"] = shop::shown(*jobs);
    return said;
}

Result<Said> removed(const Result<shop::Done>& done, const char* what, shop::Id id) {
    if (!done) return {std::nullopt, done.findings};
    return Result<Said>::ok({Json{{"removed", what}, {"id", id}}});
}

Result<Said> customer_remove(const Call& call) {
    const shop::Id id = call.whole("CUSTOMER");
    return removed(shop::remove_customer(*call.store, id), "customer", id);
}

Result<Said> boat_add(const Call& call) {
    shop::Boat boat;
    take(call, boat);
    return say(shop::save_boat(*call.store, boat));
}

Result<Said> boat_change(const Call& call) {
    Result<shop::Boat> boat = shop::read_boat(*call.store, call.whole("BOAT"));
    if (!boat) return say(std::move(boat));
    take(call, *boat);
    return say(shop::save_boat(*call.store, *boat));
}

Result<Said> boat_find(const Call& call) {
    return say(shop::find_boats(*call.store, call.text("TEXT"), call.whole("customer"), limit_of(call),
                                static_cast<std::size_t>(call.whole("skip"))),
               "boats");
}

Result<Said> boat_show(const Call& call) {
    const shop::Id id = call.whole("BOAT");
    Result<Said> said = say(shop::read_boat(*call.store, id));
    if (!said) return said;
    shop::JobQuery query;
    query.boat = id;
    query.limit = 1000;
    const auto jobs = shop::find_jobs(*call.store, query);
    if (jobs) said->json["jobs"] = shop::shown(*jobs);
    return said;
}

Result<Said> boat_remove(const Call& call) {
    const shop::Id id = call.whole("BOAT");
    return removed(shop::remove_boat(*call.store, id), "boat", id);
}

}  // namespace

std::vector<Verb> people_verbs() {
    return {
        {"customer add NAME [--phone TEXT] [--email TEXT] [--address TEXT] [--notes TEXT]", "A new customer.",
         customer_add},
        {"customer change CUSTOMER [--name TEXT] [--phone TEXT] [--email TEXT] [--address TEXT] [--notes "
         "TEXT]",
         "What is given is written anew.", customer_change},
        {"customer find [TEXT] [--limit COUNT] [--skip COUNT]", "By name, telephone, e-mail or address.",
         customer_find},
        {"customer show CUSTOMER", "With boats and jobs.", customer_show},
        {"customer remove CUSTOMER", "Only one without boats and jobs.", customer_remove},
        {"boat add [--customer CUSTOMER] [--name TEXT] [--make TEXT] [--model TEXT] [--year YEAR] [--hull "
         "TEXT] "
         "[--berth TEXT] [--notes TEXT]",
         "A new boat.", boat_add},
        {"boat change BOAT [--customer CUSTOMER] [--name TEXT] [--make TEXT] [--model TEXT] [--year YEAR] "
         "[--hull TEXT] [--berth TEXT] [--notes TEXT]",
         "What is given is written anew.", boat_change},
        {"boat find [TEXT] [--customer CUSTOMER] [--limit COUNT] [--skip COUNT]",
         "By name, make, model, year, hull number or berth.", boat_find},
        {"boat show BOAT", "With her jobs.", boat_show},
        {"boat remove BOAT", "Only one without jobs.", boat_remove},
    };
}

}  // namespace spile::cli
