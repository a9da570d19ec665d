// spile-bench serve: many clients that edit one book at once, over real connections.
#include <httplib.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <thread>

#include "bench/commands.h"
#include "server/server.h"

namespace spile {
namespace {

using Clock = std::chrono::steady_clock;
using nlohmann::json;

struct Arguments {
    std::string job = "examples/cockpit.json";
    int clients = 200;
    double seconds = 60, every_s = 1;
    int jobs = 20;  ///< the clients share these
};

/// One client: an edit of a reading, now and then a look at the job, all on one connection.
void edit_on(int port, int number, const Arguments& a, std::int64_t id, Clock::time_point end,
             std::vector<double>& edits_ms, std::vector<double>& reads_ms, std::atomic<int>& errors) {
    httplib::Client http("127.0.0.1", port);
    http.set_keep_alive(true);
    http.set_tcp_nodelay(true);
    http.set_read_timeout(30);
    const auto home = http.Get("/");
    if (!home) {
        ++errors;
        return;
    }
    const std::string cookie = home->get_header_value("Set-Cookie");
    const httplib::Headers headers{{"Cookie", cookie.substr(0, cookie.find(';'))}};
    const std::string path = "/api/jobs/" + std::to_string(id), own = "c" + std::to_string(number);
    const auto timed = [&](std::vector<double>& times, auto&& ask) -> json {
        const auto begun = Clock::now();
        const httplib::Result r = ask();
        times.push_back(std::chrono::duration<double, std::milli>(Clock::now() - begun).count());
        if (r && r->status == 200) return json::parse(r->body, nullptr, false);
        ++errors;
        return json::object();
    };
    json state = timed(reads_ms, [&] { return http.Get(path, headers); });
    if (!state.contains("head")) return;
    int rev = state["head"]["rev"];
    json line = nullptr;
    auto next =
        Clock::now() + std::chrono::milliseconds(static_cast<int>(1000 * a.every_s) * (number % 50) / 50);
    for (int i = 0; Clock::now() < end; ++i) {
        std::this_thread::sleep_until(next);
        next += std::chrono::milliseconds(static_cast<int>(1000 * a.every_s));
        json edit = {{"target", "/spaces/cockpit/ties/" + own}, {"field", "line"}};
        std::string reading = "A B 95 ";
        reading += std::to_string(1 + i % 15);
        reading += "/16";
        if (line.is_null()) {
            edit["field"] = "";
            edit["new"] = {{"id", own}, {"line", reading}};
        } else {
            edit["old"] = line;
            edit["new"] = reading;
        }
        const json body = {
            {"op_id", own + "-" + std::to_string(i)}, {"base_rev", rev}, {"edits", json::array({edit})}};
        const json done = timed(
            edits_ms, [&] { return http.Post(path + "/edits", headers, body.dump(), "application/json"); });
        if (!done.contains("made")) continue;
        rev = done["head"]["rev"];
        line = reading;
        if (i % 10 == 9) rev = timed(reads_ms, [&] { return http.Get(path, headers); })["head"]["rev"];
    }
}

void print(const char* what, std::vector<double> ms) {
    if (ms.empty()) return;
    std::sort(ms.begin(), ms.end());
    const auto share = [&ms](double s) {
        return ms[static_cast<std::size_t>(s * static_cast<double>(ms.size() - 1))];
    };
    std::printf("%s: %zu, median %.1f ms, p90 %.1f, p99 %.1f, p99.9 %.1f, most %.1f\n", what, ms.size(),
                share(0.5), share(0.9), share(0.99), share(0.999), ms.back());
}

}  // namespace

int serve_command(const std::vector<std::string>& words) {
    Arguments a;
    for (std::size_t i = 0; i + 1 < words.size(); i += 2) {
        const std::string& word = words[i];
        if (word == "--clients")
            a.clients = std::stoi(words[i + 1]);
        else if (word == "--seconds")
            a.seconds = std::stod(words[i + 1]);
        else if (word == "--every")
            a.every_s = std::stod(words[i + 1]);
        else if (word == "--jobs")
            a.jobs = std::stoi(words[i + 1]);
        else if (word == "--job")
            a.job = words[i + 1];
        else
            return 2;
    }
    std::ifstream in(a.job);
    std::stringstream text;
    text << in.rdbuf();
    if (words.size() % 2 != 0 || !in || a.clients < 1 || a.jobs < 1) return 2;

    std::string folder = (std::filesystem::temp_directory_path() / "spile-bench-XXXXXX").string();
    if (!mkdtemp(folder.data())) return 1;
    server::ServeOptions options;
    options.book = folder + "/shop.spile";
    options.port = 0;
    options.open_job = text.str();
    auto started = server::Server::start(options);
    if (!started) return 1;
    server::Server& server = **started;
    std::thread serving([&server] { server.run(); });

    httplib::Client first("127.0.0.1", server.port());
    const std::string cookie = first.Get("/")->get_header_value("Set-Cookie");
    const httplib::Headers headers{{"Cookie", cookie.substr(0, cookie.find(';'))}};
    std::vector<std::int64_t> ids;
    for (int i = 0; i < a.jobs; ++i) {
        const auto made =
            first.Post("/api/jobs", headers, json{{"text", text.str()}}.dump(), "application/json");
        ids.push_back(json::parse(made->body)["head"]["id"]);
    }
    std::vector<std::vector<double>> edits(static_cast<std::size_t>(a.clients)), reads(edits.size());
    std::atomic<int> errors{0};
    std::vector<std::thread> threads;
    const auto end = Clock::now() + std::chrono::milliseconds(static_cast<std::int64_t>(1000 * a.seconds));
    for (int c = 0; c < a.clients; ++c) {
        const auto i = static_cast<std::size_t>(c);
        threads.emplace_back([&, c, i] {
            edit_on(server.port(), c, a, ids[i % ids.size()], end, edits[i], reads[i], errors);
        });
    }
    for (std::thread& t : threads) t.join();
    std::vector<double> all_edits, all_reads;
    for (const auto& e : edits) all_edits.insert(all_edits.end(), e.begin(), e.end());
    for (const auto& r : reads) all_reads.insert(all_reads.end(), r.begin(), r.end());
    std::printf("%d clients on %d jobs for %.0f s, an edit every %.1f s each; %d errors\n", a.clients, a.jobs,
                a.seconds, a.every_s, errors.load());
    print("edits", std::move(all_edits));
    print("reads", std::move(all_reads));
    std::fflush(stdout);
    server.stop();
    serving.join();
    std::filesystem::remove_all(folder);
    return errors.load() == 0 ? 0 : 1;
}

}  // namespace spile
