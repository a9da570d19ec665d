// What the commands print with --json: one document each. Lengths in millimetres, as the names of the keys say.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "core/job/run_job.h"

namespace spile::cli {

std::string findings_json(const std::vector<Finding>& findings);

/// Spaces in the order of the job. A space that could not be worked out has no points and says why in `missing`.
std::string surveys_json(const Job& job, const Derived& derived);

/// Without a layout: no placements, and nothing else.
std::string layout_json(const std::optional<Layout>& layout);

std::string takeoff_json(const std::optional<Takeoff>& takeoff);
/// The same with "priced": the job as it is, then in other goods (shop/show.h).
std::string priced_json(const std::optional<Takeoff>& takeoff, const nlohmann::ordered_json& priced);

/// Any document as it is printed; bytes that are no UTF-8 become U+FFFD.
std::string document_text(const nlohmann::ordered_json& json);

}  // namespace spile::cli
