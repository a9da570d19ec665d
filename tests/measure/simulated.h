// Invented spaces with known corners, taped with known errors. Shared by the tests and by `spile-bench measure`.
#pragma once

#include <cmath>
#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include "core/base/text.h"
#include "core/measure/survey.h"
#include "core/measure/tape.h"

namespace spile::simulated {

/// A small generator whose draws are the same everywhere (splitmix64).
class Random {
  public:
    explicit Random(std::uint64_t seed) : state_(seed) {}
    std::uint64_t bits() {
        std::uint64_t z = (state_ += 0x9E3779B97F4A7C15ull);
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ull;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EBull;
        return z ^ (z >> 31);
    }
    double unit() { return static_cast<double>(bits() >> 11) * 0x1p-53; }  ///< [0, 1)
    double between(double low, double high) { return low + (high - low) * unit(); }
    int below(int n) { return static_cast<int>(unit() * n); }
    double normal() {
        const double u = 1 - unit();
        return std::sqrt(-2 * std::log(u)) * std::cos(2 * 3.14159265358979323846 * unit());
    }
    template <class T>
    void shuffle(std::vector<T>& v) {
        for (std::size_t i = v.size(); i > 1; --i)
            std::swap(v[i - 1], v[static_cast<std::size_t>(below(static_cast<int>(i)))]);
    }

  private:
    std::uint64_t state_;
};

struct Space {
    std::vector<Vec2> corners;               ///< true places, counter-clockwise
    std::vector<std::pair<int, int>> pairs;  ///< what is taped
    std::vector<double> reads_mm;            ///< one reading of each
};

inline std::string name_of(int corner) {
    std::string name(1, static_cast<char>('A' + corner % 26));
    if (corner >= 26) name += std::to_string(corner / 26);
    return name;
}

/// 6 to 12 corners (or `corners`) of a space 2 to 4 m across, some of them inward; no two nearer than 250 mm.
inline Space any_space(Random& random, int corners = 0) {
    const int n = corners > 0 ? corners : 6 + random.below(7);
    Space s;
    const double wide = random.between(1000, 2000), deep = random.between(1000, 2000);
    for (;;) {
        s.corners.clear();
        for (int i = 0; i < n; ++i) {
            const double bearing = 2 * 3.14159265358979323846 * (i + random.between(-0.3, 0.3)) / n;
            const double share = random.between(0.65, 1.0);
            s.corners.push_back({wide * share * std::cos(bearing), deep * share * std::sin(bearing)});
        }
        bool apart = true;
        for (int i = 0; i < n; ++i) {
            for (int j = 0; j < i; ++j) apart = apart && distance(s.corners[i], s.corners[j]) > 250;
        }
        if (apart) return s;
    }
}

inline TapeSettings tape() {
    return {TapeClass::II, false, 25.4 / 16, 0.7};
}

/// What a person reads of a true length: tape within its permissible error (rectangular), ends placed to 0.7 mm, to the
/// nearest sixteenth.
inline double taped(Random& random, double true_mm) {
    const TapeSettings t = tape();
    const double error = permissible_error_mm(t.tape_class, t.hook, true_mm);
    const double with_errors = true_mm + random.between(-error, error) + t.ends_sd_mm * random.normal();
    return std::round(with_errors / t.reads_to_mm) * t.reads_to_mm;
}

inline void tape_all(Random& random, Space& s) {
    s.reads_mm.clear();
    for (const auto& [p, q] : s.pairs)
        s.reads_mm.push_back(taped(random, distance(s.corners[p], s.corners[q])));
}

/// Names by corner; the space as a person would type it, with every reading in sixteenths of an inch or, when it is not
/// one, in millimetres.
inline SpaceInput input_of(const Space& s) {
    SpaceInput in;
    in.id = "space";
    in.tape = tape();
    for (std::size_t i = 0; i < s.corners.size(); ++i) in.walk.push_back(name_of(static_cast<int>(i)));
    in.bow = {in.walk[0], in.walk[1]};
    for (std::size_t k = 0; k < s.pairs.size(); ++k) {
        const auto& [p, q] = s.pairs[k];
        const double sixteenths = std::round(s.reads_mm[k] / 25.4 * 16);
        const bool marked = std::fabs(sixteenths * 25.4 / 16 - s.reads_mm[k]) < 1e-6;
        TypedLength length;
        if (marked) {
            const auto count = static_cast<std::int64_t>(sixteenths);
            length = {
                std::to_string(count / 16) + (count % 16 ? " " + std::to_string(count % 16) + "/16" : ""),
                {count * 127, 80},
                Unit::inch};
        } else {
            const auto nanometres = static_cast<std::int64_t>(std::round(s.reads_mm[k] * 1e6));
            length = {shortest(s.reads_mm[k]) + " mm", {nanometres, 1000000}, Unit::mm};
        }
        const std::string line = name_of(p) + " " + name_of(q) + " " + length.typed;
        in.readings.push_back({"t" + std::to_string(k + 1), line, "", Tie{name_of(p), name_of(q), length}});
    }
    return in;
}

inline std::vector<std::pair<int, int>> all_pairs(int n) {
    std::vector<std::pair<int, int>> out;
    for (int i = 0; i < n; ++i) {
        for (int j = i + 1; j < n; ++j) out.push_back({i, j});
    }
    return out;
}

}  // namespace spile::simulated
