#include "server/reply.h"

#include <algorithm>
#include <charconv>
#include <cmath>

#include "core/base/stop.h"
#include "core/base/text.h"
#include "core/job/json_faults.h"

namespace spile::server {
namespace {

std::int64_t whole_of(const std::string& text) {
    std::int64_t value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    return error == std::errc() && end == text.data() + text.size() && value > 0 ? value : 0;
}

struct Status {
    const char* code;
    int status;
};
constexpr Status statuses[] = {
    {"not-there", 404},      {"edit-target", 409},      {"edit-outdated", 409},  {"job-changed-since", 409},
    {"edit-known", 409},     {"refers-to-it", 409},     {"goods-known", 409},    {"roll-known", 409},
    {"price-known", 409},    {"number-taken", 409},     {"layout-stands", 409},  {"layout-known", 409},
    {"invoice-known", 409},  {"layout-not-there", 404}, {"file-too-large", 413}, {"too-many-values", 413},
    {"shop-busy", 503},      {"shop-full", 507},        {"shop-damaged", 500},   {"shop-disk-fault", 500},
    {"shop-read-only", 500}, {"copy-part", 409},
};

}  // namespace

std::int64_t Asked::number(const char* name) const {
    const auto at = path.find(name);
    return at == path.end() ? 0 : whole_of(at->second);
}

std::int64_t Asked::query_number(const char* name, std::int64_t otherwise) const {
    const auto at = query.find(name);
    return at == query.end() ? otherwise : whole_of(at->second);
}

std::string Asked::query_text(const char* name) const {
    const auto at = query.find(name);
    return at == query.end() ? "" : at->second.substr(0, 200);
}

Reply ok(Json json, int status) {
    Json all = {{"ok", true}};
    if (json.is_object()) all.update(json);
    Reply reply;
    reply.status = status;
    reply.body = surface::as_text(all);
    return reply;
}

int status_of(const std::vector<Finding>& findings) {
    if (findings.empty()) return 500;
    for (const Status& s : statuses) {
        if (findings[0].code == s.code) return s.status;
    }
    return 422;
}

Reply refusal(const std::vector<Finding>& findings) {
    Reply reply;
    reply.status = status_of(findings);
    reply.body = surface::as_text({{"ok", false}, {"findings", surface::shown(findings)}});
    return reply;
}

Reply refusal(int status, const char* code, std::string says, std::string to_do) {
    Reply reply =
        refusal(std::vector<Finding>{stop_finding(code, std::move(says), std::move(to_do), {"job", ""})});
    reply.status = status;
    return reply;
}

void Body::fault(std::string says, std::string to_do) {
    faults_.push_back(stop_finding("question", std::move(says), std::move(to_do), {"job", ""}));
}

Reply Body::refusal() const {
    return server::refusal(faults_);
}

std::string Body::text(const char* key) {
    const JsonValue* value = body_.find(key);
    if (value && value->is(JsonValue::Kind::text)) return value->text;
    fault("The question needs " + in_quotes(key) + ", a text.", "Give it.");
    return "";
}

std::string Body::text_or(const char* key, const std::string& otherwise) {
    return has(key) ? text(key) : otherwise;
}

std::int64_t Body::whole(const char* key, std::int64_t least, std::int64_t most) {
    const JsonValue* value = body_.find(key);
    if (value && value->is(JsonValue::Kind::number) && value->number == std::floor(value->number) &&
        value->number >= static_cast<double>(least) && value->number <= static_cast<double>(most))
        return static_cast<std::int64_t>(value->number);
    fault("The question needs " + in_quotes(key) + ", a whole number from " + std::to_string(least) + " to " +
              std::to_string(most) + ".",
          "Give it.");
    return least;
}

std::int64_t Body::whole_or(const char* key, std::int64_t otherwise, std::int64_t least, std::int64_t most) {
    return has(key) ? whole(key, least, most) : otherwise;
}

double Body::number(const char* key, double least, double most) {
    const JsonValue* value = body_.find(key);
    if (value && value->is(JsonValue::Kind::number) && value->number >= least && value->number <= most)
        return value->number;
    fault("The question needs " + in_quotes(key) + ", a number from " + shortest(least) + " to " +
              shortest(most) + ".",
          "Give it.");
    return least;
}

bool Body::flag_or(const char* key, bool otherwise) {
    const JsonValue* value = body_.find(key);
    if (!value) return otherwise;
    if (!value->is(JsonValue::Kind::boolean))
        fault(in_quotes(key) + " is true or false.", "Give one of the two.");
    return value->flag;
}

const JsonValue& Body::value(const char* key) const {
    static const JsonValue nothing;
    const JsonValue* value = body_.find(key);
    return value ? *value : nothing;
}

void Body::only(std::initializer_list<const char*> keys) {
    for (const std::string& key : body_.keys) {
        if (std::none_of(keys.begin(), keys.end(), [&key](const char* k) { return key == k; }))
            fault("The question holds " + in_quotes(key) + ", which means nothing here.", "Leave it out.");
    }
}

}  // namespace spile::server
