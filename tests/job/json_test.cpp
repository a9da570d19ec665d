// JSON as written: lines, comments, digits, duplicates and limits.
#include <gtest/gtest.h>

#include "core/job/json_faults.h"
#include "core/job/json_with_lines.h"

namespace spile {
namespace {

using Kind = JsonValue::Kind;

JsonValue parsed(const std::string& text) {
    Result<JsonValue> result = parse_json(text);
    EXPECT_TRUE(result) << text;
    EXPECT_TRUE(result.findings.empty());
    return result ? *result : JsonValue{};
}

TEST(Json, knows_the_line_of_every_value) {
    const JsonValue v = parsed(
        "// a comment\n"        // 1
        "{ \"a\": 1,\n"         // 2
        "  \"b\": [\n"          // 3
        "    2\n"               // 4, a number that ends its line
        "    , /* two\n"        // 5
        "    lines */ true,\n"  // 6
        "    \"x\"],\n"         // 7
        "  \"c\": null, \"d\": {}\n"
        "}\n");
    EXPECT_EQ(v.line, 2);
    EXPECT_EQ(v.find("a")->line, 2);
    EXPECT_EQ(v.find("b")->line, 3);
    EXPECT_EQ(v.find("b")->items[0].line, 4);
    EXPECT_EQ(v.find("b")->items[1].line, 6);
    EXPECT_EQ(v.find("b")->items[2].line, 7);
    EXPECT_EQ(v.find("c")->line, 8);
    EXPECT_EQ(v.find("d")->line, 8);
}

TEST(Json, lines_that_end_the_way_of_other_systems_count_once) {
    EXPECT_EQ(parsed("{\r\n\"a\":\r\n1\r\n}").find("a")->line, 3);
}

TEST(Json, a_byte_order_mark_is_passed_over) {
    EXPECT_TRUE(parsed("\xEF\xBB\xBF{ \"a\": 1 }").find("a"));
}

TEST(Json, keeps_digits_as_typed) {
    const JsonValue v = parsed("[0.10, 63.250, 1e2, 72, -3, 12345678901234567890]");
    const char* digits[] = {"0.10", "63.250", "1e2", "72", "-3", "12345678901234567890"};
    for (std::size_t i = 0; i < 6; ++i) EXPECT_EQ(v.items[i].text, digits[i]);
    EXPECT_EQ(v.items[2].number, 100);
}

TEST(Json, keeps_the_order_of_keys) {
    EXPECT_EQ(parsed(R"({ "b": 1, "a": 2, "c": 3 })").keys, (std::vector<std::string>{"b", "a", "c"}));
}

TEST(Json, a_key_given_twice_is_named_with_both_lines_and_the_first_counts) {
    const Result<JsonValue> r = parse_json("{ \"g\": [0, { \"w\": 1,\n\"h\": 2,\n\"w\": 3 }] }");
    ASSERT_TRUE(r);
    ASSERT_EQ(r.findings.size(), 1u);
    const Finding& f = r.findings[0];
    EXPECT_EQ(f.code, "duplicate-key");
    EXPECT_EQ(f.where, "line 3, /g/1/w");
    EXPECT_EQ(f.says, "\"w\" is given twice, on line 1 and on line 3.");
    EXPECT_EQ(r->find("g")->items[1].find("w")->number, 1);
}

TEST(Json, a_key_given_three_times_is_two_faults) {
    EXPECT_EQ(parse_json(R"({ "a": 1, "a": 2, "b": 0, "a": 3 })").findings.size(), 2u);
}

TEST(Json, limits_hold_and_name_themselves) {
    JsonLimits limits;
    limits.bytes = 100;
    limits.values = 5;
    limits.depth = 3;
    EXPECT_TRUE(parse_json("[[[1]]]", limits));
    EXPECT_EQ(parse_json("[[[[1]]]]", limits).findings.at(0).code, "too-deep");
    EXPECT_TRUE(parse_json("[1, 2, 3, 4]", limits));
    EXPECT_EQ(parse_json("[1, 2, 3, 4, 5]", limits).findings.at(0).code, "too-many-values");
    EXPECT_TRUE(parse_json("[1" + std::string(97, ' ') + "]", limits));
    EXPECT_EQ(parse_json("[1" + std::string(98, ' ') + "]", limits).findings.at(0).code, "file-too-large");
}

TEST(Json, deep_nesting_uses_no_stack) {
    const Result<JsonValue> r = parse_json(std::string(1'000'000, '['));
    EXPECT_FALSE(r);
    EXPECT_EQ(r.findings.at(0).code, "too-deep");
}

TEST(Json, files_of_other_kinds_are_told_apart) {
    EXPECT_EQ(parse_json("").findings.at(0).says, "The file is empty.");
    EXPECT_EQ(parse_json(" \n\n").findings.at(0).says, "The file is empty.");
    EXPECT_EQ(parse_json(std::string("\xFF\xFE{\0\"\0", 6)).findings.at(0).code, "not-utf8");
    EXPECT_EQ(parse_json(std::string("PK\3\4\0\0", 6)).findings.at(0).code, "not-json");
    EXPECT_EQ(parse_json(std::string("\0\0\0", 3)).findings.at(0).code, "not-utf8");
    EXPECT_EQ(parse_json("{ \"title\": \"caf\xE9\" }").findings.at(0).code, "not-utf8");
}

TEST(Json, the_place_of_a_mistake_counts_characters_not_bytes) {
    const Finding f = parse_json("{ \"title\": \"\u00BD\u00BD\u00BD\" 7 }").findings.at(0);
    EXPECT_EQ(f.where, "line 1, column 18");
}

TEST(Json, what_a_file_holds_is_made_fit_to_print) {
    EXPECT_EQ(in_quotes("a\x1B[31mb\n"), "\"a.[31mb.\"");
    EXPECT_EQ(in_quotes(std::string(100, 'x')), "\"" + std::string(60, 'x') + "...\"");
    std::string half;
    for (int i = 0; i < 100; ++i) half += "\u00BD";
    EXPECT_EQ(in_quotes(half).size(), 2 + 60 * 2 + 3u);
}

TEST(Json, pointers_escape_their_own_signs) {
    std::string pointer;
    add_pointer_step(pointer, "a/b");
    add_pointer_step(pointer, "m~n");
    EXPECT_EQ(pointer, "/a~1b/m~0n");  // RFC 6901 s. 5: "/a~1b", "/m~0n"
}

}  // namespace
}  // namespace spile
