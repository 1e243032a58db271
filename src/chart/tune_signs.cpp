#include "tune_signs.h"

#include <algorithm>

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

struct SignRow {
    std::string_view words;    // lower case, without full stops
    std::string_view printed;  // empty: another spelling of a row above
    SignWord sign;
    Jump jump = Jump::DaCapo;
};

// The longer of two that begin alike comes first.
constexpr SignRow kSigns[] = {
    {"dc al fine", "D.C. al Fine", SignWord::Jump, Jump::DaCapoAlFine},
    {"dc al coda", "D.C. al Coda", SignWord::Jump, Jump::DaCapoAlCoda},
    {"dc", "D.C.", SignWord::Jump, Jump::DaCapo},
    {"ds al fine", "D.S. al Fine", SignWord::Jump, Jump::DalSegnoAlFine},
    {"ds al coda", "D.S. al Coda", SignWord::Jump, Jump::DalSegnoAlCoda},
    {"ds", "D.S.", SignWord::Jump, Jump::DalSegno},
    {"da capo al fine", "", SignWord::Jump, Jump::DaCapoAlFine},
    {"da capo al coda", "", SignWord::Jump, Jump::DaCapoAlCoda},
    {"da capo", "", SignWord::Jump, Jump::DaCapo},
    {"dal segno al fine", "", SignWord::Jump, Jump::DalSegnoAlFine},
    {"dal segno al coda", "", SignWord::Jump, Jump::DalSegnoAlCoda},
    {"dal segno", "", SignWord::Jump, Jump::DalSegno},
    {"to coda", "to coda", SignWord::ToCoda},
    {"to \U0001D10C", "", SignWord::ToCoda},
    {"to \u2295", "", SignWord::ToCoda},
    {"coda", "coda", SignWord::Coda},
    {"\U0001D10C", "", SignWord::Coda},
    {"\u2295", "", SignWord::Coda},
    {"segno", "segno", SignWord::Segno},
    {"\U0001D10B", "", SignWord::Segno},
    {"\u00A7", "", SignWord::Segno},
    {"fine", "fine", SignWord::Fine},
};

std::string plain(std::string_view word) {
    std::string out = lower_case(word);
    std::erase(out, '.');
    return out;
}

// "D. C. al Fine" as "dc al fine"; without the full stops it would be two chords.
std::string joined(std::span<const std::string_view> words) {
    std::string text;
    for (std::size_t i = 0; i < words.size(); ++i) {
        const bool initials = i == 1 && (words[0] == "D." || words[0] == "d.");
        text += (i > 0 && !initials ? " " : "") + plain(words[i]);
    }
    return text;
}

}  // namespace

std::optional<FoundSign> find_sign(std::span<const std::string_view> words) {
    constexpr std::size_t kMostWords = 5;
    const std::size_t most = std::min(words.size(), kMostWords);
    for (std::size_t count = most; count > 0; --count) {
        const std::string text = joined(words.first(count));
        for (const SignRow& row : kSigns) {
            if (text == row.words) return FoundSign{row.sign, row.jump, count};
        }
    }
    return std::nullopt;
}

std::string to_string(Jump jump) {
    const auto row = std::ranges::find_if(kSigns, [&](const SignRow& r) {
        return r.sign == SignWord::Jump && r.jump == jump && !r.printed.empty();
    });
    return std::string{row->printed};
}

void put_sign(BarMarks& marks, const FoundSign& found) {
    switch (found.sign) {
        case SignWord::Segno:
            marks.segno = true;
            break;
        case SignWord::Coda:
            marks.coda = true;
            break;
        case SignWord::ToCoda:
            marks.to_coda = true;
            break;
        case SignWord::Fine:
            marks.fine = true;
            break;
        case SignWord::Jump:
            marks.jump = found.jump;
            break;
    }
}

std::vector<std::string> sign_words() {
    std::vector<std::string> out;
    for (const SignRow& row : kSigns) {
        if (!row.printed.empty()) out.emplace_back(row.printed);
    }
    return out;
}

}  // namespace shedbook
