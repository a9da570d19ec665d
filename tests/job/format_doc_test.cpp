// docs/job-format.md says what the reader does: its example, its keys, its defaults, its limits.
#include <gtest/gtest.h>

#include <map>

#include "core/job/keys.h"
#include "core/job/limits.h"
#include "tests/job/support.h"

namespace spile {
namespace {

using namespace spile::testing;

std::string doc() {
    return read_file(std::string(SPILE_SOURCE_DIR) + "/docs/job-format.md");
}

std::string example() {
    const std::string text = doc(), fence = "```jsonc\n";
    const std::size_t start = text.find(fence) + fence.size();
    return text.substr(start, text.find("```", start) - start);
}

/// Last cell of the row that begins with this key, below this heading.
std::string default_of(const std::string& heading, const std::string& key) {
    const std::string text = doc();
    const std::size_t section = text.find("\n### `" + heading + "`");
    const std::size_t row = text.find("\n| `" + key + "` |", section);
    EXPECT_NE(row, text.npos) << heading << " " << key;
    const std::size_t end = text.find(" |\n", row + 1);
    return text.substr(text.rfind("| ", end - 1) + 2, end - text.rfind("| ", end - 1) - 2);
}

TEST(FormatDoc, its_example_has_no_fault) {
    const Result<Job> job = read_job(example());
    ASSERT_TRUE(job);
    EXPECT_TRUE(job.findings.empty()) << shown(job.findings);
}

void expect_all_keys(const JsonValue& value, const KeyTable& table) {
    for (const Key& key : table.keys) {
        if (!key.name) break;
        const JsonValue* inner = value.find(key.name);
        // The two of which only one may stand.
        const bool other = std::string(key.name) == "stitch_length" || std::string(key.name) == "mat";
        EXPECT_TRUE(inner || other) << key.name << " of " << table.what;
        if (!inner || !key.group) continue;
        if (key.holds == Holds::named_groups || inner->is(JsonValue::Kind::list)) {
            JsonValue all = JsonValue::object();  // the keys of all entries together
            for (const JsonValue& item : inner->items) {
                for (std::size_t i = 0; i < item.keys.size(); ++i) {
                    if (!all.find(item.keys[i])) all.set(item.keys[i], item.items[i]);
                }
            }
            expect_all_keys(all, *key.group);
        } else if (key.group != &panel_clearances_keys) {
            expect_all_keys(*inner, *key.group);
        }
    }
}

TEST(FormatDoc, its_example_shows_every_key) {
    expect_all_keys(*parse_json(example()), job_keys);
}

void expect_explained(const std::string& text, const KeyTable& table) {
    for (const Key& key : table.keys) {
        if (!key.name) break;
        EXPECT_NE(text.find(std::string("`") + key.name + "`"), text.npos)
            << key.name << " of " << table.what;
        if (key.group && key.group != &tie_keys && key.group != &kept_layout_keys)
            expect_explained(text, *key.group);
    }
}

TEST(FormatDoc, every_key_is_explained) {
    expect_explained(doc().substr(doc().find("## Lengths and names")), job_keys);
}

TEST(FormatDoc, defaults_are_those_of_the_program) {
    const FinishSettings f;
    const Clearances c;
    const std::map<std::string, double> finish = {{"binding_growth", f.binding_growth_mm},
                                                  {"binding_width", f.binding_width_mm},
                                                  {"binding_thickness", f.binding_thickness_mm},
                                                  {"least_bound_radius", f.least_bound_radius_mm},
                                                  {"least_bound_hole_radius", f.least_bound_hole_radius_mm},
                                                  {"turn", f.turn_mm},
                                                  {"stitch_from_edge", f.stitch_from_edge_mm},
                                                  {"post_ease", f.post_ease_mm},
                                                  {"slit_short", f.slit_short_mm},
                                                  {"turned_hole_face", f.turned_hole_face_mm},
                                                  {"binding_overlap", f.binding_overlap_mm},
                                                  {"corner_allowance", f.corner_allowance_mm},
                                                  {"stud_from_edge", f.stud_from_edge_mm},
                                                  {"facet", f.facet_mm},
                                                  {"mitre_lap", f.mitre_lap_mm},
                                                  {"end_trim", f.end_trim_mm}};
    EXPECT_EQ(default_of("finish", "turned_corners"), f.mitred_corners ? "mitred" : "lapped");
    EXPECT_EQ(default_of("goods", "backing_peels"), f.backing_peels ? "true" : "false");
    for (const Key& key : finish_keys.keys) {
        if (!key.name) break;
        if (key.name == std::string("turned_corners")) continue;
        ASSERT_EQ(finish.count(key.name), 1u) << key.name;
        EXPECT_DOUBLE_EQ(parse_length(default_of("finish", key.name), Unit::mm)->mm(), finish.at(key.name))
            << key.name;
    }
    const std::map<std::string, double> clearances = {
        {"wall", c.wall_mm}, {"lid", c.lid_mm}, {"reveal", c.reveal_mm}};
    for (const auto& [key, mm] : clearances)
        EXPECT_DOUBLE_EQ(parse_length(default_of("clearances", key), Unit::mm)->mm(), mm) << key;
    EXPECT_DOUBLE_EQ(parse_length(default_of("goods", "gap"), Unit::mm)->mm(), Goods().gap_mm);
    EXPECT_EQ(default_of("sewing", "thread_waste"), shortest(TakeoffSettings().thread_waste));
    EXPECT_DOUBLE_EQ(TakeoffSettings().thread_stitches_per_mm, 6 / 25.4);
    const TapeSettings tape;
    EXPECT_EQ(tape.tape_class, TapeClass::II);
    EXPECT_FALSE(tape.hook);
    EXPECT_EQ(tape.ends_sd_mm, 0.7);
    EXPECT_EQ(tape.line_sd_mm, 1);
    EXPECT_NEAR(tape.square_sd_rad, 0.5 * 3.14159265358979323846 / 180, 5e-5);
}

TEST(FormatDoc, limits_are_those_of_the_program) {
    const std::string text = doc().substr(doc().find("## Limits"));
    const JsonLimits json;
    EXPECT_EQ(json.bytes, 4'000'000u);
    EXPECT_EQ(json.values, 400'000u);
    EXPECT_EQ(json.depth, 16);
    EXPECT_NE(text.find("4 MB, 400 000 values, 16 levels"), text.npos);
    EXPECT_EQ(limits::readings, 10'000u);
    EXPECT_NE(text.find(std::to_string(limits::spaces) + " spaces of 10 000 readings"), text.npos);
    EXPECT_NE(
        text.find(std::to_string(limits::panels) + " panels of " + std::to_string(limits::corners) +
                  " corners, " + std::to_string(limits::openings) + " openings, " +
                  std::to_string(limits::studs) + " studs and " + std::to_string(limits::cuts) + " cuts"),
        text.npos);
    EXPECT_NE(text.find(std::to_string(limits::overrides) + " overrides"), text.npos);
    EXPECT_NE(text.find("Beyond " + std::to_string(limits::findings) + " faults"), text.npos);
    EXPECT_EQ(limits::id_characters, 40u);
    EXPECT_EQ(limits::line_characters, 200u);
    EXPECT_EQ(limits::notes_characters, 20'000u);
}

}  // namespace
}  // namespace spile
