#include "shedbook/harmony/reason.h"

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

std::string sung_in_words(const Reason& reason, Interval by) {
    std::vector<std::string> out;
    for (const Reason::Sung& sung : reason.melody) {
        std::string text =
            to_string(without_double_accidental(sung.note + by)) + ": " + std::string{sung.degree};
        if (!sung.instead.empty()) text += " and not " + std::string{sung.instead};
        out.push_back(std::move(text));
    }
    return join(out, ", ");
}

std::string symbol_in_words(const std::optional<ChordSymbol>& symbol, Interval by,
                            const std::optional<Key>& written_key) {
    return symbol ? to_string(written_symbol(*symbol, by, written_key)) : std::string{};
}

std::string note_in_words(PitchClass note, Interval by) {
    return to_string(without_double_accidental(note + by));
}

// "every note of the symbol", "every note of the symbol but C and E".
std::string all_in_words(const Reason& reason, Interval by) {
    std::string out = "every note of the symbol";
    for (std::size_t i = 0; i < reason.lacking.size(); ++i)
        out += (i == 0 ? " but " : " and ") + note_in_words(reason.lacking[i], by);
    return out;
}

std::string filled(std::string_view rest, const Reason& reason, Interval by,
                   const std::optional<Key>& written_key);

// What stands in the hole of this name.
std::string filling(std::string_view name, const Reason& reason, Interval by,
                    const std::optional<Key>& written_key) {
    const Key key = within_signatures({reason.key.tonic + by, reason.key.mode});
    if (name == "key") return to_string(key);
    if (name == "tonic") return to_string(key.tonic);
    if (name == "numeral") return reason.numeral;
    if (name == "root") return note_in_words(reason.root, by);
    if (name == "above") return note_in_words(reason.root + Interval{1, 1}, by);
    if (name == "goal") return symbol_in_words(reason.goal, by, written_key);
    if (name == "next") return symbol_in_words(reason.next, by, written_key);
    if (name == "bass" && reason.bass) return note_in_words(*reason.bass, by);
    if (name == "brings") return filled(reason.brings, reason, by, written_key);
    if (name == "all") return all_in_words(reason, by);
    if (name == "melody") return sung_in_words(reason, by);
    return {};
}

std::string filled(std::string_view rest, const Reason& reason, Interval by,
                   const std::optional<Key>& written_key) {
    std::string out;
    for (std::size_t open = rest.find('{'); open != std::string_view::npos; open = rest.find('{')) {
        const std::size_t close = rest.find('}', open);
        if (close == std::string_view::npos) break;
        out += rest.substr(0, open);
        out += filling(rest.substr(open + 1, close - open - 1), reason, by, written_key);
        rest.remove_prefix(close + 1);
    }
    return out.append(rest);
}

}  // namespace

std::string in_words(const Reason& reason, Interval to_written, const std::optional<Key>& written_key) {
    std::string out;
    if (reason.heard) out = "sounds as " + symbol_in_words(reason.heard, to_written, written_key) + "; ";
    return out + filled(reason.words, reason, to_written, written_key);
}

}  // namespace shedbook
