#include "shop/papers.h"

#include "core/job/json_with_lines.h"
#include "shop/job_rows.h"
#include "shop/rows.h"
#include "shop/words.h"

namespace spile::shop {
namespace {

constexpr const char* kWords[] = {"quote", "order list", "invoice", "care sheet", "credit note"};
constexpr char kLetters[] = {'Q', 'O', 'I', 'C', 'N'};
constexpr const char* kColumns =
    "id, number, kind, job, rev, media, by, at, net, tax, total, currency, valid_until, bytes";

PaperHead head_from(const Statement& row) {
    PaperHead head;
    head.id = row.whole(0);
    head.number = row.text(1);
    head.kind = static_cast<SentKind>(row.whole(2));
    head.job = row.whole(3);
    head.rev = static_cast<int>(row.whole(4));
    head.media = row.text(5);
    head.by = row.text(6);
    head.at = row.whole(7);
    head.net = row.whole(8);
    head.tax = row.whole(9);
    head.total = row.whole(10);
    head.currency = row.text(11);
    head.valid_until = row.text(12);
    head.bytes = static_cast<std::size_t>(row.whole(13));
    return head;
}

std::string next_number(Database& database, SentKind kind) {
    Statement row(database, "SELECT count(*)+1 FROM paper WHERE kind=?");
    row.with(static_cast<int>(kind)).next();
    std::string digits = std::to_string(row.whole(0));
    while (digits.size() < 4) digits.insert(0, "0");
    return std::string(1, kLetters[static_cast<std::size_t>(kind)]) + "-" + digits;
}

[[noreturn]] void refuse_number(const std::string& number) {
    refuse("not-there", "There is no paper " + number + ".", "List the papers and choose one of them.",
           {"paper", number});
}

PaperHead row_of(Database& database, const std::string& number) {
    Statement row(database, (std::string("SELECT ") + kColumns + " FROM paper WHERE number=?").c_str());
    if (!row.with(number).next()) refuse_number(number);
    return head_from(row);
}

/// One invoice at a time stands for a job; a credit note takes back the one that stands, whole.
void check_invoices(Database& database, const NewPaper& paper) {
    if (paper.kind != SentKind::invoice && paper.kind != SentKind::credit_note) return;
    Statement row(database,
                  "SELECT number, kind, total FROM paper WHERE job=? AND kind IN (2, 4) ORDER BY id DESC");
    const bool any = row.with(paper.job).next();
    const bool stands = any && static_cast<SentKind>(row.whole(1)) == SentKind::invoice;
    const Subject subject{"job", std::to_string(paper.job)};
    if (paper.kind == SentKind::invoice && stands)
        refuse("invoice-known",
               "Job " + std::to_string(paper.job) + " has invoice " + row.text(0) + " already.",
               "Take it back with a credit note first, if it was wrong.", subject);
    if (paper.kind == SentKind::credit_note && (!stands || row.whole(2) != paper.total))
        refuse("invoice-missing",
               stands ? "Invoice " + row.text(0) + " is of another amount; a credit note takes it back whole."
                      : "Job " + std::to_string(paper.job) + " has no invoice to take back.",
               "Look at the papers of the job.", subject);
}

}  // namespace

const char* paper_word(SentKind kind) {
    return kWords[static_cast<std::size_t>(kind)];
}

std::optional<SentKind> sent_kind_of(const std::string& word) {
    for (std::size_t i = 0; i < std::size(kWords); ++i)
        if (word == kWords[i]) return static_cast<SentKind>(i);
    return std::nullopt;
}

Result<std::string> next_paper_number(Store& store, SentKind kind) {
    return reading(store, [&](Database& database) { return next_number(database, kind); });
}

Result<PaperHead> keep_paper(Store& store, const std::string& number, const NewPaper& paper) {
    return writing(store, [&](Database& database) {
        const JobHead job = read_head(database, paper.job);
        const Subject subject{"paper", number};
        check_text(paper.media, "the kind of the file");
        check_text(paper.by, "the name of who did it");
        check_text(paper.currency, "the currency");
        check_date(paper.valid_until);
        if (paper.bytes.empty()) refuse("file-empty", "The paper is empty.", "Make it again.", subject);
        if (paper.net < 0 || paper.tax < 0 || paper.net + paper.tax != paper.total)
            refuse("money-refused",
                   "Net " + std::to_string(paper.net) + " and tax " + std::to_string(paper.tax) +
                       " do not make the total " + std::to_string(paper.total) + ".",
                   "Work the quote out again.", subject);
        if (!paper.basis.empty()) {
            const Result<JsonValue> read = parse_json(paper.basis);
            if (!read) throw Refusal{read.findings.front()};
        }
        const std::string due = next_number(database, paper.kind);
        if (number != due)
            refuse("number-taken",
                   "The next " + std::string(paper_word(paper.kind)) + " is " + due + ", not " + number + ".",
                   "Make the paper again under that number.", subject);
        check_invoices(database, paper);
        Statement(database, "INSERT INTO paper VALUES(NULL,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?)")
            .with(number, static_cast<int>(paper.kind), paper.job, paper.rev ? paper.rev : job.rev,
                  paper.media, paper.by, database.now(), paper.net, paper.tax, paper.total, paper.currency,
                  paper.valid_until, paper.bytes.size(), sum_of(paper.bytes), paper.basis, Bytes{paper.bytes})
            .run();
        if (paper.kind == SentKind::quote && job.state == JobState::enquiry)
            set_state(database, job, JobState::quoted, paper.by);
        return row_of(database, number);
    });
}

Result<std::vector<PaperHead>> list_papers(Store& store, Id job, std::size_t limit) {
    return reading(store, [&](Database& database) {
        Statement rows(database, (std::string("SELECT ") + kColumns +
                                  " FROM paper WHERE ?1=0 OR job=?1 ORDER BY id DESC LIMIT ?2")
                                     .c_str());
        rows.with(job, limit);
        std::vector<PaperHead> list;
        while (rows.next()) list.push_back(head_from(rows));
        return list;
    });
}

Result<PaperHead> paper_head(Store& store, const std::string& number) {
    return reading(store, [&](Database& database) { return row_of(database, number); });
}

Result<std::string> read_paper(Store& store, const std::string& number) {
    return reading(store, [&](Database& database) {
        Statement row(database, "SELECT body, sum FROM paper WHERE number=?");
        if (!row.with(number).next()) refuse_number(number);
        std::string bytes = row.text(0);
        if (sum_of(bytes) != row.whole(1))
            refuse("shop-damaged", "Paper " + number + " is not the one that was kept.",
                   "Restore the newest backup to another name and look there.", {"paper", number});
        return bytes;
    });
}

Result<std::string> read_paper_basis(Store& store, const std::string& number) {
    return reading(store, [&](Database& database) {
        Statement row(database, "SELECT basis FROM paper WHERE number=?");
        if (!row.with(number).next()) refuse_number(number);
        return row.text(0);
    });
}

}  // namespace spile::shop
