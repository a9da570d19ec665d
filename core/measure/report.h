// From places and statistics to what a person reads: numbers of the survey and findings. Internal to measuring.
#pragma once

#include "core/measure/quality.h"
#include "core/measure/say.h"
#include "core/measure/slips.h"
#include "core/measure/swing.h"

namespace spile::survey {

class Report {
  public:
    Report(const SpaceInput& space, const Network& net, const Say& say)
        : space_(space), net_(net), say_(say) {}

    /// Points and ties of the survey.
    void fill(const Quality& quality, const Adjusted& adjusted, Survey& survey) const;
    /// What can swing and the ties that pin it. Points that all lie in one line are said as such.
    void swinging(const Swing& swing, const Places& places, Survey& survey) const;
    /// Does it close, which reading is wrong, what is checked by nothing, which points are weak.
    void judge(const Quality& quality, const SlipReport& slips, const Places& places, Survey& survey) const;
    /// What of measuring itself still keeps a person from leaving; each line begun by its name.
    void missing(const Quality* quality, Survey& survey) const;

  private:
    TieName tie_name(int observation) const;
    std::string told_apart(int observation) const;
    void suspects(const Quality& quality, const SlipReport& slips, Survey& survey) const;
    void weak_points(const Survey& survey, const Places& places) const;
    void diagonals(std::vector<std::string>& out) const;
    double best_crossing_deg(int point, const Places& places) const;

    const SpaceInput& space_;
    const Network& net_;
    const Say& say_;
};

}  // namespace spile::survey
