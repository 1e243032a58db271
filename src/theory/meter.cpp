#include "shedbook/theory/meter.h"

#include <numeric>

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

constexpr int kMostBeats = 64;

std::optional<int> parse_count(std::string_view text) {
    text = trimmed(text);
    if (text.empty() || text.size() > 2) return std::nullopt;
    int out = 0;
    for (const char c : text) {
        if (c < '0' || c > '9') return std::nullopt;
        out = 10 * out + (c - '0');
    }
    if (out < 1 || out > kMostBeats) return std::nullopt;
    return out;
}

}  // namespace

Duration Meter::beat_length() const {
    return is_compound() ? unit_length() * Rational{3} : unit_length();
}

std::vector<int> Meter::grouping() const {
    if (!groups.empty()) return groups;
    // Halves and wholes are felt one by one; threes stay together where smaller units are counted.
    if (unit <= 2) return std::vector<int>(static_cast<std::size_t>(beats), 1);
    if (beats % 3 == 0) return std::vector<int>(static_cast<std::size_t>(beats / 3), 3);
    if (beats == 1) return {1};
    std::vector<int> out;
    int left = beats;
    // An odd bar has its three first where it counts quarters (5/4: 3+2), last where it counts eighths (7/8:
    // 2+2+3): common practice, no source.
    if (left % 2 == 1 && unit <= 4) {
        out.push_back(3);
        left -= 3;
    }
    for (; left > 3; left -= 2) out.push_back(2);
    if (left > 0) out.push_back(left);
    return out;
}

std::string to_string(const Meter& meter) {
    std::string out;
    for (std::size_t i = 0; i < meter.groups.size(); ++i) {
        out += (i > 0 ? "+" : "") + std::to_string(meter.groups[i]);
    }
    if (meter.groups.empty()) out = std::to_string(meter.beats);
    return out + "/" + std::to_string(meter.unit);
}

std::optional<Meter> parse_meter(std::string_view text) {
    text = trimmed(text);
    if (text == "C") return Meter{4, 4};
    if (text == "C|") return Meter{2, 2};
    const std::size_t slash = text.find('/');
    if (slash == std::string_view::npos) return std::nullopt;
    const std::optional<int> unit = parse_count(text.substr(slash + 1));
    if (!unit || *unit > 32 || (*unit & (*unit - 1)) != 0) return std::nullopt;
    Meter out{0, *unit};
    for (const std::string_view part : split(text.substr(0, slash), '+')) {
        const std::optional<int> count = parse_count(part);
        if (!count) return std::nullopt;
        out.groups.push_back(*count);
    }
    out.beats = std::accumulate(out.groups.begin(), out.groups.end(), 0);
    if (out.beats > kMostBeats) return std::nullopt;
    if (out.groups.size() == 1) out.groups.clear();
    return out;
}

}  // namespace shedbook
