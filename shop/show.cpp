#include "shop/show.h"

#include "shop/offcuts.h"

namespace spile::shop {
namespace {

double mm_of(std::int64_t um) {
    return static_cast<double>(um) / 1000;
}

/// Further lengths of a layout.
Json more_json(const std::vector<CutFrom>& more) {
    Json list = Json::array();
    for (const CutFrom& from : more)
        list.push_back({{"roll", from.roll}, {"offcut", from.offcut}, {"used_mm", mm_of(from.used_um)}});
    return list;
}

const char* group_word(CostLine::Group group) {
    switch (group) {
        case CostLine::Group::material:
            return "material";
        case CostLine::Group::labour:
            return "labour";
        case CostLine::Group::travel:
            return "travel";
    }
    return "";
}

const char* offcut_word(OffcutState state) {
    switch (state) {
        case OffcutState::in_rack:
            return "in the rack";
        case OffcutState::used:
            return "cut";
        case OffcutState::gone:
            return "gone";
    }
    return "";
}

/// In percent, exact to four decimals.
double percent(Millionths share) {
    return static_cast<double>(share) / 10'000;
}

}  // namespace

Json money_json(Cents amount, const Currency& currency) {
    return {{"coins", amount}, {"text", money_text(amount, currency)}};
}

Currency book_currency(Store& store) {
    const Result<std::vector<PriceListHead>> lists = list_price_lists(store);
    if (!lists || lists->empty()) return {"", 2};
    const Result<std::string> newest = price_list_on(store, lists->front().since);
    if (!newest) return {"", 2};
    const Result<ShopPrices> prices = read_prices(*newest);
    return prices ? prices->book.currency : Currency{"", 2};
}

Json shown(const Customer& c) {
    return {{"id", c.id},           {"name", c.name},   {"phone", c.phone},    {"email", c.email},
            {"address", c.address}, {"notes", c.notes}, {"created", c.created}};
}

Json shown(const Boat& b) {
    return {{"id", b.id},
            {"customer", b.customer},
            {"name", b.name},
            {"make", b.make},
            {"model", b.model},
            {"year", b.year},
            {"hull_number", b.hull_number},
            {"berth", b.berth},
            {"notes", b.notes},
            {"created", b.created}};
}

Json shown(const JobHead& j) {
    return {{"id", j.id},
            {"rev", j.rev},
            {"title", j.title},
            {"boat", j.boat_words},
            {"customer", j.customer_words},
            {"state", state_word(j.state)},
            {"promised", j.promised},
            {"customer_id", j.customer},
            {"boat_id", j.boat},
            {"repeat_of", j.repeat_of},
            {"repeat_of_rev", j.repeat_of_rev},
            {"unchecked", j.unchecked},
            {"as_fitted_rev", j.as_fitted_rev},
            {"created", j.created},
            {"changed", j.changed}};
}

Json shown(const RevisionHead& r) {
    return {{"rev", r.rev}, {"at", r.at},       {"by", r.by},
            {"why", r.why}, {"bytes", r.bytes}, {"edits", r.edits}};
}

Json shown(const StateChange& c) {
    return {{"at", c.at}, {"by", c.by}, {"from", state_word(c.from)}, {"to", state_word(c.to)}};
}

Json shown(const Note& n) {
    return {{"id", n.id}, {"at", n.at}, {"by", n.by}, {"text", n.text}};
}

Json shown(const GoodsRow& g) {
    Json document = Json::parse(g.document, nullptr, false, true);
    return {{"id", g.id},
            {"name", g.name},
            {"goods", document.is_discarded() ? Json() : document},
            {"notes", g.notes}};
}

Json shown(const Roll& r) {
    return {{"id", r.id},
            {"goods", r.goods},
            {"lot", r.lot},
            {"label", r.label},
            {"received_mm", mm_of(r.received_um)},
            {"left_mm", mm_of(r.left_um)},
            {"reserved_mm", mm_of(r.reserved_um)},
            {"received", r.received}};
}

Json shown(const Offcut& o) {
    return {{"id", o.id},
            {"goods", o.goods},
            {"lot", o.lot},
            {"length_mm", mm_of(o.length_um)},
            {"width_mm", mm_of(o.width_um)},
            {"area_mm2", o.area_mm2},
            {"state", offcut_word(o.state)},
            {"from_job", o.from_job},
            {"layout", o.layout},
            {"created", o.created},
            {"outline", Json::parse(outline_text(o.outline))}};
}

Json shown(const Reservation& r) {
    return {{"job", r.job}, {"length_mm", mm_of(r.um)}, {"at", r.at}, {"by", r.by}};
}

Json shown(const Movement& m) {
    return {{"id", m.id},         {"at", m.at},
            {"by", m.by},         {"kind", movement_word(m.kind)},
            {"goods", m.goods},   {"roll", m.roll},
            {"offcut", m.offcut}, {"job", m.job},
            {"layout", m.layout}, {"moved_mm", mm_of(m.um)},
            {"note", m.note}};
}

Json shown(const AcceptedLayout& l) {
    return {{"id", l.id},
            {"job", l.job},
            {"rev", l.rev},
            {"roll", l.roll},
            {"offcut", l.offcut},
            {"used_mm", mm_of(l.used_um)},
            {"at", l.at},
            {"taken_back", l.taken_back},
            {"more", more_json(l.more)}};
}

Json shown(const AttachmentHead& a) {
    return {{"id", a.id}, {"job", a.job},     {"name", a.name},  {"media", a.media},
            {"by", a.by}, {"bytes", a.bytes}, {"added", a.added}};
}

Json shown(const StockChoice& c) {
    const char* from = c.offcut ? "offcut" : c.roll ? "roll" : "to buy";
    return {{"from", from},
            {"roll", c.roll},
            {"offcut", c.offcut},
            {"more", more_json(c.more)},
            {"kept_layout", c.kept_layout.empty() ? Json(nullptr) : Json::parse(c.kept_layout)},
            {"lot", c.lot},
            {"other_lot", c.other_lot},
            {"used_mm", c.layout.used_mm},
            {"to_buy_mm", c.to_buy_mm},
            {"taken_mm2", c.taken_mm2},
            {"left_mm2", c.left_mm2},
            {"taken", money_json(c.taken, c.currency)},
            {"left", money_json(c.left, c.currency)},
            {"cost", money_json(c.cost(), c.currency)},
            {"because", c.because}};
}

Json shown(const PaperHead& p, int decimals) {
    const Currency currency{p.currency, decimals};
    return {{"number", p.number},
            {"kind", paper_word(p.kind)},
            {"job", p.job},
            {"rev", p.rev},
            {"at", p.at},
            {"by", p.by},
            {"net", money_json(p.net, currency)},
            {"tax", money_json(p.tax, currency)},
            {"total", money_json(p.total, currency)},
            {"valid_until", p.valid_until},
            {"media", p.media},
            {"bytes", p.bytes}};
}

Json shown(const Payment& p, int decimals) {
    return {{"id", p.id},     {"job", p.job},
            {"day", p.day},   {"amount", money_json(p.amount, {p.currency, decimals})},
            {"note", p.note}, {"by", p.by},
            {"at", p.at}};
}

Json shown(const Account& a, int decimals) {
    const Currency currency{a.currency, decimals};
    return {{"invoiced", money_json(a.invoiced, currency)},
            {"paid", money_json(a.paid, currency)},
            {"owed", money_json(a.owed(), currency)}};
}

Json shown(const PriceListHead& p) {
    return {{"since", p.since}, {"at", p.at}, {"by", p.by}, {"bytes", p.bytes}};
}

Json shown(const TicketWork& ticket) {
    Json counts = Json::object();
    for (const auto& [code, count] : ticket.counts) counts[code] = count;
    return {{"job", ticket.job}, {"title", ticket.title}, {"minutes", ticket.minutes}, {"counts", counts}};
}

Json shown(const Hours& hours) {
    Json times = Json::array(), odd = Json::array();
    for (const auto& [code, time] : hours.times)
        times.push_back({{"code", code},
                         {"per", per_metre(code) ? "metre" : "each"},
                         {"minutes", time.minutes},
                         {"sd_minutes", time.sd_minutes},
                         {"tickets", time.jobs}});
    for (const OddJob& job : hours.odd)
        odd.push_back({{"job", job.job},
                       {"title", job.title},
                       {"written_minutes", job.written_minutes},
                       {"expected_minutes", job.expected_minutes},
                       {"times_doubt", job.times_doubt}});
    return {
        {"times", times}, {"ticket_sd_minutes", hours.ticket_sd_minutes}, {"odd", odd}, {"says", hours.says}};
}

Json shown(const CheckSize& size) {
    return {{"space", size.space}, {"from", size.from},
            {"to", size.to},       {"expected_mm", size.expected_mm},
            {"sd_mm", size.sd_mm}, {"limit_mm", size.limit_mm}};
}

Json shown(const Checked& checked) {
    Json sizes = Json::array();
    for (const CheckedSize& c : checked.sizes) {
        Json size = shown(c.size);
        size["line"] = c.typed;
        size["reads_mm"] = c.typed.empty() ? Json() : Json(c.reads_mm);
        size["agrees"] = c.agrees;
        sizes.push_back(std::move(size));
    }
    return {{"all_agree", checked.all_agree}, {"job", shown(checked.job)}, {"sizes", sizes}};
}

Json shown(const Ballpark& b) {
    return {{"low", money_json(b.low, b.currency)},
            {"high", money_json(b.high, b.currency)},
            {"past_jobs", b.past_jobs},
            {"reasons", b.reasons}};
}

Json shown(const Totals& t, int decimals) {
    Json money = Json::array();
    for (const auto& [code, m] : t.money) {
        const Currency currency{code, decimals};
        money.push_back({{"currency", code},
                         {"net", money_json(m.net, currency)},
                         {"tax", money_json(m.tax, currency)},
                         {"invoiced", money_json(m.invoiced, currency)},
                         {"paid", money_json(m.paid, currency)},
                         {"quoted", money_json(m.quoted, currency)}});
    }
    return {{"from", t.from},
            {"to", t.to},
            {"received_mm", mm_of(t.received_um)},
            {"cut_mm", mm_of(t.cut_um)},
            {"minutes", t.minutes},
            {"money", money},
            {"papers", t.papers},
            {"jobs", t.jobs}};
}

Json shown(const Layout& layout) {
    Json placements = Json::array();
    for (const Placement& p : layout.placements)
        placements.push_back({{"piece", p.piece},
                              {"x_um", p.x_um},
                              {"y_um", p.y_um},
                              {"turns", p.turns},
                              {"stretch", p.stretch}});
    return {{"placements", placements},
            {"used_mm", layout.used_mm},
            {"bought_mm", layout.bought_mm},
            {"bound_mm", layout.bound_mm},
            {"bound_reason", layout.bound_reason},
            {"goods_share", layout.goods_share},
            {"rounds", layout.rounds}};
}

Json shown(const PricedJob& priced) {
    const Quote& q = priced.quote;
    const Currency& currency = priced.book.currency;
    const auto money = [&](Cents amount) { return money_json(amount, currency); };
    double pieces = 0;
    for (const QuantityLine& line : priced.takeoff.work)
        if (line.code == "piece") pieces += line.amount;
    Json lines = Json::array();
    for (const CostLine& line : q.lines)
        lines.push_back({{"group", group_word(line.group)},
                         {"what", line.what},
                         {"amount", line.amount},
                         {"unit", line.unit},
                         {"cost", line.cost ? money(*line.cost) : Json()},
                         {"because", line.because}});
    return {{"goods", priced.goods},
            {"prices_since", priced.book.since},
            {"currency", {{"code", currency.code}, {"decimals", currency.decimals}}},
            {"rush_wanted", priced.rush},
            {"pieces", static_cast<int>(pieces)},
            {"used_mm", priced.layout.used_mm},
            {"bought_mm", priced.layout.bought_mm},
            {"lines", lines},
            {"priced", q.priced},
            {"material", money(q.material)},
            {"labour", money(q.labour)},
            {"travel", money(q.travel)},
            {"cost", money(q.cost)},
            {"price", money(q.price)},
            {"rush", money(q.rush)},
            {"rounding", money(q.rounding)},
            {"net", money(q.net)},
            {"tax", money(q.tax)},
            {"total", money(q.total)},
            {"deposit", money(q.deposit)},
            {"mark_up_percent", percent(q.mark_up)},
            {"margin_percent", percent(q.margin)},
            {"tax_percent", percent(priced.book.tax)},
            {"by_old_rule", money(q.by_old_rule)},
            {"minutes", q.minutes},
            {"minutes_sd", q.minutes_sd},
            {"guesses", q.guesses},
            {"machine_minutes", q.machine_minutes},
            {"valid_days", priced.book.valid_days},
            {"steps", q.steps}};
}

}  // namespace spile::shop
