// Every key of the job file, in the order in which it is written. Reader, writer and the schema's test go by these.
#pragma once

#include <array>

namespace spile {

struct KeyTable;

/// What a key with a group of its own holds; edits and merges go as deep as this says.
enum class Holds {
    group,         ///< one object
    named_groups,  ///< objects by free names (the edges of a panel)
    by_id,         ///< a list of objects told apart by their "id"
    by_code,       ///< a list of objects told apart by their "code" and "subject"
    whole_list,    ///< a list that is one value: its entries have no names
};

struct Key {
    const char* name = nullptr;       ///< null ends a table
    const KeyTable* group = nullptr;  ///< of the object it holds, or of each object in its list
    Holds holds = Holds::group;       ///< Requires: group
};

struct KeyTable {
    const char* what;  ///< for findings: "a panel"
    std::array<Key, 24> keys;
};

inline constexpr KeyTable repeat_keys{"a repeat", {{{"along"}, {"across"}, {"drop"}, {"carried"}}}};
inline constexpr KeyTable flaw_keys{"a flaw", {{{"name"}, {"from"}, {"to"}, {"near"}, {"far"}}}};
inline constexpr KeyTable filler_keys{"a filler",
                                      {{{"name"}, {"size"}, {"diameter"}, {"most"}, {"direction"}}}};
inline constexpr KeyTable goods_keys{"goods",
                                     {{{"name"},
                                       {"lot"},
                                       {"width"},
                                       {"usable_width"},
                                       {"gap"},
                                       {"edge_gap"},
                                       {"step"},
                                       {"least_order"},
                                       {"thickness"},
                                       {"movement"},
                                       {"face_thickness"},
                                       {"backing_thickness"},
                                       {"backing_peels"},
                                       {"length"},
                                       {"direction"},
                                       {"repeat", &repeat_keys},
                                       {"flaws", &flaw_keys, Holds::whole_list},
                                       {"fillers", &filler_keys, Holds::whole_list}}}};
inline constexpr KeyTable finish_keys{"finish",
                                      {{{"binding_growth"},
                                        {"binding_width"},
                                        {"binding_thickness"},
                                        {"least_bound_radius"},
                                        {"least_bound_hole_radius"},
                                        {"turn"},
                                        {"stitch_from_edge"},
                                        {"post_ease"},
                                        {"slit_short"},
                                        {"turned_hole_face"},
                                        {"binding_overlap"},
                                        {"corner_allowance"},
                                        {"stud_from_edge"},
                                        {"facet"},
                                        {"turned_corners"},
                                        {"mitre_lap"},
                                        {"end_trim"}}}};
inline constexpr KeyTable clearances_keys{"clearances", {{{"wall"}, {"lid"}, {"reveal"}}}};
inline constexpr KeyTable panel_clearances_keys{"the clearances of a panel", {{{"wall"}, {"lid"}}}};
inline constexpr KeyTable sewing_keys{"sewing",
                                      {{{"stitches_per_inch"},
                                        {"stitch_length"},
                                        {"thickness"},
                                        {"thread_waste"},
                                        {"thread"},
                                        {"needle"},
                                        {"throat_width"},
                                        {"throat_height"},
                                        {"binder_passes"}}}};
inline constexpr KeyTable minutes_keys{"the minutes of the work",
                                       {{{"goods"},
                                         {"mark"},
                                         {"cut"},
                                         {"dry_fit"},
                                         {"holes"},
                                         {"apply"},
                                         {"turn"},
                                         {"bind"},
                                         {"seal"},
                                         {"measure"},
                                         {"pack"},
                                         {"studs"},
                                         {"fit"}}}};
inline constexpr KeyTable papers_keys{"papers",
                                      {{{"sheets"},
                                        {"tiles"},
                                        {"strip_width"},
                                        {"rule_measured"},
                                        {"dry_fit"},
                                        {"included"},
                                        {"not_included"},
                                        {"care"},
                                        {"warranty"},
                                        {"one_strip"},
                                        {"minutes", &minutes_keys}}}};
inline constexpr KeyTable defaults_keys{"defaults",
                                        {{{"finish"}, {"measured"}, {"situation"}, {"corner_radius"}}}};

inline constexpr KeyTable tape_keys{"tape",
                                    {{{"class"},
                                      {"hook"},
                                      {"reads_to"},
                                      {"ends_sd_mm"},
                                      {"square_sd_deg"},
                                      {"triangle_sd_deg"},
                                      {"line_sd_mm"},
                                      {"case"}}}};
inline constexpr KeyTable tie_keys{"a reading", {{{"id"}, {"line"}}}};
inline constexpr KeyTable leaving_keys{"an answer for leaving", {{{"line"}, {"because"}}}};
inline constexpr KeyTable joint_keys{"a joint", {{{"id"}, {"through"}, {"reveal"}, {"finished"}}}};
inline constexpr KeyTable space_keys{"a space",
                                     {{{"id"},
                                       {"units"},
                                       {"tape", &tape_keys},
                                       {"walk"},
                                       {"bow"},
                                       {"ties", &tie_keys, Holds::by_id},
                                       {"joints", &joint_keys, Holds::by_id},
                                       {"leaving", &leaving_keys, Holds::whole_list}}}};

inline constexpr KeyTable corner_keys{"a corner", {{{"at"}, {"radius"}}}};
inline constexpr KeyTable edge_keys{
    "an edge", {{{"measured"}, {"situation"}, {"clearance"}, {"finish"}, {"left_long"}}}};
inline constexpr KeyTable opening_keys{"an opening",
                                       {{{"id"},
                                         {"at"},
                                         {"diameter"},
                                         {"size"},
                                         {"radius"},
                                         {"along"},
                                         {"turn"},
                                         {"slot"},
                                         {"width"},
                                         {"outline", &corner_keys, Holds::whole_list},
                                         {"lid"},
                                         {"gap"},
                                         {"ease"},
                                         {"finish"},
                                         {"slit"},
                                         {"slit_gap"},
                                         {"slit_finish"}}}};
inline constexpr KeyTable applied_keys{"an applied piece",
                                       {{{"id"},
                                         {"kind"},
                                         {"side"},
                                         {"edge"},
                                         {"from_edge"},
                                         {"start"},
                                         {"length"},
                                         {"width"},
                                         {"at"},
                                         {"diameter"},
                                         {"size"},
                                         {"radius"},
                                         {"along"},
                                         {"turn"},
                                         {"outline", &corner_keys, Holds::whole_list},
                                         {"finish"},
                                         {"turned_by"},
                                         {"held"},
                                         {"half"},
                                         {"goods"},
                                         {"goods_width"},
                                         {"goods_thickness"},
                                         {"direction"}}}};
inline constexpr KeyTable stud_rule_keys{"a rule for snaps", {{{"pitch"}, {"from_edge"}}}};
inline constexpr KeyTable cut_keys{"a cut by a joint", {{{"joint"}, {"keep"}}}};
inline constexpr KeyTable panel_keys{"a panel",
                                     {{{"id"},
                                       {"name"},
                                       {"space"},
                                       {"mat"},
                                       {"twin_of"},
                                       {"twin_checked"},
                                       {"twin_about"},
                                       {"corners", &corner_keys, Holds::whole_list},
                                       {"corner_radius"},
                                       {"finish"},
                                       {"measured"},
                                       {"situation"},
                                       {"clearances", &panel_clearances_keys},
                                       {"cut_by", &cut_keys, Holds::whole_list},
                                       {"edges", &edge_keys, Holds::named_groups},
                                       {"openings", &opening_keys, Holds::by_id},
                                       {"studs"},
                                       {"new_studs", &stud_rule_keys},
                                       {"applied", &applied_keys, Holds::by_id}}}};

inline constexpr KeyTable override_keys{"an override",
                                        {{{"code"}, {"subject"}, {"fingerprint"}, {"reason"}}}};
inline constexpr KeyTable stretch_keys{"a stretch of goods",
                                       {{{"name"}, {"lot"}, {"length_um"}, {"outline"}}}};
inline constexpr KeyTable placement_keys{"a placement",
                                         {{{"piece"}, {"x_um"}, {"y_um"}, {"turns"}, {"stretch"}}}};
inline constexpr KeyTable kept_layout_keys{"the kept layout",
                                           {{{"fingerprint"},
                                             {"rounds"},
                                             {"stretches", &stretch_keys, Holds::whole_list},
                                             {"placements", &placement_keys, Holds::whole_list}}}};

inline constexpr KeyTable unsettled_keys{"something said twice",
                                         {{{"id"}, {"target"}, {"field"}, {"was"}, {"other"}}}};

inline constexpr KeyTable job_keys{"a job",
                                   {{{"spile"},
                                     {"title"},
                                     {"boat"},
                                     {"customer"},
                                     {"notes"},
                                     {"units"},
                                     {"paper"},
                                     {"mark_on"},
                                     {"goods", &goods_keys},
                                     {"finish", &finish_keys},
                                     {"clearances", &clearances_keys},
                                     {"sewing", &sewing_keys},
                                     {"papers", &papers_keys},
                                     {"defaults", &defaults_keys},
                                     {"spaces", &space_keys, Holds::by_id},
                                     {"panels", &panel_keys, Holds::by_id},
                                     {"overrides", &override_keys, Holds::by_code},
                                     {"kept_layout", &kept_layout_keys},
                                     {"unsettled", &unsettled_keys, Holds::by_id}}}};

}  // namespace spile
