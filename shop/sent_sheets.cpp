#include "shop/sent_sheets.h"

#include "core/base/running_length.h"
#include "core/paper/flow_parts.h"
#include "core/paper/page_frame.h"

namespace spile::shop {
namespace {

using namespace paper;

/// Head of the paper: who writes, to whom, about which boat, on which day.
Flow begun(const SentPaper& p, const std::string& word, const char* customer = "to") {
    FrameText text;
    text.name = word + " " + p.number;
    text.right_1 = p.shop.name;
    text.right_2 = p.day;
    text.foot_left = word + " " + p.number;
    text.foot_right = p.title + (p.boat.empty() ? "" : " \u00b7 " + p.boat);
    Flow flow(p.size, text);
    std::vector<std::vector<std::string>> rows;
    const auto row = [&](const char* name, const std::string& value) {
        if (!value.empty()) rows.push_back({name, value});
    };
    row("from", p.shop.name + (p.shop.address.empty() ? "" : ", " + p.shop.address));
    row(customer, p.customer + (p.address.empty() ? "" : ", " + p.address));
    row("job", p.title);
    row("boat", p.boat);
    draw_table(flow,
               {{"", 1, Anchor::start, Weight::regular, 1}, {"", 5, Anchor::start, Weight::semibold, 4}},
               rows);
    flow.skip(4);
    return flow;
}

Sheet finished(Flow& flow, const SentPaper& p, const char* title, const char* purpose) {
    if (!p.shop.terms.empty()) {
        flow.skip(3);
        own_words(flow, p.shop.terms, 0);
    }
    Sheet sheet;
    sheet.file_stem = p.number;
    sheet.title = std::string(title) + " " + p.number;
    sheet.purpose = purpose;
    sheet.pages = flow.finish();
    return sheet;
}

/// Sums under one another, the last one large.
void sums(Flow& flow, const std::vector<std::vector<std::string>>& rows) {
    draw_table(flow, {{"", 4, Anchor::start, Weight::regular, 2}, {"", 2, Anchor::end, Weight::semibold, 1}},
               rows, type::body);
}

}  // namespace

Sheet quote_sheet(const SentPaper& p, const std::vector<PieceLine>& pieces, const PricedJob& asked,
                  const std::vector<PricedJob>& options, const std::string& valid_until) {
    Flow flow = begun(p, "Quote");
    const Currency& currency = asked.book.currency;
    const auto money = [&](Cents amount) { return money_text(amount, currency); };
    flow.paragraph("A set of " + std::to_string(pieces.size()) + (pieces.size() == 1 ? " piece" : " pieces") +
                   " in " + strong(asked.goods) + ", measured, made and fitted.");
    flow.skip(2);
    std::vector<std::vector<std::string>> rows;
    for (const PieceLine& piece : pieces)
        rows.push_back({std::to_string(piece.number), piece.name, piece.size});
    draw_table(flow,
               {{"piece", 0.5, Anchor::start, Weight::semibold, 1},
                {"", 2.5, Anchor::start, Weight::regular, 2},
                {"finished, largest sizes", 1.6, Anchor::start, Weight::regular, 1}},
               rows);
    flow.heading("What it comes to", 40);
    const Quote& q = asked.quote;
    std::vector<std::vector<std::string>> lines{
        {"The set" + std::string(asked.rush ? ", wanted in a hurry" : ""), money(q.net)}};
    if (asked.book.tax) lines.push_back({"Tax, " + percent_text(asked.book.tax), money(q.tax)});
    lines.push_back({"Together", money(q.total)});
    if (asked.book.deposit)
        lines.push_back({"Deposit with the order, " + percent_text(asked.book.deposit), money(q.deposit)});
    sums(flow, lines);
    if (!options.empty()) {
        flow.heading("In other goods", 20);
        std::vector<std::vector<std::string>> others;
        for (const PricedJob& o : options)
            others.push_back({o.goods, money(o.quote.net), money(o.quote.total)});
        draw_table(flow,
                   {{"goods", 3, Anchor::start, Weight::regular, 2},
                    {"the set", 1.5, Anchor::end, Weight::regular, 1},
                    {"with tax", 1.5, Anchor::end, Weight::semibold, 1}},
                   others);
    }
    flow.skip(3);
    flow.paragraph("Good until " + strong(valid_until) +
                   ", with the lids, doors and joints as they were measured.");
    return finished(flow, p, "Quote", "For the customer: what the set comes to, and until when");
}

Sheet order_sheet(const SentPaper& p, const PricedJob& priced, const std::string& in_stock) {
    Flow flow = begun(p, "Order list", "for");
    flow.paragraph("Goods of one job come from one roll and one lot: say so with the order.");
    if (!in_stock.empty()) flow.paragraph(in_stock);
    std::vector<std::vector<std::string>> rows;
    for (const QuantityLine& line : priced.takeoff.materials)
        rows.push_back({line.what,
                        line.unit == "mm" ? running_length(line.to_buy, p.lengths)
                                          : std::to_string(static_cast<long>(line.to_buy)),
                        line.because});
    draw_table(flow,
               {{"what", 1.6, Anchor::start, Weight::semibold, 3},
                {"to buy", 1.1, Anchor::end, Weight::semibold, 1},
                {"how it came about", 4, Anchor::start, Weight::regular, 8}},
               rows, type::small);
    return finished(flow, p, "Order list", "For the supplier: what the job takes");
}

Sheet invoice_sheet(const SentPaper& p, const InvoiceLines& lines) {
    Flow flow = begun(p, "Invoice");
    const auto money = [&](Cents amount) { return money_text(amount, lines.currency); };
    flow.paragraph("For the set made and fitted, as quoted in " + strong(lines.of) + ".");
    sums(flow, {{"The set", money(lines.net)},
                {"Tax", money(lines.tax)},
                {"Together", money(lines.total)},
                {"Paid until " + p.day, money(lines.paid)},
                {"Still to pay", money(lines.total - lines.paid)}});
    return finished(flow, p, "Invoice", "For the customer: what is to pay");
}

Sheet credit_sheet(const SentPaper& p, const InvoiceLines& lines) {
    Flow flow = begun(p, "Credit note");
    const auto money = [&](Cents amount) { return money_text(amount, lines.currency); };
    flow.paragraph("Invoice " + strong(lines.of) + " is taken back whole.");
    sums(flow, {{"The set", money(lines.net)}, {"Tax", money(lines.tax)}, {"Together", money(lines.total)}});
    return finished(flow, p, "Credit note", "For the customer: an invoice taken back");
}

Sheet care_sheet(const SentPaper& p, const std::string& goods, const std::string& care,
                 const std::string& warranty) {
    Flow flow = begun(p, "Care sheet");
    if (!goods.empty()) flow.paragraph("Goods: " + strong(goods) + ".");
    flow.heading("Looking after it", 30);
    if (!care.empty()) {
        own_words(flow, care, 0);
    } else {
        // Common practice; goods that say otherwise come first.
        for (const char* line :
             {"What the maker of the goods says comes first.",
              "Lift the pieces out to dry, under them too; lay them back dry.",
              "Rinse with fresh water; a soft brush and mild soap. No solvent, no bleach.",
              "Roll face out to store; never fold.",
              "Snaps: lift straight up at the snap, never pull the cloth.",
              "Keep hatches, drains and ways clear; a loose or proud edge trips: put it right or "
              "take the piece out."})
            bullet(flow, line, type::body);
    }
    if (!warranty.empty()) {
        flow.heading("Warranty", 20);
        own_words(flow, warranty, 0);
    }
    return finished(flow, p, "Care sheet", "For the customer: how to look after the set");
}

}  // namespace spile::shop
