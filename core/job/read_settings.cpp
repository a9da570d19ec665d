// Goods, finish, clearances, sewing and defaults: the shop's measures.
#include <algorithm>

#include "core/base/text.h"
#include "core/job/job_reader.h"
#include "core/job/json_faults.h"
#include "core/job/key_words.h"
#include "core/job/limits.h"

namespace spile {
namespace {

constexpr double inch = 25.4;

// What no goods, machine or boat exceeds; a number beyond is a slip of the unit.
constexpr LengthRule goods_width{0, true, 20'000};
constexpr LengthRule goods_length{0, false, 1'000'000};
constexpr LengthRule goods_step{0, true, 100'000};
constexpr LengthRule least_order{0, false, 100'000};
constexpr LengthRule repeat_length{0, false, 10'000};
constexpr LengthRule thickness{0, false, 100};
constexpr LengthRule small{0, false, 1'000};
constexpr LengthRule small_above_nothing{0, true, 1'000};
constexpr LengthRule stitch{0.5, false, 25};
constexpr LengthRule throat{0, false, 3'000};
constexpr LengthRule strip{200, false,
                           5'000};  // room for a rule and a piece of some size; the widest plotters
constexpr LengthRule rule{0, true, 1'000};
constexpr Choice<Turning> turning_words[] = {
    {"one way", Turning::one_way}, {"half turn", Turning::half}, {"quarter turn", Turning::quarter}};

}  // namespace

void JobReader::read_goods(Section& root) {
    const auto at = root.find("goods");
    job_.goods.step_mm = job_.units == Unit::inch ? 36 * inch : 100;  // a running yard; a tenth of a metre
    if (!at) return;
    job_.has_goods = true;
    Section section(faults_, *at, goods_keys, {"goods", ""});
    Goods& goods = job_.goods;
    section.text("name", goods.name, TextRule::line);
    section.text("lot", goods.lot, TextRule::line);
    if (section.need("width", job_.units == Unit::inch ? "\"width\": 72" : "\"width\": 1830"))
        section.length("width", job_.units, goods.width_mm, goods_width);
    goods.usable_width_mm = goods.width_mm;
    const bool usable = section.length("usable_width", job_.units, goods.usable_width_mm, goods_width);
    section.length("gap", job_.units, goods.gap_mm, small);
    section.length("edge_gap", job_.units, goods.edge_gap_mm, small);
    section.length("step", job_.units, goods.step_mm, goods_step);
    section.length("least_order", job_.units, goods.least_order_mm, least_order);
    section.length("thickness", job_.units, goods.thickness_mm, thickness);
    section.number("movement", job_.movement, 0, 0.05, "", "Write it as a share: 0.0025 is 0.25 %.");
    section.length("face_thickness", job_.units, job_.finish.face_thickness_mm, thickness);
    section.length("backing_thickness", job_.units, job_.finish.backing_thickness_mm, thickness);
    section.flag("backing_peels", job_.finish.backing_peels);
    section.length("length", job_.units, goods.length_mm, goods_length);
    section.choice("direction", goods.turning, turning_words);
    least_order_on_the_roll(section);
    read_repeat(section);
    read_flaws(section);
    read_fillers(section);
    if (usable && goods.usable_width_mm > goods.width_mm) {
        section.stop("usable-wider-than-goods", *section.find("usable_width"),
                     "The usable width is " + length_words(goods.usable_width_mm, job_.units) +
                         ", more than the width of the goods, " + length_words(goods.width_mm, job_.units) +
                         ".",
                     "Give as usable_width the narrowest measured, less the selvedges.",
                     {{"usable width", goods.usable_width_mm, "mm"}, {"limit", goods.width_mm, "mm"}});
    }
}

/// No roll is shorter than the least that is sold of it: one of the two is a slip, or the roll is in hand and nothing is ordered.
void JobReader::least_order_on_the_roll(Section& section) {
    const Goods& goods = job_.goods;
    if (goods.length_mm <= 0 || goods.least_order_mm <= goods.length_mm) return;
    Finding f;
    f.code = "least-order-beyond-roll";
    f.severity = Severity::look;
    f.subject = {"goods", ""};
    f.numbers = {{"least order", goods.least_order_mm, "mm"}, {"limit", goods.length_mm, "mm"}};
    f.says = "The least order is " + length_words(goods.least_order_mm, job_.units) +
             ", more than the length of the goods there is to cut from, " +
             length_words(goods.length_mm, job_.units) + ".";
    f.to_do =
        "Leave out the length where the goods are still to be ordered, or the least order where they are in "
        "hand.";
    f.where = section.find("least_order")->where();
    faults_.add(std::move(f));
}

void JobReader::read_repeat(Section& goods) {
    const auto at = goods.find("repeat");
    if (!at) return;
    Section section(faults_, *at, repeat_keys, {"goods", ""});
    Repeat& repeat = job_.goods.repeat;
    section.length("along", job_.units, repeat.along_mm, repeat_length);
    section.length("across", job_.units, repeat.across_mm, repeat_length);
    const bool drops = section.length("drop", job_.units, repeat.drop_mm, repeat_length);
    section.flag("carried", job_.pattern_carried);
    if (drops && (repeat.across_mm <= 0 || repeat.drop_mm >= repeat.along_mm)) {
        section.stop(
            "drop-without-repeat", *section.find("drop"),
            "The drop is " + length_words(repeat.drop_mm, job_.units) + ", the repeat " +
                length_words(repeat.along_mm, job_.units) + " along and " +
                length_words(repeat.across_mm, job_.units) + " across.",
            "Give both repeats, and as drop how far along the pattern moves from one repeat across to the "
            "next: half of the repeat along for a half drop.",
            {{"drop", repeat.drop_mm, "mm"}, {"limit", repeat.along_mm, "mm"}});
        repeat.drop_mm = 0;
    }
}

/// A flaw that lies on none of the goods is most likely a slip: it would be cut over.
void JobReader::flaw_on_the_goods(const Place& at, const Flaw& flaw) {
    const Goods& goods = job_.goods;
    const bool beside = flaw.at_mm.min.y >= goods.usable_width_mm;
    if (!beside && (goods.length_mm <= 0 || flaw.at_mm.min.x < goods.length_mm)) return;
    const double begins = beside ? flaw.at_mm.min.y : flaw.at_mm.min.x;
    const double limit = beside ? goods.usable_width_mm : goods.length_mm;
    Finding f;
    f.code = "flaw-off-goods";
    f.severity = Severity::look;
    f.subject = {"goods", ""};
    f.numbers = {{"begins", begins, "mm"}, {"limit", limit, "mm"}};
    f.says = "Flaw " + flaw.id + " begins " + length_words(begins, job_.units) + " from the " +
             (beside ? "near selvedge, beyond the usable width of " : "cut end, beyond the length of ") +
             length_words(limit, job_.units) + ": nothing is kept off it.";
    f.to_do = "Measure it again, or take it out.";
    f.where = at.where();
    faults_.add(std::move(f));
}

void JobReader::read_flaws(Section& goods) {
    const auto list = goods.list("flaws", limits::flaws);
    if (!list) return;
    for (std::size_t i = 0; i < (*list)->items.size(); ++i) {
        const Place at = list->item(i);
        Section section(faults_, at, flaw_keys, {"goods", ""});
        if (!at->is(JsonValue::Kind::object)) continue;
        Flaw flaw{std::to_string(i + 1), {{0, 0}, {0, job_.goods.usable_width_mm}}};
        section.text("name", flaw.id, TextRule::id);
        section.need("from", "\"from\": 120, the distance from the cut end");
        section.need("to", "\"to\": 124, the distance from the cut end");
        const bool from = section.length("from", job_.units, flaw.at_mm.min.x, goods_length);
        const bool to = section.length("to", job_.units, flaw.at_mm.max.x, goods_length);
        section.length("near", job_.units, flaw.at_mm.min.y, goods_length);
        section.length("far", job_.units, flaw.at_mm.max.y, goods_length);
        if (!from || !to) continue;
        if (flaw.at_mm.width() > 0 && flaw.at_mm.height() > 0) {
            flaw_on_the_goods(at, flaw);
            job_.goods.flaws.push_back(std::move(flaw));
        } else
            section.stop("flaw-without-size", at, "Flaw " + flaw.id + " covers nothing of the goods.",
                         "It ends further from the cut end than it begins, and its far side lies further "
                         "from the near "
                         "selvedge than its near side; without these two it goes right across.");
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
        {"binding_thickness", f.binding_thickness_mm, small},
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
        {"mitre_lap", f.mitre_lap_mm, small},
        {"end_trim", f.end_trim_mm, small},
    };
    for (const auto& m : measures) section.length(m.key, job_.units, m.mm, m.rule);
    section.choice("turned_corners", f.mitred_corners, corner_words);
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

    SewingNotes& notes = job_.papers.sewing;
    section.text("thread", notes.thread, TextRule::line);
    section.text("needle", notes.needle, TextRule::line);
    section.length("throat_width", job_.units, notes.throat_width_mm, throat);
    section.length("throat_height", job_.units, notes.throat_height_mm, throat);
    section.length("binder_passes", job_.units, notes.binder_passes_mm, thickness);
    notes.stitch_mm = 1 / takeoff.thread_stitches_per_mm;
}

void JobReader::read_papers(Section& root) {
    const auto at = root.find("papers");
    if (!at) return;
    Section section(faults_, *at, papers_keys, {"job", ""});
    PaperSettings& papers = job_.papers;
    // Words of a list, each one of those that are known.
    const auto read_words = [&](const char* key, const std::vector<std::string>& known, const auto& take) {
        const auto list = section.list(key, 100);
        if (!list) return;
        for (std::size_t i = 0; i < (*list)->items.size(); ++i) {
            const auto word = read_text(faults_, list->item(i), section.subject(), key, TextRule::id);
            if (!word) continue;
            const auto found = std::find(known.begin(), known.end(), *word);
            if (found != known.end()) {
                take(static_cast<std::size_t>(found - known.begin()));
                continue;
            }
            section.stop("unknown-word", list->item(i),
                         said_key(key, section.subject()) + ": " + in_quotes(*word) + ", which is none of " +
                             list_words(known) + ".",
                         did_you_mean(*word, known) + "Write one of them.");
        }
    };
    std::vector<std::string> kinds, sizes;
    for (int k = 0; k < paper_kinds; ++k) kinds.push_back(word_for(static_cast<PaperKind>(k)));
    const std::vector<PaperSize> known_sizes{a4(), a3(), letter(), tabloid()};
    for (const PaperSize& size : known_sizes) sizes.push_back(size.name);
    if (section.has("sheets")) papers.sheets.clear();
    read_words("sheets", kinds, [&](std::size_t i) { papers.sheets.push_back(static_cast<PaperKind>(i)); });
    read_words("tiles", sizes, [&](std::size_t i) { papers.tiles.push_back(known_sizes[i]); });
    section.length("strip_width", job_.units, papers.strip_width_mm, strip);
    section.length("rule_measured", Unit::mm, papers.rule_measured_mm, rule);
    section.flag("dry_fit", papers.dry_fit);
    job_.takeoff.dry_fit = papers.dry_fit;  // it takes minutes too
    section.text("included", papers.included, TextRule::notes);
    section.text("not_included", papers.not_included, TextRule::notes);
    section.text("care", papers.care, TextRule::notes);
    section.text("warranty", papers.warranty, TextRule::notes);
    section.flag("one_strip", papers.one_strip);
    if (const auto minutes = section.find("minutes")) {
        Section own(faults_, *minutes, minutes_keys, {"job", ""});
        for (int k = 0; k < work_steps; ++k)
            own.number(word_for(static_cast<WorkStep>(k)), papers.minutes[static_cast<std::size_t>(k)], 0,
                       10'000, "min");
    }
    if (papers.rule_measured_mm < 190 || papers.rule_measured_mm > 210) {
        section.stop("rule-far-off", *section.find("rule_measured"),
                     "The 200.0 mm rule measured " + length_words(papers.rule_measured_mm, Unit::mm) +
                         " as printed; more than a twentieth off is a page fitted to its paper.",
                     "Print at 100 %, without fitting to the page, and measure again.",
                     {{"measured", papers.rule_measured_mm, "mm"}, {"limit", 210, "mm"}});
        papers.rule_measured_mm = 200;
    }
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
