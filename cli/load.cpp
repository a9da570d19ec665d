#include "cli/load.h"

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <thread>

#include "cli/terminal.h"

namespace spile::cli {
namespace {

constexpr std::size_t kLargestJob_bytes = 64 * 1024 * 1024;

struct FileText {
    std::string text;
    std::string fault;  ///< why there is none, as the end of a sentence; empty when there is
};

FileText read_file(const std::string& path) {
    std::error_code error;
    if (!std::filesystem::exists(path, error)) return {"", "is not there"};
    if (std::filesystem::is_directory(path, error)) return {"", "is a folder; a job is one file"};
    errno = 0;
    std::ifstream in(path, std::ios::binary);
    if (!in) return {"", std::string("cannot be opened: ") + std::strerror(errno)};
    FileText file;
    char block[65536];
    while (in.read(block, sizeof block) || in.gcount() > 0) {
        file.text.append(block, static_cast<std::size_t>(in.gcount()));
        if (file.text.size() > kLargestJob_bytes) return {"", "is larger than 64 MB; that is no job file"};
    }
    if (in.bad()) return {"", std::string("cannot be read: ") + std::strerror(errno)};
    return file;
}

}  // namespace

std::optional<Job> load_job(const std::string& path) {
    const FileText file = read_file(path);
    if (!file.fault.empty()) {
        complain("spile: " + harmless(path) + " " + file.fault + ".\n");
        return std::nullopt;
    }
    Result<Job> job = read_job(file.text);
    if (!job)
        complain("spile: " + harmless(path) + " is no job that can be read.\n\n" +
                 findings_text(job.findings, terminal_width()));
    return std::move(job.value);
}

LayoutSolver solver_for(const Job& job, SolveOptions options) {
    options.threads = static_cast<int>(std::clamp(std::thread::hardware_concurrency(), 1u, 8u));
    return [options, lengths = lengths_of(job)](const std::vector<LayoutPiece>& pieces, const Goods& goods,
                                                const RunContext& run) {
        return solve_layout(pieces, goods, options, run, lengths);
    };
}

}  // namespace spile::cli
