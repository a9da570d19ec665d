#include "shop/settings.h"

#include "core/job/json_with_lines.h"
#include "shop/database.h"
#include "shop/words.h"

namespace spile::shop {

Result<std::optional<std::string>> read_setting(Store& store, const std::string& name) {
    return reading(store, [&](Database& database) {
        Statement row(database, "SELECT value FROM setting WHERE name=?");
        return row.with(name).next() ? std::optional<std::string>(row.text(0)) : std::nullopt;
    });
}

Result<Done> write_setting(Store& store, const std::string& name, const std::string& json) {
    return writing(store, [&](Database& database) {
        check_text(name, "the name of a setting");
        const Result<JsonValue> read = parse_json(json);
        if (!read) throw Refusal{read.findings.front()};
        Statement(database,
                  "INSERT INTO setting VALUES(?,?,?) ON CONFLICT(name) DO UPDATE SET value=excluded.value,"
                  " changed=excluded.changed")
            .with(name, json, database.now())
            .run();
        return Done{};
    });
}

}  // namespace spile::shop
