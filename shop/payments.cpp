#include "shop/payments.h"

#include "shop/account.h"
#include "shop/rows.h"
#include "shop/words.h"

namespace spile::shop {

Account read_account(Database& database, Id job) {
    Account account;
    Statement sums(
        database,
        "SELECT (SELECT coalesce(sum(CASE kind WHEN 2 THEN total WHEN 4 THEN -total ELSE 0 END),0) FROM paper"
        " WHERE job=?1), (SELECT coalesce(sum(cents),0) FROM payment WHERE job=?1),"
        " coalesce((SELECT currency FROM paper WHERE job=?1 AND currency<>'' ORDER BY id LIMIT 1),"
        " (SELECT currency FROM payment WHERE job=?1 ORDER BY id LIMIT 1), '')");
    sums.with(job).next();
    account.invoiced = sums.whole(0);
    account.paid = sums.whole(1);
    account.currency = sums.text(2);
    return account;
}

Result<Payment> add_payment(Store& store, const Payment& payment) {
    return writing(store, [&](Database& database) {
        need_row(database, "job", "job", payment.job);
        const Subject subject{"job", std::to_string(payment.job)};
        check_text(payment.note, "the note");
        check_text(payment.currency, "the currency");
        check_text(payment.by, "the name of who did it");
        if (payment.day.empty())
            refuse("date-refused", "A payment needs the day it came in.", "Write it like 2026-03-01.",
                   subject);
        check_date(payment.day);
        if (payment.amount == 0 || payment.amount > kLargestPrice || payment.amount < -kLargestPrice)
            refuse("money-refused", "A payment of " + std::to_string(payment.amount) + " coins is none.",
                   "Write what came in; below zero what was paid back.", subject);
        const Account account = read_account(database, payment.job);
        if (!account.currency.empty() && account.currency != payment.currency)
            refuse("currency-refused",
                   "Job " + std::to_string(payment.job) + " is reckoned in " + account.currency +
                       "; this payment is in " + payment.currency + ".",
                   "Write what it came to in " + account.currency + ".", subject);
        Payment kept = payment;
        kept.at = database.now();
        Statement(database, "INSERT INTO payment VALUES(NULL,?,?,?,?,?,?,?)")
            .with(kept.job, kept.day, kept.amount, kept.currency, kept.note, kept.by, kept.at)
            .run();
        kept.id = database.last_id();
        return kept;
    });
}

Result<std::vector<Payment>> list_payments(Store& store, Id job, std::size_t limit) {
    return reading(store, [&](Database& database) {
        Statement rows(database,
                       "SELECT id, job, day, cents, currency, note, by, at FROM payment WHERE ?1=0 OR job=?1"
                       " ORDER BY id DESC LIMIT ?2");
        rows.with(job, limit);
        std::vector<Payment> list;
        while (rows.next())
            list.push_back({rows.whole(0), rows.whole(1), rows.text(2), rows.whole(3), rows.text(4),
                            rows.text(5), rows.text(6), rows.whole(7)});
        return list;
    });
}

Result<Account> account_of(Store& store, Id job) {
    return reading(store, [&](Database& database) {
        need_row(database, "job", "job", job);
        return read_account(database, job);
    });
}

}  // namespace spile::shop
