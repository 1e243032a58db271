#include "qr_code.h"

#include <qrencode.h>

#include <cstddef>
#include <memory>

namespace shedbook {
namespace {

constexpr int kMargin = 4;
constexpr const char* kBlackOnWhite = "\x1b[30;107m";
constexpr const char* kUsualColours = "\x1b[0m";

using Code = std::unique_ptr<QRcode, decltype(&QRcode_free)>;

bool is_dark(const QRcode& code, int row, int column) {
    if (row < 0 || column < 0 || row >= code.width || column >= code.width) return false;
    return (code.data[static_cast<std::size_t>(row * code.width + column)] & 1U) != 0;
}

// Two squares, one above the other, in one letter.
const char* half_blocks(bool upper, bool lower) {
    if (upper) return lower ? "█" : "▀";
    return lower ? "▄" : " ";
}

}  // namespace

std::string qr_code(const std::string& text) {
    const Code code{QRcode_encodeString8bit(text.c_str(), 0, QR_ECLEVEL_M), &QRcode_free};
    std::string out;
    if (!code) return out;
    for (int row = -kMargin; row < code->width + kMargin; row += 2) {
        out += kBlackOnWhite;
        for (int column = -kMargin; column < code->width + kMargin; ++column)
            out += half_blocks(is_dark(*code, row, column), is_dark(*code, row + 1, column));
        out += std::string{kUsualColours} + "\n";
    }
    return out;
}

}  // namespace shedbook
