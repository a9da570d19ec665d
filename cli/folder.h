// A folder of papers that is there whole or not at all.
#pragma once

#include <string>
#include <vector>

#include "export/papers/papers.h"

namespace spile::cli {

/// Writes the files into a new folder beside `folder`, then puts it in the place of `folder`.
/// Guarantees: (1) at no time does `folder` hold a half-written file or papers of two runs; (2) a folder that holds
/// anything Spile did not write is left alone.
/// Returns why it could not be done, a sentence; empty when it is done.
std::string replace_folder(const std::string& folder, const std::vector<PaperFile>& files);

}  // namespace spile::cli
