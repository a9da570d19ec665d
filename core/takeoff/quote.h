// From quantities to a price: material, hours, travel, what is put on them, tax and deposit. Every line says how.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "core/takeoff/money.h"
#include "core/takeoff/takeoff.h"
#include "core/takeoff/work_times.h"

namespace spile {

/// A price for a length; a spool of thread is one too.
struct LengthPrice {
    Cents cents = 0;
    std::int64_t per_um = 0;   ///< whole micrometres; 0: no price is known
    std::int64_t from_um = 0;  ///< holds from this bought length on (price steps of goods)
};

/// Something that goes into a set and that no line of the drawing shows: studs and screws, non-slip, heel pads.
struct Extra {
    enum class Per { job, piece, snap, square_metre };
    std::string name;
    Cents each = 0;
    Per per = Per::job;
    double count = 1;  ///< for each of what it is counted by
};

/// Everything a price is made from, of one date. A quote keeps the one it was made with.
struct PriceBook {
    std::string since;  ///< "2026-01-01"; may be empty
    Currency currency;
    std::vector<LengthPrice> goods;  ///< of the goods of this job; rising from_um
    LengthPrice binding, thread, tape;
    std::optional<Cents> snap;
    std::optional<Cents> stud, screw;  ///< nothing: they count as part of the snaps, or are an extra
    std::optional<Cents> adhesive_per_m2;
    std::map<std::string, std::vector<LengthPrice>> other_goods;  ///< by name; of applied pieces
    std::vector<Extra> extras;
    std::optional<Cents> labour_per_hour, travel_per_km;
    Uplift uplift;
    Millionths tax = 0, deposit = 0, rush = 0;
    Cents round_to = 0;  ///< the price goes up to a whole one of these
    int valid_days = 30;
    double machine_stitches_per_minute = 1200;
    WorkTimes times = guessed_times();
};

struct Trips {
    int visits = 2;              ///< one to measure, one to fit
    double km = 0, minutes = 0;  ///< one way
    int spaces = 1;
};

struct CostLine {
    enum class Group { material, labour, travel };
    Group group = Group::material;
    std::string what;
    double amount = 0;          ///< what is paid for, in `unit`
    std::string unit;           ///< "mm", "min", "km", "mm2", "" for a count
    std::optional<Cents> cost;  ///< rounded once; nothing while there is no price
    std::string because;
};

struct Quote {
    std::vector<CostLine> lines;
    bool priced = false;  ///< every line has its cost; else the sums below are of no use and 0
    Cents material = 0, labour = 0, travel = 0, cost = 0;
    Cents price = 0;     ///< cost with its mark-up or margin
    Cents rush = 0;      ///< added for a rush
    Cents rounding = 0;  ///< up to a whole `round_to`
    Cents net = 0;       ///< price, rush and rounding: what is asked, before tax
    Cents tax = 0, total = 0, deposit = 0;
    Millionths mark_up = 0, margin = 0;  ///< of `net` on `cost`, both
    Cents by_old_rule = 0;               ///< material / 0.20: an old rule of the trade, for comparison alone
    double minutes = 0;                  ///< of all labour lines
    double minutes_sd = 0;               ///< of what the tickets say; guesses have none
    int guesses = 0;                     ///< labour lines that rest on a guess
    double machine_minutes = 0;
    std::vector<std::string> steps;  ///< how cost became total, one sentence each
};

/// Rounding: each line to a whole coin, the half away from zero, and every sum of rounded lines; margin or mark-up, rush,
/// tax and deposit likewise, each once; `round_to` upwards.
/// `rush`: the job is wanted in a hurry. `lengths`: how lines say a length.
/// On bad input: a stop "price-missing" for each price that is needed and not there, "price-refused" for one below zero;
/// "margin-refused" for a margin of 100 % and more; "price-too-large" for a line or a cost above kLargestPrice. The value is always there, with `priced` false then.
Result<Quote> make_quote(const Takeoff& takeoff, const PriceBook& book, const Trips& trips, bool rush,
                         const LengthStyle& lengths);

}  // namespace spile
