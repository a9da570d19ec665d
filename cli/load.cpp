#include "cli/load.h"

#include <fcntl.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <thread>

#include "cli/terminal.h"
#include "core/base/stop.h"

namespace spile::cli {
namespace {

constexpr std::size_t kLargestFile_bytes = 64 * 1024 * 1024;

Finding about_file(const char* code, std::string says, std::string to_do) {
    return stop_finding(code, std::move(says), std::move(to_do), {"file", ""});
}

}  // namespace

Result<std::string> file_text(const std::string& path, const std::string& what) {
    const auto refused = [&](const std::string& fault) {
        return Result<std::string>::refuse(
            about_file("file-not-read", harmless(path) + " " + fault + ".", "Name a file that can be read."));
    };
    std::error_code error;
    if (!std::filesystem::exists(path, error)) return refused("is not there");
    if (std::filesystem::is_directory(path, error)) return refused("is a folder; " + what + " is one file");
    errno = 0;
    std::ifstream in(path, std::ios::binary);
    if (!in) return refused(std::string("cannot be opened: ") + std::strerror(errno));
    std::string text;
    char block[65536];
    while (in.read(block, sizeof block) || in.gcount() > 0) {
        text.append(block, static_cast<std::size_t>(in.gcount()));
        if (text.size() > kLargestFile_bytes) return refused("is larger than 64 MB; that is not " + what);
    }
    if (in.bad()) return refused(std::string("cannot be read: ") + std::strerror(errno));
    return Result<std::string>::ok(std::move(text));
}

std::optional<std::string> load_text(const std::string& path, const std::string& what) {
    Result<std::string> text = file_text(path, what);
    if (!text) complain("spile: " + text.findings.front().says + "\n");
    return std::move(text.value);
}

Result<std::string> write_new_file(const std::string& path, const std::string& bytes) {
    errno = 0;
    const int file = ::open(path.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0644);
    if (file < 0 && errno == EEXIST)
        return Result<std::string>::refuse(
            about_file("file-there", harmless(path) + " is there already and is not overwritten.",
                       "Name another file."));
    std::size_t done = 0;
    while (file >= 0 && done < bytes.size()) {
        const ssize_t n = ::write(file, bytes.data() + done, bytes.size() - done);
        if (n < 0 && errno != EINTR) break;
        if (n > 0) done += static_cast<std::size_t>(n);
    }
    if (file < 0 || done < bytes.size() || ::close(file) != 0)
        return Result<std::string>::refuse(about_file(
            "file-not-written", harmless(path) + " cannot be written: " + std::strerror(errno) + ".",
            "Look at the folder and the room on the disk."));
    return Result<std::string>::ok(path);
}

std::optional<Job> load_job(const std::string& path) {
    const std::optional<std::string> text = load_text(path, "a job");
    if (!text) return std::nullopt;
    Result<Job> job = read_job(*text);
    if (!job)
        complain("spile: " + harmless(path) + " is no job that can be read.\n\n" +
                 findings_text(job.findings, terminal_width()));
    return std::move(job.value);
}

LayoutSolver solver_for(const Job& job, SolveOptions options) {
    options.threads = static_cast<int>(std::clamp(std::thread::hardware_concurrency(), 1u, 8u));
    options.places_mm = places_step_mm(lengths_of(job));
    return [options, lengths = lengths_of(job)](const std::vector<LayoutPiece>& pieces, const Goods& goods,
                                                const RunContext& run) {
        return solve_layout(pieces, goods, options, run, lengths);
    };
}

}  // namespace spile::cli
