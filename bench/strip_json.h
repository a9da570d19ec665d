// Published strip packing instances as JSON, in and out. The format is described beside the data.
#pragma once

#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>
#include <stdexcept>
#include <string>

#include "core/layout/solve/strip.h"

namespace spile {

/// Throws std::runtime_error that says what is wrong with the file.
inline StripInstance read_strip_instance(const std::string& path) {
    std::ifstream file(path);
    if (!file) throw std::runtime_error("cannot open " + path);
    StripInstance out;
    try {
        const nlohmann::json json = nlohmann::json::parse(file);
        out.name = json.at("name");
        out.width = json.at("strip_width");
        for (const nlohmann::json& item : json.at("items")) {
            StripItem& to = out.items.emplace_back();
            to.id = item.at("id");
            to.demand = item.at("demand");
            to.quarter_turns.clear();
            for (double turn : item.at("allowed_rotations_deg")) {
                if (std::fmod(turn, 90) != 0)
                    throw std::runtime_error("item " + std::to_string(to.id) +
                                             ": only quarter turns are supported");
                to.quarter_turns.push_back(static_cast<int>(turn / 90));
            }
            for (const nlohmann::json& corner : item.at("polygon"))
                to.polygon.push_back({corner.at(0), corner.at(1)});
        }
    } catch (const nlohmann::json::exception& e) {
        throw std::runtime_error(path + ": " + e.what());
    }
    return out;
}

inline nlohmann::json to_json(const StripInstance& instance, const StripResult& result, double seconds) {
    nlohmann::json placements = nlohmann::json::array();
    for (const StripPlacement& p : result.placements)
        placements.push_back(
            {{"id", p.id}, {"rotation_deg", 90 * p.quarter_turns}, {"x", p.at.x}, {"y", p.at.y}});
    return {{"name", instance.name},   {"length", result.length}, {"density", result.density},
            {"seconds", seconds},      {"rounds", result.rounds}, {"bound", result.bound},
            {"placements", placements}};
}

}  // namespace spile
