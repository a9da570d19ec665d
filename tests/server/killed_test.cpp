// The program itself: served, killed in the middle of edits, started again.
#include <gtest/gtest.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <filesystem>

#include "tests/server/running.h"

namespace spile {
namespace {

using namespace spile::testing;

/// `spile serve` as a person starts it.
class Program {
  public:
    explicit Program(const std::filesystem::path& folder, std::vector<std::string> more = {}) {
        int out[2];
        EXPECT_EQ(pipe(out), 0);
        std::vector<std::string> words{
            std::string(SPILE_BINARY_DIR) + "/spile", "serve", "--data", folder.string(), "--port", "0"};
        words.insert(words.end(), more.begin(), more.end());
        pid_ = fork();
        if (pid_ == 0) {
            dup2(out[1], 1);
            close(out[0]);
            std::vector<char*> arguments;
            for (std::string& w : words) arguments.push_back(w.data());
            arguments.push_back(nullptr);
            execv(arguments[0], arguments.data());
            _exit(127);
        }
        close(out[1]);
        const std::string sign = "127.0.0.1:";
        char c;
        while (said_.find("ends it") == std::string::npos && read(out[0], &c, 1) == 1) said_ += c;
        close(out[0]);
        const std::size_t at = said_.find(sign);
        port_ = at == std::string::npos ? 0 : std::atoi(said_.c_str() + at + sign.size());
    }
    ~Program() {
        if (pid_ > 0) end(SIGKILL);
    }
    int end(int signal) {
        kill(pid_, signal);
        int status = 0;
        waitpid(pid_, &status, 0);
        pid_ = 0;
        return status;
    }
    int port() const { return port_; }
    const std::string& said() const { return said_; }

  private:
    pid_t pid_ = 0;
    int port_ = 0;
    std::string said_;
};

std::filesystem::path fresh_folder() {
    std::string name = (std::filesystem::temp_directory_path() / "spile-killed-XXXXXX").string();
    return mkdtemp(name.data());
}

TEST(Killed, nothing_that_was_answered_is_lost) {
    const std::filesystem::path folder = fresh_folder();
    const std::string example = std::string(SPILE_SOURCE_DIR) + "/examples/cockpit.json";
    int answered = 1;
    for (int round = 0; round < 4; ++round) {
        Program program(folder, {example});
        ASSERT_GT(program.port(), 0) << program.said();
        Client page(program.port());
        page.open();
        const json list = page.get("/api/jobs").body;
        ASSERT_EQ(list["count"], 1) << "the example is added once";
        const std::int64_t id = list["jobs"][0]["id"];
        const auto [job, rev] = page.job(id);
        EXPECT_GE(rev, answered);
        EXPECT_LE(rev, answered + 1) << "one edit may have been made whose answer was cut off";
        if (answered > 1) {
            EXPECT_GE(job["title"].get<std::string>(), "edit " + std::to_string(1000 + answered));
        }
        std::atomic<int> last{rev};
        std::thread editing([&, title = job["title"], at = rev]() mutable {
            Client own(program.port(), page.cookie());
            for (;;) {
                const std::string next = "edit " + std::to_string(1000 + at + 1);
                if (own.edit(id, at, next + "-" + std::to_string(getpid()), set_title(title, next)).status !=
                    200)
                    break;
                title = next;
                last = ++at;
            }
        });
        std::this_thread::sleep_for(std::chrono::milliseconds(300));
        program.end(SIGKILL);
        editing.join();
        answered = last;
    }
    EXPECT_GT(answered, 5);
    std::filesystem::remove_all(folder);
}

TEST(Killed, an_orderly_end_is_quick_though_a_page_listens) {
    const std::filesystem::path folder = fresh_folder();
    Program program(folder);
    ASSERT_GT(program.port(), 0) << program.said();
    Client page(program.port());
    page.open();
    std::thread listening([&] {
        httplib::Client http("127.0.0.1", program.port());
        http.Get("/api/events", {{"Cookie", page.cookie()}}, [](const char*, std::size_t) { return true; });
    });
    std::this_thread::sleep_for(std::chrono::milliseconds(200));
    const int status = program.end(SIGTERM);
    EXPECT_TRUE(WIFEXITED(status) && WEXITSTATUS(status) == 0);
    listening.join();
    std::filesystem::remove_all(folder);
}

/// Until the program answers again; the status of the page.
int waited_for(int port) {
    for (int tries = 0; tries < 200; ++tries) {
        httplib::Client http("127.0.0.1", port);
        if (const auto answer = http.Get("/")) return answer->status;
        std::this_thread::sleep_for(std::chrono::milliseconds(100));
    }
    return 0;
}

std::string in_address(std::string name) {
    for (std::size_t at = name.find(' '); at != std::string::npos; at = name.find(' '))
        name.replace(at, 1, "%20");
    return name;
}

TEST(Killed, a_copy_takes_the_place_of_the_book_also_when_killed_meanwhile) {
    for (const bool killed : {false, true}) {
        const std::filesystem::path folder = fresh_folder();
        auto program = std::make_unique<Program>(folder);
        ASSERT_GT(program->port(), 0) << program->said();
        const int port = program->port();
        Client page(port);
        page.open();
        const std::int64_t first = page.add(example_text());
        const std::string copy = page.send("POST", "/api/backups", json::object()).body["name"];
        const std::string at = "/api/backups/" + in_address(copy);
        const json before = page.get("/api/jobs/" + std::to_string(first)).body;
        page.add(example_text("cabin-mm"));
        EXPECT_EQ(page.send("POST", at + "/put-back", json::object()).status, 422) << "nobody said so";
        EXPECT_EQ(page.send("POST", "/api/backups/none/put-back", {{"instead_of_the_book", true}}).status, 404);
        const Answer answer = page.send("POST", at + "/put-back", {{"instead_of_the_book", true}});
        ASSERT_EQ(answer.status, 200) << answer.text;
        if (killed) {
            program->end(SIGKILL);
            program = std::make_unique<Program>(folder);
        }
        EXPECT_EQ(waited_for(program->port()), 200);
        Client again(program->port());
        again.open();
        EXPECT_EQ(again.get("/api/jobs").body["count"], 1);
        const json list = again.get("/api/backups").body;
        EXPECT_NE(list["put_back"].get<std::string>().find(copy), std::string::npos) << list;
        EXPECT_EQ(list["backups"].size(), 2u) << "the copy, and the book before it";
        EXPECT_EQ(program->port() == port, !killed) << "the pages find it where it was";
        // A page that still shows the book before is told.
        const json late = {{"op_id", "late"},
                           {"base_rev", 1},
                           {"life", before["life"]},
                           {"edits", set_title("Cockpit sole", "late")}};
        EXPECT_EQ(again.send("POST", "/api/jobs/" + std::to_string(first) + "/edits", late).code(), "another-book");
        // And back: the book that was replaced has both jobs.
        const std::string aside = in_address(answer.body["aside"]);
        ASSERT_EQ(again.send("POST", "/api/backups/" + aside + "/put-back", {{"instead_of_the_book", true}}).status,
                  200);
        EXPECT_EQ(waited_for(program->port()), 200);
        Client third(program->port());
        third.open();
        EXPECT_EQ(third.get("/api/jobs").body["count"], 2);
        program.reset();
        std::filesystem::remove_all(folder);
    }
}

TEST(Killed, a_damaged_copy_does_not_take_the_place_of_the_book) {
    const std::filesystem::path folder = fresh_folder();
    Program program(folder);
    ASSERT_GT(program.port(), 0) << program.said();
    Client page(program.port());
    page.open();
    page.add(example_text());
    const std::string copy = page.send("POST", "/api/backups", json::object()).body["name"];
    std::filesystem::resize_file(folder / "backups" / copy, 5000);
    const Answer answer =
        page.send("POST", "/api/backups/" + in_address(copy) + "/put-back", {{"instead_of_the_book", true}});
    EXPECT_GE(answer.status, 400) << answer.text;
    EXPECT_EQ(page.get("/api/jobs").body["count"], 1) << "it goes on as it was";
    std::filesystem::remove_all(folder);
}

TEST(Killed, a_taken_port_is_said) {
    const std::filesystem::path folder = fresh_folder();
    Program first(folder);
    ASSERT_GT(first.port(), 0);
    const std::string command = std::string(SPILE_BINARY_DIR) + "/spile serve --data " + folder.string() +
                                " --port " + std::to_string(first.port()) + " 2>&1";
    FILE* pipe = popen(command.c_str(), "r");
    std::string says;
    char buffer[512];
    while (std::fgets(buffer, sizeof buffer, pipe)) says += buffer;
    EXPECT_EQ(WEXITSTATUS(pclose(pipe)), 2);
    EXPECT_NE(says.find("in use"), std::string::npos) << says;
    std::filesystem::remove_all(folder);
}

}  // namespace
}  // namespace spile
