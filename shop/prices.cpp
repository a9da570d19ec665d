#include "shop/prices.h"

#include <cmath>
#include <nlohmann/json.hpp>
#include <set>

#include "core/base/length.h"
#include "core/base/text.h"
#include "core/job/json_with_lines.h"
#include "shop/database.h"

namespace spile::shop {
namespace {

using Json = nlohmann::ordered_json;

// Below these a length is a slip of the keys.
constexpr double kLeastCloth_mm = 200, kLeastStrip_mm = 5, kLargestJoin_mm = 50, kLeastSpool_mm = 1000;
constexpr std::size_t kMostGoods = 10'000, kMostExtras = 1000, kMostSteps = 100;

class Reader {
  public:
    Result<ShopPrices> read(const std::string& text) {
        // Our own reader first: it names the line of a fault, knows keys that stand twice and no depth without end.
        const Result<JsonValue> looked_at = parse_json(text);
        if (!looked_at || has_stop(looked_at.findings)) return {std::nullopt, looked_at.findings};
        const Json json = Json::parse(text, nullptr, false, true);
        const JsonValue* version = looked_at->find("prices");
        if (!version || !version->is(JsonValue::Kind::number) || version->number != 1) {
            return Result<ShopPrices>::refuse(stop("price-list-refused",
                                                   "This is no price list: it has no \"prices\": 1.",
                                                   "Begin it with \"prices\": 1."));
        }
        known(json, "the price list",
              {"prices",
               "since",
               "units",
               "currency",
               "decimals",
               "goods",
               "binding",
               "thread",
               "tape",
               "snap",
               "stud",
               "screw",
               "screws_per_stud",
               "adhesive",
               "labour_per_hour",
               "travel_per_km",
               "margin",
               "mark_up",
               "tax",
               "deposit",
               "rush",
               "round_to",
               "valid_days",
               "extras",
               "minutes",
               "trips",
               "stitches_per_minute"});
        head(json);
        goods(json);
        PriceBook& book = out_.book;
        if (const Json* b =
                group(json, "binding", {"price", "per", "step", "cloth_width", "strip", "join"})) {
            book.binding = length_price(*b, "binding", "per");
            length(*b, "step", out_.settings.binding_step_mm);
            length(*b, "cloth_width", out_.settings.binding_cloth_mm, kLeastCloth_mm);
            length(*b, "strip", out_.settings.binding_strip_mm, kLeastStrip_mm);
            length(*b, "join", out_.settings.binding_join_mm);
            if (out_.settings.binding_join_mm > kLargestJoin_mm)
                refuse_key("join", "is more than " + fixed(kLargestJoin_mm, 0) + " mm",
                           "Write the seam allowance.");
        }
        if (const Json* t = group(json, "thread", {"price", "spool"})) {
            book.thread = length_price(*t, "thread", "spool");
            length(*t, "spool", out_.settings.spool_mm, kLeastSpool_mm);
        }
        if (const Json* t = group(json, "tape", {"price", "per"}))
            book.tape = length_price(*t, "tape", "per");
        book.snap = money(json, "snap");
        book.stud = money(json, "stud");
        book.screw = money(json, "screw");
        out_.settings.screws_per_stud = number(json, "screws_per_stud", 1, 0, 20);
        book.adhesive_per_m2 = money(json, "adhesive");
        book.labour_per_hour = money(json, "labour_per_hour");
        book.travel_per_km = money(json, "travel_per_km");
        uplift(json);
        book.tax = share(json, "tax", 100);
        book.deposit = share(json, "deposit", 100);
        book.rush = share(json, "rush", 300);
        book.round_to = money(json, "round_to").value_or(0);
        book.valid_days = static_cast<int>(number(json, "valid_days", 30, 1, 3650));
        book.machine_stitches_per_minute = number(json, "stitches_per_minute", 1200, 1, 20'000);
        extras(json);
        minutes(json);
        if (const Json* t = group(json, "trips", {"visits", "km", "minutes", "spaces"})) {
            out_.trips.visits = static_cast<int>(number(*t, "visits", 2, 0, 100));
            out_.trips.km = number(*t, "km", 0, 0, 10'000);
            out_.trips.minutes = number(*t, "minutes", 0, 0, 10'000);
            out_.trips.spaces = static_cast<int>(number(*t, "spaces", 1, 0, 100));
        }
        if (!findings_.empty()) return {std::nullopt, std::move(findings_)};
        return Result<ShopPrices>::ok(std::move(out_));
    }

  private:
    void refuse_key(const std::string& key, const std::string& why, const std::string& to_do) {
        findings_.push_back(stop("price-list-refused",
                                 "\"" + key.substr(0, 60) + "\" of the price list " + why + ".", to_do,
                                 {"price", key}));
    }

    void take(std::vector<Finding> findings, const std::string& key) {
        for (Finding& f : findings) {
            f.says = "\"" + key + "\" of the price list: " + f.says;
            f.subject = {"price", key};
            findings_.push_back(std::move(f));
        }
    }

    void known(const Json& json, const std::string& what, const std::set<std::string>& keys) {
        for (const auto& item : json.items())
            if (!keys.count(item.key()))
                refuse_key(item.key(), "is not known in " + what,
                           "Look for a slip of the keys, or leave it out.");
    }

    const Json* group(const Json& json, const char* key, const std::set<std::string>& keys) {
        if (!json.contains(key)) return nullptr;
        const Json& g = json[key];
        if (!g.is_object()) {
            refuse_key(key, "is no group", "Write it in braces.");
            return nullptr;
        }
        known(g, key, keys);
        return &g;
    }

    std::string said(const Json& json, const char* key) {
        const Json& value = json[key];
        if (value.is_string()) return value.get<std::string>();
        if (value.is_number()) return value.dump();
        refuse_key(key, "is no number and no text", "Write it like \"12.50\".");
        return "";
    }

    std::optional<Cents> money(const Json& json, const char* key) {
        if (!json.contains(key)) return std::nullopt;
        Result<Cents> read = parse_money(said(json, key), out_.book.currency);
        take(std::move(read.findings), key);
        return read.value;
    }

    Millionths share(const Json& json, const char* key, int most) {
        if (!json.contains(key)) return 0;
        Result<Millionths> read = parse_percent(said(json, key), most);
        take(std::move(read.findings), key);
        return read.value.value_or(0);
    }

    double number(const Json& json, const char* key, double otherwise, double least, double most) {
        if (!json.contains(key)) return otherwise;
        const double value = json[key].is_number() ? json[key].get<double>() : NAN;
        if (value >= least && value <= most) return value;
        refuse_key(key,
                   "is no number between " + std::to_string(static_cast<long>(least)) + " and " +
                       std::to_string(static_cast<long>(most)),
                   "Write a number in that range.");
        return otherwise;
    }

    bool length(const Json& json, const char* key, double& mm, double least_mm = 1) {
        if (!json.contains(key)) return false;
        Result<TypedLength> read = parse_length(said(json, key), unit_);
        take(std::move(read.findings), key);
        if (!read) return false;
        if (read->mm() < least_mm) {
            refuse_key(key, "is shorter than " + fixed(least_mm, 0) + " mm, the least it can be",
                       "Write a longer one.");
            return false;
        }
        mm = read->mm();
        return true;
    }

    LengthPrice length_price(const Json& json, const std::string& what, const char* per) {
        LengthPrice price;
        const std::optional<Cents> cents = money(json, "price");
        double mm = 0;
        if (!cents || !length(json, per, mm)) {
            refuse_key(what, std::string("needs a price and the length it is for, \"") + per + "\"",
                       "Write both, like {\"price\": \"1.10\", \"" + std::string(per) + "\": 36}.");
            return price;
        }
        price.cents = *cents;
        price.per_um = std::llround(mm * 1000);
        return price;
    }

    void head(const Json& json) {
        if (json.contains("since")) {
            out_.book.since = said(json, "since");
            take(parse_date(out_.book.since).findings, "since");
        }
        out_.book.currency.code = json.contains("currency") ? said(json, "currency") : "";
        out_.book.currency.decimals = static_cast<int>(number(json, "decimals", 2, 0, 4));
        const std::string units = json.contains("units") ? said(json, "units") : "in";
        if (units != "in" && units != "mm")
            refuse_key("units", "is neither in nor mm", "Write one of the two.");
        unit_ = units == "mm" ? Unit::mm : Unit::inch;
    }

    void goods(const Json& json) {
        if (!json.contains("goods")) return;
        if (!json["goods"].is_array())
            return refuse_key("goods", "is no list", "Write it in square brackets.");
        if (json["goods"].size() > kMostGoods)
            return refuse_key("goods", "holds more than " + std::to_string(kMostGoods), "Write fewer.");
        for (const Json& g : json["goods"]) {
            if (!g.is_object() || !g.contains("name") || !g["name"].is_string()) {
                refuse_key("goods", "holds goods without a name", "Name them as the job does.");
                continue;
            }
            known(g, "goods", {"name", "price", "per", "steps", "goods"});
            const std::string name = g["name"].get<std::string>();
            if (out_.goods.count(name)) {
                refuse_key(name, "stands twice", "Keep one of them.");
                continue;
            }
            std::vector<LengthPrice>& prices = out_.goods[name];
            prices.push_back(length_price(g, name, "per"));
            if (g.contains("steps") && (!g["steps"].is_array() || g["steps"].size() > kMostSteps)) {
                refuse_key(name, "has no list of at most " + std::to_string(kMostSteps) + " price steps",
                           "Write \"steps\" in square brackets.");
                continue;
            }
            for (const Json& s : g.value("steps", Json::array())) {
                LengthPrice step = prices.front();
                double from = 0;
                const std::optional<Cents> cents = s.is_object() ? money(s, "price") : std::nullopt;
                if (!cents || !length(s, "from", from))
                    refuse_key(name, "has a price step without \"from\" and \"price\"", "Write both.");
                else {
                    step.cents = *cents;
                    step.from_um = std::llround(from * 1000);
                    if (step.from_um <= prices.back().from_um)
                        refuse_key(name, "has price steps that do not rise",
                                   "Write them from short to long.");
                    prices.push_back(step);
                }
            }
            if (g.contains("goods")) out_.goods_documents[name] = g["goods"].dump();
        }
    }

    void uplift(const Json& json) {
        if (json.contains("margin") && json.contains("mark_up"))
            return refuse_key("margin", "stands beside \"mark_up\": the two are not the same",
                              "Keep one: 45 % mark-up is 31.03 % margin.");
        if (json.contains("mark_up")) out_.book.uplift = {UpliftKind::mark_up, share(json, "mark_up", 1000)};
        if (json.contains("margin")) out_.book.uplift = {UpliftKind::margin, share(json, "margin", 99)};
    }

    void extras(const Json& json) {
        if (!json.contains("extras")) return;
        if (!json["extras"].is_array() || json["extras"].size() > kMostExtras)
            return refuse_key("extras", "is no list of at most " + std::to_string(kMostExtras),
                              "Write it in square brackets.");
        for (const Json& e : json["extras"]) {
            if (!e.is_object() || !e.contains("name") || !e["name"].is_string()) {
                refuse_key("extras", "holds one without a name", "Name it.");
                continue;
            }
            known(e, "an extra", {"name", "each", "per", "count"});
            Extra extra;
            extra.name = e["name"].get<std::string>();
            const std::optional<Cents> each = money(e, "each");
            if (!each) refuse_key(extra.name, "has no price", "Write \"each\".");
            extra.each = each.value_or(0);
            extra.count = number(e, "count", 1, 0, 10'000);
            const std::string per = e.value("per", "job");
            const std::map<std::string, Extra::Per> words = {{"job", Extra::Per::job},
                                                             {"piece", Extra::Per::piece},
                                                             {"snap", Extra::Per::snap},
                                                             {"square metre", Extra::Per::square_metre}};
            if (!words.count(per))
                refuse_key(extra.name, "is counted by \"" + per + "\"",
                           "Count it by job, piece, snap or square metre.");
            else
                extra.per = words.at(per);
            out_.book.extras.push_back(extra);
        }
    }

    void minutes(const Json& json) {
        if (!json.contains("minutes")) return;
        std::set<std::string> codes;
        for (const auto& [code, time] : out_.book.times) codes.insert(code);
        const Json* m = group(json, "minutes", codes);
        if (!m) return;
        for (const std::string& code : codes)
            out_.book.times[code].minutes =
                number(*m, code.c_str(), out_.book.times[code].minutes, 0, 10'000);
    }

    ShopPrices out_;
    Unit unit_ = Unit::inch;
    std::vector<Finding> findings_;
};

}  // namespace

PriceBook ShopPrices::book_for(const std::string& name) const {
    PriceBook priced = book;
    const auto found = goods.find(name);
    if (found != goods.end()) priced.goods = found->second;
    priced.other_goods = goods;
    return priced;
}

TakeoffSettings ShopPrices::settings_for(TakeoffSettings of_job) const {
    of_job.binding_step_mm = settings.binding_step_mm;
    of_job.binding_cloth_mm = settings.binding_cloth_mm;
    of_job.binding_strip_mm = settings.binding_strip_mm;
    of_job.binding_join_mm = settings.binding_join_mm;
    of_job.spool_mm = settings.spool_mm;
    of_job.screws_per_stud = settings.screws_per_stud;
    return of_job;
}

Result<ShopPrices> read_prices(const std::string& text) {
    try {
        return Reader().read(text);
    } catch (const nlohmann::json::exception&) {
        return Result<ShopPrices>::refuse(
            stop("price-list-refused",
                 "The price list holds a value of the wrong kind, a list for a text or the like.",
                 "Compare it with examples/shop/prices.json."));
    }
}

}  // namespace spile::shop
