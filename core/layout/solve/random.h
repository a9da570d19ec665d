// Random numbers that are the same on every machine.
#pragma once

#include <cstdint>
#include <utility>
#include <vector>

namespace spile::lay {

/// splitmix64 (Steele, Lea and Flood 2014): small, seedable from any number, good enough for search.
class Random {
  public:
    explicit Random(std::uint64_t seed) : state_(seed) {}

    std::uint64_t next() {
        std::uint64_t z = (state_ += 0x9E3779B97F4A7C15ULL);
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ULL;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EBULL;
        return z ^ (z >> 31);
    }
    /// 0 <= result < n. Requires: 0 < n < 2^32.
    std::uint64_t below(std::uint64_t n) { return ((next() >> 32) * n) >> 32; }
    double share() { return static_cast<double>(next() >> 11) * 0x1p-53; }  ///< 0 <= result < 1

    template <class T>
    void shuffle(std::vector<T>& v) {
        for (std::size_t i = v.size(); i > 1; --i) std::swap(v[i - 1], v[below(i)]);
    }

  private:
    std::uint64_t state_;
};

}  // namespace spile::lay
