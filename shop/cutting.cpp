#include "shop/cutting.h"

#include <algorithm>
#include <cmath>

#include "core/base/running_length.h"
#include "core/job/decisions.h"
#include "core/job/edit.h"
#include "core/layout/check/check.h"
#include "shop/choice.h"
#include "shop/database.h"
#include "shop/offcuts.h"
#include "shop/worked.h"

namespace spile::shop {
namespace {

constexpr std::size_t kMostOffcuts = 100;

Finding no_layout(Id job) {
    return stop("layout-missing", "Job " + std::to_string(job) + " has no layout to cut.",
                "See what stops it: spile check says what to do.", {"job", std::to_string(job)});
}

Result<StockChoice> best_in_rack(Store& store, Id job, const SolverFor& solver) {
    Result<std::vector<StockChoice>> choices = stock_choices(store, job, solver);
    if (!choices) return {std::nullopt, std::move(choices.findings)};
    for (StockChoice& choice : *choices)
        if (choice.in_rack()) return {std::move(choice), std::move(choices.findings)};
    std::vector<Finding> why = std::move(choices.findings);
    why.insert(why.begin(),
               stop("stock-short", "Nothing in the rack holds the set of job " + std::to_string(job) + ".",
                    choices->empty() ? "See what stops its layout." : "Order: " + choices->front().because,
                    {"job", std::to_string(job)}));
    return {std::nullopt, std::move(why)};
}

/// Which length of the rack a stretch of a kept layout names; neither: none. What was to buy is the roll `bought`.
CutFrom named_length(const Stretch& stretch, Id bought) {
    if (to_buy(stretch)) return {bought, 0, 0, {}};
    const std::size_t space = stretch.name.find(' ');
    const std::string kind = stretch.name.substr(0, space);
    const std::string number = space == std::string::npos ? "" : stretch.name.substr(space + 1);
    const bool counts =
        !number.empty() && number.size() < 10 && number.find_first_not_of("0123456789") == std::string::npos;
    const Id id = counts ? std::stoll(number) : 0;
    return {kind == "roll" ? id : 0, kind == "offcut" ? id : 0, 0, {}};
}

/// The lengths that the stretches of a kept layout name, as they lie in the rack; the layout is put on these.
Result<std::vector<CutFrom>> named_lengths(Store& store, Id job, const Worked& worked, Layout& layout,
                                           Id bought) {
    const LengthStyle lengths = lengths_of(worked.job);
    std::vector<CutFrom> all;
    for (Stretch& stretch : layout.stretches) {
        const CutFrom from = named_length(stretch, bought);
        if (from.roll > 0) {
            const Result<Roll> roll = read_roll(store, from.roll);
            if (!roll) return {std::nullopt, roll.findings};
            const Result<std::int64_t> free = free_for(store, from.roll, job);
            if (!free) return {std::nullopt, free.findings};
            stretch = stretch_of(*roll, *free);
        } else if (from.offcut > 0) {
            const Result<Offcut> offcut = read_offcut(store, from.offcut);
            if (!offcut) return {std::nullopt, offcut.findings};
            stretch = stretch_of(*offcut);
        } else if (to_buy(stretch)) {
            return Result<std::vector<CutFrom>>::refuse(
                stop("goods-to-buy",
                     "Of the kept layout " + running_length(layout.to_buy_mm, lengths) + " is still to buy.",
                     "Receive it as a roll, then name that roll to cut from; or choose anew what the job is "
                     "cut from.",
                     {"layout", ""}, {{"to buy", layout.to_buy_mm, "mm"}}));
        } else {
            return Result<std::vector<CutFrom>>::refuse(
                stop("stock-missing",
                     "The kept layout is cut from \"" + stretch.name + "\", which names nothing in the rack.",
                     "Choose anew what the job is cut from.", {"layout", ""}));
        }
        all.push_back(from);
    }
    const std::vector<LayoutPiece> pieces = layout_pieces(worked.job, worked.derived);
    measure_layout(pieces, worked.job.goods, layout);
    std::vector<Finding> refusals = check_layout(pieces, worked.job.goods, layout, lengths);
    if (!refusals.empty()) return {std::nullopt, std::move(refusals)};
    return Result<std::vector<CutFrom>>::ok(std::move(all));
}

/// What each length loses, and what the layout leaves of it.
Result<Done> fill_from(Store& store, const Worked& worked, const Layout& layout, std::vector<CutFrom>& from) {
    const std::vector<LayoutPiece> pieces = layout_pieces(worked.job, worked.derived);
    const Goods& goods = worked.job.goods;
    for (std::size_t k = 0; k < from.size(); ++k) {
        const Layout part = one_stretch(pieces, goods, layout, k);
        std::vector<Outline> left;
        if (from[k].offcut) {
            const Result<Offcut> offcut = read_offcut(store, from[k].offcut);
            if (!offcut) return {std::nullopt, offcut.findings};
            left = left_of(offcut->outline, pieces, part.placements, goods.gap_mm);
        } else if (from[k].roll) {
            // Up to the next whole micrometre: the roll loses no less than what is cut.
            from[k].used_um = static_cast<std::int64_t>(std::ceil(part.used_mm * 1000));
            left = offcuts_of(pieces, goods, part);
        }
        for (Outline& outline : left) from[k].left.push_back({std::move(outline)});
    }
    return Result<Done>::ok({});
}

}  // namespace

Result<Accepted> cut_job(Store& store, const ToCut& asked, const SolverFor& solver) {
    ToCut cut = asked;
    const Result<Revision> revision = read_revision(store, cut.job);
    if (!revision) return {std::nullopt, revision.findings};
    const Result<std::vector<AcceptedLayout>> before = list_layouts(store, cut.job);
    if (!before) return {std::nullopt, before.findings};
    for (const AcceptedLayout& layout : *before)
        if (!cut.again && layout.taken_back == 0)
            return Result<Accepted>::refuse(
                stop("layout-stands",
                     "Layout " + layout.id + " of job " + std::to_string(cut.job) +
                         " has been cut already, " + date_of(layout.at) + ".",
                     "Take it back first; or say that it is cut again, for another set or a spoiled piece.",
                     {"layout", layout.id}));
    const Result<Job> read = read_job(revision->document);
    if (!read) return {std::nullopt, read.findings};
    std::optional<Layout> chosen;
    std::vector<CutFrom> more;
    std::vector<Finding> findings;  // of the choice
    if (cut.best) {
        if (cut.roll || cut.offcut)
            return Result<Accepted>::refuse(stop("stock-missing",
                                                 "A roll or an offcut is named, and the best asked for too.",
                                                 "Ask for one of them.", {"job", std::to_string(cut.job)}));
        Result<StockChoice> best = best_in_rack(store, cut.job, solver);
        if (!best) return {std::nullopt, std::move(best.findings)};
        findings = std::move(best.findings);
        cut.roll = best->roll;
        cut.offcut = best->offcut;
        more = std::move(best->more);
        chosen = std::move(best->layout);
    }
    Result<Worked> worked = worked_out(store, cut.job, cut.offcut || chosen ? LayoutSolver() : solver(*read));
    if (!worked) return {std::nullopt, std::move(worked.findings)};
    if (chosen && worked->rev != revision->rev)
        return Result<Accepted>::refuse(
            stop("job-changed-since",
                 "Job " + std::to_string(cut.job) + " was changed while it was laid out; nothing was cut.",
                 "Choose anew.", {"job", std::to_string(cut.job)}));
    const bool chosen_from_rack = chosen.has_value();
    std::optional<Layout> layout = chosen ? std::move(chosen) : worked->derived.layout;
    std::vector<CutFrom> from{{cut.roll, cut.offcut, 0, {}}};
    from.insert(from.end(), more.begin(), more.end());
    if (cut.offcut && !cut.best) {
        const Result<Offcut> offcut = read_offcut(store, cut.offcut);
        if (!offcut) return {std::nullopt, offcut.findings};
        layout = layout_on(*worked, *offcut, solver(*read));
        if (!layout)
            return Result<Accepted>::refuse(
                stop("offcut-too-small",
                     "No place was found on offcut " + std::to_string(cut.offcut) +
                         " for every piece of job " + std::to_string(cut.job) + ".",
                     "Choose a larger one, or cut from a roll.", {"offcut", std::to_string(cut.offcut)}));
    }
    const bool kept_on_lengths = layout && !cut.offcut && !chosen_from_rack && !layout->stretches.empty();
    const bool buys =
        kept_on_lengths && std::any_of(layout->stretches.begin(), layout->stretches.end(), to_buy);
    // Kept on lengths of the rack: not of this roll, unless it is the one that was to buy.
    if (cut.roll && !chosen_from_rack && !buys) layout = layout_on_a_roll(*worked, solver(*read));
    if (!layout) return Result<Accepted>::refuse(no_layout(cut.job));
    if (kept_on_lengths && (!cut.roll || buys)) {
        Result<std::vector<CutFrom>> named = named_lengths(store, cut.job, *worked, *layout, cut.roll);
        if (!named) return {std::nullopt, std::move(named.findings)};
        from = std::move(*named);
    }
    const Result<Done> filled = fill_from(store, *worked, *layout, from);
    if (!filled) return {std::nullopt, filled.findings};
    const Result<Job> kept = keep_layout(worked->job, *layout);
    if (!kept) return {std::nullopt, kept.findings};
    AcceptLayout accept;
    accept.job = cut.job;
    accept.base_rev = worked->rev;
    accept.document = write_said(settled_form(kept->said));
    accept.layout = std::to_string(cut.job) + "-" + std::to_string(worked->rev);
    accept.roll = from[0].roll;
    accept.offcut = from[0].offcut;
    accept.used_um = from[0].used_um;
    accept.left = std::move(from[0].left);
    accept.more.assign(from.begin() + 1, from.end());
    accept.by = cut.by;
    Result<Accepted> done = accept_layout(store, accept);
    append(done.findings, std::move(findings));
    return done;
}

Result<JobHead> uncut_layout(Store& store, const std::string& layout, const std::string& by) {
    const Result<AcceptedLayout> accepted = read_layout(store, layout);
    if (!accepted) return {std::nullopt, accepted.findings};
    const Result<Revision> revision = read_revision(store, accepted->job);
    if (!revision) return {std::nullopt, revision.findings};
    Result<JsonValue> said = parse_json(revision->document);
    if (!said) return {std::nullopt, std::move(said.findings)};
    said->erase("kept_layout");
    return take_back_layout(store, layout, revision->rev, write_said(settled_form(std::move(*said))), by);
}

Result<std::vector<Offcut>> offcuts_for(Store& store, Id job, const SolverFor& solver) {
    const Result<Revision> revision = read_revision(store, job);
    if (!revision) return {std::nullopt, revision.findings};
    const Result<Job> read = read_job(revision->document);
    if (!read) return {std::nullopt, read.findings};
    Result<Worked> worked = worked_out(store, job, solver(*read));
    if (!worked) return {std::nullopt, std::move(worked.findings)};
    const Result<std::vector<GoodsRow>> goods = find_goods(store, "", 1000);
    if (!goods) return {std::nullopt, goods.findings};
    const auto own = std::find_if(goods->begin(), goods->end(),
                                  [&](const GoodsRow& g) { return g.name == worked->job.goods.name; });
    if (own == goods->end()) return Result<std::vector<Offcut>>::ok({});
    Result<std::vector<Serving>> serving = serving_offcuts(store, *worked, own->id, kMostOffcuts);
    if (!serving) return {std::nullopt, std::move(serving.findings)};
    std::vector<Offcut> fit;
    for (Serving& s : *serving) fit.push_back(std::move(s.offcut));
    return Result<std::vector<Offcut>>::ok(std::move(fit));
}

}  // namespace spile::shop
