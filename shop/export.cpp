// Everything as open files, and back.
#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "core/base/text.h"
#include "shop/base64.h"
#include "shop/book_file.h"
#include "shop/database.h"
#include "shop/safe.h"

namespace spile::shop {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::ordered_json;

struct Table {
    std::string name;
    std::vector<std::string> columns;
};

/// In the order in which they were made, so that what is referred to comes first.
std::vector<Table> tables_of(Database& database) {
    std::vector<Table> tables;
    Statement names(
        database,
        "SELECT name FROM sqlite_schema WHERE type='table' AND name NOT LIKE 'sqlite_%' ORDER BY rowid");
    while (names.next()) tables.push_back({names.text(0), {}});
    for (Table& table : tables) {
        Statement columns(database, "SELECT name FROM pragma_table_info(?) ORDER BY cid");
        columns.with(table.name);
        while (columns.next()) table.columns.push_back(columns.text(0));
    }
    return tables;
}

std::string list_of(const std::vector<std::string>& words) {
    std::string list;
    for (const std::string& word : words) list += (list.empty() ? "\"" : ", \"") + word + "\"";
    return list;
}

Json cell_json(const Statement& row, int column) {
    switch (row.kind(column)) {
        case Statement::Kind::whole:
            return row.whole(column);
        case Statement::Kind::number:
            return row.number(column);
        case Statement::Kind::text:
            return row.text(column);
        case Statement::Kind::bytes:
            return Json{{"base64", to_base64(row.text(column))}};
        case Statement::Kind::null:
            return nullptr;
    }
    return nullptr;
}

/// RFC 4180: quotes doubled, fields with commas, quotes or line ends quoted.
std::string cell_csv(const Statement& row, int column) {
    if (row.kind(column) == Statement::Kind::bytes) return std::to_string(row.text(column).size()) + " bytes";
    if (row.kind(column) == Statement::Kind::number) return shortest(row.number(column));
    const std::string text = row.text(column);
    if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
    std::string quoted = "\"";
    for (const char c : text) quoted += c == '"' ? "\"\"" : std::string(1, c);
    return quoted + "\"";
}

class Out {
  public:
    explicit Out(const fs::path& path) : path_(path.string()), out_(path, std::ios::binary) { check(); }
    void put(const std::string& text) {
        out_.write(text.data(), static_cast<std::streamsize>(text.size()));
        check();
    }
    void end() {
        out_.close();
        check();
    }

  private:
    void check() {
        if (!out_)
            refuse("shop-full", path_ + " could not be written.", "Make room, or choose another folder.");
    }
    std::string path_;
    std::ofstream out_;
};

void put_file(const fs::path& path, const std::string& bytes) {
    Out out(path);
    out.put(bytes);
    out.end();
}

std::size_t export_table(Database& database, const Table& table, Out& json, const fs::path& folder) {
    Out csv(folder / (table.name + ".csv"));
    std::string heading;
    for (const std::string& column : table.columns) heading += (heading.empty() ? "" : ",") + column;
    csv.put(heading + "\r\n");
    // The keys of paired devices and of the certificate stay in the book: an export is read by anybody.
    const char* which = table.name == "setting" ? " WHERE name NOT IN ('sessions', 'certificate')" : "";
    Statement rows(database, ("SELECT " + list_of(table.columns) + " FROM \"" + table.name + "\"" + which +
                              (table.columns.size() > 2 ? " ORDER BY 1, 2, 3" : " ORDER BY 1, 2"))
                                 .c_str());
    std::size_t count = 0;
    while (rows.next()) {
        Json row = Json::array();
        std::string line;
        for (int c = 0; c < static_cast<int>(table.columns.size()); ++c) {
            row.push_back(cell_json(rows, c));
            line += (c ? "," : "") + cell_csv(rows, c);
        }
        json.put((count++ ? ",\n" : "\n") + row.dump(-1, ' ', false, Json::error_handler_t::replace));
        csv.put(line + "\r\n");
    }
    csv.end();
    return count;
}

void export_files(Database& database, const fs::path& folder) {
    const auto each = [&](const char* sub, const char* sql) {
        std::error_code error;
        if (!fs::create_directory(folder / sub, error))
            refuse("shop-full", (folder / sub).string() + " cannot be made (" + error.message() + ").",
                   "Make room, or choose another folder.");
        Statement rows(database, sql);
        while (rows.next()) put_file(folder / sub / rows.text(0), rows.text(1));
    };
    each("jobs", "SELECT job || '.json', document FROM job_document ORDER BY job");
    each("papers", "SELECT number, body FROM paper ORDER BY id");
    each("attachments", "SELECT id || '-' || name, body FROM attachment ORDER BY id");
}

[[noreturn]] void refuse_import(const std::string& why) {
    refuse("import-refused", "The export cannot be taken in: " + why + ".",
           "Take the export as it was written, or restore a backup.");
}

void bind_cell(Statement& statement, std::size_t index, const Json& cell, const std::string& where) {
    if (cell.is_null())
        statement.with_at(index, std::optional<Id>());
    else if (cell.is_number_integer())
        statement.with_at(index, cell.get<std::int64_t>());
    else if (cell.is_number())
        statement.with_at(index, cell.get<double>());
    else if (cell.is_string())
        statement.with_at(index, cell.get<std::string>());
    else if (cell.is_object() && cell.contains("base64") && cell["base64"].is_string()) {
        const std::optional<std::string> bytes = from_base64(cell["base64"].get<std::string>());
        if (!bytes) refuse_import(where + " holds bytes that are no base64");
        statement.with_at(index, Bytes{*bytes});
    } else
        refuse_import(where + " holds something that is no value");
}

void import_tables(Database& database, const Json& json) {
    Transaction transaction(database, true);
    database.run("PRAGMA defer_foreign_keys=ON");
    const std::vector<Table> tables = tables_of(database);
    for (const Json& said : json["tables"]) {
        const std::string name = said.value("table", "");
        const auto table =
            std::find_if(tables.begin(), tables.end(), [&](const Table& t) { return t.name == name; });
        if (table == tables.end())
            refuse_import("it has a table \"" + name.substr(0, 40) + "\" that no book has");
        if (!said.contains("columns") || said["columns"] != Json(table->columns))
            refuse_import("the columns of " + name + " are not those of a book");
        std::string marks = "?";
        for (std::size_t i = 1; i < table->columns.size(); ++i) marks += ",?";
        Statement insert(database, ("INSERT INTO \"" + name + "\" VALUES(" + marks + ")").c_str());
        std::size_t number = 0;
        for (const Json& row : said.value("rows", Json::array())) {
            const std::string where = "row " + std::to_string(++number) + " of " + name;
            if (!row.is_array() || row.size() != table->columns.size())
                refuse_import(where + " has another number of values");
            insert.again();
            for (std::size_t i = 0; i < row.size(); ++i) bind_cell(insert, i + 1, row[i], where);
            try {
                insert.run();
            } catch (const Refusal& refusal) {
                if (refusal.finding.code != "book-rule") throw;
                refuse_import(where + " breaks a rule of the book: " + refusal.finding.says);
            }
        }
    }
    Statement loose(database, "PRAGMA foreign_key_check");
    if (loose.next())
        refuse_import("row " + std::to_string(loose.whole(1)) + " of " + loose.text(0) +
                      " refers to a row of " + loose.text(2) + " that is not there");
    transaction.commit();
}

Json read_json(const fs::path& path) {
    std::ifstream in(path, std::ios::binary);
    if (!in) refuse_import(path.string() + " is not there");
    Json json = Json::parse(in, nullptr, false);
    if (!json.is_object() || !json.contains("spile_book") || !json.contains("tables") ||
        !json["tables"].is_array())
        refuse_import(path.string() + " is no export of a book");
    if (json["spile_book"] != book_version())
        refuse_import("it is of book version " + json["spile_book"].dump() + ", this program writes " +
                      std::to_string(book_version()));
    return json;
}

}  // namespace

Result<std::string> export_book(Store& store, const std::string& folder) {
    return reading(store, [&](Database& database) {
        need_nothing(folder);
        std::error_code error;
        if (!fs::create_directories(folder, error))
            refuse("shop-read-only", "The folder " + folder + " cannot be made (" + error.message() + ").",
                   "Choose another folder.");
        try {
            Out json(fs::path(folder) / "tables.json");
            json.put("{\"spile_book\": " + std::to_string(book_version()) + ",\n\"tables\": [");
            std::size_t rows = 0, count = 0;
            for (const Table& table : tables_of(database)) {
                json.put(std::string(count++ ? "," : "") + "\n{\"table\": \"" + table.name +
                         "\", \"columns\": " + Json(table.columns).dump() + ", \"rows\": [");
                rows += export_table(database, table, json, folder);
                json.put("]}");
            }
            json.put("\n]}\n");
            json.end();
            export_files(database, folder);
            return count_of(rows, "row", "rows") + " of " + count_of(count, "table", "tables") + ".";
        } catch (...) {
            fs::remove_all(folder, error);
            throw;
        }
    });
}

Result<std::string> import_book(const std::string& folder, const std::string& to) {
    try {
        need_nothing(to);
        const Json json = read_json(fs::path(folder) / "tables.json");
        const Apart apart(to);
        OpenOptions options;
        options.create = true;
        std::string says;
        {
            Result<Store> made = Store::open(apart.name, options);
            if (!made) throw Refusal{made.findings.front()};
            import_tables(made->database(), json);
            Result<std::string> checked = check_book(*made);
            if (!checked) throw Refusal{checked.findings.front()};
            says = *checked;
            made->database().run("PRAGMA journal_mode=DELETE");
        }
        apart.take_name(to);
        return Result<std::string>::ok(says);
    } catch (Refusal& refusal) {
        return Result<std::string>::refuse(std::move(refusal.finding));
    }
}

}  // namespace spile::shop
