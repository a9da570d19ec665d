#include "cli/folder.h"

#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <iterator>

namespace spile::cli {
namespace {

namespace fs = std::filesystem;

/// The first name of something in the folder that no index of Spile lists; empty when there is none.
std::string strange_file(const fs::path& folder) {
    std::ifstream in(folder / "index.html", std::ios::binary);
    const std::string index(std::istreambuf_iterator<char>(in), {});
    const bool ours = is_index_page(index);
    std::string first;
    for (const fs::directory_entry& entry : fs::directory_iterator(folder)) {
        const std::string name = entry.path().filename().string();
        if (ours && entry.is_regular_file() && index_lists(index, name)) continue;
        if (first.empty() || name < first) first = name;
    }
    return first;
}

void write_files(const fs::path& folder, const std::vector<PaperFile>& files) {
    for (const PaperFile& file : files) {
        std::ofstream out(folder / file.name, std::ios::binary);
        out.exceptions(std::ios::failbit | std::ios::badbit);
        out.write(file.bytes.data(), static_cast<std::streamsize>(file.bytes.size()));
        out.close();
    }
}

void put_in_place(const fs::path& made, const fs::path& folder, const fs::path& aside) {
    if (!fs::exists(folder)) {
        fs::rename(made, folder);
        return;
    }
    fs::rename(folder, aside);
    try {
        fs::rename(made, folder);
    } catch (const fs::filesystem_error&) {
        fs::rename(aside, folder);
        throw;
    }
    fs::remove_all(aside);
}

}  // namespace

std::string replace_folder(const std::string& folder, const std::vector<PaperFile>& files) {
    fs::path made;
    try {
        const fs::path place = fs::weakly_canonical(fs::absolute(folder));
        if (place == place.root_path() || place == fs::current_path())
            return folder + " is a folder that cannot be replaced. Name one of its own for the papers.";
        if (fs::exists(place) && !fs::is_directory(place))
            return folder + " is a file. Name a folder for the papers.";
        if (fs::exists(place)) {
            const std::string strange = strange_file(place);
            if (!strange.empty())
                return folder + " holds " + strange +
                       ", which is not one of the papers last written there. Name another folder, or clear "
                       "this one.";
        }
        fs::create_directories(place.parent_path());
        const std::string beside = "." + place.filename().string() + "-" + std::to_string(getpid());
        made = place.parent_path() / (beside + "-new");
        fs::create_directory(made);
        write_files(made, files);
        put_in_place(made, place, place.parent_path() / (beside + "-old"));
        return "";
    } catch (const std::exception& e) {  // the standard library's file calls, each with the system's reason
        std::error_code ignored;
        if (!made.empty()) fs::remove_all(made, ignored);
        const auto* about = dynamic_cast<const fs::filesystem_error*>(&e);
        return "The papers could not be written into " + folder + ": " +
               (about ? about->code().message() : std::string("the disk may be full")) + ".";
    }
}

}  // namespace spile::cli
