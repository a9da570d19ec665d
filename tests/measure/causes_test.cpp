// The usual causes of a slip, each planted in a well-braced space and named, with the reading as it would be.
#include "core/measure/causes.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/measure/invented.h"
#include "tests/measure/lines.h"

namespace spile {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;

/// Places of a space in inches, to a sixteenth where it matters: every corner tied to every other.
const std::vector<std::pair<std::string, Vec2>> kPlaces = {{"A", {0, 0}},   {"B", {96, 0}},  {"C", {101, 52}},
                                                           {"D", {48, 75}}, {"E", {-7, 49}}, {"M", {40, 30}}};

std::string inches(double length) {
    LengthStyle style;
    return plain_length(length * 25.4, style);
}

/// Every tie as it should read, one of them replaced by `slip` (a whole line).
std::vector<std::string> lines_with(const std::string& slip) {
    std::vector<std::string> lines;
    for (std::size_t i = 0; i < kPlaces.size(); ++i) {
        for (std::size_t j = i + 1; j < kPlaces.size(); ++j) {
            const std::string ends = kPlaces[i].first + " " + kPlaces[j].first + " ";
            const bool here = slip.rfind(ends, 0) == 0;
            lines.push_back(here ? slip : ends + inches(distance(kPlaces[i].second, kPlaces[j].second)));
        }
    }
    return lines;
}

/// What is suspected first when one line is replaced.
Suspect first(const std::vector<std::string>& lines, double case_mm = 76.2) {
    SpaceInput in = space_of({"A", "B", "C", "D", "E"}, {"A", "B"}, lines, Unit::inch);
    in.tape.reads_to_mm = 25.4 / 16;
    in.tape.case_mm = case_mm;
    const Result<Survey> s = measure(in, RunContext{});
    EXPECT_TRUE(s && !s->suspects.empty()) << codes(s.findings);
    return s && !s->suspects.empty() ? s->suspects[0] : Suspect{};
}

// True readings: A-B 96, B-C 52 1/4, C-D 57 3/4 (57.78), A-C 113 9/16, B-E 114 1/8 (114.02 -> 114), D-E 60 13/16.
TEST(Causes, AreNamedAndTheReadingOffered) {
    const struct {
        const char *slip, *words, *proposed;
    } rows[] = {
        {"A B 97", "an inch was burned and not given back", "A B 96"},
        {"A B 95", "an inch was given back that had not been burned", "A B 96"},
        {"A B 106", "ten inches were burned", "A B 96"},
        {"A B 108", "a foot was misread, one too many", "A B 96"},
        {"A B 84", "a foot was misread, one too few", "A B 96"},
        {"A B 69", "two digits were swapped", "A B 96"},
        {"A B 93", "the tape's case was not added", "A B 96"},
        {"B C 25 1/4", "two digits were swapped", "B C 52 1/4"},
        // Its size is known to 1.6 mm: 3/4 is told from 1/2, the half of its denominator.
        {"C D 57 1/4", "the fraction was misread, 1/4 for 3/4", "C D 57 3/4"},
    };
    for (const auto& row : rows) {
        const Suspect s = first(lines_with(row.slip));
        EXPECT_EQ(s.line, row.slip);
        EXPECT_THAT(s.guess, HasSubstr(row.words)) << row.slip;
        EXPECT_EQ(s.proposed, row.proposed);
    }
}

TEST(Causes, CentimetresReadAsInches) {
    // 50.8 cm are 20 in: M-A is 50 in, which a tape shows as 127 cm.
    const Suspect s = first(lines_with("A M 127"));
    EXPECT_EQ(s.line, "A M 127");
    EXPECT_THAT(s.guess, HasSubstr("centimetres were read as inches"));
    EXPECT_EQ(s.proposed, "A M 127 cm");
}

TEST(Causes, ATieBetweenOtherPointsThanWritten) {
    std::vector<std::string> lines = lines_with("");
    // A-C was never taped; the line that says B-M is its length.
    std::string kept;
    std::vector<std::string> fewer;
    for (const std::string& line : lines) {
        if (line.rfind("A C ", 0) == 0)
            kept = line.substr(4);
        else if (line.rfind("A M ", 0) != 0)
            fewer.push_back(line);
    }
    fewer.push_back("A M " + kept);
    const Suspect s = first(fewer);
    EXPECT_EQ(s.line, "A M " + kept);
    EXPECT_THAT(s.guess, HasSubstr("taped from A to C"));
    EXPECT_EQ(s.proposed, "A C " + kept);
}

// In invented spaces the two points are offered 97 times in 100 (spile-bench measure --only points).
TEST(Causes, OtherPointsThanWrittenAreFoundInInventedSpaces) {
    simulated::Random random(11);
    int offered = 0, all = 0;
    while (all < 60) {
        simulated::Space s = simulated::fair_space(random);
        simulated::tape_all(random, s);
        const auto mistaken = simulated::mistake_points(random, s);
        if (!mistaken) continue;
        ++all;
        const Result<Survey> survey = measure(simulated::input_of(s), RunContext{});
        offered +=
            survey && !survey->suspects.empty() && mistaken->is_offered_by(survey->suspects[0].proposed);
    }
    EXPECT_GE(offered, 54);
}

TEST(Causes, ASizeThatNoCauseExplainsIsNotExplained) {
    const Suspect s = first(lines_with("A B 101 1/2"));
    EXPECT_EQ(s.line, "A B 101 1/2");
    EXPECT_THAT(s.guess, IsEmpty());
    EXPECT_THAT(s.proposed, IsEmpty());
}

TEST(Causes, TheCaseIsASetting) {
    EXPECT_THAT(first(lines_with("A B 93"), 0).guess, IsEmpty());
    EXPECT_THAT(first(lines_with("A B 92"), 101.6).guess, HasSubstr("case"));
}

// Every proposed line is read again and is the reading less the shift.
TEST(Causes, ProposedLinesAreReadings) {
    const char* const lines[] = {"A B 48 1/4",          "A B 4' 0 1/4\"",
                                 "A B 1226 mm",         "A B 12.5",
                                 "A B 122.6 cm",        "P on A B at 34 1/2 off 12 1/16 left",
                                 "K over 24 1/4 up 30", "A B running P 12, Q 12, R 96 3/8"};
    for (const char* line : lines) {
        for (const Unit unit : {Unit::inch, Unit::mm}) {
            const Result<Reading> parsed = parse_reading_line(line, unit);
            if (!parsed) continue;  // a fraction is no size in millimetres
            SpaceInput space;
            space.unit = unit;
            space.readings = {*parsed};
            std::vector<Finding> findings;
            const survey::Network net = survey::read_network(space, findings);
            for (std::size_t i = 0; i < net.observations.size(); ++i) {
                const survey::Observation& o = net.observations[i];
                for (const survey::Cause& cause : survey::usual_causes(space, net, o)) {
                    const Result<Reading> again = parse_reading_line(cause.proposed, unit);
                    ASSERT_TRUE(again) << line << " -> " << cause.proposed;
                    SpaceInput other = space;
                    other.readings = {*again};
                    const survey::Network fixed = survey::read_network(other, findings);
                    ASSERT_EQ(fixed.observations.size(), net.observations.size()) << cause.proposed;
                    for (std::size_t k = 0; k < net.observations.size(); ++k) {
                        const double moved = std::fabs(net.observations[k].value_mm) -
                                             std::fabs(fixed.observations[k].value_mm);
                        EXPECT_NEAR(moved, k == i ? cause.shift_mm : 0, 1e-9)
                            << line << " -> " << cause.proposed;
                    }
                }
            }
        }
    }
}

}  // namespace
}  // namespace spile
