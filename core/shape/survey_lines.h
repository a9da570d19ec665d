// Points and lines of a survey by their names.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/base/reporter.h"
#include "core/shape/panel.h"

namespace spile {

/// A point of the survey by name, or nothing with a stop that says who asked for it.
std::optional<Vec2> find_point(const Survey& survey, const std::string& name, const std::string& asker,
                               const char* kind, const std::string& part, Reporter& report);

/// What the survey knows between two points: its curve, turned round where it was named the other way, else straight.
std::vector<Edge> measured_edge(const Survey& survey, const std::string& from, const std::string& to, Vec2 a,
                                Vec2 b);

/// The line through points in their order, each stretch as measured. Nothing, with a stop, when a point is not known.
std::optional<std::vector<Edge>> line_through(const Survey& survey, const std::vector<std::string>& names,
                                              const std::string& asker, Reporter& report);

}  // namespace spile
