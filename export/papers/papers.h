// Every file of a job's folder: papers to hold, files to cut from, and the page that lists them.
#pragma once

#include <string>
#include <vector>

#include "core/base/result.h"
#include "core/paper/sheets.h"

namespace spile {

/// What a file is for; the order in which the index lists them.
enum class PaperGroup { shop, marking, making, away, full_size, machine };
const char* words_for(PaperGroup group);

struct PaperFile {
    std::string
        name;  ///< "marking-3-round-the-post.pdf": ASCII, no folder, told apart without regard to case
    std::string title;    ///< "Marking sheet, 3 round the post"
    std::string purpose;  ///< who holds it and what for, one line
    PaperGroup group = PaperGroup::shop;
    bool cutting = false;
    std::string bytes;
};

/// The files of a job that `in.settings.sheets` asks for, in the order of PaperKind, `index.html` first.
/// Guarantees: (1) while `stops` is not empty there is no file to cut from, and the index says what stops it; (2) same
/// input, same bytes.
/// On bad input: a file that a format cannot hold is left out with a stop that says why; then again there is no file to
/// cut from.
Result<std::vector<PaperFile>> paper_files(const PaperInput& in, const std::vector<Finding>& stops);

/// The index: one line for each file, printable, without anything that runs.
std::string index_page(const PaperInput& in, const std::vector<Finding>& stops,
                       const std::vector<PaperFile>& files);

/// Whether `page` is an index that Spile wrote, and whether it lists `name`.
bool is_index_page(const std::string& page);
bool index_lists(const std::string& page, const std::string& name);

}  // namespace spile
