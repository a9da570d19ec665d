// Reading a job: units, defaults of job, panel and edge, ids, and what is left out when it has a fault.
#include <gtest/gtest.h>

#include "tests/job/support.h"

namespace spile {
namespace {

using namespace spile::testing;

constexpr double in = 25.4;

Job good(const std::string& text) {
    Result<Job> job = read_job(text);
    EXPECT_TRUE(job) << text;
    EXPECT_TRUE(job.findings.empty()) << shown(job.findings) << text;
    return job ? *job : Job{};
}

const EdgePlan& edge(const Job& job, const std::string& from, const std::string& to) {
    for (const EdgePlan& e : job.panels.at(0).edges) {
        if (e.from == from && e.to == to) return e;
    }
    ADD_FAILURE() << "no edge " << from << " " << to;
    return job.panels.at(0).edges.at(0);
}

TEST(ReadJob, good_jobs_have_no_fault) {
    for (const auto& path : good_jobs()) {
        const Result<Job> job = read_job(read_file(path));
        EXPECT_TRUE(job) << path;
        EXPECT_TRUE(job.findings.empty()) << path << "\n" << shown(job.findings);
    }
}

TEST(ReadJob, takes_every_key) {
    const Job job = good(read_file(std::string(SPILE_SOURCE_DIR) + "/tests/job/good/every-key-inches.json"));
    EXPECT_EQ(job.title, "Cockpit sole \u2013 \u00BD in foam");
    EXPECT_EQ(job.boat, "open launch, 24 ft");
    EXPECT_EQ(job.customer, "berth 14");
    EXPECT_EQ(job.notes, "Port locker lid lifts.\nRing before coming.");
    EXPECT_EQ(job.units, Unit::inch);
    EXPECT_EQ(job.paper, Paper::a4);
    EXPECT_EQ(job.mark_on, MarkOn::face);
    EXPECT_TRUE(job.has_goods);
    EXPECT_DOUBLE_EQ(job.goods.width_mm, 72 * in);
    EXPECT_DOUBLE_EQ(job.goods.usable_width_mm, 71.5 * in);
    EXPECT_DOUBLE_EQ(job.goods.gap_mm, 0.25 * in);
    EXPECT_DOUBLE_EQ(job.goods.edge_gap(), 0.5 * in);
    EXPECT_DOUBLE_EQ(job.goods.step_mm, 36 * in);
    EXPECT_DOUBLE_EQ(job.goods.thickness_mm, 3 * in / 16);
    EXPECT_DOUBLE_EQ(job.goods.length_mm, 240 * in);
    EXPECT_DOUBLE_EQ(job.finish.facet_mm, in / 32);
    EXPECT_TRUE(job.finish.mitred_corners);
    EXPECT_DOUBLE_EQ(job.finish.mitre_lap_mm, in / 4);
    EXPECT_DOUBLE_EQ(job.finish.end_trim_mm, in / 16);
    EXPECT_DOUBLE_EQ(job.finish.face_thickness_mm, in / 16);
    EXPECT_DOUBLE_EQ(job.finish.backing_thickness_mm, in / 8);
    EXPECT_FALSE(job.finish.backing_peels);
    EXPECT_DOUBLE_EQ(job.takeoff.thread_stitches_per_mm, 6 / in);
    EXPECT_DOUBLE_EQ(job.takeoff.sewn_thickness_mm, in / 8);
    EXPECT_EQ(job.papers.sewing.thread, "V92");
    EXPECT_EQ(job.papers.sewing.needle, "Nm 110");
    EXPECT_DOUBLE_EQ(job.papers.sewing.stitch_mm, in / 6);
    EXPECT_DOUBLE_EQ(job.papers.sewing.throat_width_mm, 10 * in);
    EXPECT_DOUBLE_EQ(job.papers.sewing.throat_height_mm, 5 * in);
    EXPECT_DOUBLE_EQ(job.papers.sewing.binder_passes_mm, 3 * in / 8);
    ASSERT_EQ(job.papers.sheets.size(), 5u);
    EXPECT_EQ(job.papers.sheets[3], PaperKind::tiles);
    ASSERT_EQ(job.papers.tiles.size(), 2u);
    EXPECT_EQ(job.papers.tiles[1].name, "A3");
    EXPECT_DOUBLE_EQ(job.papers.strip_width_mm, 36 * in);
    EXPECT_DOUBLE_EQ(job.papers.rule_measured_mm, 199.4);
    EXPECT_TRUE(job.papers.dry_fit);
    EXPECT_EQ(job.papers.included, "Fitting aboard.\nOne visit.");
    EXPECT_EQ(job.papers.not_included, "Removal of the old set.");
    EXPECT_EQ(job.papers.care, "Rinse with fresh water.");
    EXPECT_EQ(job.papers.warranty, "Ask us.");
    EXPECT_TRUE(job.papers.one_strip);
    EXPECT_EQ(job.papers.minutes.at(1), 90);
    EXPECT_EQ(job.papers.minutes.at(static_cast<std::size_t>(WorkStep::bind)), 75.5);
    EXPECT_LT(job.papers.minutes.at(2), 0);  // not said
    EXPECT_EQ(job.goods.lot, "0417-B");
    EXPECT_DOUBLE_EQ(edge(job, "B", "C").left_long_mm, 0.75 * in);
    EXPECT_EQ(edge(job, "A", "B").left_long_mm, 0);
    ASSERT_EQ(job.spaces.size(), 1u);
    EXPECT_TRUE(job.spaces[0].tape.hook);
    EXPECT_DOUBLE_EQ(job.spaces[0].tape.square_sd_rad, 0.5 * 3.14159265358979323846 / 180);
    EXPECT_EQ(job.spaces[0].readings.size(), 20u);
    ASSERT_EQ(job.panels.size(), 4u);
    EXPECT_EQ(job.panels[0].studs, std::vector<std::string>{"S"});
    ASSERT_TRUE(job.panels[0].stud_rule);
    EXPECT_DOUBLE_EQ(job.panels[0].stud_rule->pitch_mm, 12 * in);
    EXPECT_DOUBLE_EQ(job.panels[0].stud_rule->from_edge_mm, in);
    EXPECT_EQ(job.panels[2].twin_of, "1");
    EXPECT_TRUE(job.panels[2].twin_checked);
    EXPECT_EQ(job.panels[2].twin_about, (std::vector<std::string>{"A", "B"}));
    EXPECT_DOUBLE_EQ(job.panels[3].size_x_mm, 24 * in);
    EXPECT_DOUBLE_EQ(job.panels[3].size_y_mm, 36 * in);
    EXPECT_EQ(job.panels[3].mat_finish, Finish::turned);
    EXPECT_DOUBLE_EQ(job.panels[3].openings.at(0).centre_mm.y, 18 * in);
    using Form = OpeningPlan::Form;
    const std::vector<OpeningPlan>& openings = job.panels[0].openings;
    ASSERT_EQ(openings.size(), 6u);
    EXPECT_EQ(openings[0].at, "P");
    EXPECT_EQ(openings[0].form, Form::round);
    EXPECT_EQ(openings[1].form, Form::box);
    EXPECT_DOUBLE_EQ(openings[1].length_mm, 6 * in);
    EXPECT_DOUBLE_EQ(openings[1].width_mm, 4 * in);
    EXPECT_DOUBLE_EQ(openings[1].radius_mm, in / 2);
    EXPECT_EQ(openings[1].turn_deg, 12.5);
    EXPECT_EQ(openings[1].along, (std::vector<std::string>{"A", "B"}));
    EXPECT_EQ(openings[2].form, Form::slot);
    EXPECT_EQ(openings[2].along, (std::vector<std::string>{"S", "P"}));
    EXPECT_DOUBLE_EQ(openings[2].width_mm, 1.5 * in);
    EXPECT_EQ(openings[3].form, Form::free);
    ASSERT_EQ(openings[3].outline.size(), 3u);
    EXPECT_DOUBLE_EQ(openings[3].outline[2].radius_mm, in / 4);
    EXPECT_EQ(openings[4].lid, "2");
    EXPECT_DOUBLE_EQ(openings[4].ease_mm, in / 4);
    ASSERT_TRUE(openings[5].slit);
    EXPECT_EQ(openings[5].slit->from, "A");
    EXPECT_DOUBLE_EQ(openings[5].slit->gap_mm, in / 8);
    EXPECT_EQ(openings[5].slit->finish, Finish::sealed);
    EXPECT_EQ(job.overrides.at(0).reason, "hand-bound, mitred");
    ASSERT_TRUE(job.kept_layout);
    EXPECT_EQ(job.kept_layout->rounds, 40);
    EXPECT_EQ(job.kept_layout->placements.at(1), (Placement{"mat", -1, 0}));
    EXPECT_EQ(job.kept_fingerprint, "0123456789abcdef");
}

TEST(ReadJob, an_edge_goes_by_itself_then_its_panel_then_the_job) {
    const Job job = good(read_file(std::string(SPILE_SOURCE_DIR) + "/tests/job/good/every-key-inches.json"));
    const EdgePlan& ab = edge(job, "A", "B");  // named "B A" in the file
    EXPECT_EQ(ab.measured, Measured::finished);
    EXPECT_EQ(ab.situation, Situation::joint);
    EXPECT_EQ(ab.finish, Finish::turned);
    EXPECT_EQ(ab.clearance_mm, 0);  // finished: nothing comes off
    EXPECT_DOUBLE_EQ(edge(job, "B", "C").clearance_mm, 0.5 * in);
    EXPECT_EQ(edge(job, "C", "D").situation, Situation::walked_over);
    EXPECT_EQ(edge(job, "C", "D").clearance_mm, 0);
    EXPECT_EQ(edge(job, "D", "A").finish, Finish::sealed);
    EXPECT_DOUBLE_EQ(job.panels[0].corners[0].radius_mm, 2.5 * in);  // the panel's
    EXPECT_DOUBLE_EQ(job.panels[0].corners[2].radius_mm, 3 * in);    // its own
}

TEST(ReadJob, clearance_goes_by_situation) {
    const std::string settings = R"("clearances": { "wall": "1/4", "lid": "3/8", "reveal": "1/8" }, )";
    const Job job = good(small_job(settings, R"("corners": ["A", "B", "C", "D"],
        "edges": { "B C": { "situation": "lid" }, "C D": { "situation": "joint" }, "D A": { "situation": "free" } })"));
    EXPECT_DOUBLE_EQ(edge(job, "A", "B").clearance_mm, in / 4);
    EXPECT_DOUBLE_EQ(edge(job, "B", "C").clearance_mm, 3 * in / 8);
    EXPECT_DOUBLE_EQ(edge(job, "C", "D").clearance_mm, in / 16);  // half the reveal
    EXPECT_EQ(edge(job, "D", "A").clearance_mm, 0);
    const Job own = good(small_job(settings, R"("corners": ["A", "B", "C", "D"], "situation": "lid",
        "clearances": { "lid": "1/2" }, "edges": { "A B": { "clearance": 0 }, "B C": { "situation": "wall" } })"));
    EXPECT_EQ(edge(own, "A", "B").clearance_mm, 0);
    EXPECT_DOUBLE_EQ(edge(own, "B", "C").clearance_mm, in / 4);
    EXPECT_DOUBLE_EQ(edge(own, "C", "D").clearance_mm, in / 2);
}

TEST(ReadJob, defaults_are_those_documented) {
    const Job job = good(small_job());
    EXPECT_FALSE(job.has_goods);
    const EdgePlan& e = edge(job, "A", "B");
    EXPECT_EQ(e.measured, Measured::wall);
    EXPECT_EQ(e.situation, Situation::wall);
    EXPECT_EQ(e.finish, Finish::bound);
    EXPECT_DOUBLE_EQ(e.clearance_mm, 3 * in / 16);
    EXPECT_EQ(job.panels[0].corners[0].radius_mm, 0);
    EXPECT_EQ(job.paper, Paper::letter);
    const Job inches = good(R"({ "spile": 1, "units": "in", "goods": { "width": 72 } })");
    EXPECT_DOUBLE_EQ(inches.goods.usable_width_mm, 72 * in);
    EXPECT_DOUBLE_EQ(inches.goods.gap_mm, in / 4);
    EXPECT_DOUBLE_EQ(inches.goods.edge_gap(), in / 4);
    EXPECT_DOUBLE_EQ(inches.goods.step_mm, 36 * in);
    const Job metric =
        good(R"({ "spile": 1, "units": "mm", "goods": { "width": 1830 }, "spaces": [{ "id": "a" }] })");
    EXPECT_EQ(metric.paper, Paper::a4);
    EXPECT_DOUBLE_EQ(metric.goods.step_mm, 100);
    EXPECT_DOUBLE_EQ(metric.spaces[0].tape.reads_to_mm, 1);
}

TEST(ReadJob, plain_numbers_are_read_in_the_units_of_their_place) {
    const Job job = good(read_file(std::string(SPILE_SOURCE_DIR) + "/tests/job/good/every-key-mm.json"));
    EXPECT_DOUBLE_EQ(job.goods.width_mm, 2000);
    EXPECT_DOUBLE_EQ(job.finish.binding_growth_mm, 1.5);
    EXPECT_DOUBLE_EQ(job.takeoff.thread_stitches_per_mm, 0.25);
    EXPECT_EQ(job.spaces[1].unit, Unit::inch);
    EXPECT_DOUBLE_EQ(job.spaces[1].tape.reads_to_mm, in / 32);
    EXPECT_DOUBLE_EQ(std::get<OverUp>(job.spaces[1].readings[1].what).over.mm(), 24 * in);
    EXPECT_DOUBLE_EQ(std::get<Tie>(job.spaces[0].readings[2].what).distance.mm(), 1607);
    EXPECT_DOUBLE_EQ(job.panels[3].size_x_mm, 16 * in);   // the unit behind the second counts for both
    EXPECT_EQ(job.panels[3].mat_finish, Finish::turned);  // the job's
}

TEST(ReadJob, bare_readings_get_the_first_free_ids_and_stay_as_typed) {
    const Job job = good(R"({ "spile": 1, "units": "in", "spaces": [{ "id": "a",
        "ties": ["A B 96 1/4", { "id": "t2", "line": "B C 12" }, { "line": "C  D 12" }, "D A 12"] }] })");
    std::vector<std::string> ids, lines;
    for (const Reading& r : job.spaces[0].readings) {
        ids.push_back(r.id);
        lines.push_back(r.line);
    }
    EXPECT_EQ(ids, (std::vector<std::string>{"t1", "t2", "t3", "t4"}));
    EXPECT_EQ(lines, (std::vector<std::string>{"A B 96 1/4", "B C 12", "C  D 12", "D A 12"}));
    EXPECT_EQ(job.spaces[0].readings[3].where, "line 2, /spaces/0/ties/3");
}

TEST(ReadJob, ids_of_readings_are_per_space) {
    EXPECT_EQ(good(R"({ "spile": 1, "units": "in", "spaces": [
        { "id": "a", "ties": [{ "id": "t1", "line": "A B 12" }] },
        { "id": "b", "ties": [{ "id": "t1", "line": "A B 12" }] }] })")
                  .spaces.size(),
              2u);
}

TEST(ReadJob, the_only_space_need_not_be_named) {
    EXPECT_EQ(good(small_job()).panels[0].space, "cockpit");
}

TEST(ReadJob, what_has_a_fault_is_left_out_and_the_rest_is_there) {
    const Result<Job> job =
        read_job(R"({ "spile": 1, "units": "in", "mark_on": "back", "goods": { "width": 72, "gap": "x" },
        "spaces": [{ "id": "a", "ties": ["A B 12", "B C 3.10.1", "C A 12"] }],
        "panels": [{ "id": "1", "corners": ["A", "B", "C"] }, { "id": "2", "corners": ["A", "B", "Z"] }] })");
    ASSERT_TRUE(job);
    EXPECT_EQ(job.findings.size(), 3u) << shown(job.findings);
    EXPECT_EQ(job->spaces[0].readings.size(), 2u);
    ASSERT_EQ(job->panels.size(), 1u);
    EXPECT_EQ(job->panels_said, 2u);
    EXPECT_DOUBLE_EQ(job->goods.gap_mm, in / 4);
}

TEST(ReadJob, a_point_named_only_by_an_unreadable_reading_is_not_called_missing_too) {
    const Result<Job> job = read_job(R"({ "spile": 1, "units": "in", "mark_on": "back",
        "spaces": [{ "id": "a", "ties": ["A B 12", "B C 3.10.1"] }], "panels": [{ "id": "1", "corners": ["A", "B", "C"] }] })");
    ASSERT_EQ(job.findings.size(), 1u) << shown(job.findings);
    EXPECT_EQ(job.findings[0].code, "length-two-points");
}

TEST(ReadJob, five_thousand_ties_are_fine_and_a_hundred_thousand_are_not) {
    const auto with_ties = [](int n) {
        std::string text = R"({ "spile": 1, "units": "in", "spaces": [{ "id": "a", "ties": ["A B 96 1/4")";
        for (int i = 1; i < n; ++i) text += ", \"A B 96 1/4\"";
        return text + "] }] }";
    };
    EXPECT_EQ(good(with_ties(5'000)).spaces[0].readings.size(), 5'000u);
    const Result<Job> many = read_job(with_ties(100'000));
    ASSERT_EQ(many.findings.size(), 1u) << shown(many.findings);
    EXPECT_EQ(many.findings[0].code, "too-many");
    EXPECT_TRUE(has_words(many.findings[0], "100000")) << many.findings[0].says;
    EXPECT_TRUE(has_words(many.findings[0], "10000")) << many.findings[0].says;
}

TEST(ReadJob, a_file_of_nonsense_gives_a_list_that_can_be_read) {
    std::string text = "{ \"spile\": 1, \"units\": \"in\"";
    for (int i = 0; i < 20'000; ++i) text += ", \"key" + std::to_string(i) + "\": 0";
    const Result<Job> job = read_job(text + " }");
    EXPECT_EQ(job.findings.size(), 501u);
    EXPECT_EQ(job.findings.back().code, "more-faults");
    EXPECT_TRUE(has_words(job.findings.back(), "19500")) << job.findings.back().says;
}

TEST(ReadJob, words_are_those_of_the_stages) {
    for (const char* word : {"wall", "free", "joint", "lid", "walked over"}) {
        const Job job = good(
            small_job("", std::string(R"("corners": ["A", "B", "C", "D"], "situation": ")") + word + "\""));
        EXPECT_STREQ(word_for(edge(job, "A", "B").situation), word);
    }
    for (const char* word : {"wall", "finished", "raw"}) {
        const Job job = good(
            small_job("", std::string(R"("corners": ["A", "B", "C", "D"], "measured": ")") + word + "\""));
        EXPECT_STREQ(word_for(edge(job, "A", "B").measured), word);
    }
    for (const char* word : {"bound", "turned", "sealed"}) {
        const Job job =
            good(small_job("", std::string(R"("corners": ["A", "B", "C", "D"], "finish": ")") + word + "\""));
        EXPECT_STREQ(word_for(edge(job, "A", "B").finish), word);
    }
}

TEST(ReadJob, mats_are_read_in_every_spelling) {
    const auto mat = [](const std::string& text) {
        return good(R"({ "spile": 1, "units": "in", "mark_on": "back", "panels": [{ "id": "1", "mat": ")" +
                    text + "\" }] }")
            .panels[0];
    };
    EXPECT_DOUBLE_EQ(mat("24 x 36, turned").size_x_mm, 24 * in);
    EXPECT_DOUBLE_EQ(mat("2' x 3'").size_y_mm, 36 * in);
    EXPECT_DOUBLE_EQ(mat("24 1/2 \u00D7 36 1/4, bound").size_x_mm, 24.5 * in);
    EXPECT_DOUBLE_EQ(mat("600 x 900 mm, sealed").size_x_mm, 600);
    EXPECT_DOUBLE_EQ(mat("60,5 x 90,5 cm").size_y_mm, 905);
    EXPECT_EQ(mat("600 x 900 mm, sealed").mat_finish, Finish::sealed);
    EXPECT_EQ(mat("24 x 36").mat_finish, Finish::bound);  // the default of every edge
}

}  // namespace
}  // namespace spile
