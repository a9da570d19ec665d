#include "export/qr/qr.h"

#include <qrencode.h>

#include <memory>

#include "core/base/check.h"

namespace spile {

QrModules qr_modules(const std::string& utf8) {
    SPILE_CHECK(!utf8.empty() && utf8.size() <= 2000);
    const std::unique_ptr<QRcode, decltype(&QRcode_free)> code(
        QRcode_encodeData(static_cast<int>(utf8.size()), reinterpret_cast<const unsigned char*>(utf8.data()),
                          0, QR_ECLEVEL_M),
        QRcode_free);
    SPILE_CHECK(code);
    QrModules out;
    out.side = static_cast<std::size_t>(code->width);
    for (std::size_t i = 0; i < out.side * out.side; ++i) out.dark.push_back(code->data[i] & 1);
    return out;
}

std::vector<Outline> qr_squares(const std::string& utf8, Vec2 at_mm, double size_mm) {
    constexpr std::size_t quiet = 4;
    const QrModules code = qr_modules(utf8);
    const double module = size_mm / static_cast<double>(code.side + 2 * quiet);
    const auto place = [&](std::size_t column, std::size_t row) {
        return at_mm + module * Vec2{static_cast<double>(column + quiet), static_cast<double>(row + quiet)};
    };
    std::vector<Outline> out;
    for (std::size_t row = 0; row < code.side; ++row)
        for (std::size_t column = 0; column < code.side; ++column) {
            if (!code.at(row, column)) continue;
            std::size_t end = column + 1;
            while (end < code.side && code.at(row, end)) ++end;
            out.push_back(rectangle(place(column, row), place(end, row + 1)));
            column = end;
        }
    return out;
}

}  // namespace spile
