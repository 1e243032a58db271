#include <algorithm>
#include <array>

#include "shedbook/base/text.h"
#include "shedbook/report/report.h"

namespace shedbook {
namespace {

std::string padded(std::string_view text, std::size_t width) {
    std::string out{text};
    const std::size_t length = count_characters(text);
    if (length < width) out.append(width - length, ' ');
    return out;
}

std::string right(std::string_view text, std::size_t width) {
    const std::size_t length = count_characters(text);
    return (length < width ? std::string(width - length, ' ') : std::string{}) + std::string{text};
}

std::string note_list(const std::vector<PitchClass>& notes) {
    std::vector<std::string> names;
    names.reserve(notes.size());
    for (const PitchClass note : notes) names.push_back(to_string(note));
    return join(names, " ");
}

// Words into lines of `width` columns, each begun with `indent` blanks.
std::string wrapped(std::string_view text, std::size_t indent, std::size_t width) {
    std::string out;
    std::string line(indent, ' ');
    for (const std::string_view word : split(text, ' ')) {
        const bool fresh = line.size() == indent;
        if (!fresh && count_characters(line) + 1 + count_characters(word) > width) {
            out += line + "\n";
            line.assign(indent, ' ');
        }
        if (line.size() > indent) line += ' ';
        line += word;
    }
    return out + line + "\n";
}

std::string cut(std::string text, std::size_t width) {
    while (!text.empty() && text.back() == ' ') text.pop_back();
    std::size_t end = 0;
    for (std::size_t count = 0; end < text.size() && count < width; ++count)
        end += character_length(text, end);
    return text.substr(0, end);
}

struct Row {
    std::string bar;
    std::string symbol;
    std::string numeral;
    std::string scale;
    std::string notes;
};

constexpr std::size_t kBarWidth = 6;

// Widths of the columns that follow the bar number; the notes go if there is no room for them.
struct Columns {
    std::size_t symbol = 0;
    std::size_t numeral = 0;
    std::size_t scale = 0;
    std::size_t notes = 0;
    bool with_notes = true;

    void take(const Row& row) {
        symbol = std::max(symbol, count_characters(row.symbol));
        numeral = std::max(numeral, count_characters(row.numeral));
        scale = std::max(scale, count_characters(row.scale));
        notes = std::max(notes, count_characters(row.notes));
    }
    void fit(std::size_t width) { with_notes = kBarWidth + symbol + numeral + scale + notes + 8 <= width; }
    [[nodiscard]] std::string line(const Row& row) const {
        std::string out = right(row.bar, kBarWidth) + "  " + padded(row.symbol, symbol) + "  " +
                          padded(row.numeral, numeral) + "  " + padded(row.scale, scale);
        if (with_notes) out += "  " + row.notes;
        return out;
    }
};

Row row_of(const Reading& reading, int bar, const SymbolStyle& style) {
    return {std::to_string(bar), to_string(reading.symbol, style), reading.numeral,
            to_string(reading.scale.scale), note_list(reading.scale.notes)};
}

std::string heading(const Chart& chart, const Analysis& analysis) {
    std::string out = printable(chart.name()) + ": " + to_string(analysis.home);
    if (analysis.form == "blues" || analysis.form == "modal") out += ", " + analysis.form;
    return out;
}

// Where the home key may be another: which, and what speaks for each.
std::string doubt_lines(const Analysis& analysis, std::size_t width) {
    std::string out;
    if (analysis.overruled) {
        const std::string named = to_string(*analysis.overruled);
        out += wrapped("the chart names " + named + ", its chords say " + to_string(analysis.home) +
                           "; --key \"" + named + "\" keeps what it names",
                       2, width);
    }
    const HomeDoubt& doubt = analysis.doubt;
    if (!doubt.runner_up || doubt.probability >= kSureEnough) return out;
    const std::string other = to_string(*doubt.runner_up);
    std::string said = "or " + other + ": end it there and see";
    const auto speak = [&](const std::string& key, const Reason& reason) {
        if (!reason.words.empty()) said += "; for " + key + ": " + in_words(reason);
    };
    speak(to_string(analysis.home), doubt.for_home);
    speak(other, doubt.for_runner_up);
    return out + wrapped(said, 2, width);
}

// One walk through the written bars; `visit` gets each section, bar and reading (null for a no-chord).
template <class OnSection, class OnChord>
void walk(const Chart& chart, const Analysis& analysis, OnSection on_section, OnChord on_chord) {
    int inst = 0;
    std::size_t at = 0;
    const Section* section = nullptr;
    for (const WrittenBar& bar : written_bars(chart)) {
        if (bar.section != section) {
            section = bar.section;
            on_section(*section);
        }
        for (const PlacedChord& placed : bar.bar->chords) {
            while (at < analysis.readings.size() && analysis.readings[at].inst < inst) ++at;
            const bool found = at < analysis.readings.size() && analysis.readings[at].inst == inst;
            on_chord(bar.index + 1, placed, found ? &analysis.readings[at] : nullptr,
                     found ? &analysis.also[at] : nullptr);
            ++inst;
        }
    }
}

}  // namespace

std::string changes_table(const Chart& chart, const Analysis& analysis, const TableOptions& options) {
    const auto width = static_cast<std::size_t>(std::max(options.width, 40));
    Columns columns;
    walk(
        chart, analysis, [](const Section&) {},
        [&](int bar, const PlacedChord&, const Reading* reading, const std::vector<Reading>* also) {
            if (reading == nullptr) return;
            columns.take(row_of(*reading, bar, options.symbols));
            for (const Reading& other : *also) columns.take(row_of(other, bar, options.symbols));
        });
    columns.fit(width);

    std::string out = wrapped(heading(chart, analysis), 0, width) + doubt_lines(analysis, width);
    std::optional<Key> key;
    const auto name_key = [&](Key now) {
        if (key && *key == now) return;
        out += cut("  " + to_string(now), width) + "\n";
        key = now;
    };
    walk(
        chart, analysis,
        [&](const Section& section) {
            out += "\n";
            if (!section.label.empty()) out += cut(printable(section.label), width) + "\n";
            key.reset();
        },
        [&](int bar, const PlacedChord& placed, const Reading* reading, const std::vector<Reading>* also) {
            if (reading == nullptr) {
                const std::string symbol =
                    placed.symbol ? to_string(*placed.symbol, options.symbols) : "N.C.";
                out += cut(columns.line({std::to_string(bar), symbol, {}, {}, {}}), width) + "\n";
                return;
            }
            name_key(reading->key);
            out += cut(columns.line(row_of(*reading, bar, options.symbols)), width) + "\n";
            if (options.why) out += wrapped(in_words(reading->scale.reason), kBarWidth + 4, width);
            for (const Reading& other : *also) {
                Row row = row_of(other, bar, options.symbols);
                const bool looks_other = row.numeral != row_of(*reading, bar, options.symbols).numeral ||
                                         row.scale != row_of(*reading, bar, options.symbols).scale ||
                                         other.key != reading->key;
                if (!looks_other) continue;
                row.bar = "again";
                out += cut(columns.line(row), width) + "\n";
                if (options.why)
                    out += wrapped(in_words(other.scale.reason) + " (in " + to_string(other.key) + ")",
                                   kBarWidth + 4, width);
            }
        });
    return out;
}

std::string explain_chord(const ChordSymbol& symbol) {
    constexpr std::size_t kWidth = 80;
    const std::vector<ScaleChoice> scales = scales_for(symbol);
    const ScaleChoice& first = scales.front();
    const ScaleType& type = *first.scale.type;
    std::string out = to_string(symbol) + ": " + note_list(chord_notes(symbol));
    if (symbol.bass) out += " over " + to_string(*symbol.bass);
    out += "\n\nPlay first: " + to_string(first.scale) + "\n";
    std::string names = "   ";
    std::string degrees = "   ";
    const std::vector<std::string_view> labels = degree_names(type);
    for (std::size_t i = 0; i < first.notes.size(); ++i) {
        names += " " + padded(to_string(first.notes[i]), 4);
        degrees += " " + padded(labels[i], 4);
    }
    out += cut(names, kWidth) + "\n" + cut(degrees, kWidth) + "\n";
    out += wrapped(in_words(first.reason), 4, kWidth);
    if (!first.avoid.empty()) out += "Pass over lightly on long values: " + note_list(first.avoid) + "\n";
    const std::vector<PitchClass> guides = guide_tones(heard_by_itself(symbol));
    if (!guides.empty()) out += "Guide tones: " + note_list(guides) + "\n";
    if (scales.size() > 1) out += "\nAlso fits:\n";
    for (std::size_t i = 1; i < scales.size(); ++i) {
        out += "  " + to_string(scales[i].scale) + ": " + note_list(scales[i].notes) + "\n";
        out += wrapped(in_words(scales[i].reason), 4, kWidth);
    }
    return out;
}

}  // namespace shedbook
