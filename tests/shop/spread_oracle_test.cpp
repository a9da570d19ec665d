// The cheapest way over several lengths, held against every way there is: small racks of rectangles as wide as the goods, so that a
// length takes its pieces one behind another and what it comes to is a sum, worked out here anew. Then many short lengths and many
// mats of few sizes, held against a sum over how many of each lie on a length.
#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <optional>
#include <set>

#include "core/layout/check/check.h"
#include "core/layout/solve/solve.h"
#include "shop/spread.h"
#include "tests/layout/pieces.h"

namespace spile::shop {
namespace {

constexpr std::int64_t kWide = 1000, kGap = 5, kStep = 1000, kWasteBelow = 300;

struct Length {
    enum class Kind { offcut, roll, bought } kind;
    char lot;
    std::int64_t mm;  // there is
};
struct Rack {
    std::vector<Length> lengths;
    std::vector<std::int64_t> pieces;  // along
    std::vector<int> space;            // by piece; -1: a mat by itself
    std::vector<LengthPrice> price;
};

Rack random_rack(std::uint64_t seed) {
    lay::Random random(seed);
    Rack rack;
    const auto between = [&](int low, int high) {
        return low + static_cast<int>(random.below(static_cast<std::size_t>(high - low + 1)));
    };
    const int lots = between(1, 2);
    for (int lot = 0; lot < lots; ++lot) {
        const char name = static_cast<char>('A' + lot);
        for (int k = between(0, 2); k > 0; --k)
            rack.lengths.push_back({Length::Kind::offcut, name, between(400, 2200)});
        for (int k = between(0, 1); k > 0; --k)
            rack.lengths.push_back({Length::Kind::roll, name, between(600, 4000)});
    }
    rack.lengths.push_back({Length::Kind::bought, '-', 0});
    const int spaces = between(1, 3);
    for (int k = between(2, 5); k > 0; --k) {
        const bool twin = !rack.pieces.empty() && random.below(4) == 0;
        rack.pieces.push_back(twin ? rack.pieces.back() : between(200, 1100));
        rack.space.push_back(between(-1, spaces - 1));
    }
    rack.price = {{5000 + between(0, 999), kStep * 1000, 0}};
    if (random.below(3) == 0) rack.price.push_back({4000 + between(0, 500), kStep * 1000, 3'000'000});
    return rack;
}

std::int64_t share(std::int64_t amount, std::int64_t of, std::int64_t whole) {
    return (2 * amount * of + whole) / (2 * whole);
}

/// What one length loses; nothing when the pieces are too long for it.
std::optional<std::int64_t> loss_on(const Rack& rack, const Length& length, std::int64_t pieces, int count) {
    const std::int64_t used = pieces + (count + 1) * kGap;
    std::int64_t taken = length.mm, rest = length.mm - used;
    if (length.kind == Length::Kind::bought) {
        taken = (used + kStep - 1) / kStep * kStep;
        rest = taken - used;
    }
    if (rest < 0) return std::nullopt;
    if (length.kind == Length::Kind::roll) {
        // Its end stays on the roll, where it is long enough; nothing of it comes back.
        if (rest >= kWasteBelow) taken = used;
        rest = 0;
    }
    if (rack.price.empty()) {
        // Without a price square centimetres are the coin, to the whole one.
        const std::int64_t twice =
            (length.kind == Length::Kind::offcut ? taken : 2 * taken) - (rest >= kWasteBelow ? rest : 0);
        return share(twice, kWide, 200);
    }
    std::int64_t cents = 0;
    for (const LengthPrice& step : rack.price)
        if (taken * 1000 >= step.from_um) cents = step.cents;
    const std::int64_t whole = share(cents, taken, kStep);
    const std::int64_t left = rest >= kWasteBelow ? share(share(cents, rest, kStep), 1, 2) : 0;
    return (length.kind == Length::Kind::offcut ? share(whole, 1, 2) : whole) - left;
}

/// Money, then how many lengths are cut.
using Sum = std::pair<std::int64_t, int>;

/// One way: the length of every piece. Nothing when it is not allowed.
std::optional<Sum> loss_of(const Rack& rack, const std::vector<std::size_t>& on) {
    for (std::size_t i = 0; i < on.size(); ++i)
        for (std::size_t j = 0; j < i; ++j)
            if (rack.space[i] >= 0 && rack.space[i] == rack.space[j] &&
                rack.lengths[on[i]].lot != rack.lengths[on[j]].lot)
                return std::nullopt;
    Sum all{0, 0};
    for (std::size_t k = 0; k < rack.lengths.size(); ++k) {
        std::int64_t sum = 0;
        int count = 0;
        for (std::size_t i = 0; i < on.size(); ++i)
            if (on[i] == k) sum += rack.pieces[i], ++count;
        if (count == 0) continue;
        const auto own = loss_on(rack, rack.lengths[k], sum, count);
        if (!own) return std::nullopt;
        all.first += *own;
        ++all.second;
    }
    return all;
}

std::optional<Sum> least(const Rack& rack, const std::vector<bool>& allowed) {
    std::optional<Sum> best;
    std::vector<std::size_t> on(rack.pieces.size(), 0);
    while (true) {
        if (std::all_of(on.begin(), on.end(), [&](std::size_t k) { return allowed[k]; }))
            if (const auto loss = loss_of(rack, on); loss && (!best || *loss < *best)) best = loss;
        std::size_t i = 0;
        while (i < on.size() && ++on[i] == rack.lengths.size()) on[i++] = 0;
        if (i == on.size()) return best;
    }
}

struct Tried {
    std::size_t several = 0, with_purchase = 0, lots = 0, none = 0;
};

/// The same rack in the terms of the shop.
struct InShop {
    explicit InShop(const Rack& rack) : goods(goods_of(kWide, kGap)), worth(goods, rack.price) {
        goods.step_mm = kStep;
        worth = Worth(goods, rack.price);
        for (std::size_t i = 0; i < rack.pieces.size(); ++i) {
            pieces.push_back(mat(std::to_string(i), static_cast<double>(rack.pieces[i]), kWide - 2 * kGap));
            if (rack.space[i] >= 0) pieces.back().seen_with = "space " + std::to_string(rack.space[i]);
        }
        offcuts.reserve(rack.lengths.size());
        rolls.reserve(rack.lengths.size());
        for (std::size_t k = 0; k < rack.lengths.size(); ++k) {
            const Length& length = rack.lengths[k];
            const std::string lot = length.kind == Length::Kind::bought ? "" : std::string(1, length.lot);
            const double mm = static_cast<double>(length.mm);
            if (length.kind == Length::Kind::offcut) {
                Offcut offcut;
                offcut.outline = rectangle({0, 0}, {mm, kWide});
                offcut.area_mm2 = mm * kWide;
                offcuts.push_back(offcut);
                lengths.push_back(
                    {{"offcut " + std::to_string(k), lot, 0, offcut.outline}, nullptr, &offcuts.back()});
            } else if (length.kind == Length::Kind::roll) {
                Roll roll;
                roll.left_um = length.mm * 1000;
                rolls.push_back(roll);
                lengths.push_back({{"roll " + std::to_string(k), lot, mm, {}}, &rolls.back(), nullptr});
            } else {
                lengths.push_back({{kToBuy, "", 0, {}}, nullptr, nullptr});
            }
        }
    }
    Goods goods;
    Worth worth;
    std::vector<LayoutPiece> pieces;
    std::vector<Offcut> offcuts;
    std::vector<Roll> rolls;
    std::vector<StockLength> lengths;
};

Sum sum_of(const SpreadSet& set) {
    return {set.loss.money, static_cast<int>(set.lengths.size())};
}

Result<Layout> search(const std::vector<LayoutPiece>& pieces, const Goods& goods, const RunContext& run) {
    SolveOptions options;
    options.rounds = 4;
    return solve_layout(pieces, goods, options, run);
}

TEST(SpreadOracle, NoWayThereIsLosesLess) {
    const LayoutSolver solver = search;
    Tried tried;
    for (std::uint64_t seed = 1; seed <= 300; ++seed) {
        const Rack rack = random_rack(seed);
        const InShop shop(rack);
        Spreading spreading(shop.pieces, shop.goods, shop.lengths, shop.worth, solver, std::nullopt);
        for (const bool buying : {true, false}) {
            std::vector<bool> allowed(rack.lengths.size(), true);
            allowed.back() = buying;
            const auto expected = least(rack, allowed);
            const auto found = spreading.best(allowed);
            ASSERT_EQ(found.has_value(), expected.has_value())
                << "seed " << seed << (buying ? ", buying" : "");
            if (!found) {
                ++tried.none;
                continue;
            }
            EXPECT_EQ(sum_of(*found), *expected) << "seed " << seed << (buying ? ", buying" : "");
            EXPECT_TRUE(check_layout(shop.pieces, shop.goods, found->layout).empty());
            // What is claimed is what it comes to, by the sums of this test.
            std::vector<std::size_t> on;
            for (const Placement& p : found->layout.placements)
                on.push_back(found->lengths[static_cast<std::size_t>(p.stretch)]);
            EXPECT_EQ(loss_of(rack, on), sum_of(*found)) << "seed " << seed;
            std::set<char> lots;
            for (const std::size_t k : found->lengths) lots.insert(rack.lengths[k].lot);
            tried.several += found->lengths.size() > 1;
            tried.lots += lots.size() > 1;
            tried.with_purchase += lots.size() > 1 && lots.count('-');
        }
    }
    // What is asked for does come about.
    EXPECT_GT(tried.several, 100u);
    EXPECT_GT(tried.lots, 50u);
    EXPECT_GT(tried.with_purchase, 30u);
    EXPECT_GT(tried.none, 20u);
}

/// Eight to seventeen short lengths, some of them equal; six to eight mats of one, two or three sizes.
Rack rack_of_short_lengths(std::uint64_t seed) {
    lay::Random random(seed);
    const auto between = [&](int low, int high) {
        return low + static_cast<int>(random.below(static_cast<std::size_t>(high - low + 1)));
    };
    Rack rack;
    const int sizes = between(1, 3), lots = between(1, 4);
    std::vector<std::int64_t> size;
    for (int k = 0; k < sizes; ++k) size.push_back(between(300, 900));
    const int mats = between(6, 8);
    for (int k = 0; k < mats; ++k) {
        rack.pieces.push_back(size[random.below(size.size())]);
        rack.space.push_back(-1);
    }
    for (int lot = 0; lot < lots; ++lot) {
        std::int64_t last = 0;
        for (int k = (between(8, 14) + lots - 1) / lots; k > 0; --k) {
            const bool twin = last > 0 && random.below(4) == 0;
            last = twin ? last : between(250, 1400);
            const auto kind = random.below(3) == 0 ? Length::Kind::offcut : Length::Kind::roll;
            rack.lengths.push_back({kind, static_cast<char>('A' + lot), last});
        }
    }
    rack.lengths.push_back({Length::Kind::bought, '-', 0});
    if (random.below(2) == 0) rack.price = {{5000 + between(0, 999), kStep * 1000, 0}};
    return rack;
}

/// Mats by themselves: length after length, how many of each size lie on it. Without a price cm2 are the coin.
std::optional<Sum> least_by_counts(const Rack& rack, bool buying) {
    std::map<std::int64_t, int> wanted;
    for (const std::int64_t mm : rack.pieces) ++wanted[mm];
    using Counts = std::vector<int>;
    std::vector<std::int64_t> size;
    Counts all;
    for (const auto& [mm, count] : wanted) size.push_back(mm), all.push_back(count);
    std::map<Counts, Sum> reached{{Counts(size.size(), 0), {0, 0}}};
    for (const Length& length : rack.lengths) {
        if (length.kind == Length::Kind::bought && !buying) continue;
        std::map<Counts, Sum> with = reached;
        for (const auto& [before, sum] : reached) {
            Counts here(size.size(), 0);
            while (true) {
                std::size_t i = 0;
                while (i < size.size() && before[i] + ++here[i] > all[i]) here[i++] = 0;
                if (i == size.size()) break;
                std::int64_t mm = 0;
                int count = 0;
                Counts after = before;
                for (std::size_t k = 0; k < size.size(); ++k)
                    mm += here[k] * size[k], count += here[k], after[k] += here[k];
                const auto own = loss_on(rack, length, mm, count);
                if (!own) continue;
                const Sum more{sum.first + *own, sum.second + 1};
                const auto [at, fresh] = with.emplace(after, more);
                if (!fresh && more < at->second) at->second = more;
            }
        }
        reached = std::move(with);
    }
    const auto found = reached.find(all);
    return found == reached.end() ? std::nullopt : std::optional<Sum>(found->second);
}

TEST(SpreadOracle, OfManyShortLengthsAndMatsOfFewSizesNoWayLosesLess) {
    const LayoutSolver solver = search;
    std::size_t many = 0, none = 0;
    for (std::uint64_t seed = 1; seed <= 120; ++seed) {
        const Rack rack = rack_of_short_lengths(seed);
        const InShop shop(rack);
        Spreading spreading(shop.pieces, shop.goods, shop.lengths, shop.worth, solver, std::nullopt);
        for (const bool buying : {true, false}) {
            std::vector<bool> allowed(rack.lengths.size(), true);
            allowed.back() = buying;
            const auto expected = least_by_counts(rack, buying);
            const auto found = spreading.best(allowed);
            ASSERT_EQ(found.has_value(), expected.has_value()) << "seed " << seed;
            if (!found) {
                ++none;
                continue;
            }
            EXPECT_EQ(sum_of(*found), *expected) << "seed " << seed << (buying ? ", buying" : "");
            EXPECT_TRUE(check_layout(shop.pieces, shop.goods, found->layout).empty());
            many += found->lengths.size() > 3;
        }
        EXPECT_FALSE(spreading.gave_up()) << "seed " << seed;
    }
    EXPECT_GT(many, 60u);
    EXPECT_GT(none, 5u);
}

}  // namespace
}  // namespace spile::shop
