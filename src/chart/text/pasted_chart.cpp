#include "pasted_chart.h"

#include <algorithm>
#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "german_names.h"
#include "shedbook/base/text.h"
#include "shedbook/theory/chord_symbol.h"
#include "tune_headers.h"

namespace shedbook {
namespace {

using Words = std::vector<std::string_view>;

Words words_of_line(std::string_view line) {
    Words out;
    for (const std::string_view word : split(line, ' ')) {
        // Between chords a hyphen parts them, as a blank does.
        if (!trimmed(word).empty() && word != "-" && word != "–") out.push_back(trimmed(word));
    }
    return out;
}

// A blank that holds words together, as web pages have it, parts them here.
std::string with_plain_blanks(std::string line) {
    constexpr std::string_view kNoBreak = "\xC2\xA0";
    for (std::size_t at = 0; (at = line.find(kNoBreak, at)) != std::string::npos;)
        line.replace(at, kNoBreak.size(), " ");
    return line;
}

bool is_chord(std::string_view word) {
    if (is_no_chord(std::string{word})) return true;
    Diagnostics unused;
    return read_chord_symbol(SourceText{"pasted", std::string{word}}, unused).has_value();
}

constexpr std::array<std::string_view, 19> kSectionWords{
    "intro",         "verse",   "chorus", "refrain",    "bridge", "outro",   "ending",
    "interlude",     "solo",    "solos",  "pre-chorus", "head",   "strophe", "vers",
    "zwischenspiel", "schluss", "tag",    "vamp",       "coda"};

// "Chorus", "Verse 2:", "(Bridge)"; empty if it is none.
std::string section_of(std::string_view line) {
    std::string word{trimmed(line)};
    if (word.ends_with(':')) word.pop_back();
    if (word.starts_with('(') && word.ends_with(')')) word = word.substr(1, word.size() - 2);
    std::string bare = lower_case(word);
    while (!bare.empty() && (is_digit(bare.back()) || bare.back() == ' ')) bare.pop_back();
    return std::ranges::find(kSectionWords, bare) == kSectionWords.end() ? "" : word;
}

// "A", "B2:", "C1." on a line of its own, before one that has bar lines.
std::string section_letter(std::string_view line) {
    std::string word{trimmed(line)};
    if (word.ends_with(':') || word.ends_with('.')) word.pop_back();
    const bool is_letter = !word.empty() && word[0] >= 'A' && word[0] <= 'D';
    const bool is_numbered = word.size() == 2 && is_digit(word[1]);
    return is_letter && (word.size() == 1 || is_numbered) ? word : "";
}

bool is_header_line(std::string_view line) {
    const std::size_t colon = line.find(':');
    if (colon == std::string_view::npos) return false;
    const std::string_view name = trimmed(line.substr(0, colon));
    return !name.empty() &&
           std::ranges::all_of(name, [](char c) { return is_letter(c) || c == ' ' || c == '-'; });
}

struct PastedLine {
    std::string text;
    bool is_chords = false;  // and nothing else, without bar lines
};

// A kind of change, said once with its first place.
struct Change {
    std::size_t line = 0;  // from 1
    std::size_t times = 0;
    std::string first;

    void note(std::size_t at, const std::string& what) {
        if (times++ == 0) {
            line = at;
            first = what;
        }
    }
};

class PastedChart {
  public:
    explicit PastedChart(const SourceText& source) : source_{source} {
        for (const std::string_view line : split(source.text, '\n'))
            lines_.push_back({with_plain_blanks(std::string{line})});
    }

    std::optional<SourceText> rewrite(Diagnostics& diagnostics) {
        put_german_names();
        for (std::size_t i = 0; i < lines_.size(); ++i) rewrite_line(i);
        if (!has_bar_lines_) bar_the_chords();
        std::string text;
        for (const PastedLine& line : lines_) text += line.text + "\n";
        text.pop_back();
        if (text == source_.text) return std::nullopt;
        say(diagnostics);
        return SourceText{source_.name, text};
    }

  private:
    void put_german_names() {
        GermanNames german;
        for (const PastedLine& line : lines_) german.look_at(line.text);
        for (std::size_t i = 0; i < lines_.size(); ++i) {
            note_doubtful_b(german, i);
            const std::string now = german.in_english(lines_[i].text);
            if (now != lines_[i].text) german_.note(i + 1, std::string{trimmed(now)});
            lines_[i].text = now;
        }
    }

    void note_doubtful_b(const GermanNames& german, std::size_t i) {
        const std::optional<std::size_t> at = german.doubtful_b(lines_[i].text);
        if (at && doubtful_b_.empty()) doubtful_b_ = std::to_string(i + 1) + ":" + std::to_string(*at + 1);
    }

    void rewrite_line(std::size_t i) {
        std::string& text = lines_[i].text;
        const std::string_view line = trimmed(text);
        if (line.empty() || line.starts_with(';') || line.starts_with('[')) return;
        if (line.starts_with("//") || line.starts_with("# ") || line.starts_with("##")) {
            notes_.note(i + 1, std::string{line});
            const std::size_t words = std::min(line.find_first_not_of("/# "), line.size());
            text = "; " + std::string{line.substr(words)};
        } else if (const std::string section = section_of(line); !section.empty()) {
            take_section(i, section);
        } else if (const std::string letter = section_letter(line); !letter.empty() && has_bars_behind(i)) {
            take_section(i, letter);
        } else if (line.find('|') != std::string_view::npos) {
            cut_remark(i);
            put_repeats(i);
            has_bar_lines_ = true;
            has_music_ = true;
        } else if (is_header_line(line)) {
            has_title_ = has_title_ || header_kind(line.substr(0, line.find(':'))) == HeaderKind::Title;
        } else {
            rewrite_words(i);
        }
    }

    // What stands behind the last bar line after // is a remark.
    void cut_remark(std::size_t i) {
        std::string& text = lines_[i].text;
        const std::size_t behind = text.rfind('|') + 1;
        const std::string_view remark = trimmed(std::string_view{text}.substr(behind));
        if (!remark.starts_with("//")) return;
        notes_.note(i + 1, std::string{remark});
        text = text.substr(0, behind) + " ; " + std::string{trimmed(remark.substr(2))};
    }

    // The next line with anything on it has bar lines.
    [[nodiscard]] bool has_bars_behind(std::size_t i) const {
        for (++i; i < lines_.size(); ++i) {
            if (!trimmed(lines_[i].text).empty()) return lines_[i].text.find('|') != std::string::npos;
        }
        return false;
    }

    void take_section(std::size_t i, const std::string& name) {
        sections_.note(i + 1, name);
        lines_[i].text = "[" + name + "]";
    }

    // A bar with nothing but x is the bar before again, where there is one.
    void put_repeats(std::size_t i) {
        std::string& text = lines_[i].text;
        for (std::size_t at = 0; (at = text.find_first_of("xX", at)) != std::string::npos; ++at) {
            const std::string_view before = trimmed(std::string_view{text}.substr(0, at));
            const std::string_view after = trimmed(std::string_view{text}.substr(at + 1));
            const bool stands_alone =
                before.ends_with('|') && !before.ends_with(":|") && after.starts_with('|');
            const bool has_bar_before = has_music_ || text.find_first_not_of(" |:") < at;
            if (!stands_alone || !has_bar_before) continue;
            repeats_.note(i + 1, std::string(1, text[at]));
            text[at] = '%';
        }
    }

    // A line without bar lines: chords, a title, or words of the song.
    void rewrite_words(std::size_t i) {
        PastedLine& line = lines_[i];
        const Words words = words_of_line(line.text);
        const auto chords = static_cast<std::size_t>(std::ranges::count_if(words, is_chord));
        constexpr std::size_t kLeastWords = 3;
        if (chords == words.size()) {
            line.is_chords = true;
            has_music_ = true;
        } else if (!has_music_ && !has_title_ && chords == 0 && is_plain_text(line.text)) {
            has_title_ = true;
            title_.note(i + 1, std::string{trimmed(line.text)});
            line.text = "Title: " + std::string{trimmed(line.text)};
        } else if (words.size() >= kLeastWords && chords * 3 <= words.size() && is_plain_text(line.text)) {
            song_.note(i + 1, std::string{trimmed(line.text)});
            line.text = "; " + std::string{trimmed(line.text)};
        }
    }

    // Words of a language: what has numbers and signs in it is rather a slip among chords.
    static bool is_plain_text(std::string_view line) {
        return std::ranges::all_of(line, [](char c) {
            return is_letter(c) || static_cast<unsigned char>(c) >= 0x80 ||
                   std::string_view{" ',.!?-\"\r"}.find(c) != std::string_view::npos;
        });
    }

    // Two chords and more that no bar line parts are a bar each.
    void bar_the_chords() {
        std::size_t chords = 0;
        for (const PastedLine& line : lines_) {
            if (line.is_chords) chords += words_of_line(line.text).size();
        }
        if (chords < 2) return;
        for (std::size_t i = 0; i < lines_.size(); ++i) {
            if (!lines_[i].is_chords) continue;
            std::string bars = "|";
            for (const std::string_view word : words_of_line(lines_[i].text))
                bars += " " + std::string{word} + " |";
            bars_.note(i + 1, bars);
            lines_[i].text = bars;
        }
    }

    void say(Diagnostics& diagnostics) const {
        const auto note = [&](const Change& change, const std::string& message, const std::string& hint) {
            if (change.times == 0) return;
            const std::string more = change.times > 1
                                         ? " (and " + std::to_string(change.times - 1) +
                                               (change.times > 2 ? " lines more)" : " line more)")
                                         : "";
            diagnostics.note_at(source_.name + ":" + std::to_string(change.line), message + more, hint);
        };
        note(bars_, "no bar lines: each chord taken as a bar", bars_.first);
        note(sections_, "'" + sections_.first + "' taken as a section", "[" + sections_.first + "]");
        note(title_, "'" + title_.first + "' taken as the title", "Title: " + title_.first);
        note(song_, "words of the song are no chords, and read past", "; " + song_.first);
        note(notes_, "'" + notes_.first + "' taken as a note", "a note of yours begins with ;");
        note(repeats_, "'" + repeats_.first + "' taken as the bar before again", "| % |");
        if (!doubtful_b_.empty())
            diagnostics.note_at(source_.name + ":" + doubtful_b_,
                                "H stands in this chart, so B is read as B flat",
                                "where B natural is meant, write B for every H");
        note(german_, "German names: H is B, B is Bb, small letters are minor", german_.first);
    }

    const SourceText& source_;
    std::vector<PastedLine> lines_;
    bool has_bar_lines_ = false;
    bool has_music_ = false;
    bool has_title_ = false;
    std::string doubtful_b_;  // line and column of the first
    Change bars_, sections_, title_, song_, notes_, repeats_, german_;
};

}  // namespace

std::optional<SourceText> as_our_chart(const SourceText& source, Diagnostics& diagnostics) {
    return PastedChart{source}.rewrite(diagnostics);
}

}  // namespace shedbook
