#include "core/takeoff/work_times.h"

#include <cmath>

namespace spile {

WorkTimes guessed_times() {
    const auto guess = [](double minutes) { return WorkTime{minutes, 0, 0}; };
    return {{"bind", guess(6)},          {"turn", guess(12)},          {"corner-bound", guess(1)},
            {"corner-turned", guess(4)}, {"hole-turned", guess(15)},   {"hole-bound", guess(12)},
            {"slit", guess(0.3)},        {"relief", guess(0.3)},       {"snap-set", guess(4)},
            {"piece", guess(20)},        {"seal", guess(3)},           {"dry-fit", guess(8)},
            {"applied-sewn", guess(15)}, {"applied-stuck", guess(10)}, {"fit", guess(6)},
            {"visit", guess(20)},        {"space", guess(60)}};
}

bool per_metre(const std::string& code) {
    return code == "bind" || code == "turn" || code == "seal";
}

double minutes_for(const std::string& code, double amount, const WorkTime& time) {
    const double count = per_metre(code) ? amount / 1000 : amount;
    return std::round(count * time.minutes * 100) / 100;
}

}  // namespace spile
