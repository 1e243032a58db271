#include "style.h"

#include <algorithm>
#include <cassert>

#include "chord_facts.h"
#include "shedbook/base/enum_table.h"
#include "shedbook/base/text.h"
#include "shedbook/io/data.h"
#include "shedbook/io/embedded.h"

namespace shedbook {
namespace {

constexpr int kBeat = 60;  // ticks
constexpr std::size_t kStyles = count_of<EtudeStyle>();

struct StyleFile {
    std::array<EtudeStyleRow, kStyles> rows;
    std::array<std::vector<std::string>, kStyles> words;
    std::array<std::vector<std::string>, kStyles> also;
};

std::vector<std::string> strings(const Data* list) {
    std::vector<std::string> out;
    if (list == nullptr) return out;
    for (const Data& word : *list->as_array()) out.push_back(word.as_string().value_or(""));
    return out;
}

BeatPattern read_pattern(const Data& entry) {
    BeatPattern out;
    const std::string places = entry.find("on")->as_string().value_or("");
    for (const std::string_view word : split(places, ' ')) {
        if (word.empty()) continue;
        int over = 0;
        int under = 1;
        const std::size_t bar = word.find('/');
        over = word[0] - '0';
        if (bar != std::string_view::npos) under = word[bar + 1] - '0';
        assert(static_cast<std::size_t>(out.count) < out.onsets.size());
        out.onsets[static_cast<std::size_t>(out.count++)] = static_cast<std::int8_t>(kBeat * over / under);
    }
    out.share = entry.find("share")->as_number().value_or(0);
    return out;
}

double number(const Data& entry, const char* key, double absent) {
    const Data* value = entry.find(key);
    return value == nullptr ? absent : value->as_number().value_or(absent);
}

StyleFile read_styles() {
    Diagnostics diagnostics;
    const SourceText source{"etude_styles.toml", std::string{embedded_template("etude_styles.toml")}};
    const std::optional<Data> data = read_toml(source, diagnostics);
    assert(data && !diagnostics.has_errors());  // a test reads every style
    StyleFile out;
    for (const Data& entry : *data->find("style")->as_array()) {
        const auto style = from_word<EtudeStyle>(entry.find("id")->as_string().value_or(""));
        assert(style);
        const std::size_t which = row_index(*style);
        EtudeStyleRow& row = out.rows[which];
        constexpr std::array kDivisions{"two", "three", "one"};
        for (std::size_t k = 0; k < kDivisions.size(); ++k) {
            for (const Data& pattern : *entry.find(kDivisions[k])->as_array())
                row.patterns[k].push_back(read_pattern(pattern));
        }
        row.density = number(entry, "density", 1);
        row.outside = number(entry, "outside", 1);
        row.fourths = number(entry, "fourths", 1);
        row.off_tone = number(entry, "off-tone", 0);
        row.figures = number(entry, "figures", 1);
        row.beats = number(entry, "beats", 1);
        row.held_over = number(entry, "held-over", 0);
        row.outside_triads = number(entry, "outside-triads", row.outside);
        out.words[which] = strings(entry.find("words"));
        out.also[which] = strings(entry.find("also"));
    }
    return out;
}

const StyleFile& style_file() {
    static const StyleFile kFile = read_styles();
    return kFile;
}

// Whole words of a feel, in small letters.
std::vector<std::string> said_in(std::string_view feel) {
    std::vector<std::string> out{""};
    for (const char letter : lower_case(feel)) {
        if (letter >= 'a' && letter <= 'z') {
            out.back() += letter;
        } else if (!out.back().empty()) {
            out.emplace_back();
        }
    }
    return out;
}

}  // namespace

Duration value_of(const BeatPattern& pattern) {
    int grid = kBeat;
    for (int k = 0; k < pattern.count; ++k) {
        const int on = pattern.onsets[static_cast<std::size_t>(k)];
        if (on == 0) continue;
        if (on % 30 == 0) {
            grid = std::min(grid, 30);
        } else {
            grid = std::min(grid, on % 20 == 0 ? 20 : 15);
        }
    }
    return kQuarter * Rational{grid, kBeat};
}

const EtudeStyleRow& etude_style(EtudeStyle style) {
    return style_file().rows[static_cast<std::size_t>(style)];
}

bool has_triads(const EtudeGround& ground) {
    Duration triads;
    Duration dominants;
    Duration all;
    for (const ScaleSpan& span : ground.spans) {
        if (span.notes.empty() || !span.symbol) continue;
        all += span.length;
        constexpr unsigned kSevenths = 1U << 9U | 1U << 10U | 1U << 11U;
        const ChordFamily kind = family(*span.symbol);
        if ((pitch_set(*span.symbol) & kSevenths) == 0) {
            triads += span.length;
        } else if (kind == ChordFamily::Dominant || kind == ChordFamily::Suspended) {
            dominants += span.length;
        }
    }
    return triads * Rational{5} >= all * Rational{3} &&
           (triads + dominants) * Rational{4} >= all * Rational{3};
}

EtudeStyle style_of(std::string_view feel, const EtudeGround& ground) {
    const Meter meter = ground.bars.empty() ? Meter{} : ground.bars.front().meter;
    if (meter.is_compound()) return EtudeStyle::Compound;
    const std::vector<std::string> said = said_in(feel);
    const auto says = [&](const std::vector<std::string>& words) {
        return std::ranges::any_of(
            words, [&](const std::string& word) { return std::ranges::find(said, word) != said.end(); });
    };
    // The more telling word first: "swing ballad", "modern, straight".
    constexpr std::array kOrder{EtudeStyle::Ballad, EtudeStyle::Modern,      EtudeStyle::Waltz,
                                EtudeStyle::Latin,  EtudeStyle::Traditional, EtudeStyle::Swing};
    const EtudeStyle usual = meter.beats == 3 ? EtudeStyle::Waltz : EtudeStyle::Swing;
    for (const EtudeStyle style : kOrder) {
        if (says(style_file().words[static_cast<std::size_t>(style)]))
            return style == EtudeStyle::Swing ? usual : style;
    }
    if (has_triads(ground)) return EtudeStyle::Traditional;
    for (const EtudeStyle style : kOrder) {
        if (says(style_file().also[static_cast<std::size_t>(style)])) return style;
    }
    return usual;
}

}  // namespace shedbook
