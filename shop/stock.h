// Goods, rolls, offcuts, what is reserved and what was cut. All lengths in whole micrometres, so that sums are exact.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/geom/outline.h"
#include "core/layout/layout.h"
#include "shop/jobs.h"
#include "shop/store.h"

namespace spile::shop {

/// Goods the shop sells. `document`: the group "goods" of a job file, as JSON text (docs/job-format.md).
struct GoodsRow {
    Id id = 0;  ///< 0: new
    std::string name;
    std::string document;
    std::string notes;  ///< direction, repeat, movement, supplier
};

struct Roll {
    Id id = 0, goods = 0;
    std::string lot, label;  ///< together they stand once for these goods
    std::int64_t received_um = 0;
    std::int64_t left_um = 0;
    std::int64_t reserved_um = 0;  ///< by all jobs
    Seconds received = 0;
};

enum class OffcutState { in_rack, used, gone };

struct Offcut {
    Id id = 0, goods = 0;
    std::string lot;
    Id from_job = 0;
    std::string layout;  ///< the layout it was left by
    Outline outline;     ///< roll space, lower left of its box at the origin, direction along +x
    std::int64_t length_um = 0, width_um = 0;  ///< of its box
    double area_mm2 = 0;
    OffcutState state = OffcutState::in_rack;
    Seconds created = 0;
};

enum class MovementKind {
    received,
    cut,
    taken_back,
    counted,
    offcut_saved,
    offcut_used,
    offcut_back,
    offcut_gone
};
const char* movement_word(MovementKind kind);

struct Movement {
    Id id = 0;
    Seconds at = 0;
    std::string by;
    MovementKind kind = MovementKind::received;
    Id goods = 0, roll = 0, offcut = 0, job = 0;
    std::string layout;
    std::int64_t um = 0;  ///< what the roll gained (received, taken back) or lost (below zero)
    std::string note;
};

/// Adds (id 0) or changes. On bad input: "name-missing", "goods-known" for a name that others have, "goods-refused" when
/// the document is no object with a width, "not-there".
Result<GoodsRow> save_goods(Store& store, const GoodsRow& goods);
Result<GoodsRow> read_goods(Store& store, Id id);
Result<std::vector<GoodsRow>> find_goods(Store& store, const std::string& text, std::size_t limit = 100,
                                         std::size_t skip = 0);
/// On bad input: "refers-to-it" while a roll or an offcut is of it.
Result<Done> remove_goods(Store& store, Id id);

/// On bad input: "length-refused" (nothing, or more than a kilometre), "roll-known" when that lot and label is there
/// already, "not-there".
Result<Roll> receive_roll(Store& store, Id goods, const std::string& lot, const std::string& label,
                          std::int64_t length_um, const std::string& by);
Result<Roll> read_roll(Store& store, Id roll);
/// Of these goods (0: of all), those with something left first.
Result<std::vector<Roll>> list_rolls(Store& store, Id goods = 0);
struct GoodsStock {
    bool known = false;  ///< the shop keeps goods of that name
    std::size_t rolls = 0;
    std::int64_t longest_free_um = 0;  ///< in one piece, what others have reserved left out
};
/// Of the goods of that name, as job `for_job` may use them.
Result<GoodsStock> stock_of(Store& store, const std::string& goods, Id for_job);

/// What a count with the tape found; the difference is a movement. On bad input: "length-refused", "reserved".
Result<Roll> count_roll(Store& store, Id roll, std::int64_t left_um, const std::string& note,
                        const std::string& by);

/// What a job may take of a roll: what is left, less what others have reserved. On bad input: "not-there".
Result<std::int64_t> free_for(Store& store, Id roll, Id job);

/// Sets what a job holds of a roll (0: nothing). On bad input: "short-of-roll" with what is left and free.
Result<Roll> reserve(Store& store, Id roll, Id job, std::int64_t um, const std::string& by);

struct Reservation {
    Id job = 0;
    std::int64_t um = 0;
    Seconds at = 0;
    std::string by;
};
/// Who holds what of a roll, oldest first.
Result<std::vector<Reservation>> list_reservations(Store& store, Id roll);

struct OffcutQuery {
    Id goods = 0;
    std::string lot;
    std::int64_t least_length_um = 0, least_width_um = 0;
    double least_area_mm2 = 0;
    std::size_t limit = 100, skip = 0;
};
/// In the rack, smallest first, so that what is just large enough is offered first.
Result<std::vector<Offcut>> find_offcuts(Store& store, const OffcutQuery& query);
Result<Offcut> read_offcut(Store& store, Id offcut);
/// Thrown away, sold. On bad input: "offcut-not-there" when it is not in the rack.
Result<Offcut> discard_offcut(Store& store, Id offcut, const std::string& note, const std::string& by);

struct NewOffcut {
    Outline outline;  ///< roll space, anywhere
};

/// One length a layout is cut from: a roll or an offcut.
struct CutFrom {
    Id roll = 0, offcut = 0;
    std::int64_t used_um = 0;  ///< of the roll
    std::vector<NewOffcut> left;
};

struct AcceptLayout {
    Id job = 0;
    int base_rev = 0;
    std::string document;      ///< of the job with this layout kept
    std::string layout;        ///< its id: stock moves once for it, however often it is sent
    Id roll = 0;               ///< cut from this roll, or
    Id offcut = 0;             ///< from this offcut
    std::int64_t used_um = 0;  ///< of the roll
    std::vector<NewOffcut> left;
    std::string by;
    std::vector<CutFrom> more = {};  ///< further lengths that the same layout is cut from
};
struct Accepted {
    JobHead job;
    std::vector<Id> offcuts;
};

/// A job revision and its stock movement, both or neither. What this job had reserved, of that roll or another, is released.
/// On bad input: "layout-known", "short-of-roll" (what others have reserved counts as gone), "offcut-not-there",
/// "length-refused", "stock-missing" when neither or both are named, "stock-twice" when a roll or offcut is named twice, "goods-differ" when the document names other goods than those
/// of the roll or offcut, or none; "job-unchecked", and those of append_revision.
Result<Accepted> accept_layout(Store& store, const AcceptLayout& accept);

/// The reverse: the roll is long again, the offcut back in the rack, what was left by the cut is gone; `document` is the job
/// without that layout. On bad input: "layout-not-there", "offcut-used" when something left by it has been cut since, and
/// those of append_revision.
Result<JobHead> take_back_layout(Store& store, const std::string& layout, int base_rev,
                                 const std::string& document, const std::string& by);

struct AcceptedLayout {
    std::string id;
    Id job = 0;
    int rev = 0;  ///< the revision that keeps it
    Id roll = 0, offcut = 0;
    std::int64_t used_um = 0;
    Seconds at = 0, taken_back = 0;  ///< 0: it stands
    std::vector<CutFrom> more = {};  ///< without what they left
};
/// On bad input: "layout-not-there".
Result<AcceptedLayout> read_layout(Store& store, const std::string& layout);
/// Of a job, oldest first, those taken back too.
Result<std::vector<AcceptedLayout>> list_layouts(Store& store, Id job);

/// Newest first. 0: of all.
Result<std::vector<Movement>> list_movements(Store& store, Id roll = 0, Id job = 0, std::size_t limit = 100,
                                             std::size_t skip = 0);

/// Proves the stock: what each roll has left is the sum of its movements, nothing below zero, nothing reserved twice.
/// On bad input: "stock-wrong" for the first roll that does not add up.
Result<std::size_t> audit_stock(Store& store);

}  // namespace spile::shop
