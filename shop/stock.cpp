#include "shop/stock.h"

#include <algorithm>

#include "core/base/length.h"
#include "core/base/text.h"
#include "core/job/json_with_lines.h"
#include "shop/rows.h"
#include "shop/stock_rows.h"
#include "shop/words.h"

namespace spile::shop {
namespace {

constexpr const char* kMovementWords[] = {"received",     "cut",         "taken back",  "counted",
                                          "offcut saved", "offcut used", "offcut back", "offcut gone"};
constexpr const char* kRollColumns =
    "roll.id, roll.goods, roll.lot, roll.label, roll.received_um, roll.left_um,"
    " (SELECT coalesce(sum(um),0) FROM reservation WHERE roll=roll.id), roll.received";

Roll roll_from(const Statement& row) {
    return {row.whole(0), row.whole(1), row.text(2),  row.text(3),
            row.whole(4), row.whole(5), row.whole(6), row.whole(7)};
}

GoodsRow goods_from(const Statement& row) {
    return {row.whole(0), row.text(1), row.text(2), row.text(3)};
}

GoodsRow goods_row(Database& database, Id id) {
    Statement row(database, "SELECT id, name, document, notes FROM goods WHERE id=?");
    if (!row.with(id).next()) need_row(database, "goods", "goods", id);
    return goods_from(row);
}

std::string amount_words(std::int64_t um) {
    const double mm = static_cast<double>(um) / 1000;
    return fixed(mm, 1) + " mm (" + fixed(mm / 25.4, 1) + " in)";
}

void check_length(std::int64_t um, bool nothing_too) {
    if (um < (nothing_too ? 0 : 1) || um > kLongestLength_mm * 1000)
        refuse("length-refused",
               "A length of " + amount_words(um) + " is no length of a roll: it must be " +
                   (nothing_too ? "nothing or more" : "more than nothing") + " and at most a kilometre.",
               "Measure the roll again.", {"roll", ""}, {{"length", static_cast<double>(um) / 1000, "mm"}});
}

}  // namespace

const char* movement_word(MovementKind kind) {
    return kMovementWords[static_cast<std::size_t>(kind)];
}

Roll roll_row(Database& database, Id id) {
    Statement row(database, (std::string("SELECT ") + kRollColumns + " FROM roll WHERE id=?").c_str());
    if (!row.with(id).next()) need_row(database, "roll", "roll", id);
    return roll_from(row);
}

void add_movement(Database& database, const Movement& m) {
    Statement(database, "INSERT INTO movement VALUES(NULL,?,?,?,?,?,?,?,?,?,?)")
        .with(database.now(), m.by, static_cast<int>(m.kind), m.goods, or_none(m.roll), or_none(m.offcut),
              or_none(m.job), m.layout, m.um, m.note)
        .run();
}

void add_to_roll(Database& database, Id roll, std::int64_t um) {
    Statement(database, "UPDATE roll SET left_um=left_um+? WHERE id=?").with(um, roll).run();
}

Result<GoodsRow> save_goods(Store& store, const GoodsRow& goods) {
    return writing(store, [&](Database& database) {
        check_text(goods.name, "the name of the goods");
        check_text(goods.notes, "the notes", kNotes_characters, true);
        const Subject subject{"goods", goods.name};
        if (goods.name.empty())
            refuse("name-missing", "Goods need a name.", "Write what they are called.", subject);
        const Result<JsonValue> read = parse_json(goods.document);
        if (!read || has_stop(read.findings) || !read->find("width"))
            refuse("goods-refused", "The goods \"" + goods.name + "\" do not say their width.",
                   "Write them as the group \"goods\" of a job, like {\"width\": 72}.", subject);
        Statement known(database, "SELECT id FROM goods WHERE name=? AND id<>?");
        if (known.with(goods.name, goods.id).next())
            refuse(
                "goods-known",
                "The goods \"" + goods.name + "\" are number " + std::to_string(known.whole(0)) + " already.",
                "Change those, or choose another name: price lists go by it.", subject);
        if (goods.id == 0) {
            Statement(database, "INSERT INTO goods VALUES(NULL,?,?,?,?)")
                .with(goods.name, goods.document, goods.notes, search_text({goods.name, goods.notes}))
                .run();
            return goods_row(database, database.last_id());
        }
        need_row(database, "goods", "goods", goods.id);
        Statement(database, "UPDATE goods SET name=?, document=?, notes=?, search=? WHERE id=?")
            .with(goods.name, goods.document, goods.notes, search_text({goods.name, goods.notes}), goods.id)
            .run();
        return goods_row(database, goods.id);
    });
}

Result<GoodsRow> read_goods(Store& store, Id id) {
    return reading(store, [&](Database& database) { return goods_row(database, id); });
}

Result<std::vector<GoodsRow>> find_goods(Store& store, const std::string& text, std::size_t limit,
                                         std::size_t skip) {
    return reading(store, [&](Database& database) {
        const SearchWords words = search_words(text);
        Statement rows(database,
                       ("SELECT id, name, document, notes FROM goods WHERE 1" + words.sql +
                        " ORDER BY name, id LIMIT " + std::to_string(std::min<std::size_t>(limit, 1000)) +
                        " OFFSET " + std::to_string(std::min<std::size_t>(skip, 1'000'000'000)))
                           .c_str());
        rows.with_list(words.patterns);
        std::vector<GoodsRow> list;
        while (rows.next()) list.push_back(goods_from(rows));
        return list;
    });
}

Result<Done> remove_goods(Store& store, Id id) {
    return writing(store, [&](Database& database) {
        need_row(database, "goods", "goods", id);
        Statement uses(
            database,
            "SELECT (SELECT count(*) FROM roll WHERE goods=?1)+(SELECT count(*) FROM offcut WHERE goods=?1)");
        uses.with(id).next();
        if (uses.whole(0))
            refuse("refers-to-it",
                   "The goods " + std::to_string(id) + " cannot be removed: " +
                       count_of(static_cast<std::size_t>(uses.whole(0)), "roll or offcut is",
                                "rolls and offcuts are") +
                       " of them.",
                   "Keep them; goods no longer sold may say so in their notes.",
                   {"goods", std::to_string(id)});
        Statement(database, "DELETE FROM goods WHERE id=?").with(id).run();
        return Done{};
    });
}

Result<Roll> receive_roll(Store& store, Id goods, const std::string& lot, const std::string& label,
                          std::int64_t length_um, const std::string& by) {
    return writing(store, [&](Database& database) {
        need_row(database, "goods", "goods", goods);
        check_text(lot, "the lot");
        check_text(label, "the label of the roll");
        check_text(by, "the name of who did it");
        check_length(length_um, false);
        Statement known(database, "SELECT id FROM roll WHERE goods=? AND lot=? AND label=?");
        if (known.with(goods, lot, label).next())
            refuse("roll-known",
                   "Roll " + std::to_string(known.whole(0)) + " of these goods already has lot \"" + lot +
                       "\" and label \"" + label + "\".",
                   "Give the new roll a label of its own.", {"roll", std::to_string(known.whole(0))});
        Statement(database, "INSERT INTO roll VALUES(NULL,?,?,?,?,0,?)")
            .with(goods, lot, label, length_um, database.now())
            .run();
        const Id id = database.last_id();
        add_to_roll(database, id, length_um);
        add_movement(database, {0, 0, by, MovementKind::received, goods, id, 0, 0, "", length_um, ""});
        return roll_row(database, id);
    });
}

Result<Roll> read_roll(Store& store, Id roll) {
    return reading(store, [&](Database& database) { return roll_row(database, roll); });
}

Result<std::vector<Roll>> list_rolls(Store& store, Id goods) {
    return reading(store, [&](Database& database) {
        Statement rows(database, (std::string("SELECT ") + kRollColumns +
                                  " FROM roll WHERE ?1=0 OR goods=?1 ORDER BY left_um=0, id")
                                     .c_str());
        rows.with(goods);
        std::vector<Roll> list;
        while (rows.next()) list.push_back(roll_from(rows));
        return list;
    });
}

Result<GoodsStock> stock_of(Store& store, const std::string& goods, Id for_job) {
    return reading(store, [&](Database& database) {
        GoodsStock stock;
        Statement row(database, "SELECT id FROM goods WHERE name=?");
        if (!row.with(goods).next()) return stock;
        stock.known = true;
        Statement rolls(
            database,
            "SELECT count(*), coalesce(max(left_um - (SELECT coalesce(sum(um),0) FROM reservation WHERE"
            " roll=roll.id AND job<>?2)),0) FROM roll WHERE goods=?1 AND left_um>0");
        rolls.with(row.whole(0), for_job).next();
        stock.rolls = static_cast<std::size_t>(rolls.whole(0));
        stock.longest_free_um = rolls.whole(1);
        return stock;
    });
}

Result<Roll> count_roll(Store& store, Id id, std::int64_t left_um, const std::string& note,
                        const std::string& by) {
    return writing(store, [&](Database& database) {
        const Roll roll = roll_row(database, id);
        check_length(left_um, true);
        check_text(note, "the note");
        check_text(by, "the name of who did it");
        if (left_um < roll.reserved_um)
            refuse("reserved",
                   "Jobs have reserved " + amount_words(roll.reserved_um) + " of roll " + std::to_string(id) +
                       ", more than the " + amount_words(left_um) + " that were counted.",
                   "Release a reservation first; its job is short of goods.", {"roll", std::to_string(id)});
        add_to_roll(database, id, left_um - roll.left_um);
        add_movement(database, {0, 0, by, MovementKind::counted, roll.goods, id, 0, 0, "",
                                left_um - roll.left_um, note});
        return roll_row(database, id);
    });
}

namespace {

std::int64_t free_um_of(Database& database, const Roll& roll, Id job) {
    Statement own(database, "SELECT coalesce(sum(um),0) FROM reservation WHERE roll=? AND job=?");
    own.with(roll.id, job).next();
    return roll.left_um - (roll.reserved_um - own.whole(0));
}

}  // namespace

Result<std::int64_t> free_for(Store& store, Id roll, Id job) {
    return reading(store,
                   [&](Database& database) { return free_um_of(database, roll_row(database, roll), job); });
}

void need_free(Database& database, const Roll& roll, Id job, std::int64_t um) {
    const std::int64_t free_um = free_um_of(database, roll, job);
    if (um > free_um)
        refuse("short-of-roll",
               "Roll " + std::to_string(roll.id) + " has " + amount_words(roll.left_um) + " left, of which " +
                   amount_words(roll.left_um - free_um) + " are reserved for others; " + amount_words(um) +
                   " are wanted.",
               "Choose a longer roll, order more of this lot, or lay out anew.",
               {"roll", std::to_string(roll.id)},
               {{"left", static_cast<double>(roll.left_um) / 1000, "mm"},
                {"free", static_cast<double>(free_um) / 1000, "mm"},
                {"wanted", static_cast<double>(um) / 1000, "mm"}});
}

Result<Roll> reserve(Store& store, Id id, Id job, std::int64_t um, const std::string& by) {
    return writing(store, [&](Database& database) {
        const Roll roll = roll_row(database, id);
        need_row(database, "job", "job", job);
        check_length(um, true);
        check_text(by, "the name of who did it");
        need_free(database, roll, job, um);
        Statement(database, "DELETE FROM reservation WHERE roll=? AND job=?").with(id, job).run();
        if (um > 0)
            Statement(database, "INSERT INTO reservation VALUES(?,?,?,?,?)")
                .with(id, job, um, database.now(), by)
                .run();
        return roll_row(database, id);
    });
}

Result<std::vector<Reservation>> list_reservations(Store& store, Id roll) {
    return reading(store, [&](Database& database) {
        Statement rows(database, "SELECT job, um, at, by FROM reservation WHERE roll=? ORDER BY at, job");
        rows.with(roll);
        std::vector<Reservation> list;
        while (rows.next()) list.push_back({rows.whole(0), rows.whole(1), rows.whole(2), rows.text(3)});
        return list;
    });
}

Result<std::vector<Movement>> list_movements(Store& store, Id roll, Id job, std::size_t limit,
                                             std::size_t skip) {
    return reading(store, [&](Database& database) {
        std::string where = " WHERE 1";
        if (roll) where += " AND roll=" + std::to_string(roll);
        if (job) where += " AND job=" + std::to_string(job);
        Statement rows(
            database,
            ("SELECT id, at, by, kind, goods, coalesce(roll,0), coalesce(offcut,0), coalesce(job,0),"
             " layout, um, note FROM movement" +
             where + " ORDER BY id DESC LIMIT " + std::to_string(std::min<std::size_t>(limit, 100'000)) +
             " OFFSET " + std::to_string(std::min<std::size_t>(skip, 1'000'000'000)))
                .c_str());
        std::vector<Movement> list;
        while (rows.next())
            list.push_back({rows.whole(0), rows.whole(1), rows.text(2),
                            static_cast<MovementKind>(rows.whole(3)), rows.whole(4), rows.whole(5),
                            rows.whole(6), rows.whole(7), rows.text(8), rows.whole(9), rows.text(10)});
        return list;
    });
}

Result<std::size_t> audit_stock(Store& store) {
    return reading(store, [&](Database& database) {
        Statement wrong(
            database,
            "SELECT id, left_um, (SELECT coalesce(sum(um),0) FROM movement WHERE roll=roll.id) AS moved,"
            " (SELECT coalesce(sum(um),0) FROM reservation WHERE roll=roll.id) AS held FROM roll"
            " WHERE left_um<>moved OR left_um<0 OR held>left_um ORDER BY id");
        if (wrong.next())
            refuse("stock-wrong",
                   "Roll " + std::to_string(wrong.whole(0)) + " has " + amount_words(wrong.whole(1)) +
                       " left by the book, " + amount_words(wrong.whole(2)) + " by its movements, and " +
                       amount_words(wrong.whole(3)) + " reserved.",
                   "Count the roll and write down what is there.", {"roll", std::to_string(wrong.whole(0))});
        return static_cast<std::size_t>(database.whole("SELECT count(*) FROM roll"));
    });
}

}  // namespace spile::shop
