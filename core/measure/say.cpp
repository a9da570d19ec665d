#include "core/measure/say.h"

#include <cmath>

namespace spile::survey {
namespace {

std::string named(const Reading& reading, const char* dash) {
    struct Names {
        const char* dash;
        std::string operator()(const Tie& t) const { return t.from + dash + t.to; }
        std::string operator()(const BaselineOffset& b) const {
            return b.point + " on " + b.base_from + dash + b.base_to;
        }
        std::string operator()(const Rise& r) const { return r.from + dash + r.to; }
        std::string operator()(const Through& t) const { return t.from + dash + t.to; }
        std::string operator()(const OverUp& o) const { return o.point; }
        std::string operator()(const Running& r) const { return r.from + dash + r.to; }
        std::string operator()(const Square& s) const {
            return "square " + s.one_arm + dash + s.corner + dash + s.other_arm;
        }
        std::string operator()(const Diameter& d) const { return d.point; }
        std::string operator()(const Rim& r) const { return "rim of " + r.point; }
        std::string operator()(const CornerRound& c) const { return c.corner; }
        std::string operator()(const Height& h) const { return h.point; }
    };
    return std::visit(Names{dash}, reading.what);
}

}  // namespace

std::string Say::size(double mm) const {
    LengthStyle style;
    style.unit = space_.unit;
    style.with_unit = true;
    return plain_length(mm, style);
}

std::string Say::little(double mm) const {
    LengthStyle style;
    style.unit = space_.unit;
    style.with_unit = true;
    style.inch_denominator = 32;
    style.mm_step = 0.1;
    return plain_length(mm, style);
}

void Say::about(const char* code, Severity severity, const char* kind, const std::string& id,
                std::vector<Quantity> numbers, std::string says, std::string to_do, std::string where) const {
    Finding f;
    f.code = code;
    f.severity = severity;
    f.subject = {kind, id.empty() ? space_.id : space_.id + "/" + id};
    f.numbers = std::move(numbers);
    f.says = std::move(says);
    f.to_do = std::move(to_do);
    f.where = std::move(where);
    into_.push_back(std::move(f));
}

void Say::about_reading(const char* code, Severity severity, const Reading& reading,
                        std::vector<Quantity> numbers, std::string says, std::string to_do) const {
    about(code, severity, "tie", subject_of(reading), std::move(numbers), std::move(says), std::move(to_do),
          reading.where);
}

std::string spoken(const Reading& reading) {
    return named(reading, "\u2013");
}
std::string subject_of(const Reading& reading) {
    return named(reading, " ");
}

}  // namespace spile::survey
