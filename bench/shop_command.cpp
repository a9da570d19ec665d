// spile-bench shop: lists and searches of a large book.
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "bench/commands.h"
#include "core/geom/vec2.h"
#include "shop/jobs.h"
#include "shop/people.h"
#include "shop/stock.h"

namespace spile {
namespace {

using Clock = std::chrono::steady_clock;

struct Arguments {
    int jobs = 10'000, offcuts = 50'000, runs = 20;
};

constexpr int kCustomers = 2000, kGoods = 20, kOffcutsOfOne = 50;

std::string document(int number, const std::string& goods) {
    return R"({"spile": 1, "title": "Cockpit sole )" + std::to_string(number) + R"(", "goods": {"name": ")" +
           goods + R"(", "width": 72}})" + "\n";
}

Outline rectangle_of(double length_mm, double width_mm) {
    Outline outline;
    for (const Vec2 p : {Vec2{0, 0}, Vec2{length_mm, 0}, Vec2{length_mm, width_mm}, Vec2{0, width_mm}})
        outline.vertices.push_back({p, 0, 0});
    return outline;
}

/// False when a write is refused.
bool fill(shop::Store& store, const Arguments& a) {
    std::vector<shop::Id> rolls;
    for (int g = 0; g < kGoods; ++g) {
        const std::string name = "woven vinyl " + std::to_string(g);
        const auto goods = shop::save_goods(store, {0, name, R"({"width": 72})", ""});
        if (!goods) return false;
        const auto roll =
            shop::receive_roll(store, goods->id, "L" + std::to_string(g), "", 1'000'000'000, "bench");
        if (!roll) return false;
        rolls.push_back(roll->id);
    }
    for (int c = 0; c < kCustomers; ++c) {
        if (!shop::save_customer(store, {0, "Customer " + std::to_string(c), "", "", "", "", 0}))
            return false;
        shop::Boat boat;
        boat.customer = c + 1;
        boat.model = "model " + std::to_string(c % 97);
        if (!shop::save_boat(store, boat)) return false;
    }
    for (int i = 0; i < a.jobs; ++i) {
        shop::NewJob job;
        job.customer = job.boat = 1 + i % kCustomers;
        job.document = document(i, "woven vinyl " + std::to_string(i % kGoods));
        job.state = static_cast<shop::JobState>(i % 6);
        if (!shop::add_job(store, job)) return false;
    }
    for (int i = 0; i < a.offcuts / kOffcutsOfOne; ++i) {
        shop::AcceptLayout accept;
        accept.job = 1 + i % a.jobs;
        accept.base_rev = shop::job_head(store, accept.job)->rev;
        accept.document = document(i, "woven vinyl " + std::to_string((accept.job - 1) % kGoods));
        accept.layout = "l" + std::to_string(i);
        accept.roll = rolls[static_cast<std::size_t>((accept.job - 1) % kGoods)];
        accept.used_um = 1000;
        for (int k = 0; k < kOffcutsOfOne; ++k)
            accept.left.push_back(
                {rectangle_of(300 + (i * 7 + k * 31) % 900, 300 + (i * 13 + k * 17) % 1500)});
        if (!shop::accept_layout(store, accept)) return false;
    }
    return true;
}

void time(const char* what, int runs, const std::function<std::size_t()>& ask) {
    std::vector<double> ms;
    std::size_t found = 0;
    for (int i = 0; i < runs; ++i) {
        const auto begun = Clock::now();
        found = ask();
        ms.push_back(std::chrono::duration<double, std::milli>(Clock::now() - begun).count());
    }
    std::sort(ms.begin(), ms.end());
    std::printf("%-52s %7zu rows  median %7.2f ms  worst %7.2f ms\n", what, found, ms[ms.size() / 2],
                ms.back());
    std::fflush(stdout);
}

void ask_all(shop::Store& store, const Arguments& a) {
    const auto jobs = [&](const char* what, const shop::JobQuery& query) {
        time(what, a.runs, [&] { return shop::find_jobs(store, query)->size(); });
    };
    const auto with = [](auto change) {
        shop::JobQuery query;
        change(query);
        return query;
    };
    const auto last_page = static_cast<std::size_t>(a.jobs) - 50;
    jobs("jobs, the first page", {});
    jobs("jobs, the last page", with([&](shop::JobQuery& q) { q.skip = last_page; }));
    jobs("jobs, a word that all have", with([](shop::JobQuery& q) { q.text = "cockpit"; }));
    jobs("jobs, two words that few have", with([](shop::JobQuery& q) { q.text = "model 42 customer"; }));
    jobs("jobs, a word that none has", with([](shop::JobQuery& q) { q.text = "zzz"; }));
    jobs("jobs, by state", with([](shop::JobQuery& q) { q.state = shop::JobState::in_work; }));
    jobs("jobs, of one customer", with([](shop::JobQuery& q) { q.customer = 77; }));
    jobs("jobs, as fitted", with([](shop::JobQuery& q) { q.as_fitted = true; }));
    time("jobs counted, a word", a.runs,
         [&] { return *shop::count_jobs(store, with([](shop::JobQuery& q) { q.text = "customer 19"; })); });
    time("customers, a word", a.runs, [&] { return shop::find_customers(store, "customer 1999")->size(); });
    time("boats, a word", a.runs, [&] { return shop::find_boats(store, "model 42")->size(); });
    const auto offcuts = [&](const char* what, auto change) {
        shop::OffcutQuery query;
        change(query);
        time(what, a.runs, [&] { return shop::find_offcuts(store, query)->size(); });
    };
    offcuts("offcuts, the first page", [](shop::OffcutQuery&) {});
    offcuts("offcuts, the last page",
            [&](shop::OffcutQuery& q) { q.skip = static_cast<std::size_t>(a.offcuts) - 100; });
    offcuts("offcuts, of goods and size", [](shop::OffcutQuery& q) {
        q.goods = 7;
        q.least_length_um = 900'000;
        q.least_width_um = 1'500'000;
    });
    offcuts("offcuts, of a size that none has", [](shop::OffcutQuery& q) { q.least_length_um = 9'000'000; });
    offcuts("offcuts, of a lot that none has", [](shop::OffcutQuery& q) { q.lot = "zzz"; });
    time("rolls", a.runs, [&] { return shop::list_rolls(store)->size(); });
    time("movements, the first page", a.runs, [&] { return shop::list_movements(store)->size(); });
    time("movements of a roll", a.runs, [&] { return shop::list_movements(store, 7)->size(); });
    time("one job with its document", a.runs, [&] { return shop::read_revision(store, a.jobs / 2)->bytes; });
}

}  // namespace

int shop_command(const std::vector<std::string>& words) {
    Arguments a;
    for (std::size_t i = 0; i + 1 < words.size(); i += 2) {
        int* to = words[i] == "--jobs"      ? &a.jobs
                  : words[i] == "--offcuts" ? &a.offcuts
                  : words[i] == "--runs"    ? &a.runs
                                            : nullptr;
        if (!to) return 2;
        *to = std::stoi(words[i + 1]);
    }
    if (words.size() % 2 != 0 || a.jobs < 100 || a.offcuts < 100 || a.runs < 1) return 2;
    std::string folder = (std::filesystem::temp_directory_path() / "spile-bench-XXXXXX").string();
    if (!mkdtemp(folder.data())) return 1;
    shop::OpenOptions options;
    options.create = true;
    bool done = false;
    {
        Result<shop::Store> store = shop::Store::open(folder + "/shop.spile", options);
        done = store && fill(*store, a);
        if (done) {
            std::printf("%d jobs, %d offcuts, %d runs of each\n", a.jobs, a.offcuts, a.runs);
            ask_all(*store, a);
        }
    }
    std::filesystem::remove_all(folder);
    return done ? 0 : 1;
}

}  // namespace spile
