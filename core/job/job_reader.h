// One reading of a job document, section by section. Inside of core/job.
#pragma once

#include <map>
#include <set>
#include <string>
#include <vector>

#include "core/job/document.h"
#include "core/job/section.h"

namespace spile {

/// What panels and edges are when neither says.
struct PanelDefaults {
    Finish finish = Finish::bound;
    Measured measured = Measured::wall;
    Situation situation = Situation::wall;
    double corner_radius_mm = 0;
    double wall_clearance_mm = 0;
    double lid_clearance_mm = 0;
};

/// The points a space knows.
struct SpacePoints {
    std::set<std::string> named;  ///< by readings
    std::set<std::string>
        perhaps;  ///< words of readings that could not be read: too little to call a point missing
};

/// A joint line of a space.
struct StoredJoint {
    std::vector<std::string> through;  ///< points of the space, two or more
    double reveal_mm = 0;              ///< net edge to net edge
    std::string finished;  ///< the panel that is made already; the other gives up the whole reveal
};

class JobReader {
  public:
    explicit JobReader(JsonValue said) { job_.said = std::move(said); }
    Result<Job> read();

  private:
    // read_job.cpp
    bool read_version(Section& root);
    void read_head(Section& root);
    void read_units(Section& root);

    // read_settings.cpp
    void read_goods(Section& root);
    void read_repeat(Section& goods);
    void read_flaws(Section& goods);
    void flaw_on_the_goods(const Place& at, const Flaw& flaw);
    void least_order_on_the_roll(Section& section);
    void read_fillers(Section& goods);
    void read_finish(Section& root);
    void read_clearances(Section& root);
    void read_sewing(Section& root);
    void read_papers(Section& root);
    void read_defaults(Section& root);

    // read_spaces.cpp
    void read_spaces(Section& root);
    void read_space(const Place& at, std::size_t index);
    void read_tape(Section& section, SpaceInput& space);
    void read_leaving(Section& section, SpaceInput& space);
    void read_readings(Section& section, SpaceInput& space, SpacePoints& points);
    /// Points of a space by name, each once; false after a fault.
    bool read_names(Section& section, const char* key, const std::string& space, const SpacePoints& points,
                    std::vector<std::string>& names);
    void read_walk_and_bow(Section& section, SpaceInput& space, const SpacePoints& points);

    // read_joints.cpp
    void read_joints(Section& section, const SpaceInput& space, const SpacePoints& points);
    static void take_joint(const StoredJoint& joint, const PanelInput& panel, EdgePlan& edge);
    void edges_along_joints(PanelInput& panel);
    void read_cuts(Section& section, const PanelDefaults& defaults, PanelInput& panel);

    // read_applied.cpp
    void read_applied(Section& section, PanelInput& panel);
    void read_place(Section& own, const PanelInput& panel, bool mat, AppliedPlan& applied);
    void read_applied_goods(Section& own, const PanelInput& panel, AppliedPlan& applied);

    // read_panels.cpp, read_panel_parts.cpp, read_openings.cpp
    void read_panels(Section& root);
    void read_panel(const Place& at);
    void read_twin(Section& section, PanelInput& panel);
    void read_stud_rule(Section& section, PanelInput& panel);
    void read_mat(Section& section, const PanelDefaults& defaults, PanelInput& panel);
    void read_corners(Section& section, const PanelDefaults& defaults, PanelInput& panel);
    void read_edges(Section& section, const PanelDefaults& defaults, PanelInput& panel);
    void read_openings(Section& section, PanelInput& panel);
    void read_form(Section& own, const PanelInput& panel, bool mat, OpeningPlan& opening);
    void read_slit(Section& own, const PanelInput& panel, bool mat, OpeningPlan& opening);
    /// Two points of the panel's space in one text, "P Q".
    std::vector<std::string> read_two_points(Section& own, const char* key, const PanelInput& panel,
                                             const std::string& whose);
    /// Corners by their points, each with its radius when it has one. `whose`: "Opening \"well\"".
    std::vector<CornerPlan> read_outline(Section& own, const PanelInput& panel, bool mat,
                                         const std::string& whose);
    void read_studs(Section& section, PanelInput& panel);
    void read_own_defaults(Section& section, PanelDefaults& defaults);
    std::string read_space_of(Section& section);
    /// Whether the space has that point; if not, a stop.
    bool known_point(const Place& at, const Subject& subject, const PanelInput& panel,
                     const std::string& asker, const std::string& name);

    // read_kept.cpp
    void read_overrides(Section& root);
    void read_kept_layout(Section& root);
    void read_stretches(Section& kept, Layout& layout);
    void read_unsettled(Section& root);

    Job job_;
    Faults faults_;
    PanelDefaults defaults_;
    std::map<std::string, SpacePoints> points_;                         ///< by space id
    std::map<std::string, std::map<std::string, StoredJoint>> joints_;  ///< by space id, then by id
    std::set<std::string> panel_ids_;
};

inline constexpr Choice<bool> corner_words[] = {{"lapped", false}, {"mitred", true}};
inline constexpr Choice<Finish> finish_words[] = {
    {"bound", Finish::bound}, {"turned", Finish::turned}, {"sealed", Finish::sealed}};
inline constexpr Choice<Measured> measured_words[] = {
    {"wall", Measured::wall}, {"finished", Measured::finished}, {"raw", Measured::raw}};
inline constexpr Choice<Situation> situation_words[] = {{"wall", Situation::wall},
                                                        {"free", Situation::free},
                                                        {"joint", Situation::joint},
                                                        {"lid", Situation::lid},
                                                        {"walked over", Situation::walked_over}};
inline constexpr Choice<Unit> unit_words[] = {{"in", Unit::inch}, {"mm", Unit::mm}};

}  // namespace spile
