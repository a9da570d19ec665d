// spile serve: the workbench on this computer.
#include <pthread.h>
#include <signal.h>
#include <unistd.h>

#include <chrono>
#include <filesystem>
#include <mutex>
#include <thread>

#include "cli/book_place.h"
#include "cli/commands.h"
#include "cli/load.h"
#include "cli/terminal.h"
#include "server/server.h"

namespace spile::cli {
namespace {

sigset_t ending_signals() {
    sigset_t set;
    sigemptyset(&set);
    sigaddset(&set, SIGINT);
    sigaddset(&set, SIGTERM);
    return set;
}

/// Held while the server is being stopped, so that it is not taken down under the hands of the thread that stops it.
std::mutex stopping;
/// The one that runs; none while a backup takes the place of the book, which an end must not wait for: it is gone on from.
server::Server* running = nullptr;

/// Waits for the end in a thread of its own. Every write is safe on the disk when it has been answered, so pages that keep
/// their connections open are not waited for.
void end_on_signal() {
    std::thread([] {
        const sigset_t set = ending_signals();
        int signal = 0;
        sigwait(&set, &signal);
        {
            const std::lock_guard lock(stopping);
            if (running) running->stop();
        }
        std::this_thread::sleep_for(std::chrono::seconds(1));
        _exit(all_well);
    }).detach();
}

std::string welcome(const server::Server& server) {
    std::string text = "Spile is at  " + server.address() + "\n";
    for (const std::string& address : server.lan_addresses())
        text += "other devices of the shop:  " + harmless(address) + "\n";
    if (!server.fingerprint().empty()) text += "its certificate:  " + server.fingerprint() + "\n";
    return text + "Ctrl-C ends it.\n";
}

}  // namespace

Exit serve(const ServeCommand& command) {
    server::ServeOptions options;
    options.port = command.port;
    options.lan = command.lan;
    options.lan_port = command.lan_port;
    options.tell = [](const std::string& code) {
        print("Pairing code, for one device:  " + code.substr(0, 4) + " " + code.substr(4) + "\n");
    };
    if (!command.job.empty()) {
        const std::optional<Job> job = load_job(command.job);
        if (!job) return not_read;
        options.open_job = write_job(*job);
    }
    const std::filesystem::path book = book_in(command.data), folder = book.parent_path();
    std::error_code error;
    std::filesystem::create_directories(folder, error);
    if (error) {
        complain("spile: " + harmless(folder.string()) + " cannot be made: " + error.message() + ".\n");
        return not_read;
    }
    options.book = book.string();

    // Before any thread is made, so that all of them leave these two to the one that waits for them.
    const sigset_t set = ending_signals();
    pthread_sigmask(SIG_BLOCK, &set, nullptr);
    signal(SIGPIPE, SIG_IGN);
    end_on_signal();
    for (bool first = true;; first = false) {
        Result<std::unique_ptr<server::Server>> server = server::Server::start(options);
        if (!server) {
            complain(findings_text(server.findings, terminal_width()));
            return not_read;
        }
        if (first && !print(welcome(**server))) return not_read;
        {
            const std::lock_guard lock(stopping);
            running = server->get();
        }
        (*server)->run();
        std::unique_lock lock(stopping);  // from here on nobody stops what is being taken down
        running = nullptr;
        if (!(*server)->wants_to_start_again()) {
            lock.release();
            return all_well;
        }
        // The pages find it where it was.
        options.port = (*server)->port();
        if (options.lan) options.lan_port = (*server)->lan_port();
        options.open_job.clear();
    }
}

}  // namespace spile::cli
