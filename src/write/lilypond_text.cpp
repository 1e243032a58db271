#include "lilypond_text.h"

#include "shedbook/base/text.h"

#include <array>

#include "shedbook/notation/music_text.h"

namespace shedbook {
namespace {

constexpr std::string_view kFlat = "\u266D";
constexpr std::string_view kSharp = "\u266F";

// Cuts a text at its flats and sharps and hands the pieces and the glyphs over in order.
std::string with_glyphs(std::string_view text, std::string_view flat, std::string_view sharp) {
    std::string out;
    std::string piece;
    const auto flush = [&] {
        if (!piece.empty()) out += quoted(piece) + " ";
        piece.clear();
    };
    for (std::size_t i = 0; i < text.size();) {
        const std::string_view rest = text.substr(i);
        if (rest.starts_with(kFlat) || rest.starts_with(kSharp)) {
            flush();
            out += rest.starts_with(kFlat) ? flat : sharp;
            out += ' ';
            i += kFlat.size();
        } else {
            piece += text[i++];
        }
    }
    flush();
    return out;
}

// The part of a suffix that stands on the line: m, maj, dim, +.
std::string_view quality_on_line(std::string_view suffix) {
    static constexpr std::array<std::string_view, 4> kQualities{"maj", "dim", "m", "+"};
    for (const std::string_view quality : kQualities) {
        if (suffix.starts_with(quality)) return quality;
    }
    return {};
}

std::string note_markup(PitchClass note) {
    std::string out = quoted(std::string(1, letter(note.step())));
    for (int flats = note.alter(); flats < 0; ++flats) out += " \\fl";
    for (int sharps = note.alter(); sharps > 0; --sharps) out += " \\sh";
    return out;
}

}  // namespace

std::string quoted(std::string_view text) {
    std::string out = "\"";
    for (const char c : text) {
        if (c == '"' || c == '\\') out += '\\';
        if (static_cast<unsigned char>(c) >= 0x20U) out += c;
    }
    return out + "\"";
}

std::string text_markup(std::string_view text) {
    return "\\concat { " + with_glyphs(text, "\\nf", "\\ns") + "}";
}

std::string symbol_markup(const ChordSymbol& symbol) {
    ChordSymbol upper = symbol;
    upper.bass.reset();
    const std::string text = to_string(upper);
    const std::string suffix = with_signs(text.substr(to_string(symbol.root).size()));
    const std::string_view quality = quality_on_line(suffix);
    std::string out = "\\concat { " + note_markup(symbol.root);
    if (!quality.empty()) out += " \\ql " + quoted(quality);
    const std::string_view figures = std::string_view{suffix}.substr(quality.size());
    if (!figures.empty())
        out += " \\fig \\concat { " + with_glyphs(figures, "\\gap \\flf", "\\gap \\shf") + "}";
    if (symbol.bass) out += " \"/\" " + note_markup(*symbol.bass);
    return out + " }";
}

std::string symbol_or_scale(const TopicInPart& topic) {
    return topic.symbol ? symbol_markup(*topic.symbol) : text_markup(with_signs(to_string(topic.scale)));
}

std::string to_page(int page, const std::string& markup) {
    return "\\toPage #" + std::to_string(page) + " " + markup;
}

std::string short_title(const std::string& title, std::size_t most) {
    std::string out;
    for (std::size_t i = 0; i < title.size();) {
        const std::size_t length = character_length(title, i);
        if (count_characters(out) == most) return with_signs(out) + "...";
        out += title.substr(i, length);
        i += length;
    }
    return with_signs(out);
}

std::string title_markup(const std::string& title, std::size_t most_large) {
    const std::string text = short_title(title, most_large * 4 / 3);
    return "\\bold \\sans \\fontsize #" + std::string{count_characters(text) > most_large ? "2.5" : "5"} +
           " " + text_markup(text);
}

}  // namespace shedbook
