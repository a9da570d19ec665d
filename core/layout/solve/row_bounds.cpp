#include "core/layout/solve/row_bounds.h"

#include <algorithm>
#include <map>
#include <numeric>

#include "core/layout/solve/dual_feasible.h"

namespace spile::lay {
namespace {

constexpr std::int64_t kMostAbreast = 24;
constexpr std::int64_t kMostRows = 6;       // whose lengths added up are tried
constexpr std::size_t kMostLengths = 48;    // of different ones
constexpr double kMostProducts = 150'000;   // of shares, for one length tried
constexpr std::size_t kMostFunctions = 48;  // each way
constexpr std::size_t kFewestFunctions = 6;
constexpr double kMoreThanAll = 1 + 1e-9;  // against the error of adding

/// The least that a piece takes along the goods of those widths and more; 0: it may be narrower.
std::int64_t least_along(const InnerPiece& piece, std::int64_t width) {
    std::int64_t least = INT64_MAX;
    for (const auto& way : piece.ways) {
        std::int64_t along = 0;
        for (const InnerRectangle& r : way)
            if (r.across >= width) along = std::max(along, r.along);
        least = std::min(least, along);
    }
    return piece.ways.empty() ? 0 : least;
}

/// Pieces alike are one kind, and so is what each way of theirs has to choose from.
class Shares {
  public:
    Shares(const std::vector<InnerPiece>& pieces, std::int64_t room) : pieces_(pieces), room_(room) {
        for (std::size_t i = 0; i < pieces.size(); ++i) {
            std::size_t k = 0;
            while (k < kinds_.size() && pieces[kinds_[k].of.front()].ways != pieces[i].ways) ++k;
            if (k == kinds_.size()) kinds_.push_back({});
            kinds_[k].of.push_back(i);
        }
        std::vector<std::int64_t> across;
        for (Kind& kind : kinds_)
            for (const auto& way : pieces[kind.of.front()].ways) {
                kind.ways.emplace_back(rectangles_.size(), rectangles_.size() + way.size());
                for (const InnerRectangle& r : way) {
                    rectangles_.push_back(r);
                    across.push_back(r.across);
                    lengths_.push_back(r.along);
                }
            }
        const double fit = kMostProducts / static_cast<double>(std::max<std::size_t>(rectangles_.size(), 1));
        while (most_ > kFewestFunctions && static_cast<double>(most_ * most_) > fit) --most_;
        for (const DualFeasible& f : dual_feasible_for(room, across, most_)) {
            across_.emplace_back();
            for (const InnerRectangle& r : rectangles_) across_.back().push_back(f.share(r.across));
        }
        std::sort(lengths_.begin(), lengths_.end());
        lengths_.erase(std::unique(lengths_.begin(), lengths_.end()), lengths_.end());
    }

    /// Is there no room within that length? Then by which pieces.
    bool too_short(std::int64_t length, std::vector<std::size_t>& which) const {
        std::vector<std::int64_t> along;
        for (const InnerRectangle& r : rectangles_)
            if (r.along <= length) along.push_back(r.along);
        std::vector<double> shares(rectangles_.size()), taken(kinds_.size());
        for (const DualFeasible& f : dual_feasible_for(length, along, most_)) {
            for (std::size_t r = 0; r < rectangles_.size(); ++r)
                shares[r] = rectangles_[r].along > length ? kNever : f.share(rectangles_[r].along);
            for (const std::vector<double>& across : across_) {
                double sum = 0;
                for (std::size_t k = 0; k < kinds_.size(); ++k) {
                    taken[k] = least_of(kinds_[k], across, shares);
                    sum += taken[k] * static_cast<double>(kinds_[k].of.size());
                }
                if (sum <= kMoreThanAll) continue;
                which.clear();
                for (std::size_t k = 0; k < kinds_.size(); ++k)
                    if (taken[k] > 0) which.insert(which.end(), kinds_[k].of.begin(), kinds_[k].of.end());
                std::sort(which.begin(), which.end());
                return true;
            }
        }
        return false;
    }

    /// Lengths just below which a share of some length is larger, in increasing order.
    std::vector<std::int64_t> candidates(std::int64_t least) const {
        std::vector<std::int64_t> some;
        const std::size_t n = lengths_.size(), step = (n + kMostLengths - 1) / kMostLengths;
        for (std::size_t i = 0; i < n; i += std::max<std::size_t>(step, 1))
            some.push_back(lengths_[n - 1 - i]);
        std::vector<std::int64_t> out;
        for (const std::int64_t a : some)
            for (const std::int64_t b : some)
                for (std::int64_t m = 0; m < kMostRows; ++m) {
                    out.push_back(a + m * b);
                    if (m > 1) out.push_back((a + b) * (m + 1) / m);
                }
        std::sort(out.begin(), out.end());
        out.erase(std::unique(out.begin(), out.end()), out.end());
        out.erase(out.begin(), std::upper_bound(out.begin(), out.end(), least));
        return out;
    }

  private:
    static constexpr double kNever = 1e9;  // it cannot lie so

    struct Kind {
        std::vector<std::size_t> of;
        std::vector<std::pair<std::size_t, std::size_t>> ways;  // from and to in rectangles_
    };

    double least_of(const Kind& kind, const std::vector<double>& across,
                    const std::vector<double>& along) const {
        double least = kind.ways.empty() ? 0 : kNever;
        for (const auto& [from, to] : kind.ways) {
            double most = 0;
            for (std::size_t r = from; r < to; ++r) most = std::max(most, across[r] * along[r]);
            least = std::min(least, most);
        }
        return least;
    }

    const std::vector<InnerPiece>& pieces_;
    std::int64_t room_;
    std::size_t most_ = kMostFunctions;
    std::vector<Kind> kinds_;
    std::vector<InnerRectangle> rectangles_;
    std::vector<std::vector<double>> across_;  // by function: the share of every rectangle
    std::vector<std::int64_t> lengths_;
};

}  // namespace

std::vector<std::int64_t> telling_widths(std::int64_t room) {
    std::vector<std::int64_t> out;
    for (std::int64_t k = 2; k <= 6; ++k)
        for (std::int64_t j = 1; j < k; ++j)
            if (std::gcd(j, k) == 1) out.push_back(room * j / k + 1);
    return out;
}

RowBound by_rows(const std::vector<InnerPiece>& pieces, std::int64_t room) {
    RowBound best;
    for (std::int64_t k = 1; k <= kMostAbreast; ++k) {
        const std::int64_t width = room / (k + 1) + 1;
        std::vector<std::pair<std::int64_t, std::size_t>> wide;
        for (std::size_t i = 0; i < pieces.size(); ++i)
            if (const std::int64_t along = least_along(pieces[i], width); along > 0)
                wide.emplace_back(-along, i);
        std::sort(wide.begin(), wide.end());
        const auto abreast = static_cast<std::size_t>(k);
        for (std::size_t rows = 2; (rows - 1) * abreast < wide.size(); ++rows) {
            const std::size_t count = (rows - 1) * abreast + 1;
            std::int64_t length = 0;
            for (std::size_t i = count - rows; i < count; ++i) length -= wide[i].first;
            if (length <= best.length) continue;
            best = {length, {}, abreast, rows};
            // Others as long that fill up the rows belong to it.
            for (std::size_t i = 0; i < wide.size() && i < rows * abreast; ++i)
                if (i < count || wide[i].first == wide[count - 1].first) best.which.push_back(wide[i].second);
            std::sort(best.which.begin(), best.which.end());
        }
    }
    return best;
}

RowBound by_shares(const std::vector<InnerPiece>& pieces, std::int64_t room, std::int64_t least,
                   const std::function<bool()>& stop) {
    RowBound best;
    if (room < 2) return best;
    const Shares shares(pieces, room);
    const std::vector<std::int64_t> all = shares.candidates(std::max<std::int64_t>(least, 2));
    std::vector<std::size_t> which;
    // Just below a candidate its shares are the larger ones.
    const auto proved = [&](std::size_t i) {
        if (!shares.too_short(all[i] - 1, which)) return false;
        best.length = all[i] - 1;
        best.which = which;
        return true;
    };
    // What is too short grows with the length, what is seen to be nearly so: doubling, then halving.
    std::size_t low = 0, high = all.size();  // those before low are proved, high is not
    for (std::size_t step = 1; low < high && !(stop && stop()); step *= 2) {
        const std::size_t next = std::min(low + step, all.size()) - 1;
        if (!proved(next)) {
            high = next;
            break;
        }
        low = next + 1;
    }
    while (low < high && !(stop && stop())) {
        const std::size_t middle = low + (high - low) / 2;
        if (proved(middle))
            low = middle + 1;
        else
            high = middle;
    }
    return best;
}

}  // namespace spile::lay
