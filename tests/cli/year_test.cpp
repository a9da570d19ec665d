// A year of a small invented shop, 200 jobs from the enquiry to paid, through `spile shop`. At its end stock, money and
// history are added up anew by year_check.py, which knows nothing of our code, and SQLite checks the file.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <nlohmann/json.hpp>
#include <random>

#include "tests/cli/program.h"

namespace spile::cli_test {
namespace {

using nlohmann::json;

const std::string kPrices = SPILE_SOURCE_DIR "/examples/shop/prices.json";
constexpr int kJobs = 200, kCustomers = 60, kKinds = 12;

std::string day_of(int month, int day) {
    const auto two = [](int n) { return (n < 10 ? "0" : "") + std::to_string(n); };
    return "2026-" + two(month) + "-" + two(day);
}

std::string with_panels(const std::string& title, const std::string& panels) {
    return R"({ "spile": 1, "title": ")" + title + R"(", "units": "in", "mark_on": "back",
  "goods": { "name": "woven vinyl, sand, foam back", "width": 72, "usable_width": "71 1/2", "gap": "1/4", "step": 36 },
  "panels": [)" +
           panels + "] }\n";
}

/// Mats of different sizes, turned.
std::string job_text(int kind) {
    const std::string size = std::to_string(18 + 2 * kind) + " x " + std::to_string(40 - kind);
    return with_panels("Step mats " + std::to_string(kind),
                       R"({ "id": "a", "name": "step mat", "mat": ")" + size +
                           R"(, turned" }, { "id": "b", "name": "second mat", "mat": "20 x 30, turned" })");
}

/// One small mat: what is left of other jobs holds it.
std::string small_job_text() {
    return with_panels("Small mat", R"({ "id": "a", "name": "step mat", "mat": "16 x 22, turned" })");
}

/// The year as a person would type it. The numbers of jobs follow from the order in which they come in.
class Year {
  public:
    std::string script() {
        line("prices add prices.json");
        line("goods add --from job-0.json");
        for (int c = 0; c < kCustomers; ++c) {
            line("customer add \"Customer " + std::to_string(c) + "\" --phone " + std::to_string(1000 + c));
            line("boat add --customer " + std::to_string(c + 1) + " --model \"model " +
                 std::to_string(c % 7) + "\"");
        }
        for (int job = 1; job <= kJobs; ++job) one_job(job);
        return text_;
    }

  private:
    void line(const std::string& words) { text_ += words + "\n"; }
    int upto(int n) { return static_cast<int>(random_() % static_cast<unsigned>(n)); }

    void month_begins(int month) {
        month_ = month;
        line("today " + day_of(month, 1));
        line("roll receive 1 \"90 ft\" --lot L" + std::to_string(month));
        if (month == 7) line("prices add prices-july.json");
    }

    void one_job(int job) {
        const int month = 1 + (job - 1) * 12 / kJobs;
        if (month != month_) month_begins(month);
        const std::string id = std::to_string(job), roll = std::to_string(month);
        const int customer = 1 + upto(kCustomers);
        line("today " + day_of(month, 2 + upto(20)));
        // Most are cut from the roll of the month, single mats from what serves best, offcuts among it.
        const bool best = job % 3 == 1;
        const std::string who =
            " --customer " + std::to_string(customer) + " --boat " + std::to_string(customer);
        // Now and then the set is wanted once more.
        if (last_fitted_ && job % 9 == 0)
            line("repeat start " + std::to_string(last_fitted_) + " --goods 1");
        else
            line("job add " + (best ? "small" : "job-" + std::to_string(upto(kKinds))) + ".json" + who);
        line("quote " + id + (job % 11 == 0 ? " --rush" : "") + " --send");
        if (job % 5 == 0) return line("job state " + id + " \"not taken\"");
        line("job state " + id + " ordered");
        line("pay " + id + " 50.00 --note deposit");
        if (job % 3 == 0) line("order " + id + " --send");
        line("roll reserve " + roll + " " + id + " \"3 ft\"");
        line("cut " + id + (best ? " --best" : " --roll " + roll));
        if (job % 13 == 0) {
            line("uncut " + id + "-1");
            line("cut " + id + " --roll " + roll);
        }
        line("job state " + id + " \"in work\"");
        line("ticket " + id + " " + std::to_string(150 + upto(60)));
        line("job fitted " + id);
        line("job state " + id + " fitted");
        line("today " + day_of(month, 28));
        line("invoice " + id + " --send");
        if (job % 17 == 0) {
            line("credit " + id + " --send");
            line("invoice " + id + " --send");
        }
        last_fitted_ = job;
        if (job % 4 == 0) return;  // still to pay
        line("pay " + id + " --rest");
        line("job state " + id + " paid");
        line("care " + id + " --send");
    }

    std::mt19937 random_{2026};
    std::string text_;
    int month_ = 0, last_fitted_ = 0;
};

TEST(Year, OfTwoHundredJobsAddsUp) {
    const Scratch scratch;
    for (int kind = 0; kind < kKinds; ++kind)
        scratch.file("job-" + std::to_string(kind) + ".json", job_text(kind));
    scratch.file("small.json", small_job_text());
    std::string prices = text_of(kPrices);
    scratch.file("prices.json", prices);
    prices.replace(prices.find("2026-01-01"), 10, "2026-07-01");
    prices.replace(prices.find("38.00"), 5, "41.00");
    scratch.file("prices-july.json", prices);
    const std::string script = scratch.file("year.txt", Year().script());

    const Outcome year =
        run_spile({"shop", "script", script, "--data", "book", "--by", "pat", "--json"}, scratch.path());
    ASSERT_EQ(year.exit, 0) << year.err;
    const auto ask = [&](std::vector<std::string> words) {
        words.insert(words.begin(), "shop");
        words.insert(words.end(), {"--data", "book", "--json"});
        const Outcome outcome = run_spile(words, scratch.path());
        EXPECT_EQ(outcome.exit, 0) << words[1] << outcome.err;
        return json::parse(outcome.out, nullptr, false);
    };
    EXPECT_EQ(ask({"job", "find"})["count"], kJobs);
    EXPECT_TRUE(ask({"check"}).contains("says"));
    scratch.file("totals.json", ask({"totals", "2026-01-01", "--to", "2026-12-31"}).dump());
    ask({"export", "open"});
    const std::string check =
        "/usr/bin/python3 '" SPILE_SOURCE_DIR "/tests/cli/year_check.py' '" + scratch.path().string() + "'";
    EXPECT_EQ(std::system(check.c_str()), 0);
    // The check must be able to fail: one coin more in a payment, one micrometre less in a movement.
    const std::pair<const char*, const char*> faults[] = {{"payment.csv", ",5000,"},
                                                          {"movement.csv", ",-[0-9]*,"}};
    for (const auto& [file, first] : faults) {
        const std::string spoilt =
            std::string("sed -i '0,/") + first + "/s//,4999,/' '" + (scratch / "open" / file).string() + "'";
        const auto before = text_of(scratch / "open" / file);
        ASSERT_EQ(std::system(spoilt.c_str()), 0);
        ASSERT_NE(text_of(scratch / "open" / file), before) << file;
        EXPECT_NE(std::system((check + " 2>/dev/null").c_str()), 0) << file;
        scratch.file(std::string("open/") + file, before);
    }
}

}  // namespace
}  // namespace spile::cli_test
