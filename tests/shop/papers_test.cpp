// Papers kept and money that came in: numbered, never changed, adding up.
#include "shop/papers.h"

#include <gtest/gtest.h>

#include "shop/payments.h"
#include "tests/shop/book.h"

namespace spile::shop {
namespace {

struct Desk : Book {
    Desk() { job = add_job(store, new_job(document("sole")))->id; }
    Result<PaperHead> keep(SentKind kind, Cents total = 0) {
        NewPaper paper;
        paper.kind = kind;
        paper.job = job;
        paper.media = "text/plain";
        paper.bytes = "a paper";
        paper.net = paper.total = total;
        paper.currency = total ? "USD" : "";
        return keep_paper(store, *next_paper_number(store, kind), paper);
    }
    std::string pay(Cents amount, const std::string& currency = "USD",
                    const std::string& day = "2026-02-03") {
        return code_of(add_payment(store, {0, job, day, amount, currency, "", "pat", 0}));
    }
    Id job = 0;
};

TEST(Papers, AreNumberedByKindAndNeverChange) {
    Desk desk;
    EXPECT_EQ(desk.keep(SentKind::order_list)->number, "O-0001");
    EXPECT_EQ(desk.keep(SentKind::quote, 500)->number, "Q-0001");
    EXPECT_EQ(desk.keep(SentKind::quote, 600)->number, "Q-0002");
    EXPECT_EQ(job_head(desk.store, desk.job)->state, JobState::quoted);
    EXPECT_EQ(*read_paper(desk.store, "O-0001"), "a paper");
    EXPECT_EQ(code_of(read_paper(desk.store, "O-0009")), "not-there");
    EXPECT_EQ(list_papers(desk.store, desk.job)->size(), 3u);
    NewPaper paper;
    paper.kind = SentKind::order_list;
    paper.job = desk.job;
    paper.bytes = "x";
    EXPECT_EQ(code_of(keep_paper(desk.store, "O-0001", paper)), "number-taken");
    EXPECT_EQ(code_of(keep_paper(desk.store, "O-0007", paper)), "number-taken");
    paper.total = 3;
    EXPECT_EQ(code_of(keep_paper(desk.store, "O-0002", paper)), "money-refused");
    paper.total = 0;
    paper.valid_until = "soon";
    EXPECT_EQ(code_of(keep_paper(desk.store, "O-0002", paper)), "date-refused");
    paper.valid_until.clear();
    paper.basis = "{";
    EXPECT_EQ(code_of(keep_paper(desk.store, "O-0002", paper)), "not-json");
    paper.basis.clear();
    paper.bytes.clear();
    EXPECT_EQ(code_of(keep_paper(desk.store, "O-0002", paper)), "file-empty");
    EXPECT_NE(raw_code(desk.path, "UPDATE paper SET total=1"), 0);
    EXPECT_NE(raw_code(desk.path, "DELETE FROM paper"), 0);
}

TEST(Papers, OneInvoiceStandsAndACreditNoteTakesItBack) {
    Desk desk;
    EXPECT_EQ(code_of(desk.keep(SentKind::credit_note, 1000)), "invoice-missing");
    ASSERT_TRUE(desk.keep(SentKind::invoice, 1000));
    EXPECT_EQ(code_of(desk.keep(SentKind::invoice, 1000)), "invoice-known");
    EXPECT_EQ(code_of(desk.keep(SentKind::credit_note, 999)), "invoice-missing");
    EXPECT_EQ(account_of(desk.store, desk.job)->invoiced, 1000);
    ASSERT_TRUE(desk.keep(SentKind::credit_note, 1000));
    EXPECT_EQ(account_of(desk.store, desk.job)->invoiced, 0);
    ASSERT_TRUE(desk.keep(SentKind::invoice, 1200));
    EXPECT_EQ(account_of(desk.store, desk.job)->invoiced, 1200);
}

TEST(Payments, AddUpAndAJobIsPaidWhenNothingIsOwed) {
    Desk desk;
    ASSERT_TRUE(desk.keep(SentKind::invoice, 1000));
    EXPECT_EQ(desk.pay(0), "money-refused");
    EXPECT_EQ(desk.pay(kLargestPrice + 1), "money-refused");
    EXPECT_EQ(desk.pay(100, "EUR"), "currency-refused");
    EXPECT_EQ(desk.pay(100, "USD", ""), "date-refused");
    EXPECT_EQ(desk.pay(100, "USD", "soon"), "date-refused");
    EXPECT_EQ(desk.pay(1100), "");
    EXPECT_EQ(desk.pay(-200), "");
    EXPECT_EQ(account_of(desk.store, desk.job)->owed(), 100);
    JobChange change;
    change.by = "pat";
    change.state = JobState::fitted;
    ASSERT_TRUE(change_job(desk.store, desk.job, change));
    change.state = JobState::paid;
    EXPECT_EQ(code_of(change_job(desk.store, desk.job, change)), "not-paid-yet");
    EXPECT_EQ(desk.pay(100), "");
    EXPECT_TRUE(change_job(desk.store, desk.job, change));
    EXPECT_EQ(list_payments(desk.store, desk.job)->size(), 3u);
    EXPECT_NE(raw_code(desk.path, "UPDATE payment SET cents=1"), 0);
    EXPECT_NE(raw_code(desk.path, "DELETE FROM payment"), 0);
    EXPECT_EQ(code_of(account_of(desk.store, 99)), "not-there");
}

}  // namespace
}  // namespace spile::shop
