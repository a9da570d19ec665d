#include "shop/rows.h"

#include "shop/words.h"

namespace spile::shop {

void need_row(Database& database, const char* table, const char* what, Id id) {
    Statement row(database, (std::string("SELECT 1 FROM ") + table + " WHERE id=?").c_str());
    if (!row.with(id).next())
        refuse("not-there", std::string("There is no ") + what + " " + std::to_string(id) + ".",
               std::string("Look up the number of the ") + what + ".", {what, std::to_string(id)});
}

void check_date(const std::string& date) {
    if (date.empty()) return;
    Result<Seconds> read = parse_date(date);
    if (!read) throw Refusal{std::move(read.findings.front())};
}

std::optional<Id> or_none(Id id) {
    return id ? std::optional<Id>(id) : std::nullopt;
}

void check_owner(Database& database, Id customer, Id boat) {
    if (customer) need_row(database, "customer", "customer", customer);
    if (!boat) return;
    need_row(database, "boat", "boat", boat);
    Statement row(database, "SELECT coalesce(customer,0) FROM boat WHERE id=?");
    row.with(boat).next();
    const Id owner = row.whole(0);
    if (customer && owner && owner != customer)
        refuse("boat-of-another",
               "Boat " + std::to_string(boat) + " belongs to customer " + std::to_string(owner) +
                   ", the job is for customer " + std::to_string(customer) + ".",
               "Choose one of this customer's boats, or give the boat its new owner first.",
               {"boat", std::to_string(boat)});
}

void refresh_job_search(Database& database, Id job) {
    Statement row(database,
                  "SELECT job.title, job.boat_words, job.customer_words, coalesce(customer.search,''),"
                  " coalesce(boat.search,'') FROM job LEFT JOIN customer ON customer.id=job.customer"
                  " LEFT JOIN boat ON boat.id=job.boat WHERE job.id=?");
    if (!row.with(job).next()) return;
    const std::string found = search_text({row.text(0), row.text(1), row.text(2), row.text(3), row.text(4)});
    Statement(database, "UPDATE job SET search=? WHERE id=?").with(found, job).run();
}

}  // namespace spile::shop
