// Accepting a layout and taking it back: a job revision and its stock movement, both or neither. And the offcuts.
#include <algorithm>
#include <cmath>

#include "core/base/text.h"
#include "core/geom/measure_of.h"
#include "core/job/json_with_lines.h"
#include "shop/job_rows.h"
#include "shop/offcuts.h"
#include "shop/rows.h"
#include "shop/stock_rows.h"
#include "shop/words.h"

namespace spile::shop {
namespace {

constexpr const char* kOffcutColumns =
    "id, goods, lot, coalesce(from_job,0), layout, outline, length_um, width_um, area_mm2, state, created";

constexpr const char* kLayoutColumns =
    "id, job, rev, coalesce(roll,0), coalesce(offcut,0), used_um, at, taken_back";

AcceptedLayout layout_from(const Statement& row) {
    return {row.text(0),  row.whole(1), static_cast<int>(row.whole(2)),
            row.whole(3), row.whole(4), row.whole(5),
            row.whole(6), row.whole(7), {}};
}

/// The lengths after the first.
std::vector<CutFrom> more_of(Database& database, const std::string& layout) {
    Statement rows(database,
                   "SELECT coalesce(roll,0), coalesce(offcut,0), used_um FROM layout_more WHERE layout=?"
                   " ORDER BY position");
    rows.with(layout);
    std::vector<CutFrom> more;
    while (rows.next()) more.push_back({rows.whole(0), rows.whole(1), rows.whole(2), {}});
    return more;
}

Offcut offcut_from(const Statement& row) {
    Offcut o;
    o.id = row.whole(0);
    o.goods = row.whole(1);
    o.lot = row.text(2);
    o.from_job = row.whole(3);
    o.layout = row.text(4);
    if (const auto outline = read_outline(row.text(5))) o.outline = *outline;
    o.length_um = row.whole(6);
    o.width_um = row.whole(7);
    o.area_mm2 = row.number(8);
    o.state = static_cast<OffcutState>(row.whole(9));
    o.created = row.whole(10);
    return o;
}

Offcut offcut_row(Database& database, Id id) {
    Statement row(database, (std::string("SELECT ") + kOffcutColumns + " FROM offcut WHERE id=?").c_str());
    if (!row.with(id).next()) need_row(database, "offcut", "offcut", id);
    return offcut_from(row);
}

Offcut need_in_rack(Database& database, Id id) {
    Offcut offcut = offcut_row(database, id);
    if (offcut.state != OffcutState::in_rack)
        refuse("offcut-not-there",
               "Offcut " + std::to_string(id) + " is " +
                   (offcut.state == OffcutState::used ? "cut already." : "gone."),
               "Choose one that is in the rack.", {"offcut", std::to_string(id)});
    return offcut;
}

void set_state(Database& database, Id offcut, OffcutState state) {
    Statement(database, "UPDATE offcut SET state=? WHERE id=?").with(static_cast<int>(state), offcut).run();
}

Id insert_offcut(Database& database, const Outline& outline, Id goods, const std::string& lot, Id job,
                 const std::string& layout) {
    if (outline.size() < 2)
        refuse("offcut-refused", "An offcut has no outline.", "Give at least its corners.", {"offcut", ""});
    const Box box = box_of(outline);
    Outline moved = outline;
    for (Vertex& v : moved.vertices) v.p = v.p - box.min;
    Statement(database, "INSERT INTO offcut VALUES(NULL,?,?,?,?,?,?,?,?,0,?)")
        .with(goods, lot, or_none(job), layout, outline_text(moved), std::llround(box.width() * 1000),
              std::llround(box.height() * 1000), area_mm2(moved), database.now())
        .run();
    return database.last_id();
}

/// The name of the goods that a job document says; empty when it says none.
std::string goods_of(const std::string& document) {
    const Result<JsonValue> read = parse_json(document);
    const JsonValue* goods = read ? read->find("goods") : nullptr;
    const JsonValue* name = goods ? goods->find("name") : nullptr;
    return name && name->is(JsonValue::Kind::text) ? name->text : "";
}

/// The costliest slip of a rack: another cloth than the one that was laid out. `what`: "Roll 3".
void need_same_goods(Database& database, const std::string& document, Id goods, const std::string& what,
                     const std::string& layout) {
    Statement row(database, "SELECT name FROM goods WHERE id=?");
    row.with(goods).next();
    const std::string there = row.text(0), wanted = goods_of(document);
    if (there == wanted) return;
    refuse(
        "goods-differ",
        what + " is \"" + there + "\"; " +
            (wanted.empty() ? "the job does not name its goods."
                            : "the job is laid out in \"" + wanted + "\"."),
        "Cut from a roll of the job's goods, or choose the goods of this one for the job and lay out anew.",
        {"layout", layout});
}

/// A length that may be cut, and whose it is.
struct Source {
    CutFrom from;
    Id goods = 0;
    std::string lot;

    std::string name() const {
        return from.roll ? "Roll " + std::to_string(from.roll) : "Offcut " + std::to_string(from.offcut);
    }
};

[[noreturn]] void refuse_layout(const char* code, const std::string& layout, std::string says,
                                std::string to_do) {
    refuse(code, std::move(says), std::move(to_do), {"layout", layout});
}

Source need_source(Database& database, const CutFrom& from, Id job, const std::string& layout) {
    if ((from.roll == 0) == (from.offcut == 0))
        refuse("stock-missing", "A length is cut from one roll or from one offcut.", "Name one of the two.",
               {"layout", layout});
    if (from.offcut) {
        const Offcut offcut = need_in_rack(database, from.offcut);
        return {from, offcut.goods, offcut.lot};
    }
    const Roll roll = roll_row(database, from.roll);
    if (from.used_um <= 0)
        refuse("length-refused", "The layout takes no length of the roll.", "Lay out first.",
               {"layout", layout});
    need_free(database, roll, job, from.used_um);
    return {from, roll.goods, roll.lot};
}

std::vector<Source> need_sources(Database& database, const AcceptLayout& accept) {
    std::vector<CutFrom> all{{accept.roll, accept.offcut, accept.used_um, accept.left}};
    all.insert(all.end(), accept.more.begin(), accept.more.end());
    std::vector<Source> sources;
    for (const CutFrom& from : all) {
        for (const Source& before : sources)
            if (before.from.roll == from.roll && before.from.offcut == from.offcut)
                refuse_layout("stock-twice", accept.layout,
                              before.name() + " is named twice for layout " + accept.layout + ".",
                              "Name each roll and offcut once.");
        sources.push_back(need_source(database, from, accept.job, accept.layout));
    }
    return sources;
}

/// The length leaves the stock, and what is left of it comes into the rack.
void cut_source(Database& database, const AcceptLayout& accept, const Source& source, Accepted& done) {
    const CutFrom& from = source.from;
    Movement m{0,         0,           accept.by,  MovementKind::cut, source.goods,
               from.roll, from.offcut, accept.job, accept.layout,     from.roll ? -from.used_um : 0,
               ""};
    if (from.roll) {
        add_to_roll(database, from.roll, -from.used_um);
    } else {
        m.kind = MovementKind::offcut_used;
        set_state(database, from.offcut, OffcutState::used);
    }
    add_movement(database, m);
    m.kind = MovementKind::offcut_saved;
    m.roll = 0;
    m.um = 0;
    for (const NewOffcut& left : from.left) {
        m.offcut = insert_offcut(database, left.outline, source.goods, source.lot, accept.job, accept.layout);
        done.offcuts.push_back(m.offcut);
        add_movement(database, m);
    }
}

}  // namespace

Result<std::vector<Offcut>> find_offcuts(Store& store, const OffcutQuery& query) {
    return reading(store, [&](Database& database) {
        // Found in an index that holds all of this; only those of the page are looked up, outline and all.
        const std::string found = "SELECT id FROM offcut WHERE state=0" +
                                  (query.goods ? " AND goods=" + std::to_string(query.goods) : "") +
                                  " AND length_um>=?1 AND width_um>=?2 AND (?3='' OR lot=?3) AND area_mm2>=?6"
                                  " ORDER BY area_mm2, id LIMIT ?4 OFFSET ?5";
        Statement rows(database, (std::string("SELECT ") + kOffcutColumns + " FROM offcut WHERE id IN (" +
                                  found + ") ORDER BY area_mm2, id")
                                     .c_str());
        rows.with(query.least_length_um, query.least_width_um, query.lot,
                  std::min<std::size_t>(query.limit, 1000), std::min<std::size_t>(query.skip, 1'000'000'000),
                  query.least_area_mm2);
        std::vector<Offcut> list;
        while (rows.next()) list.push_back(offcut_from(rows));
        return list;
    });
}

Result<Offcut> read_offcut(Store& store, Id offcut) {
    return reading(store, [&](Database& database) { return offcut_row(database, offcut); });
}

Result<Offcut> discard_offcut(Store& store, Id id, const std::string& note, const std::string& by) {
    return writing(store, [&](Database& database) {
        const Offcut offcut = need_in_rack(database, id);
        check_text(note, "the note");
        check_text(by, "the name of who did it");
        set_state(database, id, OffcutState::gone);
        add_movement(database, {0, 0, by, MovementKind::offcut_gone, offcut.goods, 0, id, 0, "", 0, note});
        return offcut_row(database, id);
    });
}

Result<Accepted> accept_layout(Store& store, const AcceptLayout& accept) {
    return writing(store, [&](Database& database) {
        check_text(accept.layout, "the id of the layout");
        if (accept.layout.empty())
            refuse_layout("layout-refused", "", "The layout has no id.",
                          "Give every layout an id of its own.");
        Statement known(database, "SELECT job FROM layout WHERE id=?");
        if (known.with(accept.layout).next())
            refuse_layout("layout-known", accept.layout,
                          "Layout " + accept.layout + " of job " + std::to_string(known.whole(0)) +
                              " has been accepted before; the stock moves once.",
                          "Look at the movements of the job; lay out anew for another set.");
        if (read_head(database, accept.job).unchecked)
            refuse("job-unchecked",
                   "Job " + std::to_string(accept.job) +
                       " is a copy for a sister boat, and its check sizes have not agreed yet; nothing is "
                       "cut from it.",
                   "Measure the check sizes aboard and write them down.",
                   {"job", std::to_string(accept.job)});
        const std::vector<Source> sources = need_sources(database, accept);
        Accepted done;
        done.job = insert_revision(
            database, {accept.job, accept.base_rev, accept.document, {}, accept.by, "layout accepted"});
        for (const Source& source : sources)
            need_same_goods(database, accept.document, source.goods, source.name(), accept.layout);
        Statement(database, "INSERT INTO layout VALUES(?,?,?,?,?,?,?,0)")
            .with(accept.layout, accept.job, done.job.rev, or_none(accept.roll), or_none(accept.offcut),
                  accept.roll ? accept.used_um : 0, database.now())
            .run();
        std::int64_t position = 0;
        for (const CutFrom& more : accept.more)
            Statement(database, "INSERT INTO layout_more VALUES(?,?,?,?,?)")
                .with(accept.layout, ++position, or_none(more.roll), or_none(more.offcut),
                      more.roll ? more.used_um : 0)
                .run();
        // The set is cut: what was held for it, of this roll or another, is free again.
        Statement(database, "DELETE FROM reservation WHERE job=?").with(accept.job).run();
        for (const Source& source : sources) cut_source(database, accept, source, done);
        return done;
    });
}

Result<JobHead> take_back_layout(Store& store, const std::string& layout, int base_rev,
                                 const std::string& document, const std::string& by) {
    return writing(store, [&](Database& database) {
        Statement row(
            database,
            "SELECT job, coalesce(roll,0), coalesce(offcut,0), used_um, taken_back FROM layout WHERE id=?");
        if (!row.with(layout).next() || row.whole(4) != 0)
            refuse_layout("layout-not-there", layout,
                          "No layout " + layout + " is accepted" + (row.null(0) ? "." : " any more."),
                          "Look at the movements of the job.");
        const Id job = row.whole(0);
        std::vector<CutFrom> all{{row.whole(1), row.whole(2), row.whole(3), {}}};
        const std::vector<CutFrom> more = more_of(database, layout);
        all.insert(all.end(), more.begin(), more.end());
        Statement left(database, "SELECT id, state, goods FROM offcut WHERE layout=?");
        left.with(layout);
        std::vector<Id> ids;
        while (left.next()) {
            if (static_cast<OffcutState>(left.whole(1)) == OffcutState::used)
                refuse_layout("offcut-used", layout,
                              "Offcut " + std::to_string(left.whole(0)) + ", left by layout " + layout +
                                  ", has been cut since.",
                              "Take that cut back first, or count the roll by hand.");
            if (static_cast<OffcutState>(left.whole(1)) == OffcutState::in_rack) ids.push_back(left.whole(0));
        }
        const JobHead head =
            insert_revision(database, {job, base_rev, document, {}, by, "layout taken back"});
        Movement m{0, 0, by, MovementKind::taken_back, 0, 0, 0, job, layout, 0, ""};
        for (const CutFrom& from : all) {
            m.roll = from.roll;
            m.offcut = from.offcut;
            m.um = from.used_um;
            if (from.roll) {
                m.kind = MovementKind::taken_back;
                m.goods = roll_row(database, from.roll).goods;
                add_to_roll(database, from.roll, from.used_um);
            } else {
                m.kind = MovementKind::offcut_back;
                m.goods = offcut_row(database, from.offcut).goods;
                set_state(database, from.offcut, OffcutState::in_rack);
            }
            add_movement(database, m);
        }
        m.kind = MovementKind::offcut_gone;
        m.roll = 0;
        m.um = 0;
        m.note = "its layout was taken back";
        for (const Id id : ids) {
            set_state(database, id, OffcutState::gone);
            m.offcut = id;
            add_movement(database, m);
        }
        Statement(database, "UPDATE layout SET taken_back=? WHERE id=?").with(database.now(), layout).run();
        return head;
    });
}

Result<AcceptedLayout> read_layout(Store& store, const std::string& layout) {
    return reading(store, [&](Database& database) {
        Statement row(database,
                      (std::string("SELECT ") + kLayoutColumns + " FROM layout WHERE id=?").c_str());
        if (!row.with(layout).next())
            refuse_layout("layout-not-there", layout, "No layout " + layout + " has been accepted.",
                          "Look at the movements of the job.");
        AcceptedLayout found = layout_from(row);
        found.more = more_of(database, layout);
        return found;
    });
}

Result<std::vector<AcceptedLayout>> list_layouts(Store& store, Id job) {
    return reading(store, [&](Database& database) {
        Statement rows(
            database,
            (std::string("SELECT ") + kLayoutColumns + " FROM layout WHERE job=? ORDER BY rev, id").c_str());
        rows.with(job);
        std::vector<AcceptedLayout> list;
        while (rows.next()) list.push_back(layout_from(rows));
        for (AcceptedLayout& layout : list) layout.more = more_of(database, layout.id);
        return list;
    });
}

}  // namespace spile::shop
