// What the book holds as JSON, one form for the command line and the server. Lengths in millimetres (`_mm`), moments in
// seconds since 1970 (UTC), money as whole coins beside its text: {"coins": 1250, "text": "12.50 USD"}.
#pragma once

#include <nlohmann/json.hpp>

#include "shop/attachments.h"
#include "shop/ballpark.h"
#include "shop/choice.h"
#include "shop/hours.h"
#include "shop/jobs.h"
#include "shop/papers.h"
#include "shop/payments.h"
#include "shop/people.h"
#include "shop/price_lists.h"
#include "shop/quoting.h"
#include "shop/repeat.h"
#include "shop/stock.h"
#include "shop/totals.h"

namespace spile::shop {

using Json = nlohmann::ordered_json;

Json money_json(Cents amount, const Currency& currency);
/// Papers and payments keep their currency by its code alone; its decimals stand in the price lists. Of the newest list of the
/// book; a currency of two decimals without a name while there is none.
Currency book_currency(Store& store);

Json shown(const Customer& customer);
Json shown(const Boat& boat);
Json shown(const JobHead& job);
Json shown(const RevisionHead& revision);
Json shown(const StateChange& change);
Json shown(const Note& note);
Json shown(const GoodsRow& goods);
Json shown(const Roll& roll);
Json shown(const Offcut& offcut);  ///< with its outline as [[x, y, bulge], ...] in mm
Json shown(const Reservation& reservation);
Json shown(const Movement& movement);
Json shown(const AcceptedLayout& layout);
Json shown(const AttachmentHead& attachment);
Json shown(const StockChoice& choice);
Json shown(const PaperHead& paper, int decimals);
Json shown(const Payment& payment, int decimals);
Json shown(const Account& account, int decimals);
Json shown(const PriceListHead& list);
Json shown(const TicketWork& ticket);
Json shown(const Hours& hours);
Json shown(const Layout& layout);
Json shown(const PricedJob& priced);
Json shown(const CheckSize& size);
Json shown(const Checked& checked);
Json shown(const Ballpark& ballpark);
Json shown(const Totals& totals, int decimals);

template <class T>
Json shown(const std::vector<T>& list) {
    Json json = Json::array();
    for (const T& item : list) json.push_back(shown(item));
    return json;
}

}  // namespace spile::shop
