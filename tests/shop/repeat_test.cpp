// Repeat orders: the pattern as fitted taken over, the check sizes and their doubt.
#include "shop/repeat.h"

#include <gmock/gmock.h>

#include <cmath>

#include "core/measure/tape.h"
#include "tests/shop/rack.h"

namespace spile::shop {
namespace {

using testing::HasSubstr;

Job example() {
    const Result<Job> job = read_job(bytes_of(SPILE_SOURCE_DIR "/examples/cockpit.json"));
    EXPECT_TRUE(job);
    return *job;
}

Id fitted(Book& book, const std::string& text) {
    const Id id = add_job(book.store, new_job(text))->id;
    JobChange change;
    change.state = JobState::in_work;
    EXPECT_TRUE(change_job(book.store, id, change));
    EXPECT_TRUE(mark_as_fitted(book.store, id, 1, text, "pat"));
    return id;
}

// C. Ghilani, P. Wolf, Adjustment Computations, 4th ed. (from memory): the variance of an adjusted observation is that of the
// observation times one less its redundancy number.
TEST(CheckSizes, TheirDoubtIsThatOfTheAdjustedReadingAndOfTheTape) {
    const Job job = example();
    const Result<Survey> survey = measure(job.spaces[0], {});
    ASSERT_TRUE(survey);
    const auto sizes = check_sizes(job);
    ASSERT_TRUE(sizes);
    ASSERT_EQ(sizes->size(), 4u);
    int compared = 0;
    for (const CheckSize& size : *sizes) {
        std::size_t between = 0;
        const TieReport* report = nullptr;
        for (const TieReport& tie : survey->ties) {
            const bool same = tie.part.empty() && tie.points.size() == 2 && tie.points[0] == size.from &&
                              tie.points[1] == size.to;
            between += same;
            if (same) report = &tie;
        }
        ASSERT_TRUE(report);
        if (between != 1) continue;  // read twice: each reading has its own redundancy
        const double tape = distance_sd_mm(job.spaces[0].tape, size.expected_mm);
        const double adjusted = report->sd_mm * report->sd_mm * (1 - report->redundancy);
        EXPECT_NEAR(size.sd_mm, std::sqrt(adjusted + tape * tape), 1e-6) << size.from << size.to;
        EXPECT_NEAR(size.expected_mm, report->reads_mm - report->residual_mm, 1e-6);
        ++compared;
    }
    EXPECT_GE(compared, 3);
}

TEST(Repeat, TakesThePatternAsFittedAndTheNewGoods) {
    Book book;
    const std::string text =
        document("sole", R"(, "kept_layout": {"rounds": 3}, "goods": {"name": "old", "lot": "L1"})");
    const Id old = fitted(book, text);
    const Id goods = save_goods(book.store, {0, "carpet, grey", R"({"name": "x", "width": 60})", ""})->id;
    NewRepeat repeat;
    repeat.job = old;
    repeat.goods = goods;
    repeat.by = "pat";
    const auto made = start_repeat(book.store, repeat);
    ASSERT_TRUE(made) << made.findings[0].says;
    EXPECT_EQ(made->repeat_of, old);
    EXPECT_EQ(made->repeat_of_rev, 2);
    EXPECT_FALSE(made->unchecked) << "the same boat";
    const std::string copy = read_revision(book.store, made->id)->document;
    EXPECT_THAT(copy, testing::Not(HasSubstr("kept_layout")));
    EXPECT_THAT(copy, HasSubstr("\"carpet, grey\""));
    // Without new goods the old ones, but not their lot.
    repeat.goods = 0;
    repeat.sister = true;
    const auto sister = start_repeat(book.store, repeat);
    EXPECT_TRUE(sister->unchecked);
    const std::string again = read_revision(book.store, sister->id)->document;
    EXPECT_THAT(again, HasSubstr("\"old\""));
    EXPECT_THAT(again, testing::Not(HasSubstr("\"L1\"")));
}

TEST(Repeat, OfWhatHasNotFittedIsRefused) {
    Book book;
    NewRepeat repeat;
    repeat.job = add_job(book.store, new_job(document("sole")))->id;
    EXPECT_EQ(code_of(start_repeat(book.store, repeat)), "not-fitted");
    repeat.job = 9;
    EXPECT_EQ(code_of(start_repeat(book.store, repeat)), "not-there");
    repeat.job = fitted(book, document("sole"));
    repeat.goods = 5;
    EXPECT_EQ(code_of(start_repeat(book.store, repeat)), "not-there");
    EXPECT_EQ(*count_jobs(book.store, {}), 2u) << "nothing was begun";
}

TEST(Repeat, ASizeJustWithinItsLimitAgreesAndJustBeyondDiffers) {
    Book book;
    const std::string text = bytes_of(SPILE_SOURCE_DIR "/examples/cockpit.json");
    NewRepeat repeat;
    repeat.job = fitted(book, text);
    repeat.sister = true;
    const Id id = start_repeat(book.store, repeat)->id;
    const auto sizes = check_sizes(example());
    const auto lines = [&](double share_of_first) {
        std::vector<std::string> all;
        for (const CheckSize& size : *sizes) {
            const double mm = size.expected_mm + (all.empty() ? share_of_first * size.limit_mm : 0);
            all.push_back(size.from + " " + size.to + " " + std::to_string(mm).substr(0, 8) + " mm");
        }
        return all;
    };
    for (const double share : {1.1, -1.1}) {
        const auto off = check_repeat(book.store, id, lines(share), "pat");
        ASSERT_TRUE(off) << off.findings[0].says;
        EXPECT_FALSE(off->all_agree);
        EXPECT_TRUE(off->job.unchecked);
        EXPECT_EQ(off.findings[0].code, "check-size-differs");
    }
    for (const double share : {0.9}) {
        const auto within = check_repeat(book.store, id, lines(share), "pat");
        EXPECT_TRUE(within->all_agree);
        EXPECT_FALSE(within->job.unchecked);
    }
    EXPECT_EQ(list_notes(book.store, id)->size(), 3u);
}

}  // namespace
}  // namespace spile::shop
