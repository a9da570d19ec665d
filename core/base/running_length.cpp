#include "core/base/running_length.h"

#include <cmath>
#include <cstdint>

#include "core/base/check.h"

namespace spile {

std::string running_length(double mm, const LengthStyle& style) {
    SPILE_CHECK(mm >= 0 && mm < 1e12);
    const std::int64_t um = std::llround(mm * 1000), whole_um = style.unit == Unit::inch ? 914400 : 1000000;
    if (um < whole_um) {
        LengthStyle with_unit = style;
        with_unit.with_unit = true;
        return plain_length(mm, with_unit);
    }
    const std::int64_t hundredth_um = whole_um / 100, hundredths = (um + hundredth_um - 1) / hundredth_um;
    std::string text = std::to_string(hundredths / 100);
    if (const std::int64_t over = hundredths % 100; over != 0) {
        text += '.' + std::to_string(100 + over).substr(1);
        if (over % 10 == 0) text.pop_back();
    }
    return text + (style.unit == Unit::inch ? " yd" : " m");
}

}  // namespace spile
