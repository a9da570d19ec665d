#include "core/measure/reading.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace spile {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

template <class What>
What parsed(const char* line, Unit unit = Unit::inch) {
    const Result<Reading> r = parse_reading_line(line, unit);
    EXPECT_TRUE(r) << line << (r.findings.empty() ? "" : ": " + r.findings[0].says);
    if (!r) return {};
    EXPECT_EQ(r->line, line);
    const What* what = std::get_if<What>(&r->what);
    EXPECT_NE(what, nullptr) << line;
    return what ? *what : What{};
}

Finding refused(const char* line, Unit unit = Unit::inch) {
    const Result<Reading> r = parse_reading_line(line, unit);
    EXPECT_FALSE(r) << line;
    EXPECT_FALSE(r.findings.empty()) << line;
    if (r.findings.empty()) return {};
    EXPECT_EQ(r.findings[0].severity, Severity::stop);
    EXPECT_EQ(r.findings[0].subject.kind, "tie");
    EXPECT_FALSE(r.findings[0].to_do.empty()) << line;
    return r.findings[0];
}

TEST(ReadingLine, Tie) {
    const Tie t = parsed<Tie>("A B 96 1/4");
    EXPECT_EQ(t.from, "A");
    EXPECT_EQ(t.to, "B");
    EXPECT_EQ(t.distance.typed, "96 1/4");
    EXPECT_DOUBLE_EQ(t.distance.mm(), 96.25 * 25.4);
    EXPECT_DOUBLE_EQ(parsed<Tie>("J1 a_2' 8' 0 1/4\"").distance.mm(), 96.25 * 25.4);
    EXPECT_DOUBLE_EQ(parsed<Tie>("  A   B\t1226 mm  ").distance.mm(), 1226);
    EXPECT_DOUBLE_EQ(parsed<Tie>("A B 1226", Unit::mm).distance.mm(), 1226);
    EXPECT_EQ(parsed<Tie>("a A 3").from, "a");  // names are told apart by case
}

TEST(ReadingLine, BaselineAndOffset) {
    const BaselineOffset b = parsed<BaselineOffset>("P on A B at 34 1/2 off 12 1/4 left");
    EXPECT_EQ(b.point + b.base_from + b.base_to, "PAB");
    EXPECT_DOUBLE_EQ(b.station.mm(), 34.5 * 25.4);
    EXPECT_DOUBLE_EQ(b.offset.mm(), 12.25 * 25.4);
    EXPECT_TRUE(b.left);
    EXPECT_FALSE(parsed<BaselineOffset>("P on A B at 34 1/2 off 12 right").left);
    EXPECT_EQ(parsed<BaselineOffset>("J1 on B C at 27 1/16").offset.mm(), 0);
    EXPECT_DOUBLE_EQ(parsed<BaselineOffset>("P on A B at -3").station.mm(), -76.2);
    EXPECT_TRUE(parsed<BaselineOffset>("P ON A B AT 3 OFF 2 LEFT").left);
}

TEST(ReadingLine, RiseThroughAndOverUp) {
    const Rise r = parsed<Rise>("C D rise 4 1/4 out");
    EXPECT_DOUBLE_EQ(r.rise.mm(), 4.25 * 25.4);
    EXPECT_TRUE(r.outward);
    EXPECT_FALSE(parsed<Rise>("C D rise 4 1/4 inward").outward);
    EXPECT_FALSE(parsed<Rise>("C D rise 4 1/4 in in").outward);
    EXPECT_THAT(parsed<Through>("B C through Q R").points, ElementsAre("Q", "R"));
    const OverUp o = parsed<OverUp>("K over 24 1/4 up -3");
    EXPECT_DOUBLE_EQ(o.over.mm(), 24.25 * 25.4);
    EXPECT_DOUBLE_EQ(o.up.mm(), -76.2);
}

TEST(ReadingLine, AnInThatCouldBeInchesIsAskedAbout) {
    const Result<Reading> r = parse_reading_line("C D rise 4 1/4 in", Unit::inch);
    ASSERT_TRUE(r);
    EXPECT_FALSE(std::get<Rise>(r->what).outward);
    ASSERT_EQ(r.findings.size(), 1u);
    EXPECT_EQ(r.findings[0].code, "reading-in");
    EXPECT_EQ(r.findings[0].severity, Severity::look);
    EXPECT_TRUE(parse_reading_line("C D rise 4 1/4 inward", Unit::inch).findings.empty());
}

TEST(ReadingLine, RefusesAndSaysHow) {
    EXPECT_EQ(refused("").code, "reading-empty");
    EXPECT_EQ(refused("   ").code, "reading-empty");
    EXPECT_EQ(refused("A 96 1/4").code, "reading-one-point");
    EXPECT_EQ(refused("A B").code, "reading-short");
    EXPECT_EQ(refused("A").code, "reading-short");
    EXPECT_THAT(refused("A-B C 96").says, HasSubstr("letters, digits"));
    EXPECT_THAT(refused("Bulkheadfore1 B 96").says, HasSubstr("13 characters"));
    EXPECT_EQ(refused("on A 96").code, "reading-name");
    EXPECT_EQ(refused("2A B 96").code, "reading-name");
    EXPECT_EQ(refused("P on A B 34").code, "reading-word");
    EXPECT_EQ(refused("P on A B at 34 off 12").code, "reading-side");
    EXPECT_EQ(refused("P on A B at 34 off left").code, "reading-short");
    EXPECT_EQ(refused("P on A at 34").code, "reading-name");
    EXPECT_EQ(refused("C D rise 4").code, "reading-side");
    EXPECT_EQ(refused("C D rise out").code, "reading-short");
    EXPECT_EQ(refused("C D through").code, "reading-short");
    EXPECT_EQ(refused("K over 24").code, "reading-word");
    EXPECT_EQ(refused("K over up 3").code, "reading-short");
    EXPECT_THAT(refused("A B 3.10.1").says, HasSubstr("In \"A B 3.10.1\""));
    EXPECT_FALSE(parse_reading_line("A B -3", Unit::inch));
    EXPECT_FALSE(parse_reading_line("A B 96 1/4 B C 71", Unit::inch));
}

TEST(ReadingLine, AnyBytesAreAnsweredNotFeared) {
    const std::string parts[] = {
        "A",   "on",   "at", "over", "up", "rise", "through", "\xff\xfe", "1/0", "\"", "99999999999999999999",
        "off", "left", "in"};
    for (const std::string& a : parts) {
        for (const std::string& b : parts) {
            for (const std::string& c : parts) {
                for (const std::string& d : parts) {
                    const Result<Reading> r = parse_reading_line(a + " " + b + " " + c + " " + d, Unit::inch);
                    EXPECT_TRUE(r || !r.findings.empty());
                }
            }
        }
    }
}

}  // namespace
}  // namespace spile
