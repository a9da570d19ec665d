#include "shop/history.h"

#include <algorithm>

#include "core/base/check.h"
#include "shop/words.h"

namespace spile::shop {
namespace {

constexpr int kWholeEvery = 32;

struct Difference {
    std::size_t head = 0, tail = 0;  ///< bytes shared at the beginning and at the end
};

Difference difference(const std::string& before, const std::string& text) {
    const std::size_t most = std::min(before.size(), text.size());
    Difference d;
    while (d.head < most && before[d.head] == text[d.head]) ++d.head;
    while (d.tail < most - d.head && before[before.size() - 1 - d.tail] == text[text.size() - 1 - d.tail])
        ++d.tail;
    return d;
}

std::string applied(const std::string& before, std::size_t head, std::size_t tail, const std::string& body) {
    return before.substr(0, head) + body + before.substr(before.size() - tail);
}

[[noreturn]] void refuse_damaged(Id job, int rev) {
    refuse("shop-damaged",
           "Revision " + std::to_string(rev) + " of job " + std::to_string(job) +
               " is not the text that was written.",
           "Keep the file as it is and restore the newest backup to another name.",
           {"job", std::to_string(job)});
}

}  // namespace

void write_revision(Database& database, Id job, int rev, const std::string& before, const std::string& text,
                    const std::string& by, const std::string& why, const std::vector<Edit>& edits) {
    Difference d;
    const bool whole = rev % kWholeEvery == 1;
    if (!whole) d = difference(before, text);
    const std::string body = text.substr(d.head, text.size() - d.head - d.tail);
    SPILE_SLOW_CHECK(whole || applied(before, d.head, d.tail, body) == text);
    Statement(database, "INSERT INTO job_revision VALUES(?,?,?,?,?,?,?,?,?,?,?)")
        .with(job, rev, database.now(), by, why, whole, d.head, d.tail, Bytes{body}, text.size(),
              sum_of(text))
        .run();
    int seq = 0;
    for (const Edit& edit : edits)
        Statement(database, "INSERT INTO job_edit VALUES(?,?,?,?,?)")
            .with(job, rev, ++seq, edit.op_id, edit.op)
            .run();
}

Revision read_kept_revision(Database& database, Id job, int rev) {
    Statement rows(
        database,
        "SELECT rev, at, by, why, whole, head, tail, body, bytes, sum FROM job_revision WHERE job=?1"
        " AND rev<=?2 AND rev>=(SELECT max(rev) FROM job_revision WHERE job=?1 AND rev<=?2 AND"
        " whole=1) ORDER BY rev");
    rows.with(job, rev);
    Revision revision;
    std::int64_t sum = 0;
    while (rows.next()) {
        const std::string body = rows.text(7);
        const auto head = static_cast<std::size_t>(rows.whole(5)),
                   tail = static_cast<std::size_t>(rows.whole(6));
        if (rows.whole(4)) {
            revision.document = body;
        } else {
            if (head + tail > revision.document.size()) refuse_damaged(job, rev);
            revision.document = applied(revision.document, head, tail, body);
        }
        revision.rev = static_cast<int>(rows.whole(0));
        revision.at = rows.whole(1);
        revision.by = rows.text(2);
        revision.why = rows.text(3);
        revision.bytes = static_cast<std::size_t>(rows.whole(8));
        sum = rows.whole(9);
    }
    if (revision.rev != rev)
        refuse("not-there", "Job " + std::to_string(job) + " has no revision " + std::to_string(rev) + ".",
               "List its revisions and choose one of them.", {"job", std::to_string(job)});
    if (revision.document.size() != revision.bytes || sum_of(revision.document) != sum)
        refuse_damaged(job, rev);
    Statement edits(database, "SELECT count(*) FROM job_edit WHERE job=? AND rev=?");
    edits.with(job, rev).next();
    revision.edits = static_cast<std::size_t>(edits.whole(0));
    return revision;
}

}  // namespace spile::shop
