// The materials list: what to have on the bench before the first cut, and the work the job takes.
#include "core/base/running_length.h"
#include "core/base/text.h"
#include "core/paper/aboard.h"
#include "core/paper/flow_parts.h"

namespace spile {
namespace {

constexpr double kType = 4.1;  ///< read at a desk

/// An amount as a person orders it: lengths in the job's units (yards or metres beside long ones), areas, counts.
std::string amount_words(double amount, const std::string& unit, const LengthStyle& lengths) {
    if (unit == "mm") {
        const std::string running = running_length(amount, lengths),
                          text = paper::length_words(amount, lengths);
        return running.ends_with(" yd") || running.ends_with(" m") ? text + ", " + running : text;
    }
    if (unit == "mm2")
        return lengths.unit == Unit::inch ? fixed(amount / (304.8 * 304.8), 1) + " sq ft"
                                          : fixed(amount / 1e6, 2) + " m²";
    return fixed(amount, 0) + (unit.empty() ? "" : " " + unit);
}

/// "3/16" as one drawn fraction: sentences of the takeoff are also printed on terminals.
std::string with_fractions(std::string text) {
    const auto digit = [&](std::size_t i) { return i < text.size() && text[i] >= '0' && text[i] <= '9'; };
    for (std::size_t i = text.size(); i-- > 1;)
        if (text[i] == '/' && digit(i - 1) && digit(i + 1)) text.replace(i, 1, "\u2044");
    return text;
}

std::vector<Page> pages_at(const PaperInput& in, double size_mm) {
    using namespace paper;
    Flow flow(in.bench_paper, plain_frame(in, "MATERIALS AND WORK", "Materials and work"));
    const std::string aboard = in.pieces ? aboard_words(in) : "";
    if (!aboard.empty()) flow.paragraph(aboard);

    const std::vector<Column> columns{{"what", 2.1, Anchor::start, Weight::semibold, 3},
                                      {"takes", 1.6, Anchor::start, Weight::regular, 2},
                                      {"have ready", 1.6, Anchor::start, Weight::semibold, 2},
                                      {"how it came about", 4.7, Anchor::start, Weight::regular, 9}};
    const auto rows = [&](const std::vector<QuantityLine>& lines) {
        std::vector<std::vector<std::string>> out;
        for (const QuantityLine& q : lines)
            out.push_back({q.what, amount_words(q.amount, q.unit, in.lengths),
                           amount_words(q.to_buy, q.unit, in.lengths), with_fractions(q.because)});
        return out;
    };
    flow.heading("Materials", 20);
    draw_table(flow, columns, rows(in.takeoff->materials), size_mm);
    if (!in.takeoff->work.empty()) {
        flow.skip(6);
        flow.heading("Work", 20);
        std::vector<std::vector<std::string>> work;
        for (const QuantityLine& q : in.takeoff->work)
            work.push_back({q.what, amount_words(q.amount, q.unit, in.lengths), with_fractions(q.because)});
        draw_table(flow,
                   {{"what", 2.4, Anchor::start, Weight::semibold, 2},
                    {"how much", 2, Anchor::start, Weight::regular, 2},
                    {"how it came about", 4.6, Anchor::start, Weight::regular, 9}},
                   work, size_mm);
    }
    return flow.finish();
}

}  // namespace

Sheet materials_sheet(const PaperInput& in) {
    Sheet sheet;
    sheet.file_stem = "materials";
    sheet.title = "Materials and work";
    sheet.purpose =
        "For whoever orders and plans: goods, binding, thread and fittings, and the work they stand for";
    // A little smaller where that keeps a last few rows off a page of their own.
    sheet.pages = pages_at(in, kType);
    for (const double size : {kType - 0.2, kType - 0.4}) {
        std::vector<Page> pages = pages_at(in, size);
        if (pages.size() < sheet.pages.size()) sheet.pages = std::move(pages);
    }
    return sheet;
}

}  // namespace spile
