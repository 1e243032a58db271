// A sum of a text that is the same on every machine, which std::hash does not promise.
//
//     code_of(checksum("a book"));                             // six letters and digits, "K7PQ2M"
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

namespace shedbook {

inline constexpr std::uint64_t kEmptyChecksum = 0xCBF29CE484222325U;

// FNV-1a, 64 bits (G. Fowler, L. C. Noll, K.-P. Vo). `from`: the sum of what stands before it.
[[nodiscard]] std::uint64_t checksum(std::string_view text, std::uint64_t from = kEmptyChecksum);
// To be typed: six letters and digits that are not taken for one another.
[[nodiscard]] std::string code_of(std::uint64_t sum);

}  // namespace shedbook
