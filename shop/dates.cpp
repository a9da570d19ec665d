// Dates of the civil calendar. Days from civil and back: the shift of the year to March makes the leap day the last, so
// that months follow one line (derived here; checked against every day of 1800 to 2200 in the tests).
#include "shop/database.h"

namespace spile::shop {
namespace {

constexpr Seconds kDay = 86400;

struct Civil {
    std::int64_t year;
    int month, day;
};

std::int64_t days_from(Civil c) {
    const std::int64_t year = c.month <= 2 ? c.year - 1 : c.year;
    const std::int64_t month = c.month <= 2 ? c.month + 9 : c.month - 3;  // March is 0
    const std::int64_t in_year = (153 * month + 2) / 5 + c.day - 1;
    const std::int64_t until_1970 = 719468;  // from 0000-03-01
    return year * 365 + year / 4 - year / 100 + year / 400 + in_year - until_1970;
}

int days_of_month(std::int64_t year, int month) {
    static constexpr int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    const bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    return month == 2 && leap ? 29 : days[month - 1];
}

Civil civil_of(std::int64_t days) {
    // Within a day of the right year by the mean length, then settled by whole years and months.
    std::int64_t year = 1970 + days * 400 / 146097;
    while (days_from({year + 1, 1, 1}) <= days) ++year;
    while (days_from({year, 1, 1}) > days) --year;
    auto rest = static_cast<int>(days - days_from({year, 1, 1}));
    int month = 1;
    while (rest >= days_of_month(year, month)) rest -= days_of_month(year, month++);
    return {year, month, rest + 1};
}

std::string padded(std::int64_t value, std::size_t digits) {
    std::string text = std::to_string(value);
    while (text.size() < digits) text.insert(0, "0");
    return text;
}

std::int64_t whole_days(Seconds at) {
    return at >= 0 ? at / kDay : -((-at + kDay - 1) / kDay);
}

}  // namespace

std::string date_of(Seconds at) {
    const Civil c = civil_of(whole_days(at));
    return padded(c.year, 4) + "-" + padded(c.month, 2) + "-" + padded(c.day, 2);
}

std::string date_time_of(Seconds at) {
    const Seconds in_day = at - whole_days(at) * kDay;
    return date_of(at) + " " + padded(in_day / 3600, 2) + ":" + padded(in_day / 60 % 60, 2) + ":" +
           padded(in_day % 60, 2);
}

Result<Seconds> parse_date(const std::string& text) {
    const auto refused = [&](const std::string& why) {
        return Result<Seconds>::refuse(stop("date-refused",
                                            "\"" + text.substr(0, 40) + "\" is no date: " + why + ".",
                                            "Write year, month and day, like 2026-03-01."));
    };
    if (text.size() != 10 || text[4] != '-' || text[7] != '-')
        return refused("it is not written like 2026-03-01");
    int parts[3] = {0, 0, 0};
    for (std::size_t i = 0, part = 0; i < text.size(); ++i) {
        if (text[i] == '-' && (i == 4 || i == 7)) {
            ++part;
            continue;
        }
        if (text[i] < '0' || text[i] > '9') return refused("it is not written like 2026-03-01");
        parts[part] = parts[part] * 10 + (text[i] - '0');
    }
    const auto [year, month, day] = parts;
    if (year < 1800 || year > 2200) return refused("the year must lie between 1800 and 2200");
    if (month < 1 || month > 12) return refused("there is no month " + std::to_string(month));
    const int last = days_of_month(year, month);
    if (day < 1 || day > last) return refused("that month has days 1 to " + std::to_string(last));
    return Result<Seconds>::ok(days_from({year, month, day}) * kDay);
}

}  // namespace spile::shop
