#include "core/layout/solve/best_place.h"

#include <algorithm>
#include <cmath>
#include <cstring>

#include "core/layout/solve/wide.h"

namespace spile::lay {
namespace {

constexpr int kBlock = 8;               // cells of the raster that compete for one candidate, each way
constexpr int kSteps = 8;               // of following a place downhill
constexpr std::size_t kTries = 5;       // corners tried exactly at each step
constexpr std::size_t kHaltEvery = 16;  // neighbours, whose depths may have to be worked out first
constexpr double kReach = 3;  // cells from a neighbour's surface within which it is looked at while following

constexpr int kWide = 8;  // numbers added at a time: whole vectors, so that no row has a remainder
using Wide = float __attribute__((vector_size(kWide * sizeof(float))));
static_assert(kWide <= FitField::kMargin && kWide <= kBlock);

SPILE_WIDE void add_rasters(float* sum, int to_stride, const RasterPart* parts, std::size_t count) {
    for (std::size_t k = 0; k < count; ++k) {
        const RasterPart part = parts[k];
        const Wide weight = Wide{} + part.weight;
        float* __restrict to = sum + part.to;
        const float* __restrict from = part.from;
        for (int j = 0; j < part.rows; ++j) {
            for (int i = 0; i < part.wides; ++i) {
                Wide a, b;
                std::memcpy(&a, to + i * kWide, sizeof a);
                std::memcpy(&b, from + i * kWide, sizeof b);
                a += weight * b;
                std::memcpy(to + i * kWide, &a, sizeof a);
            }
            to += to_stride;
            from += part.stride;
        }
    }
}

/// Least value of every block of kBlock by kBlock, row by row. Requires: stride a multiple of kBlock, padding high.
SPILE_WIDE void least_of_blocks(const float* __restrict from, int stride, int rows, float* __restrict column,
                                float* __restrict out) {
    for (int j0 = 0; j0 < rows; j0 += kBlock) {
        const int count = rows - j0 < kBlock ? rows - j0 : kBlock;
        for (int i = 0; i < stride; ++i) column[i] = from[i];
        for (int j = 1; j < count; ++j)
            for (int i = 0; i < stride; ++i) {
                const float v = from[j * stride + i];
                column[i] = v < column[i] ? v : column[i];
            }
        for (int i = 0; i < stride; i += kBlock) {
            float least = column[i];
            for (int k = 1; k < kBlock; ++k) least = column[i + k] < least ? column[i + k] : least;
            *out++ = least;
        }
        from += kBlock * stride;
    }
}

}  // namespace

PlaceFinder::PlaceFinder(const FieldTable& fields, std::size_t candidates, std::function<bool()> halt)
    : fields_(fields), candidates_(candidates), halt_(std::move(halt)) {}

PlaceFinder::Range PlaceFinder::range(int shape, double length) const {
    const IBox& b = fields_.problem().boxes[shape];
    return {-static_cast<double>(b.min_x), -static_cast<double>(b.min_y),
            length - static_cast<double>(b.max_x), static_cast<double>(fields_.problem().width - b.max_y)};
}

void PlaceFinder::gather(const Places& places, int item, const float* weights, Turn& turn) const {
    const double reach = kReach * fields_.cell();
    const Range& range = turn.range;
    turn.neighbours.clear();
    for (std::size_t j = 0; j < places.size(); ++j) {
        if (static_cast<int>(j) == item) continue;
        if (j % kHaltEvery == 0 && halt_ && halt_()) return;
        const DBox& box = fields_.box(places[j].shape, turn.shape);
        const DPoint at = places[j].at;
        if (at.x + box.max_x + reach <= range.min_x || at.x + box.min_x - reach >= range.max_x ||
            at.y + box.max_y + reach <= range.min_y || at.y + box.min_y - reach >= range.max_y)
            continue;
        turn.neighbours.push_back({{at.x + box.min_x - reach, at.y + box.min_y - reach,
                                    at.x + box.max_x + reach, at.y + box.max_y + reach},
                                   at,
                                   weights[j],
                                   &fields_.field(places[j].shape, turn.shape)});
    }
}

void PlaceFinder::add_up(const Turn& turn) {
    const Range& range = turn.range;
    const double per_cell = 1 / fields_.cell();
    nx_ = static_cast<int>(std::floor((range.max_x - range.min_x) * per_cell)) + 1;
    ny_ = static_cast<int>(std::floor((range.max_y - range.min_y) * per_cell)) + 1;
    // Rows are added in whole vectors, which may reach beyond nx_; what they leave there is overwritten at the end.
    stride_ = (nx_ + kWide - 1 + kBlock - 1) / kBlock * kBlock;
    sum_.assign(static_cast<std::size_t>(stride_) * static_cast<std::size_t>(ny_), 0.0F);
    parts_.clear();
    for (const Neighbour& n : turn.neighbours) {
        const FitField::Raster r = n.field->raster();
        const int i0 = static_cast<int>(std::floor((n.at.x - range.min_x) * per_cell + 0.5)) + r.x0;
        const int j0 = static_cast<int>(std::floor((n.at.y - range.min_y) * per_cell + 0.5)) + r.y0;
        const int from_i = std::max(0, -i0), to_i = std::min(r.nx, nx_ - i0);
        const int from_j = std::max(0, -j0), to_j = std::min(r.ny, ny_ - j0);
        if (to_i <= from_i || to_j <= from_j) continue;
        parts_.push_back({r.values + from_j * r.stride() + from_i, (from_j + j0) * stride_ + i0 + from_i,
                          r.stride(), to_j - from_j, (to_i - from_i + kWide - 1) / kWide, n.weight});
    }
    add_rasters(sum_.data(), stride_, parts_.data(), parts_.size());
    for (int row = 0; row < ny_; ++row)
        std::fill(sum_.begin() + row * stride_ + nx_, sum_.begin() + (row + 1) * stride_, 1e30F);
}

void PlaceFinder::lowest(const Turn& turn) {
    const int across = stride_ / kBlock, down = (ny_ + kBlock - 1) / kBlock;
    column_.resize(static_cast<std::size_t>(stride_));
    blocks_.resize(static_cast<std::size_t>(across * down));
    least_of_blocks(sum_.data(), stride_, ny_, column_.data(), blocks_.data());
    for (int b = 0; b < across * down; ++b) {
        const float least = blocks_[static_cast<std::size_t>(b)];
        if (lows_.size() == candidates_ && least >= lows_.back().value) continue;
        if (lows_.size() == candidates_) lows_.pop_back();
        int i = b % across * kBlock, j = b / across * kBlock;
        const int i0 = i;
        while (sum_[static_cast<std::size_t>(j * stride_ + i)] != least)
            if (++i == i0 + kBlock) {
                i = i0;
                ++j;
            }
        const Low low{
            least, &turn, {turn.range.min_x + i * fields_.cell(), turn.range.min_y + j * fields_.cell()}};
        lows_.insert(std::upper_bound(lows_.begin(), lows_.end(), low,
                                      [](const Low& u, const Low& v) { return u.value < v.value; }),
                     low);
    }
}

double PlaceFinder::loss_here(DPoint p, double enough) const {
    double sum = 0;
    for (const Neighbour& n : near_) {
        sum += n.weight * n.field->depth(p - n.at);
        if (sum >= enough) return sum;
    }
    return sum;
}

PlaceFinder::Found PlaceFinder::follow(const Low& from, double below) {
    const Range& range = from.turn->range;
    near_.clear();
    for (const Neighbour& n : from.turn->neighbours)
        if (n.box.holds(from.at)) near_.push_back(n);
    DPoint p = from.at;
    Found found{{from.turn->shape, p}, loss_here(p, 1e300)};
    const double reach = 1.5 * fields_.cell();
    for (int step = 0; step < kSteps && found.loss > 0; ++step) {
        p = found.place.at;
        lines_.clear();
        std::size_t deep = 0;
        for (std::size_t k = 0; k < near_.size(); ++k) {
            const Neighbour& n = near_[k];
            FitField::Contact c;
            if (!n.field->contact(p - n.at, c)) continue;
            if (c.depth < -reach) continue;
            lines_.push_back({c.nx, c.ny, c.depth, n.weight});
            // The likeliest to overlap come first, so that a bad place is soon given up.
            if (c.depth > 0) std::swap(near_[deep++], near_[k]);
        }
        const std::size_t real = lines_.size();
        if (real == 0) break;
        const auto wall = [&](double nx, double ny, double room) {
            if (room < reach) lines_.push_back({nx, ny, -room, 0});
        };
        wall(1, 0, p.x - range.min_x);
        wall(-1, 0, range.max_x - p.x);
        wall(0, 1, p.y - range.min_y);
        wall(0, -1, range.max_y - p.y);
        tries_.clear();
        const auto consider = [&](double dx, double dy) {
            if (dx * dx + dy * dy > 4 * reach * reach) return;
            const DPoint q{std::min(std::max(p.x + dx, range.min_x), range.max_x),
                           std::min(std::max(p.y + dy, range.min_y), range.max_y)};
            const bool full = tries_.size() == kTries;
            const double below_this = full ? tries_.back().first : found.loss;
            double guess = 0;
            for (std::size_t k = 0; k < real && guess < below_this; ++k) {
                const Line& l = lines_[k];
                const double left = l.depth - l.nx * (q.x - p.x) - l.ny * (q.y - p.y);
                if (left > 0) guess += l.weight * left;
            }
            if (guess >= below_this) return;
            if (full) tries_.pop_back();
            tries_.insert(std::upper_bound(tries_.begin(), tries_.end(), guess,
                                           [](double g, const auto& t) { return g < t.first; }),
                          {guess, q});
        };
        for (std::size_t a = 0; a < lines_.size(); ++a) {
            const Line& la = lines_[a];
            if (la.depth > 0) consider(la.nx * la.depth, la.ny * la.depth);
            for (std::size_t b = a + 1; b < lines_.size(); ++b) {
                const Line& lb = lines_[b];
                const double det = la.nx * lb.ny - la.ny * lb.nx;
                if (std::fabs(det) < 0.02) continue;
                consider((la.depth * lb.ny - lb.depth * la.ny) / det,
                         (la.nx * lb.depth - lb.nx * la.depth) / det);
            }
        }
        const double before = found.loss;
        for (std::size_t k = 0; k < tries_.size() && tries_[k].first < found.loss; ++k) {
            const double loss = loss_here(tries_[k].second, found.loss);
            if (loss < found.loss) {
                found.loss = loss;
                found.place.at = tries_[k].second;
            }
        }
        if (found.loss >= before * 0.999) break;
        // Not worth following when even two more such steps stay above what there is.
        if (found.loss - 2 * (before - found.loss) > below) break;
    }
    return found;
}

PlaceFinder::Found PlaceFinder::least(const Places& places, int item, const float* weights, double length,
                                      double below) {
    const std::vector<int>& shapes = fields_.problem().items[item].shapes;
    lows_.clear();
    if (turns_.size() < shapes.size()) turns_.resize(shapes.size());
    for (std::size_t k = 0; k < shapes.size(); ++k) {
        Turn& turn = turns_[k];
        turn.shape = shapes[k];
        turn.range = range(turn.shape, length);
        if (turn.range.min_x > turn.range.max_x || turn.range.min_y > turn.range.max_y) continue;
        gather(places, item, weights, turn);
        if (halt_ && halt_()) return {{}, below};
        add_up(turn);
        lowest(turn);
    }
    Found best;
    best.loss = below;
    for (const Low& low : lows_) {
        const Found found = follow(low, best.loss);
        if (found.loss < best.loss) best = found;
        if (best.loss <= 0) break;
    }
    return best;
}

}  // namespace spile::lay
