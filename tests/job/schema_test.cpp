// docs/job.schema.json says what the reader does. The outside opinion is python3-jsonschema.
#include <gtest/gtest.h>

#include <cstdio>
#include <set>

#include "core/job/keys.h"
#include "tests/job/support.h"

namespace spile {
namespace {

using namespace spile::testing;
using Kind = JsonValue::Kind;

const std::string schema_path = std::string(SPILE_SOURCE_DIR) + "/docs/job.schema.json";

/// What the schema says about each document: empty when valid, else its complaint.
std::vector<std::string> complaints(const std::vector<std::string>& documents) {
    JsonValue list = JsonValue::list();
    for (const std::string& d : documents) list.items.push_back(JsonValue::of_text(d));
    const std::string path = std::string(SPILE_BINARY_DIR) + "/schema-documents-" +
                             ::testing::UnitTest::GetInstance()->current_test_info()->name() + ".json";
    std::ofstream(path, std::ios::binary) << write_said(list);

    const std::string command = "/usr/bin/python3 '" + std::string(SPILE_SOURCE_DIR) +
                                "/tests/job/schema_check.py' '" + schema_path + "' '" + path + "' 2>&1";
    std::string output;
    FILE* pipe = popen(command.c_str(), "r");
    if (!pipe) return {};
    char buffer[4096];
    while (std::fgets(buffer, sizeof buffer, pipe)) output += buffer;
    EXPECT_EQ(pclose(pipe), 0) << output << "\nIs Debian's python3-jsonschema installed?";
    std::vector<std::string> found;
    std::istringstream lines(output);
    for (std::string line; std::getline(lines, line);) found.push_back(line == "valid" ? "" : line);
    EXPECT_EQ(found.size(), documents.size()) << output;
    found.resize(documents.size(), "no answer");
    return found;
}

std::string without_comments(const std::string& text) {
    Result<JsonValue> said = parse_json(text);
    if (!said) return "";
    return write_said(*said);
}

bool has_code(const std::vector<Finding>& findings, const std::string& code) {
    return find_code(findings, code) != nullptr;
}

/// Every way to put one more key into one group of the document.
void add_unknown_keys(JsonValue& root, JsonValue& at, std::vector<std::string>& documents) {
    if (at.is(Kind::object)) {
        JsonValue value = JsonValue::object();
        value.set("unknown", JsonValue::of_text("x"));
        at.set("an unknown key", value);
        documents.push_back(write_said(root));
        at.erase("an unknown key");
    }
    for (std::size_t i = 0; i < at.items.size(); ++i) add_unknown_keys(root, at.items[i], documents);
}

/// Every key of the document left out, one at a time.
void leave_keys_out(JsonValue& root, JsonValue& at, std::vector<std::string>& documents) {
    for (std::size_t i = 0; at.is(Kind::object) && i < at.keys.size(); ++i) {
        const std::string key = at.keys[i];
        const JsonValue value = at.items[i];
        at.keys.erase(at.keys.begin() + static_cast<std::ptrdiff_t>(i));
        at.items.erase(at.items.begin() + static_cast<std::ptrdiff_t>(i));
        documents.push_back(write_said(root));
        at.keys.insert(at.keys.begin() + static_cast<std::ptrdiff_t>(i), key);
        at.items.insert(at.items.begin() + static_cast<std::ptrdiff_t>(i), value);
    }
    for (std::size_t i = 0; i < at.items.size(); ++i) leave_keys_out(root, at.items[i], documents);
}

/// Every value replaced by one of another kind, one at a time.
void change_kinds(JsonValue& root, JsonValue& at, std::vector<std::string>& documents) {
    for (std::size_t i = 0; i < at.items.size(); ++i) {
        const JsonValue value = at.items[i];
        JsonValue others[3];
        others[0] = JsonValue();
        others[1].kind = Kind::boolean;
        others[2] =
            value.is(Kind::list) || value.is(Kind::object) ? JsonValue::of_whole(7) : JsonValue::list();
        for (const JsonValue& other : others) {
            if (other.kind == value.kind) continue;
            at.items[i] = other;
            documents.push_back(write_said(root));
        }
        at.items[i] = value;
        change_kinds(root, at.items[i], documents);
    }
}

JsonValue every_key() {
    return *parse_json(read_file(std::string(SPILE_SOURCE_DIR) + "/tests/job/good/every-key-inches.json"));
}

TEST(Schema, takes_every_good_job) {
    std::vector<std::string> documents, names;
    for (const auto& path : good_jobs()) {
        documents.push_back(without_comments(read_file(path)));
        documents.push_back(write_job(*read_job(read_file(path))));
        names.push_back(path.filename().string());
        names.push_back(path.filename().string() + ", written by Spile");
    }
    const std::vector<std::string> found = complaints(documents);
    for (std::size_t i = 0; i < found.size(); ++i) EXPECT_EQ(found[i], "") << names[i];
}

TEST(Schema, refuses_every_unknown_key_as_the_reader_does) {
    JsonValue job = every_key();
    std::vector<std::string> documents;
    add_unknown_keys(job, job, documents);
    EXPECT_GT(documents.size(), 20u);
    const std::vector<std::string> found = complaints(documents);
    for (std::size_t i = 0; i < found.size(); ++i) {
        EXPECT_NE(found[i], "") << documents[i];
        const Result<Job> read = read_job(documents[i]);
        // Among the edges of a panel a key is the name of an edge.
        EXPECT_TRUE(has_code(read.findings, "unknown-key") || has_code(read.findings, "missing-edge"))
            << documents[i];
    }
}

TEST(Schema, what_the_reader_needs_the_schema_needs) {
    JsonValue job = every_key();
    std::vector<std::string> documents;
    leave_keys_out(job, job, documents);
    EXPECT_GT(documents.size(), 90u);
    const std::vector<std::string> found = complaints(documents);
    for (std::size_t i = 0; i < found.size(); ++i) {
        const Result<Job> read = read_job(documents[i]);
        // That a corner's space or the side to mark is said depends on the rest of the document; the reader alone knows.
        const bool refused =
            has_code(read.findings, "missing-key") && !has_code(read.findings, "mark-side-missing");
        EXPECT_EQ(found[i] != "", refused) << found[i] << "\n" << shown(read.findings) << documents[i];
    }
}

TEST(Schema, what_the_reader_calls_a_wrong_kind_the_schema_refuses) {
    JsonValue job = every_key();
    std::vector<std::string> documents;
    change_kinds(job, job, documents);
    EXPECT_GT(documents.size(), 300u);
    const std::vector<std::string> found = complaints(documents);
    for (std::size_t i = 0; i < found.size(); ++i) {
        const Result<Job> read = read_job(documents[i]);
        EXPECT_NE(found[i], "") << documents[i];
        EXPECT_TRUE(has_stop(read.findings)) << documents[i];
    }
}

TEST(Schema, never_takes_what_the_reader_refuses_for_its_form) {
    const std::set<std::string> of_form = {"unknown-key",   "wrong-type",       "unknown-word",
                                           "missing-key",   "bad-version",      "number-out-of-range",
                                           "newer-version", "key-not-for-mats", "too-deep",
                                           "text-too-long", "not-whole",        "bad-id"};
    std::vector<std::string> documents, names;
    for (const auto& path : jobs_in("tests/bad")) {
        const std::string text = read_file(path);
        const Result<Job> job = read_job(text);
        const bool formal = std::any_of(job.findings.begin(), job.findings.end(), [&](const Finding& f) {
            return of_form.count(f.code) > 0 && f.to_do.find("\"units\"") == f.to_do.npos &&
                   f.to_do.find("\"space\"") == f.to_do.npos;
        });
        if (!formal || without_comments(text).empty()) continue;
        documents.push_back(without_comments(text));
        names.push_back(path.filename().string());
    }
    EXPECT_GT(documents.size(), 12u);
    const std::vector<std::string> found = complaints(documents);
    for (std::size_t i = 0; i < found.size(); ++i) EXPECT_NE(found[i], "") << names[i];
}

// The keys themselves, table by table, in both directions.
const JsonValue& resolved(const JsonValue& schema, const JsonValue& node) {
    const JsonValue* ref = node.find("$ref");
    if (!ref) return node;
    const JsonValue* at = &schema;
    std::istringstream path(ref->text.substr(2));
    for (std::string step; std::getline(path, step, '/');) at = at->find(step);
    return resolved(schema, *at);
}

void compare_keys(const JsonValue& schema, const JsonValue& given, const KeyTable& table) {
    const JsonValue* node = &resolved(schema, given);
    if (const JsonValue* items = node->find("items")) node = &resolved(schema, *items);
    if (const JsonValue* choices = node->find("oneOf"); choices && !node->find("properties"))
        node = &resolved(schema, choices->items[1]);
    const JsonValue* properties = node->find("properties");
    ASSERT_TRUE(properties) << table.what;
    std::vector<std::string> known;
    for (const Key& key : table.keys) {
        if (!key.name) break;
        known.push_back(key.name);
        const JsonValue* inner = properties->find(key.name);
        ASSERT_TRUE(inner) << key.name << " of " << table.what;
        if (key.group)
            compare_keys(schema, key.holds == Holds::named_groups ? *inner->find("additionalProperties") : *inner,
                         *key.group);
    }
    EXPECT_EQ(properties->keys, known) << table.what;
}

TEST(Schema, names_the_keys_of_the_reader_in_the_order_of_the_writer) {
    const Result<JsonValue> schema = parse_json(read_file(schema_path));
    ASSERT_TRUE(schema);
    compare_keys(*schema, *schema, job_keys);
}

}  // namespace
}  // namespace spile
