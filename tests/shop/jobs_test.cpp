// Jobs, their history, their people and their files.
#include "shop/jobs.h"

#include <gtest/gtest.h>

#include <random>

#include "shop/attachments.h"
#include "shop/people.h"
#include "tests/shop/book.h"

namespace spile::shop {
namespace {

Id job_in(Book& book, const std::string& title = "sole") {
    const Result<JobHead> head = add_job(book.store, new_job(document(title)));
    EXPECT_TRUE(head);
    return head->id;
}

TEST(Jobs, EveryRevisionIsReadBackByteForByte) {
    Book book;
    const Id job = job_in(book);
    std::mt19937 random(7);
    std::vector<std::string> texts = {document("sole")};
    for (int i = 2; i <= 150; ++i) {
        // Small edits in the middle, at both ends, growing, shrinking, none at all, and whole new texts.
        std::string notes;
        for (auto k = random() % 40; k > 0; --k) notes += static_cast<char>('a' + random() % 26);
        std::string next =
            i % 7 == 0 ? texts.back()
                       : document(i % 3 ? "sole" : "sole " + notes, R"(, "notes": "m)" + notes + R"(å")");
        const Result<JobHead> head = append_revision(
            book.store, {job, i - 1, next, {{"op" + std::to_string(i), R"({"set": 1})"}}, "ann", "edit"});
        ASSERT_TRUE(head) << head.findings[0].says;
        EXPECT_EQ(head->rev, i);
        texts.push_back(next);
    }
    for (int rev = 1; rev <= 150; ++rev)
        ASSERT_EQ(read_revision(book.store, job, rev)->document, texts[static_cast<std::size_t>(rev - 1)])
            << rev;
    EXPECT_EQ(read_revision(book.store, job)->rev, 150);
    EXPECT_EQ(code_of(read_revision(book.store, job, 151)), "not-there");
    EXPECT_EQ(list_revisions(book.store, job, 10, 100)->front().rev, 99);
    EXPECT_EQ(edits_since(book.store, job, 148)->size(), 2u);
    EXPECT_EQ(edits_since(book.store, job, 148)->front().op_id, "op149");
    ASSERT_EQ(restore_revision(book.store, job, 3, 150, "bob")->rev, 151);
    EXPECT_EQ(read_revision(book.store, job)->document, texts[2]);
    EXPECT_EQ(read_revision(book.store, job)->why, "restored 3");
    EXPECT_EQ(read_revision(book.store, job, 150)->document, texts[149]);
}

TEST(Jobs, TheSecondOfTwoEditorsIsTold) {
    Book book;
    const Id job = job_in(book);
    ASSERT_TRUE(append_revision(book.store, {job, 1, document("by ann"), {{"a1", "{}"}}, "ann", "edit"}));
    const Result<JobHead> second =
        append_revision(book.store, {job, 1, document("by bob"), {{"b1", "{}"}}, "bob", "edit"});
    ASSERT_EQ(code_of(second), "job-changed-since");
    EXPECT_EQ(second.findings[0].numbers[0].value, 1);
    EXPECT_EQ(second.findings[0].numbers[1].value, 2);
    EXPECT_EQ(edits_since(book.store, job, 1)->at(0).op_id, "a1");
    EXPECT_FALSE(*find_edit(book.store, job, "b1"));
    // A send repeated because its answer was lost is known, whatever revision it was made on.
    const Result<JobHead> again =
        append_revision(book.store, {job, 1, document("by ann"), {{"a1", "{}"}}, "ann", "edit"});
    ASSERT_EQ(code_of(again), "edit-known");
    EXPECT_EQ(again.findings[0].numbers[0].value, 2);
    EXPECT_EQ(**find_edit(book.store, job, "a1"), 2);
    EXPECT_EQ(job_head(book.store, job)->rev, 2);
}

TEST(Jobs, WhatIsNoJobIsRefused) {
    Book book;
    EXPECT_EQ(code_of(add_job(book.store, new_job("[1]"))), "not-a-job");
    EXPECT_EQ(code_of(add_job(book.store, new_job(R"({"title": "x"})"))), "not-a-job");
    EXPECT_EQ(code_of(add_job(book.store, new_job("{"))), "not-json");
    EXPECT_EQ(code_of(add_job(book.store, new_job(std::string(kLargestDocument_bytes + 1, ' ')))),
              "not-a-job");
    NewJob job = new_job(document("x"));
    job.customer = 9;
    EXPECT_EQ(code_of(add_job(book.store, job)), "not-there");
    job.customer = 0;
    job.promised = "soon";
    EXPECT_EQ(code_of(add_job(book.store, job)), "date-refused");
    EXPECT_EQ(*count_jobs(book.store, {}), 0u);
    const Id id = job_in(book);
    EXPECT_EQ(code_of(append_revision(book.store, {id, 1, "[]", {}, "", ""})), "not-a-job");
    EXPECT_EQ(code_of(append_revision(book.store, {id, 1, document("x"), {{"", "{}"}}, "", ""})),
              "edit-refused");
    EXPECT_EQ(code_of(append_revision(book.store, {id, 1, document("x"), {{"a", "{"}}, "", ""})), "not-json");
    EXPECT_EQ(code_of(append_revision(book.store, {99, 1, document("x"), {}, "", ""})), "not-there");
    EXPECT_EQ(job_head(book.store, id)->rev, 1);
}

TEST(Jobs, StatesFollowTheWork) {
    Book book;
    const Id job = job_in(book);
    JobChange change;
    change.by = "ann";
    change.state = JobState::paid;
    EXPECT_EQ(code_of(change_job(book.store, job, change)), "state-refused");
    for (const JobState state : {JobState::quoted, JobState::ordered, JobState::in_work, JobState::ordered,
                                 JobState::fitted, JobState::paid}) {
        change.state = state;
        ASSERT_TRUE(change_job(book.store, job, change)) << state_word(state);
    }
    change.state = JobState::not_taken;
    EXPECT_EQ(code_of(change_job(book.store, job, change)), "state-refused");
    EXPECT_EQ(list_states(book.store, job)->size(), 6u);
    EXPECT_EQ(list_states(book.store, job)->back().to, JobState::paid);
    for (int i = 0; i <= static_cast<int>(JobState::not_taken); ++i)
        EXPECT_EQ(state_of(state_word(static_cast<JobState>(i))), static_cast<JobState>(i));
    EXPECT_FALSE(state_of("done"));
}

TEST(Jobs, FoundByEveryWordOfTitleBoatAndCustomer) {
    Book book;
    const Result<Customer> ann = save_customer(book.store, {0, "Ann Example", "555 0101", "", "", "", 0});
    ASSERT_TRUE(ann);
    Boat boat;
    boat.customer = ann->id;
    boat.make = "Harbour";
    boat.model = "Launch 24";
    boat.hull_number = "XX_100%";
    const Result<Boat> kept = save_boat(book.store, boat);
    ASSERT_TRUE(kept);
    NewJob job = new_job(document("Cockpit sole"));
    job.customer = ann->id;
    job.boat = kept->id;
    ASSERT_TRUE(add_job(book.store, job));
    job_in(book, "Cabin sole");
    const auto found = [&](const std::string& text) {
        return find_jobs(book.store, {text, {}, 0, 0, 50, 0})->size();
    };
    EXPECT_EQ(found("sole"), 2u);
    EXPECT_EQ(found("SOLE launch ann"), 1u);
    EXPECT_EQ(found("_100%"), 1u);
    EXPECT_EQ(found("_1%0"), 0u);
    EXPECT_EQ(found("sole dinghy"), 0u);
    EXPECT_EQ(found("' OR 1=1 --"), 0u);
    Boat renamed = *kept;
    renamed.model = "Dinghy 9";
    ASSERT_TRUE(save_boat(book.store, renamed));
    EXPECT_EQ(found("sole dinghy"), 1u);
    EXPECT_EQ(find_boats(book.store, "harbour", ann->id)->size(), 1u);
    EXPECT_EQ(find_customers(book.store, "0101")->size(), 1u);
    JobQuery query;
    query.boat = kept->id;
    EXPECT_EQ(*count_jobs(book.store, query), 1u);
    EXPECT_EQ(code_of(find_jobs(book.store, {"\xFF", {}, 0, 0, 50, 0})), "text-refused");
}

TEST(People, WhatIsReferredToStays) {
    Book book;
    const Id ann = save_customer(book.store, {0, "Ann", "", "", "", "", 0})->id;
    const Id bob = save_customer(book.store, {0, "Bob", "", "", "", "", 0})->id;
    Boat boat;
    boat.customer = ann;
    boat.name = "Tern";
    const Id tern = save_boat(book.store, boat)->id;
    EXPECT_EQ(code_of(remove_customer(book.store, ann)), "refers-to-it");
    NewJob job = new_job(document("sole"));
    job.customer = bob;
    job.boat = tern;
    EXPECT_EQ(code_of(add_job(book.store, job)), "boat-of-another");
    job.customer = ann;
    ASSERT_TRUE(add_job(book.store, job));
    EXPECT_EQ(code_of(remove_boat(book.store, tern)), "refers-to-it");
    EXPECT_TRUE(remove_customer(book.store, bob));
    EXPECT_EQ(code_of(read_customer(book.store, bob)), "not-there");
    EXPECT_EQ(code_of(save_customer(book.store, {0, "", "", "", "", "", 0})), "name-missing");
    EXPECT_EQ(code_of(save_customer(book.store, {0, "two\nlines", "", "", "", "", 0})), "text-refused");
    EXPECT_EQ(code_of(save_customer(book.store, {0, std::string(201, 'x'), "", "", "", "", 0})),
              "text-refused");
    boat.year = 12;
    EXPECT_EQ(code_of(save_boat(book.store, boat)), "year-refused");
    EXPECT_EQ(code_of(save_boat(book.store, {})), "name-missing");
}

TEST(Attachments, BytesComeBackAsTheyWere) {
    Book book;
    const Id job = job_in(book);
    const std::string picture("\xFF\xD8\0\x01", 4);
    const Result<AttachmentHead> kept =
        add_attachment(book.store, job, "a.jpg", "image/jpeg", picture, "ann");
    ASSERT_TRUE(kept);
    EXPECT_EQ(*read_attachment(book.store, kept->id), picture);
    EXPECT_EQ(list_attachments(book.store, job)->at(0).bytes, 4u);
    for (const char* name : {"", "..", "../x", "a/b", "a\\b"})
        EXPECT_EQ(code_of(add_attachment(book.store, job, name, "", "x", "")), "name-refused") << name;
    EXPECT_EQ(code_of(add_attachment(book.store, job, "a", "", "", "")), "file-empty");
    EXPECT_EQ(code_of(add_attachment(book.store, 99, "a", "", "x", "")), "not-there");
    EXPECT_EQ(
        code_of(add_attachment(book.store, job, "a", "", std::string(kLargestAttachment_bytes + 1, 'x'), "")),
        "file-too-large");
    ASSERT_TRUE(remove_attachment(book.store, kept->id));
    EXPECT_EQ(code_of(read_attachment(book.store, kept->id)), "not-there");
}

TEST(Notes, StandInTheirOrder) {
    Book book;
    const Id job = job_in(book);
    ASSERT_TRUE(add_note(book.store, job, "Lid opens aft.\nAsk about the step.", "ann"));
    book.clock += 60;
    ASSERT_TRUE(add_note(book.store, job, "Step: no.", "bob"));
    const auto notes = *list_notes(book.store, job);
    ASSERT_EQ(notes.size(), 2u);
    EXPECT_EQ(notes[1].at - notes[0].at, 60);
    EXPECT_EQ(code_of(add_note(book.store, job, std::string("a\0b", 3), "")), "text-refused");
}

TEST(AsFitted, BecomesTheNewestAndIsFound) {
    Book book;
    const Id job = add_job(book.store, new_job(document("sole")))->id;
    EXPECT_EQ(code_of(mark_as_fitted(book.store, job, 1, document("as fitted"), "pat")), "state-refused");
    JobChange change;
    change.by = "pat";
    change.state = JobState::in_work;
    ASSERT_TRUE(change_job(book.store, job, change));
    JobQuery query;
    query.as_fitted = true;
    EXPECT_TRUE(find_jobs(book.store, query)->empty());
    EXPECT_EQ(code_of(mark_as_fitted(book.store, job, 7, document("x"), "pat")), "job-changed-since");
    EXPECT_EQ(mark_as_fitted(book.store, job, 1, document("as fitted"), "pat")->as_fitted_rev, 2);
    ASSERT_TRUE(append_revision(book.store, {job, 2, document("an idea of later"), {}, "pat", "edit"}));
    EXPECT_EQ(find_jobs(book.store, query)->size(), 1u);
}

}  // namespace
}  // namespace spile::shop
