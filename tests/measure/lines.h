// A space from lines as a person types them.
#pragma once

#include <gtest/gtest.h>

#include <initializer_list>
#include <string>
#include <vector>

#include "core/measure/survey.h"

namespace spile {

inline SpaceInput space_of(std::vector<std::string> walk, std::vector<std::string> bow,
                           const std::vector<std::string>& lines, Unit unit = Unit::mm) {
    SpaceInput in;
    in.id = "sole";
    in.unit = unit;
    in.walk = std::move(walk);
    in.bow = std::move(bow);
    for (const std::string& line : lines) {
        Result<Reading> r = parse_reading_line(line, unit);
        EXPECT_TRUE(r) << line;
        if (!r) continue;
        r->where = "line " + std::to_string(in.readings.size() + 1);
        in.readings.push_back(std::move(*r));
    }
    return in;
}

inline const Finding* finding(const std::vector<Finding>& findings, const std::string& code) {
    for (const Finding& f : findings) {
        if (f.code == code) return &f;
    }
    return nullptr;
}

inline std::string codes(const std::vector<Finding>& findings) {
    std::string out;
    for (const Finding& f : findings) out += f.code + " (" + f.says + ") ";
    return out;
}

}  // namespace spile
