// From survey points and curves to a panel's boat line.
#pragma once

#include <optional>

#include "core/base/reporter.h"
#include "core/shape/panel.h"

namespace spile {

/// The panel with its corners put counter-clockwise, its boat line and the places of its openings and studs;
/// no net line yet. Openings and studs whose point is not known are left out with a stop. On bad input:
/// nothing, with a stop for each fault.
std::optional<Panel> boat_panel(const PanelInput& in, const std::map<std::string, Survey>& surveys,
                                Reporter& report);

/// The same for a plain mat: corners A B C D from the origin.
std::optional<Panel> mat_panel(const PanelInput& in, Reporter& report);

}  // namespace spile
