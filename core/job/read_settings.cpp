// Goods, finish, clearances, sewing and defaults: the shop's measures.
#include "core/base/text.h"
#include "core/job/job_reader.h"

namespace spile {
namespace {

constexpr double inch = 25.4;

// What no goods, machine or boat exceeds; a number beyond is a slip of the unit.
constexpr LengthRule goods_width{0, true, 20'000};
constexpr LengthRule goods_length{0, false, 1'000'000};
constexpr LengthRule goods_step{0, true, 100'000};
constexpr LengthRule thickness{0, false, 100};
constexpr LengthRule small{0, false, 1'000};
constexpr LengthRule small_above_nothing{0, true, 1'000};
constexpr LengthRule stitch{0.5, false, 25};

}  // namespace

void JobReader::read_goods(Section& root) {
    const auto at = root.find("goods");
    job_.goods.step_mm = job_.units == Unit::inch ? 36 * inch : 100;  // a running yard; a tenth of a metre
    if (!at) return;
    job_.has_goods = true;
    Section section(faults_, *at, goods_keys, {"goods", ""});
    Goods& goods = job_.goods;
    section.text("name", goods.name, TextRule::line);
    if (section.need("width", job_.units == Unit::inch ? "\"width\": 72" : "\"width\": 1830"))
        section.length("width", job_.units, goods.width_mm, goods_width);
    goods.usable_width_mm = goods.width_mm;
    const bool usable = section.length("usable_width", job_.units, goods.usable_width_mm, goods_width);
    section.length("gap", job_.units, goods.gap_mm, small);
    section.length("edge_gap", job_.units, goods.edge_gap_mm, small);
    section.length("step", job_.units, goods.step_mm, goods_step);
    section.length("thickness", job_.units, goods.thickness_mm, thickness);
    section.length("length", job_.units, goods.length_mm, goods_length);
    if (usable && goods.usable_width_mm > goods.width_mm) {
        section.stop("usable-wider-than-goods", *section.find("usable_width"),
                     "The usable width is " + length_words(goods.usable_width_mm, job_.units) +
                         ", more than the width of the goods, " + length_words(goods.width_mm, job_.units) +
                         ".",
                     "Give as usable_width the narrowest measured, less the selvedges.",
                     {{"usable width", goods.usable_width_mm, "mm"}, {"limit", goods.width_mm, "mm"}});
    }
}

void JobReader::read_finish(Section& root) {
    const auto at = root.find("finish");
    if (!at) return;
    Section section(faults_, *at, finish_keys, {"job", ""});
    FinishSettings& f = job_.finish;
    const struct {
        const char* key;
        double& mm;
        LengthRule rule;
    } measures[] = {
        {"binding_growth", f.binding_growth_mm, small},
        {"binding_width", f.binding_width_mm, small_above_nothing},
        {"least_bound_radius", f.least_bound_radius_mm, small},
        {"least_bound_hole_radius", f.least_bound_hole_radius_mm, small},
        {"turn", f.turn_mm, small_above_nothing},
        {"stitch_from_edge", f.stitch_from_edge_mm, small_above_nothing},
        {"post_ease", f.post_ease_mm, small},
        {"slit_short", f.slit_short_mm, small},
        {"turned_hole_face", f.turned_hole_face_mm, small_above_nothing},
        {"binding_overlap", f.binding_overlap_mm, small},
        {"corner_allowance", f.corner_allowance_mm, small},
        {"stud_from_edge", f.stud_from_edge_mm, small},
        {"facet", f.facet_mm, small_above_nothing},
    };
    for (const auto& m : measures) section.length(m.key, job_.units, m.mm, m.rule);
}

void JobReader::read_clearances(Section& root) {
    if (const auto at = root.find("clearances")) {
        Section section(faults_, *at, clearances_keys, {"job", ""});
        section.length("wall", job_.units, job_.clearances.wall_mm, small);
        section.length("lid", job_.units, job_.clearances.lid_mm, small);
        section.length("reveal", job_.units, job_.clearances.reveal_mm, small);
    }
    defaults_.wall_clearance_mm = job_.clearances.wall_mm;
    defaults_.lid_clearance_mm = job_.clearances.lid_mm;
}

void JobReader::read_sewing(Section& root) {
    const auto at = root.find("sewing");
    if (!at) return;
    Section section(faults_, *at, sewing_keys, {"job", ""});
    TakeoffSettings& takeoff = job_.takeoff;
    double per_inch = 0, length_mm = 0;
    const bool by_count = section.number("stitches_per_inch", per_inch, 1, 50, "stitches/in");
    const bool by_length = section.length("stitch_length", job_.units, length_mm, stitch);
    if (by_count) takeoff.thread_stitches_per_mm = per_inch / inch;
    if (by_length) takeoff.thread_stitches_per_mm = 1 / length_mm;
    if (by_count && by_length) {
        section.stop("stitch-twice", *section.find("stitch_length"),
                     "The stitch is given twice, by stitches per inch and by its length.",
                     "Keep one of the two.");
    }
    section.length("thickness", job_.units, takeoff.sewn_thickness_mm, thickness);
    section.number("thread_waste", takeoff.thread_waste, 0, 2, "", "Write it as a share: 0.15 is 15 %.");
}

void JobReader::read_defaults(Section& root) {
    const auto at = root.find("defaults");
    if (!at) return;
    Section section(faults_, *at, defaults_keys, {"job", ""});
    read_own_defaults(section, defaults_);
}

void JobReader::read_own_defaults(Section& section, PanelDefaults& defaults) {
    section.choice("finish", defaults.finish, finish_words);
    section.choice("measured", defaults.measured, measured_words);
    section.choice("situation", defaults.situation, situation_words);
    section.length("corner_radius", job_.units, defaults.corner_radius_mm, {0, false, 10'000});
}

}  // namespace spile
