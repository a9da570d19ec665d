#include "tests/cli/program.h"

#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <fstream>
#include <iterator>
#include <stdexcept>

namespace spile::cli_test {
namespace {

namespace fs = std::filesystem;

std::string quoted(const std::string& word) {
    std::string out = "'";
    for (char c : word) out += c == '\'' ? std::string("'\\''") : std::string(1, c);
    return out + "'";
}

}  // namespace

std::string text_of(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    return std::string(std::istreambuf_iterator<char>(in), {});
}

Outcome run_spile(const std::vector<std::string>& arguments, const fs::path& folder,
                  const std::map<std::string, std::string>& environment) {
    const Scratch scratch;
    std::string command = "cd " + quoted(folder.string()) + " && exec env";
    for (const auto& [name, value] : environment) command += " " + quoted(name + "=" + value);
    command += " " + quoted(SPILE_BINARY_DIR "/spile");
    for (const std::string& argument : arguments) command += " " + quoted(argument);
    command +=
        " </dev/null >" + quoted((scratch / "out").string()) + " 2>" + quoted((scratch / "err").string());
    const int status = std::system(command.c_str());
    Outcome outcome;
    outcome.exit = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
    outcome.out = text_of(scratch / "out");
    outcome.err = text_of(scratch / "err");
    return outcome;
}

Scratch::Scratch() {
    std::string name = (fs::temp_directory_path() / "spile-test-XXXXXX").string();
    if (!mkdtemp(name.data())) throw std::runtime_error("no temporary folder");
    path_ = name;
}

Scratch::~Scratch() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
}

std::string Scratch::file(const std::string& name, const std::string& text) const {
    std::ofstream(path_ / name, std::ios::binary) << text;
    return (path_ / name).string();
}

std::map<std::string, std::string> files_in(const fs::path& folder) {
    std::map<std::string, std::string> files;
    for (const fs::directory_entry& entry : fs::directory_iterator(folder))
        files[entry.path().filename().string()] = text_of(entry.path());
    return files;
}

std::string example(const std::string& name) {
    return SPILE_SOURCE_DIR "/examples/" + name;
}

std::string mat_job(const std::string& size) {
    return R"({ "spile": 1, "title": "Step mat", "units": "in", "mark_on": "back",
  "goods": { "name": "woven vinyl", "width": 72, "usable_width": "71 1/2", "gap": "1/4", "step": 36, "thickness": "3/16" },
  "panels": [{ "id": "mat", "name": "step mat", "mat": ")" +
           size + "\" }] }\n";
}

}  // namespace spile::cli_test
