// Thousands of damaged jobs: reading always ends, in a job or in a stop that says why, and what it keeps it can write.
#include <gtest/gtest.h>

#include <random>

#include "tests/base/repeats.h"
#include "tests/job/support.h"

namespace spile {
namespace {

using namespace spile::testing;
using Kind = JsonValue::Kind;

constexpr unsigned seed = 20240817;

class Damage {
  public:
    explicit Damage(unsigned start) : random_(start) {}

    std::size_t below(std::size_t n) { return n == 0 ? 0 : random_() % n; }

    /// One to four blows to the bytes.
    std::string bytes(std::string text, const std::string& other) {
        static const char* const scraps[] = {"\"",
                                             "\\",
                                             "{",
                                             "}",
                                             "[",
                                             "]",
                                             ",",
                                             ":",
                                             "/*",
                                             "//",
                                             "\n",
                                             "null",
                                             "-1",
                                             "1e308",
                                             "1e-308",
                                             "NaN",
                                             "0",
                                             "\\u0000",
                                             "\\ud800",
                                             "\xFF",
                                             "\xEF\xBB\xBF",
                                             "99999999999999999999",
                                             "true",
                                             "\"A\"",
                                             "\"A B 5' 14\\\"\"",
                                             "\t",
                                             "\r"};
        for (std::size_t blows = 1 + below(4); blows > 0 && !text.empty(); --blows) {
            const std::size_t at = below(text.size()), length = 1 + below(24);
            switch (below(6)) {
                case 0:
                    text[at] = static_cast<char>(below(256));
                    break;
                case 1:
                    text.erase(at, length);
                    break;
                case 2:
                    text.insert(at, scraps[below(std::size(scraps))]);
                    break;
                case 3:
                    text.insert(at, text.substr(below(text.size()), length));
                    break;
                case 4:
                    text.replace(at, length, other, below(other.size()), length);
                    break;
                case 5:
                    text.resize(at);
                    break;
            }
        }
        return text;
    }

    /// One to four blows to the tree: values lost, doubled, swapped, or of another kind.
    JsonValue tree(JsonValue root) {
        static const char* const texts[] = {
            "",     "A",       "A B",     "Z9",   "A B 0",         "A A 12", "t1",
            "1",    "cockpit", "24 x 36", "-1",   "1/3",           "in",     "mm",
            "wall", "a/b",     "1e9",     "40 m", "P on A B at 3", "\u00BD", "x"};
        for (std::size_t blows = 1 + below(4); blows > 0; --blows) {
            JsonValue& at = pick(root);
            JsonValue scrap = JsonValue::of_text(texts[below(std::size(texts))]);
            switch (below(7)) {
                case 0:
                    at = std::move(scrap);
                    break;
                case 1:
                    at = JsonValue::of_whole(static_cast<long long>(below(5)) - 2);
                    break;
                case 2:
                    at = JsonValue();
                    break;
                case 3:
                    at = JsonValue(pick(root));
                    break;
                case 4:
                    std::swap(at.kind, scrap.kind);
                    fit(at);
                    break;
                case 5:
                    if (!at.items.empty()) at.items.pop_back();
                    if (!at.keys.empty()) at.keys.pop_back();
                    break;
                case 6:
                    if (at.is(Kind::list) && !at.items.empty())
                        at.items.push_back(JsonValue(at.items[below(at.items.size())]));
                    if (at.is(Kind::object))
                        at.keys.push_back(texts[below(std::size(texts))]),
                            at.items.push_back(std::move(scrap));
                    break;
            }
        }
        return root;
    }

  private:
    JsonValue& pick(JsonValue& root) {
        JsonValue* at = &root;
        while (!at->items.empty() && below(8) != 0) at = &at->items[below(at->items.size())];
        return *at;
    }
    static void fit(JsonValue& v) {
        if (!v.is(Kind::object)) v.keys.clear();
        if (!v.is(Kind::object) && !v.is(Kind::list)) v.items.clear();
    }

    std::mt19937 random_;
};

void expect_orderly(const Result<Job>& job, const std::string& text) {
    ASSERT_TRUE(job || has_stop(job.findings)) << text;
    for (const Finding& f : job.findings) {
        ASSERT_FALSE(f.code.empty() || f.says.empty() || f.to_do.empty() || f.where.empty())
            << f.code << f.says << "\n"
            << text;
        ASSERT_LT(f.says.size() + f.to_do.size(), 4000u) << f.says;
    }
    if (!job) return;
    for (const PanelInput& p : job->panels) ASSERT_EQ(p.edges.size(), p.corners.size()) << text;
    const std::string written = write_job(*job);
    const Result<Job> again = read_job(written);
    ASSERT_TRUE(again) << text << "\n" << written;
    ASSERT_EQ(write_job(*again), written) << text;
    ASSERT_EQ(again.findings.size(), job.findings.size())
        << shown(job.findings) << shown(again.findings) << text;
}

TEST(MutatedJobs, damaged_bytes_end_in_a_job_or_a_stop) {
    RecordProperty("seed", static_cast<int>(seed));
    std::vector<std::string> texts;
    for (const auto& path : good_jobs()) texts.push_back(read_file(path));
    Damage damage(seed);
    std::size_t read = 0;
    for (int i = 0; i < 6000; ++i) {
        const std::string text =
            damage.bytes(texts[damage.below(texts.size())], texts[damage.below(texts.size())]);
        const Result<Job> job = read_job(text);
        expect_orderly(job, text);
        if (HasFatalFailure()) FAIL() << "seed " << seed << ", round " << i;
        read += job ? 1 : 0;
    }
    EXPECT_GT(read, 300u);  // enough of them get past the brackets
}

TEST(MutatedJobs, damaged_trees_end_in_a_job_or_a_stop) {
    RecordProperty("seed", static_cast<int>(seed));
    std::vector<JsonValue> trees;
    for (const auto& path : good_jobs()) trees.push_back(*parse_json(read_file(path)));
    Damage damage(seed);
    std::size_t read = 0;
    const auto trees_read = static_cast<std::size_t>(test::repeats(6000));
    for (std::size_t i = 0; i < trees_read; ++i) {
        const std::string text = write_said(damage.tree(trees[damage.below(trees.size())]));
        const Result<Job> job = read_job(text);
        expect_orderly(job, text);
        if (HasFatalFailure()) FAIL() << "seed " << seed << ", round " << i;
        read += job ? 1 : 0;
    }
    EXPECT_GT(2 * read, trees_read);
}

}  // namespace
}  // namespace spile
