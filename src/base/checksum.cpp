#include "shedbook/base/checksum.h"

namespace shedbook {

std::uint64_t checksum(std::string_view text, std::uint64_t from) {
    constexpr std::uint64_t kPrime = 0x100000001B3U;
    for (const char c : text) from = (from ^ static_cast<unsigned char>(c)) * kPrime;
    return from;
}

std::string code_of(std::uint64_t sum) {
    constexpr std::string_view kLetters = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789";
    constexpr int kLength = 6;
    sum ^= sum >> 32U;
    std::string out;
    for (int i = 0; i < kLength; ++i) {
        out += kLetters[sum % kLetters.size()];
        sum /= kLetters.size();
    }
    return out;
}

}  // namespace shedbook
