#include "core/measure/causes.h"

#include <algorithm>
#include <cmath>

#include "core/base/text.h"
#include "core/measure/say.h"

namespace spile::survey {
namespace {

constexpr double kInch_mm = 25.4;
constexpr double kWithin = 2.5758;    // normal, 1 % two-sided: a cause further off than this does not fit
constexpr double kOtherWeight = 6;    // all slips without a usual cause, beside the weights below
constexpr double kOtherSize_mm = 60;  // half of those are smaller than this (common practice, no source)

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

/// The size of a reading that an observation stands for, and what is said before it in the line.
const TypedLength* size_of(const Reading& reading, const Observation& o, const Network& net,
                           std::string& before) {
    const std::string part = o.part;
    if (const Tie* t = std::get_if<Tie>(&reading.what)) return &t->distance;
    if (const BaselineOffset* b = std::get_if<BaselineOffset>(&reading.what)) {
        if (part != "at" && part != "off") return nullptr;
        before = part;
        return part == "at" ? &b->station : &b->offset;
    }
    if (const Running* r = std::get_if<Running>(&reading.what)) {
        if (part != "at") return nullptr;
        const std::string& point = net.names[o.kind == Kind::distance ? o.to() : o.p];
        for (const Running::Stop& stop : r->stops) {
            if (stop.point != point) continue;
            before = stop.point;
            return &stop.station;
        }
    }
    if (const OverUp* u = std::get_if<OverUp>(&reading.what)) {
        before = part;
        return part == "over" ? &u->over : &u->up;
    }
    return nullptr;
}

/// The line with one length written anew. `before`: the word in front of it; empty: the last that is typed so.
std::string with_length(const Reading& reading, const std::string& before, const TypedLength& old,
                        const std::string& fresh) {
    std::string line = reading.line;
    std::size_t at = std::string::npos;
    if (before.empty()) {
        at = line.rfind(old.typed);
    } else {
        // A point's name keeps its case; a word of the line's own language may be written in any.
        const bool named = std::holds_alternative<Running>(reading.what);
        std::string low = line;
        for (char& c : low) {
            if (!named && c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
        }
        const std::size_t skip = named ? low.find("unning") : 0;
        const std::size_t word = low.find(" " + before + " ", skip);
        if (word != std::string::npos) at = line.find(old.typed, word + before.size() + 1);
    }
    if (at == std::string::npos) return {};
    return line.replace(at, old.typed.size(), fresh);
}

/// Collects the causes that the reading of one size can have.
class Collector {
  public:
    Collector(const SpaceInput& space, const Reading& reading, const TypedLength& size, std::string before)
        : space_(space), reading_(reading), size_(size), before_(std::move(before)) {}

    std::vector<Cause> run() {
        by_the_tape();
        if (size_.unit == Unit::inch) fractions();
        digits();
        wrong_unit();
        std::stable_sort(out_.begin(), out_.end(),
                         [](const Cause& a, const Cause& b) { return a.weight > b.weight; });
        return std::move(out_);
    }

  private:
    /// A size the tape would have shown: `shift_mm` less.
    void shifted(double shift_mm, double weight, const char* words) {
        const double mm = size_.mm() - shift_mm;
        LengthStyle style;
        style.unit = size_.unit;
        style.with_unit = size_.unit != space_.unit;
        style.feet = size_.typed.find('\'') != std::string::npos;
        style.mm_step = 0.1;
        style.inch_denominator = 64;
        add(mm, plain_length(mm, style), weight, words);
    }

    void add(double mm, const std::string& typed, double weight, std::string words) {
        if (!(mm > 0)) return;
        const Result<TypedLength> fresh = parse_length(typed, space_.unit);
        if (!fresh) return;
        const double shift = size_.mm() - fresh->mm();
        if (shift == 0) return;
        std::string line = with_length(reading_, before_, size_, typed);
        if (!line.empty()) out_.push_back({shift, weight, std::move(words), std::move(line)});
    }

    void by_the_tape() {
        if (size_.unit == Unit::inch) {
            shifted(kInch_mm, 10, "an inch was burned and not given back");
            shifted(-kInch_mm, 3, "an inch was given back that had not been burned");
            shifted(10 * kInch_mm, 3, "ten inches were burned and not given back");
            shifted(-10 * kInch_mm, 1, "ten inches were given back that had not been burned");
            shifted(12 * kInch_mm, 3, "a foot was misread, one too many");
            shifted(-12 * kInch_mm, 3, "a foot was misread, one too few");
        } else {
            shifted(100, 5, "the tape was held at its 100 mm mark and that was not given back");
            shifted(-100, 3, "100 mm were misread, or given back though they had not been burned");
            shifted(10, 3, "a centimetre was misread, one too many");
            shifted(-10, 3, "a centimetre was misread, one too few");
            shifted(kInch_mm, 3, "the tape was held at its 1 in mark and that was not given back");
            shifted(1000, 1, "a metre was misread, one too many");
            shifted(-1000, 1, "a metre was misread, one too few");
        }
        if (space_.tape.case_mm > 0) shifted(-space_.tape.case_mm, 3, "the tape's case was not added");
    }

    /// 3/4 read as 1/4, sixteenths read as eighths.
    void fractions() {
        const std::string& t = size_.typed;
        const std::size_t slash = t.find('/');
        if (slash == std::string::npos || slash == 0) return;
        std::size_t first = slash, last = slash + 1;
        while (first > 0 && is_digit(t[first - 1])) --first;
        while (last < t.size() && is_digit(t[last])) ++last;
        if (first == slash || last == slash + 1 || slash - first > 2 || last - slash > 3) return;
        const int top = std::stoi(t.substr(first, slash - first));
        const int bottom = std::stoi(t.substr(slash + 1, last - slash - 1));
        const auto fraction = [&](int a, int b) {
            const std::string typed =
                t.substr(0, first) + std::to_string(a) + "/" + std::to_string(b) + t.substr(last);
            const Result<TypedLength> fresh = parse_length(typed, space_.unit);
            if (!fresh) return;
            add(fresh->mm(), typed, 1.5,
                "the fraction was misread, " + t.substr(first, last - first) + " for " + std::to_string(a) +
                    "/" + std::to_string(b));
        };
        if (2 * top != bottom) fraction(bottom - top, bottom);
        if (bottom <= 16) fraction(top, 2 * bottom);
        if (bottom >= 4 && 2 * top < bottom) fraction(top, bottom / 2);
    }

    void digits() {
        const std::string& t = size_.typed;
        for (std::size_t i = 0; i + 1 < t.size(); ++i) {
            if (!is_digit(t[i]) || !is_digit(t[i + 1]) || t[i] == t[i + 1]) continue;
            const bool leads = i == 0 || !(is_digit(t[i - 1]) || t[i - 1] == '.' || t[i - 1] == ',');
            if (leads && t[i + 1] == '0') continue;
            std::string typed = t;
            std::swap(typed[i], typed[i + 1]);
            const Result<TypedLength> fresh = parse_length(typed, space_.unit);
            if (fresh) add(fresh->mm(), typed, 4, "two digits were swapped");
        }
    }

    void wrong_unit() {
        const std::string& t = size_.typed;
        const auto plain = [](char c) { return is_digit(c) || c == '.'; };
        if (t.empty() || !std::all_of(t.begin(), t.end(), plain)) return;
        const auto other = [&](const char* unit, double mm, const char* words) {
            add(mm, t + " " + unit, 3, words);
        };
        const double number = size_.mm() / (size_.unit == Unit::inch ? kInch_mm : 1.0);
        if (size_.unit == Unit::inch) {
            other("cm", number * 10, "centimetres were read as inches");
        } else {
            other("cm", number * 10, "centimetres were written as millimetres");
            other("in", number * kInch_mm, "inches were written as millimetres");
        }
    }

    const SpaceInput& space_;
    const Reading& reading_;
    const TypedLength& size_;
    std::string before_;
    std::vector<Cause> out_;
};

double bell(double off_mm, double sd_mm) {
    const double t = off_mm / sd_mm;
    return std::exp(-0.5 * t * t) / (sd_mm * 2.5066282746310002);  // sqrt(2 pi)
}

/// Slips without a usual cause: of any size, the small ones more often; falls off as 1/x^2. Integrates to 1 over both signs.
double any_size(double mm) {
    const double x = std::fabs(mm) / kOtherSize_mm;
    return 0.5 / (kOtherSize_mm * (1 + x) * (1 + x));
}

bool tied(const Network& net, int p, int q) {
    return std::any_of(net.of_point[p].begin(), net.of_point[p].end(), [&](int i) {
        const Observation& o = net.observations[i];
        return o.kind == Kind::distance && (o.p == q || o.a == q);
    });
}

/// Pairs of points, one of them as written, that lie as far apart as the tie reads.
void between_others(const Network& net, const Observation& o, const Reading& reading, double sd_mm,
                    const Places& at, double& most, Guess& guess) {
    const Tie* tie = std::get_if<Tie>(&reading.what);
    if (tie == nullptr) return;
    const double each = 4.0 / (2.0 * net.points());
    for (int other = 0; other < net.points(); ++other) {
        for (const int kept : {o.p, o.a}) {
            if (other == o.p || other == o.a || tied(net, kept, other)) continue;
            const double off = distance(at.at[kept], at.at[other]) - o.value_mm;
            const double doubt = 1.5 * sd_mm;  // places have their own
            if (std::fabs(off) > kWithin * doubt) continue;
            const double weight = each * bell(off, doubt);
            if (weight <= most) continue;
            most = weight;
            const bool keeps_from = kept == o.from();
            const std::string from = keeps_from ? tie->from : net.names[other];
            const std::string to = keeps_from ? net.names[other] : tie->to;
            guess = {"it was taped from " + from + " to " + to + ", not as written",
                     from + " " + to + " " + tie->distance.typed};
        }
    }
}

}  // namespace

double spoken_slip_mm(const Observation& o, double slip_mm) {
    return o.kind == Kind::across && o.value_mm < 0 ? -slip_mm : slip_mm;
}

std::vector<Cause> usual_causes(const SpaceInput& space, const Network& net, const Observation& o) {
    const Reading& reading = space.readings[o.reading];
    std::string before;
    const TypedLength* size = size_of(reading, o, net, before);
    if (size == nullptr) return {};
    return Collector(space, reading, *size, before).run();
}

Guess guess_cause(const SpaceInput& space, const Network& net, const Observation& o, double slip_mm,
                  double sd_mm, const Places& without) {
    const Reading& reading = space.readings[o.reading];
    const double spoken = spoken_slip_mm(o, slip_mm);
    Guess guess;
    double most = 0;
    for (Cause& cause : usual_causes(space, net, o)) {
        const double off = spoken - cause.shift_mm;
        if (std::fabs(off) > kWithin * sd_mm) continue;
        const double weight = cause.weight * bell(off, sd_mm);
        if (weight <= most) continue;
        most = weight;
        guess = {std::move(cause.words), std::move(cause.proposed)};
    }
    if (o.kind == Kind::distance) between_others(net, o, reading, sd_mm, without, most, guess);
    return guess;
}

double log_frequency(const std::vector<Cause>& causes, double spoken_mm, double sd_mm) {
    double weight = kOtherWeight * any_size(spoken_mm);
    for (const Cause& cause : causes) {
        if (std::fabs(spoken_mm - cause.shift_mm) < 6 * sd_mm)
            weight += cause.weight * bell(spoken_mm - cause.shift_mm, sd_mm);
    }
    return std::log(weight);
}

}  // namespace spile::survey
