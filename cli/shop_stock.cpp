// spile shop goods, roll, offcut, cut: what is in the rack and what becomes of it.
#include "cli/load.h"
#include "cli/shop_call.h"
#include "core/job/edit.h"
#include "shop/choice.h"
#include "shop/cutting.h"

namespace spile::cli {
namespace {

shop::SolverFor solvers() {
    return [](const Job& job) { return solver_for(job); };
}

/// A length as a job file writes it, with its unit.
std::string with_unit(const Call& call, const char* option) {
    const std::string typed = call.text(option);
    const bool own = parse_length(typed, Unit::mm).value && parse_length(typed, Unit::inch).value &&
                     parse_length(typed, Unit::mm)->value == parse_length(typed, Unit::inch)->value;
    return own ? typed : typed + (call.style.unit == Unit::mm ? " mm" : " in");
}

/// The group "goods" of a job file, or one made of the options.
Result<shop::GoodsRow> goods_from(const Call& call) {
    shop::GoodsRow row;
    row.notes = call.text("notes");
    if (call.has("from")) {
        const Result<std::string> text = file_text(call.text("from"), "a job");
        if (!text) return {std::nullopt, text.findings};
        const Result<Job> job = read_job(*text);
        if (!job) return {std::nullopt, job.findings};
        const JsonValue* goods = job->said.find("goods");
        row.name = call.text("NAME", job->goods.name);
        row.document = goods ? write_said(*goods) : "{}";
        return Result<shop::GoodsRow>::ok(std::move(row));
    }
    row.name = call.text("NAME");
    Json goods = {{"name", row.name}};
    const std::pair<const char*, const char*> keys[] = {{"width", "width"},
                                                        {"usable", "usable_width"},
                                                        {"gap", "gap"},
                                                        {"step", "step"},
                                                        {"thickness", "thickness"}};
    for (const auto& [option, key] : keys)
        if (call.has(option)) goods[key] = with_unit(call, option);
    row.document = goods.dump();
    return Result<shop::GoodsRow>::ok(std::move(row));
}

Result<Said> goods_add(const Call& call) {
    const Result<shop::GoodsRow> row = goods_from(call);
    if (!row) return {std::nullopt, row.findings};
    return say(shop::save_goods(*call.store, *row));
}

Result<Said> goods_find(const Call& call) {
    return say(
        shop::find_goods(*call.store, call.text("TEXT"), static_cast<std::size_t>(call.whole("limit", 100))),
        "goods");
}

Result<Said> goods_show(const Call& call) {
    Result<Said> said = say(shop::read_goods(*call.store, call.whole("GOODS")));
    if (!said) return said;
    const auto rolls = shop::list_rolls(*call.store, call.whole("GOODS"));
    if (rolls) said->json["rolls"] = shop::shown(*rolls);
    return said;
}

Result<Said> goods_remove(const Call& call) {
    const auto done = shop::remove_goods(*call.store, call.whole("GOODS"));
    if (!done) return {std::nullopt, done.findings};
    return Result<Said>::ok({Json{{"removed", "goods"}, {"id", call.whole("GOODS")}}});
}

Result<Said> roll_receive(const Call& call) {
    return say(shop::receive_roll(*call.store, call.whole("GOODS"), call.text("lot"), call.text("label"),
                                  call.um("LENGTH"), call.by));
}

Result<Said> roll_list(const Call& call) {
    return say(shop::list_rolls(*call.store, call.whole("GOODS")), "rolls");
}

Result<Said> roll_show(const Call& call) {
    Result<Said> said = say(shop::read_roll(*call.store, call.whole("ROLL")));
    if (!said) return said;
    const auto moved = shop::list_movements(*call.store, call.whole("ROLL"), 0, 1000);
    if (moved) said->json["movements"] = shop::shown(*moved);
    return said;
}

Result<Said> roll_count(const Call& call) {
    return say(
        shop::count_roll(*call.store, call.whole("ROLL"), call.um("LENGTH"), call.text("note"), call.by));
}

Result<Said> roll_reserve(const Call& call) {
    return say(shop::reserve(*call.store, call.whole("ROLL"), call.whole("JOB"), call.um("LENGTH"), call.by));
}

Result<Said> offcut_find(const Call& call) {
    shop::OffcutQuery query;
    query.goods = call.whole("goods");
    query.lot = call.text("lot");
    query.least_length_um = call.um("length");
    query.least_width_um = call.um("width");
    query.limit = static_cast<std::size_t>(call.whole("limit", 100));
    query.skip = static_cast<std::size_t>(call.whole("skip"));
    return say(shop::find_offcuts(*call.store, query), "offcuts");
}

Result<Said> offcut_fits(const Call& call) {
    return say(shop::offcuts_for(*call.store, call.whole("JOB"), solvers()), "offcuts");
}

Result<Said> offcut_show(const Call& call) {
    return say(shop::read_offcut(*call.store, call.whole("OFFCUT")));
}

Result<Said> offcut_discard(const Call& call) {
    return say(shop::discard_offcut(*call.store, call.whole("OFFCUT"), call.text("note"), call.by));
}

Result<Said> choose(const Call& call) {
    return say(shop::stock_choices(*call.store, call.whole("JOB"), solvers()), "choices");
}

Result<Said> cut(const Call& call) {
    shop::ToCut cut;
    cut.job = call.whole("JOB");
    cut.roll = call.whole("roll");
    cut.offcut = call.whole("offcut");
    cut.best = call.has("best");
    cut.again = call.has("again");
    cut.by = call.by;
    const Result<shop::Accepted> done = shop::cut_job(*call.store, cut, solvers());
    if (!done) return {std::nullopt, done.findings};
    const auto layouts = shop::list_layouts(*call.store, cut.job);
    Json json = {
        {"job", shop::shown(done->job)}, {"layouts", shop::shown(*layouts)}, {"offcuts", Json::array()}};
    for (const shop::Id id : done->offcuts) {
        const auto offcut = shop::read_offcut(*call.store, id);
        if (offcut) json["offcuts"].push_back(shop::shown(*offcut));
    }
    return {Said{std::move(json)}, done.findings};
}

Result<Said> uncut(const Call& call) {
    return say(shop::uncut_layout(*call.store, call.text("LAYOUT"), call.by));
}

Result<Said> movements(const Call& call) {
    return say(shop::list_movements(*call.store, call.whole("roll"), call.whole("job"),
                                    static_cast<std::size_t>(call.whole("limit", 100)),
                                    static_cast<std::size_t>(call.whole("skip"))),
               "movements");
}

Result<Said> add_up(const Call& call) {
    const Result<std::size_t> rolls = shop::audit_stock(*call.store);
    if (!rolls) return {std::nullopt, rolls.findings};
    return Result<Said>::ok({Json{{"rolls", *rolls}, {"says", "Every roll is the sum of its movements."}}});
}

}  // namespace

std::vector<Verb> stock_verbs() {
    return {
        {"goods add [NAME] [--from FILE] [--width LENGTH] [--usable LENGTH] [--gap LENGTH] [--step LENGTH] "
         "[--thickness LENGTH] [--notes TEXT]",
         "Goods the shop keeps: as a job file has them (--from), or by their sizes.", goods_add},
        {"goods find [TEXT] [--limit COUNT]", "By name or notes.", goods_find},
        {"goods show GOODS", "With its rolls.", goods_show},
        {"goods remove GOODS", "Only goods without rolls and offcuts.", goods_remove},
        {"roll receive GOODS LENGTH --lot TEXT [--label TEXT]", "A roll came in.", roll_receive},
        {"roll list [GOODS]", "What is left of each, and what is reserved.", roll_list},
        {"roll show ROLL", "With all that came and went.", roll_show},
        {"roll count ROLL LENGTH [--note TEXT]", "What the tape found; the difference is written down.",
         roll_count},
        {"roll reserve ROLL JOB LENGTH", "Holds a length for a job; 0 lets it go.", roll_reserve},
        {"offcut find [--goods GOODS] [--lot TEXT] [--length LENGTH] [--width LENGTH] [--limit COUNT] "
         "[--skip COUNT]",
         "In the rack, smallest first.", offcut_find},
        {"offcut fits JOB", "Offcuts that would hold the whole set of a job.", offcut_fits},
        {"offcut show OFFCUT", "With its outline.", offcut_show},
        {"offcut discard OFFCUT [--note TEXT]", "Sold or thrown away.", offcut_discard},
        {"choose JOB",
         "What the whole set is best cut from: offcuts, rolls and goods to buy, held against each other in "
         "money.",
         choose},
        {"cut JOB [--roll ROLL] [--offcut OFFCUT] [--best] [--again]",
         "Lays the job out, keeps the layout and takes it from that roll or offcut, or from the best in the "
         "rack; what is left goes to the rack. Of a layout kept over several lengths the roll is what was "
         "still to buy.",
         cut},
        {"uncut LAYOUT", "Takes an accepted layout back: the roll is long again.", uncut},
        {"movements [--roll ROLL] [--job JOB] [--limit COUNT] [--skip COUNT]",
         "All that came and went, newest first.", movements},
        {"stock check", "Proves that every roll is the sum of its movements.", add_up},
    };
}

}  // namespace spile::cli
