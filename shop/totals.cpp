#include "shop/totals.h"

#include "shop/database.h"
#include "shop/jobs.h"
#include "shop/papers.h"

namespace spile::shop {
namespace {

constexpr Seconds kDay = 86400;

struct Days {
    Seconds first = 0, past = 0;  ///< the first moment, and the first that no longer counts
    std::string from, to;
};

void add_papers(Database& database, const Days& days, Totals& totals) {
    Statement rows(
        database,
        "SELECT kind, currency, count(*), sum(net), sum(tax), sum(total) FROM paper WHERE at>=? AND at<?"
        " GROUP BY kind, currency ORDER BY kind, currency");
    rows.with(days.first, days.past);
    while (rows.next()) {
        const auto kind = static_cast<SentKind>(rows.whole(0));
        totals.papers[paper_word(kind)] += static_cast<std::size_t>(rows.whole(2));
        if (kind == SentKind::order_list || kind == SentKind::care_sheet) continue;
        MoneyTotals& money = totals.money[rows.text(1)];
        if (kind == SentKind::quote) {
            money.quoted += rows.whole(5);
            continue;
        }
        const Cents sign = kind == SentKind::credit_note ? -1 : 1;
        money.net += sign * rows.whole(3);
        money.tax += sign * rows.whole(4);
        money.invoiced += sign * rows.whole(5);
    }
}

void add_payments(Database& database, const Days& days, Totals& totals) {
    Statement rows(
        database,
        "SELECT currency, sum(cents) FROM payment WHERE day>=? AND day<=? GROUP BY currency ORDER BY"
        " currency");
    rows.with(days.from, days.to);
    while (rows.next()) totals.money[rows.text(0)].paid += rows.whole(1);
}

void add_work(Database& database, const Days& days, Totals& totals) {
    Statement jobs(database, "SELECT state, count(*) FROM job WHERE created>=? AND created<? GROUP BY state");
    jobs.with(days.first, days.past);
    while (jobs.next())
        totals.jobs[state_word(static_cast<JobState>(jobs.whole(0)))] =
            static_cast<std::size_t>(jobs.whole(1));
    // Kinds of shop/stock.h: received, cut, taken back.
    Statement moved(
        database,
        "SELECT coalesce(sum(CASE kind WHEN 0 THEN um END),0), coalesce(sum(CASE WHEN kind IN (1, 2) THEN"
        " -um END),0) FROM movement WHERE at>=? AND at<?");
    moved.with(days.first, days.past).next();
    totals.received_um = moved.whole(0);
    totals.cut_um = moved.whole(1);
    Statement tickets(database, "SELECT coalesce(sum(minutes),0.0) FROM ticket WHERE at>=? AND at<?");
    tickets.with(days.first, days.past).next();
    totals.minutes = tickets.number(0);
}

}  // namespace

Result<Totals> totals_of(Store& store, const std::string& from, const std::string& to) {
    Days days{0, 0, from, to};
    for (const auto& [text, at] : {std::pair(&from, &days.first), std::pair(&to, &days.past)}) {
        Result<Seconds> read = parse_date(*text);
        if (!read) return {std::nullopt, std::move(read.findings)};
        *at = *read;
    }
    if (days.past < days.first)
        return Result<Totals>::refuse(
            stop("date-refused", to + " lies before " + from + ".", "Give the earlier day first."));
    days.past += kDay;
    return reading(store, [&](Database& database) {
        Totals totals;
        totals.from = from;
        totals.to = to;
        add_papers(database, days, totals);
        add_payments(database, days, totals);
        add_work(database, days, totals);
        return totals;
    });
}

}  // namespace spile::shop
