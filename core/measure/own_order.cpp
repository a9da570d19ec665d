#include "core/measure/own_order.h"

#include <algorithm>
#include <numeric>
#include <tuple>

namespace spile::survey {
namespace {

/// Real spaces take two or three; a chain of equal ties takes one per link.
constexpr int kRefinements = 200;

/// Points exchanged without any difference to the size: the ends of a tie.
bool exchangeable(Kind kind) {
    return kind == Kind::distance;
}

class Numbering {
  public:
    explicit Numbering(const Network& net) : net_(net), class_(net.names.size(), -1) {}

    /// The new number of every point.
    std::vector<int> run() {
        by_role();
        for (int round = 0; round < kRefinements && count_ < net_.points(); ++round) {
            const int before = count_;
            refine();
            if (count_ == before) tell_one_apart();
        }
        // What is left is told apart by the order of writing.
        std::vector<int> order(net_.names.size());
        std::iota(order.begin(), order.end(), 0);
        std::stable_sort(order.begin(), order.end(), [&](int p, int q) { return class_[p] < class_[q]; });
        std::vector<int> number(order.size());
        for (std::size_t i = 0; i < order.size(); ++i) number[order[i]] = static_cast<int>(i);
        return number;
    }

  private:
    /// What a point knows of one of its readings: what it is, the point's part in it, the others by their class.
    using Sign = std::tuple<Kind, int, double, double, int, int>;

    void by_role() {
        int next = 0;
        const auto take = [&](int p) {
            if (p >= 0 && class_[p] < 0) class_[p] = next++;
        };
        const auto first = std::find(net_.walk.begin(), net_.walk.end(), net_.bow_from);
        const std::size_t shift =
            first == net_.walk.end() ? 0 : static_cast<std::size_t>(first - net_.walk.begin());
        for (std::size_t i = 0; i < net_.walk.size(); ++i) take(net_.walk[(shift + i) % net_.walk.size()]);
        take(net_.bow_from);
        take(net_.bow_to);
        named_ = next;
        for (int p = 0; p < net_.points(); ++p) {
            if (class_[p] < 0) class_[p] = next;
        }
        count_ = next + (next < net_.points());
    }

    Sign sign(const Observation& o, int p) const {
        if (exchangeable(o.kind)) return {o.kind, 0, o.value_mm, o.sd_mm, class_[o.p == p ? o.a : o.p], -1};
        int others[2] = {-1, -1}, found = 0, part = 0;
        for (int k = 0; k < o.point_count(); ++k) {
            if (o.point(k) == p)
                part = k;
            else
                others[found++] = class_[o.point(k)];
        }
        return {o.kind, part, o.value_mm, o.sd_mm, others[0], others[1]};
    }

    /// Splits every class by what its points know. Classes keep their order.
    void refine() {
        struct Known {
            int of, point;
            std::vector<Sign> signs;
        };
        std::vector<Known> all;
        for (int p = 0; p < net_.points(); ++p) {
            if (class_[p] < named_) continue;
            Known k{class_[p], p, {}};
            for (const int i : net_.of_point[p]) k.signs.push_back(sign(net_.observations[i], p));
            std::sort(k.signs.begin(), k.signs.end());
            all.push_back(std::move(k));
        }
        const auto less = [](const Known& a, const Known& b) {
            return std::tie(a.of, a.signs) < std::tie(b.of, b.signs);
        };
        std::stable_sort(all.begin(), all.end(), less);
        int next = named_ - 1;
        for (std::size_t i = 0; i < all.size(); ++i) {
            if (i == 0 || less(all[i - 1], all[i])) ++next;
            class_[all[i].point] = next;
        }
        count_ = next + 1;
    }

    /// No reading tells the points of a class apart: the first written goes before the others.
    void tell_one_apart() {
        std::vector<int> size(static_cast<std::size_t>(count_), 0);
        for (const int c : class_) ++size[c];
        const auto twins = std::find_if(size.begin(), size.end(), [](int n) { return n > 1; });
        const int chosen = static_cast<int>(twins - size.begin());
        const auto first = std::find(class_.begin(), class_.end(), chosen);
        for (int& c : class_) c += c >= chosen;
        *first = chosen;
        ++count_;
    }

    const Network& net_;
    std::vector<int> class_;
    int named_ = 0;  // classes below this are single points by their role
    int count_ = 0;
};

}  // namespace

Network in_own_order(const Network& network) {
    const std::vector<int> number = Numbering(network).run();
    const auto renumbered = [&](int p) { return p < 0 ? p : number[p]; };

    Network out = network;
    for (int p = 0; p < network.points(); ++p) {
        out.names[number[p]] = network.names[p];
        out.on_curve[number[p]] = network.on_curve[p];
    }
    for (Observation& o : out.observations) {
        o.p = renumbered(o.p);
        o.a = renumbered(o.a);
        o.b = renumbered(o.b);
        if (!exchangeable(o.kind) || o.p < o.a) continue;
        std::swap(o.p, o.a);
        o.turned = !o.turned;
    }
    std::stable_sort(out.observations.begin(), out.observations.end(),
                     [](const Observation& x, const Observation& y) {
                         const auto key = [](const Observation& o) {
                             return std::tie(o.p, o.a, o.b, o.kind, o.value_mm, o.sd_mm);
                         };
                         return key(x) < key(y);
                     });
    for (std::vector<int>& list : out.of_point) list.clear();
    for (std::size_t i = 0; i < out.observations.size(); ++i) {
        const Observation& o = out.observations[i];
        for (int k = 0; k < o.point_count(); ++k) out.of_point[o.point(k)].push_back(static_cast<int>(i));
    }
    for (int& p : out.walk) p = renumbered(p);
    out.bow_from = renumbered(network.bow_from);
    out.bow_to = renumbered(network.bow_to);
    return out;
}

}  // namespace spile::survey
