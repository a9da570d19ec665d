// The constructions of edging that the gallery shows, each on a small panel.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "core/shape/panel.h"

namespace spile {

/// A small panel: corners with the curve and the finish of the edge that leaves each.
struct ConstructionCorner {
    const char* name;
    Vec2 at;
    Finish finish = Finish::turned;
    double bulge = 0;
    double radius = 0;
};

struct Construction {
    const char* file;
    const char* title;
    std::vector<ConstructionCorner> corners;
    std::vector<std::string> says;  ///< what a trimmer should see in it
    std::function<void(FinishSettings&)> set = [](FinishSettings&) {};
    double post_mm = 0;                              ///< turned hole in the middle
    std::function<void(OpeningPlan&)> opening = {};  ///< of another form, there
    std::function<void(PanelInput&)> more = {};
    std::function<void(Survey&, std::vector<PanelInput>&)> beside =
        {};  ///< panels drawn with it, in their places
};

const std::vector<Construction>& constructions();

}  // namespace spile
