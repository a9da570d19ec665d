#include "shop/people.h"

#include <algorithm>

#include "core/base/text.h"
#include "shop/rows.h"
#include "shop/words.h"

namespace spile::shop {
namespace {

constexpr const char* kCustomerColumns = "id, name, phone, email, address, notes, created";
constexpr const char* kBoatColumns =
    "id, coalesce(customer,0), name, make, model, hull_number, berth, notes, year, created";

Customer customer_from(const Statement& row) {
    return {row.whole(0), row.text(1), row.text(2), row.text(3), row.text(4), row.text(5), row.whole(6)};
}

Boat boat_from(const Statement& row) {
    return {row.whole(0), row.whole(1), row.text(2),
            row.text(3),  row.text(4),  row.text(5),
            row.text(6),  row.text(7),  static_cast<int>(row.whole(8)),
            row.whole(9)};
}

Customer customer_row(Database& database, Id id) {
    Statement row(database,
                  (std::string("SELECT ") + kCustomerColumns + " FROM customer WHERE id=?").c_str());
    if (!row.with(id).next()) need_row(database, "customer", "customer", id);
    return customer_from(row);
}

Boat boat_row(Database& database, Id id) {
    Statement row(database, (std::string("SELECT ") + kBoatColumns + " FROM boat WHERE id=?").c_str());
    if (!row.with(id).next()) need_row(database, "boat", "boat", id);
    return boat_from(row);
}

/// Jobs find their customer and boat by words of these.
void refresh_jobs_of(Database& database, const char* column, Id id) {
    Statement jobs(database, (std::string("SELECT id FROM job WHERE ") + column + "=?").c_str());
    jobs.with(id);
    std::vector<Id> ids;
    while (jobs.next()) ids.push_back(jobs.whole(0));
    for (const Id job : ids) refresh_job_search(database, job);
}

/// `one` and `many` with their verb: "job refers", "jobs refer".
[[noreturn]] void refuse_referred(const char* what, Id id, std::int64_t count, const char* one,
                                  const char* many) {
    refuse("refers-to-it",
           std::string("The ") + what + " " + std::to_string(id) +
               " cannot be removed: " + count_of(static_cast<std::size_t>(count), one, many) + " to it.",
           std::string("Keep the ") + what + ", or give those to another first.", {what, std::to_string(id)},
           {{"referring", static_cast<double>(count), ""}});
}

std::int64_t count_where(Database& database, const char* table, const char* column, Id id) {
    Statement row(database,
                  (std::string("SELECT count(*) FROM ") + table + " WHERE " + column + "=?").c_str());
    row.with(id).next();
    return row.whole(0);
}

void page(Statement& rows, const SearchWords& words, std::size_t limit, std::size_t skip) {
    const std::size_t n = words.patterns.size();
    rows.with_list(words.patterns);
    rows.with_at(n + 1, std::min<std::size_t>(limit, 1000));
    rows.with_at(n + 2, std::min<std::size_t>(skip, 1'000'000'000));
}

}  // namespace

Result<Customer> save_customer(Store& store, const Customer& c) {
    return writing(store, [&](Database& database) {
        check_text(c.name, "the name of a customer");
        check_text(c.phone, "the telephone number");
        check_text(c.email, "the e-mail address");
        check_text(c.address, "the address", 1000, true);
        check_text(c.notes, "the notes", kNotes_characters, true);
        if (c.name.empty())
            refuse("name-missing", "A customer needs a name.", "Write what they are called.",
                   {"customer", std::to_string(c.id)});
        const std::string search = search_text({c.name, c.phone, c.email, c.address});
        if (c.id == 0) {
            Statement(database, "INSERT INTO customer VALUES(NULL,?,?,?,?,?,?,?)")
                .with(c.name, c.phone, c.email, c.address, c.notes, database.now(), search)
                .run();
            return customer_row(database, database.last_id());
        }
        need_row(database, "customer", "customer", c.id);
        Statement(database,
                  "UPDATE customer SET name=?, phone=?, email=?, address=?, notes=?, search=? WHERE id=?")
            .with(c.name, c.phone, c.email, c.address, c.notes, search, c.id)
            .run();
        refresh_jobs_of(database, "customer", c.id);
        return customer_row(database, c.id);
    });
}

Result<Customer> read_customer(Store& store, Id id) {
    return reading(store, [&](Database& database) { return customer_row(database, id); });
}

Result<std::vector<Customer>> find_customers(Store& store, const std::string& text, std::size_t limit,
                                             std::size_t skip) {
    return reading(store, [&](Database& database) {
        const SearchWords words = search_words(text);
        Statement rows(database, (std::string("SELECT ") + kCustomerColumns + " FROM customer WHERE 1" +
                                  words.sql + " ORDER BY name, id LIMIT ? OFFSET ?")
                                     .c_str());
        page(rows, words, limit, skip);
        std::vector<Customer> list;
        while (rows.next()) list.push_back(customer_from(rows));
        return list;
    });
}

Result<Done> remove_customer(Store& store, Id id) {
    return writing(store, [&](Database& database) {
        need_row(database, "customer", "customer", id);
        if (const auto n = count_where(database, "job", "customer", id))
            refuse_referred("customer", id, n, "job refers", "jobs refer");
        if (const auto n = count_where(database, "boat", "customer", id))
            refuse_referred("customer", id, n, "boat refers", "boats refer");
        Statement(database, "DELETE FROM customer WHERE id=?").with(id).run();
        return Done{};
    });
}

Result<Boat> save_boat(Store& store, const Boat& b) {
    return writing(store, [&](Database& database) {
        for (const std::string* text : {&b.name, &b.make, &b.model, &b.hull_number, &b.berth})
            check_text(*text, "what a boat is called");
        check_text(b.notes, "the notes", kNotes_characters, true);
        const Subject subject{"boat", std::to_string(b.id)};
        if (b.name.empty() && b.make.empty() && b.model.empty())
            refuse("name-missing", "A boat needs a name, a make or a model.",
                   "Write at least one of the three.", subject);
        if (b.year != 0 && (b.year < 1800 || b.year > 2200))
            refuse("year-refused", "The year " + std::to_string(b.year) + " lies outside 1800 to 2200.",
                   "Write the year she was built, or 0 when it is not known.", subject);
        if (b.customer) need_row(database, "customer", "customer", b.customer);
        const std::string search = search_text(
            {b.name, b.make, b.model, b.year ? std::to_string(b.year) : "", b.hull_number, b.berth});
        if (b.id == 0) {
            Statement(database, "INSERT INTO boat VALUES(NULL,?,?,?,?,?,?,?,?,?,?)")
                .with(or_none(b.customer), b.name, b.make, b.model, b.year, b.hull_number, b.berth, b.notes,
                      database.now(), search)
                .run();
            return boat_row(database, database.last_id());
        }
        need_row(database, "boat", "boat", b.id);
        Statement(
            database,
            "UPDATE boat SET customer=?, name=?, make=?, model=?, year=?, hull_number=?, berth=?, notes=?,"
            " search=? WHERE id=?")
            .with(or_none(b.customer), b.name, b.make, b.model, b.year, b.hull_number, b.berth, b.notes,
                  search, b.id)
            .run();
        refresh_jobs_of(database, "boat", b.id);
        return boat_row(database, b.id);
    });
}

Result<Boat> read_boat(Store& store, Id id) {
    return reading(store, [&](Database& database) { return boat_row(database, id); });
}

Result<std::vector<Boat>> find_boats(Store& store, const std::string& text, Id customer, std::size_t limit,
                                     std::size_t skip) {
    return reading(store, [&](Database& database) {
        const SearchWords words = search_words(text);
        const std::string owner = customer ? " AND customer=" + std::to_string(customer) : "";
        Statement rows(database, (std::string("SELECT ") + kBoatColumns + " FROM boat WHERE 1" + words.sql +
                                  owner + " ORDER BY make, model, name, id LIMIT ? OFFSET ?")
                                     .c_str());
        page(rows, words, limit, skip);
        std::vector<Boat> list;
        while (rows.next()) list.push_back(boat_from(rows));
        return list;
    });
}

Result<Done> remove_boat(Store& store, Id id) {
    return writing(store, [&](Database& database) {
        need_row(database, "boat", "boat", id);
        if (const auto n = count_where(database, "job", "boat", id))
            refuse_referred("boat", id, n, "job refers", "jobs refer");
        Statement(database, "DELETE FROM boat WHERE id=?").with(id).run();
        return Done{};
    });
}

}  // namespace spile::shop
