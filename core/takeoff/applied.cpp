#include "core/takeoff/applied.h"

#include <algorithm>
#include <cmath>

#include "core/base/text.h"
#include "core/geom/measure_of.h"
#include "core/geom/tolerance.h"

namespace spile {
namespace {

/// "3a and 3b"; of many how many.
std::string named(const std::vector<const AppliedPiece*>& pieces) {
    constexpr std::size_t most = 8;
    if (pieces.size() > most) return count_of(pieces.size(), "piece", "pieces");
    std::vector<std::string> names;
    for (const AppliedPiece* a : pieces) names.push_back(called(a->piece));
    return list_words(names);
}

void add_goods(const std::vector<const AppliedPiece*>& pieces, const LengthStyle& lengths, Takeoff& takeoff) {
    std::vector<Vec2> sizes;
    for (const AppliedPiece* a : pieces) {
        const Box box = box_of(a->piece.cut.face.outer);
        sizes.push_back({box.width(), box.height()});
    }
    const AppliedPlan& plan = pieces.front()->plan;
    const CountOut out = count_out(sizes, plan.goods_width_mm, lengths);
    std::string because = named(pieces) + " off goods " + plain_length(plan.goods_width_mm, lengths) +
                          " wide: " + list_words(out.rows) + ".";
    if (plan.kind == AppliedPlan::Kind::hook_and_loop)
        because += " Each length is a hook half and a loop half, one for the panel, one for the deck.";
    takeoff.materials.push_back(
        {plan.goods, out.length_mm, "mm", out.length_mm, std::move(because), "other-goods"});
}

}  // namespace

CountOut count_out(const std::vector<Vec2>& sizes_mm, double width_mm, const LengthStyle& lengths) {
    CountOut out;
    std::vector<bool> counted(sizes_mm.size(), false);
    for (std::size_t i = 0; i < sizes_mm.size(); ++i) {
        if (counted[i]) continue;
        const Vec2 size = sizes_mm[i];
        const double noise = noise_mm(std::max({size.x, size.y, width_mm}));
        std::size_t n = 0;
        for (std::size_t k = i; k < sizes_mm.size(); ++k) {
            const Vec2 off = sizes_mm[k] - size;
            if (std::max(std::fabs(off.x), std::fabs(off.y)) > noise) continue;
            counted[k] = true;
            ++n;
        }
        const auto beside = static_cast<std::size_t>(std::max(1.0, std::floor((width_mm + noise) / size.y)));
        const std::size_t rows = (n + beside - 1) / beside;
        const double length = static_cast<double>(rows) * size.x;
        out.length_mm += length;
        std::string row = std::to_string(n) + " of " + plain_length(size.x, lengths) + " x " +
                          plain_length(size.y, lengths);
        if (n > 1 && beside > 1) row += ", " + std::to_string(std::min(n, beside)) + " side by side";
        if (n > 1) row += ", " + plain_length(length, lengths);
        out.rows.push_back(std::move(row));
    }
    return out;
}

void take_applied(const std::vector<AppliedPiece>& applied, const LengthStyle& lengths, Takeoff& takeoff) {
    std::vector<const AppliedPiece*> sewn, stuck;
    double sewn_mm = 0, stuck_mm2 = 0;
    std::vector<bool> counted(applied.size(), false);
    for (std::size_t i = 0; i < applied.size(); ++i) {
        const AppliedPiece& a = applied[i];
        (a.plan.stuck ? stuck : sewn).push_back(&a);
        if (a.plan.stuck) stuck_mm2 += area_mm2(a.set);
        if (a.sewn_on) sewn_mm += a.sewn_on->length_mm;
        if (counted[i] || a.own_goods()) continue;
        std::vector<const AppliedPiece*> alike;
        for (std::size_t k = i; k < applied.size(); ++k) {
            const AppliedPlan& other = applied[k].plan;
            if (other.goods != a.plan.goods || other.goods_width_mm != a.plan.goods_width_mm) continue;
            counted[k] = true;
            alike.push_back(&applied[k]);
        }
        add_goods(alike, lengths, takeoff);
    }
    if (!stuck.empty()) {
        takeoff.materials.push_back({"adhesive", stuck_mm2, "mm2", stuck_mm2,
                                     "Under " + named(stuck) + ", by their finished area.", "adhesive"});
        takeoff.work.push_back({"pieces to stick on", static_cast<double>(stuck.size()), "", 0,
                                named(stuck) + ": marked, cut, set and pressed.", "applied-stuck"});
    }
    if (!sewn.empty())
        takeoff.work.push_back(
            {"pieces to sew on", static_cast<double>(sewn.size()), "", 0,
             named(sewn) + ": marked, cut, set and sewn, " + plain_length(sewn_mm, lengths) + " of seam.",
             "applied-sewn"});
}

}  // namespace spile
