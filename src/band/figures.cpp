#include "figures.h"

#include <algorithm>
#include <cassert>
#include <cctype>
#include <map>
#include <tuple>

#include "shedbook/base/text.h"
#include "shedbook/io/embedded.h"
#include "shedbook/io/fields.h"

namespace shedbook {
namespace {

struct StyleRow {
    BandStyle style = BandStyle::Swing;
    std::vector<std::string> words;
    Eighths eighths = Eighths::Swing;
    BandStyle like = BandStyle::Swing;
    bool brushes = false;
    bool walks = false;
    int pushed = 0;
};

struct PulseRow {
    PulseAsked pulse = PulseAsked::Two;
    std::vector<std::string> words;
};

// Which figures: style ("any" is none), eighths, in threes, and pulse or whether it is a fill.
using Place = std::tuple<std::optional<BandStyle>, Rational, bool, bool>;

struct BandFile {
    std::vector<StyleRow> styles;
    std::vector<PulseRow> pulses;
    std::map<Place, std::vector<BandFigure>> bass;
    std::map<Place, std::vector<BandFigure>> chords;
    std::map<Place, std::vector<BandFigure>> endings;
    std::map<Place, std::vector<DrumFigure>> drums;
};

// "x-.x" in a part of so many eighths.
Strokes read_strokes(std::string_view steps, Duration part) {
    Strokes out;
    const Duration each = part * Rational{1, static_cast<std::int64_t>(steps.size())};
    for (std::size_t i = 0; i < steps.size(); ++i) {
        const char sign = steps[i];
        if (sign == '.') continue;
        if (sign == '-') {
            if (!out.empty()) out.back().length += each;
            continue;
        }
        out.push_back({each * Rational{static_cast<std::int64_t>(i)}, each, sign});
    }
    return out;
}

class BandReader {
  public:
    BandReader(const SourceText& source, Diagnostics& diagnostics)
        : source_{source}, diagnostics_{diagnostics} {}

    BandFile read() {
        const std::optional<Data> data = read_toml(source_, diagnostics_);
        if (!data) return {};
        for (const Data& entry : entries_of(*data, "style", source_, diagnostics_)) read_style(entry);
        for (const Data& entry : entries_of(*data, "pulse", source_, diagnostics_)) {
            Fields fields{source_, entry, "pulse", diagnostics_};
            PulseRow row{fields.word<PulseAsked>("id", PulseAsked::Two), fields.texts("words")};
            if (fields.finish()) out_.pulses.push_back(std::move(row));
        }
        for (const Data& entry : entries_of(*data, "bass", source_, diagnostics_)) {
            Fields fields{source_, entry, "bass", diagnostics_};
            const bool is_two = fields.word<BassPulse>("feel", BassPulse::Four) == BassPulse::Two;
            read_figures(fields, is_two, out_.bass);
        }
        for (const Data& entry : entries_of(*data, "chords", source_, diagnostics_)) {
            Fields fields{source_, entry, "chords", diagnostics_};
            read_figures(fields, false, out_.chords);
        }
        for (const Data& entry : entries_of(*data, "ending", source_, diagnostics_)) {
            Fields fields{source_, entry, "ending", diagnostics_};
            read_figures(fields, false, out_.endings);
        }
        for (const Data& entry : entries_of(*data, "drums", source_, diagnostics_)) read_drums(entry);
        return std::move(out_);
    }

  private:
    void read_style(const Data& entry) {
        Fields fields{source_, entry, "style", diagnostics_};
        StyleRow row;
        row.style = fields.word<BandStyle>("id", BandStyle::Swing);
        row.words = fields.texts("words");
        row.eighths = fields.word<Eighths>("eighths", Eighths::Swing);
        row.like = fields.word<BandStyle>("like", row.style);
        row.brushes = fields.flag("brushes", false);
        row.walks = fields.flag("walking", false);
        row.pushed = fields.number("pushed", 0, kOfPhrases, 0);
        if (fields.finish()) out_.styles.push_back(std::move(row));
    }

    Place read_place(Fields& fields, bool variant) {
        const std::string word = fields.text("style");
        const std::optional<BandStyle> style = from_word<BandStyle>(word);
        if (!style && word != "any") fields.fail({}, "no style is called '" + word + "'");
        const int eighths = fields.number("eighths", 1, 16);
        return {style, Rational{eighths, 8}, fields.flag("threes", false), variant};
    }

    void read_figures(Fields& fields, bool variant, std::map<Place, std::vector<BandFigure>>& out) {
        const Place place = read_place(fields, variant);
        std::vector<BandFigure>& figures = out[place];
        for (const Data& entry : list_of(fields)) {
            Fields figure{source_, entry, "figure", diagnostics_};
            const std::string steps = figure.text("steps");
            const int share = figure.number("share", 1, 100);
            if (figure.finish()) figures.push_back({read_strokes(steps, {std::get<Rational>(place)}), share});
        }
        (void)fields.finish();
    }

    void read_drums(const Data& entry) {
        Fields fields{source_, entry, "drums", diagnostics_};
        const bool is_fill = fields.either("kind", "time", "fill", false);
        const Place place = read_place(fields, is_fill);
        const int from = fields.number("from", 0, kNoTempo, 0);
        const int below = fields.number("below", 1, kNoTempo, kNoTempo);
        std::vector<DrumFigure>& figures = out_.drums[place];
        for (const Data& each : list_of(fields)) {
            Fields figure{source_, each, "figure", diagnostics_};
            DrumFigure out;
            out.from = from;
            out.below = below;
            out.full = figure.number("full", 1, kFullest, 1);
            out.share = figure.number("share", 1, 100);
            for (const Worded<Drum>& drum : kWords<Drum>) {
                const std::string steps = figure.text(drum.word, "");
                if (!steps.empty()) out.voices.emplace_back(drum.value, read_bars(steps, place));
            }
            if (figure.finish()) figures.push_back(std::move(out));
        }
        (void)fields.finish();
    }

    static std::vector<Strokes> read_bars(const std::string& steps, const Place& place) {
        std::vector<Strokes> out;
        for (const std::string_view bar : split(steps, '|'))
            out.push_back(read_strokes(trimmed(bar), {std::get<Rational>(place)}));
        return out;
    }

    const Data::Array& list_of(Fields& fields) {
        static const Data::Array kNone;
        const Data* list = fields.need("figures");
        return list != nullptr && list->as_array() != nullptr ? *list->as_array() : kNone;
    }

    const SourceText& source_;
    Diagnostics& diagnostics_;
    BandFile out_;
};

const BandFile& band_file() {
    static const BandFile kFile =
        read_shipped("band.toml", [](const SourceText& source, Diagnostics& diagnostics) {
            return BandReader{source, diagnostics}.read();
        });
    return kFile;
}

const StyleRow& row_of(BandStyle style) {
    const std::vector<StyleRow>& rows = band_file().styles;
    const auto row = std::ranges::find(rows, style, &StyleRow::style);
    assert(row != rows.end());  // a test looks for each
    return *row;
}

template <class Figures>
const Figures& figures_in(const std::map<Place, Figures>& all, BandStyle style, bool variant,
                          const BarPart& part) {
    static const Figures kNone;
    const std::optional<BandStyle> own = row_of(style).like;
    const Rational length = part.length.whole_notes;
    for (const auto& which : {own, std::optional<BandStyle>{}}) {
        for (const bool threes : {part.in_threes, false}) {
            const auto found = all.find({which, length, threes, variant});
            if (found != all.end()) return found->second;
        }
    }
    return kNone;
}

// Whole words with a blank on either side: "in seven" is not even.
std::string as_words(std::string_view text) {
    std::string out = " ";
    for (const char c : lower_case(text)) {
        const bool belongs = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '/';
        if (belongs || out.back() != ' ') out += belongs ? c : ' ';
    }
    return out.back() == ' ' ? out : out + " ";
}

// The first that has one of its words in these.
template <class Row>
const Row* row_named(const std::vector<Row>& rows, std::string_view words) {
    const std::string text = as_words(words);
    const auto row = std::ranges::find_if(rows, [&](const Row& each) {
        return std::ranges::any_of(each.words, [&](const std::string& word) {
            return text.find(as_words(word)) != std::string::npos;
        });
    });
    return row == rows.end() ? nullptr : &*row;
}

bool is_whole(const Meter& meter) {
    const Rational eighths = meter.bar_length() / kEighth;
    if (eighths.den() != 1 || !meter.groups.empty()) return false;
    if (meter.is_compound()) return meter.beats == 6 && meter.unit == 8;
    return meter.unit <= 4 && (eighths.num() == 8 || eighths.num() == 6 || eighths.num() == 4);
}

}  // namespace

std::optional<BandStyle> style_named(std::string_view words) {
    const StyleRow* row = row_named(band_file().styles, words);
    return row != nullptr ? std::optional{row->style} : std::nullopt;
}

std::optional<PulseAsked> pulse_named(std::string_view words) {
    const PulseRow* row = row_named(band_file().pulses, words);
    return row != nullptr ? std::optional{row->pulse} : std::nullopt;
}

Eighths eighths_of(BandStyle style) {
    return row_of(style).eighths;
}

bool has_brushes(BandStyle style) {
    return row_of(style).brushes;
}

bool has_walking_bass(BandStyle style) {
    return row_of(style).walks;
}

int pushed_phrases(BandStyle style) {
    return row_of(style).pushed;
}

const std::vector<BandFigure>& bass_figures(BandStyle style, BassPulse pulse, const BarPart& part) {
    if (pulse == BassPulse::Two) {
        const std::vector<BandFigure>& two = figures_in(band_file().bass, style, true, part);
        if (!two.empty()) return two;
    }
    return figures_in(band_file().bass, style, false, part);
}

const std::vector<BandFigure>& chord_figures(BandStyle style, const BarPart& part) {
    return figures_in(band_file().chords, style, false, part);
}

const std::vector<BandFigure>& ending_figures(BandStyle style, const BarPart& part) {
    return figures_in(band_file().endings, style, false, part);
}

const std::vector<DrumFigure>& drum_figures(BandStyle style, bool is_fill, const BarPart& part) {
    return figures_in(band_file().drums, style, is_fill, part);
}

std::vector<BarPart> parts_of(const Meter& meter) {
    if (is_whole(meter)) return {{{}, meter.bar_length(), meter.is_compound()}};
    std::vector<BarPart> out;
    Duration at;
    if (meter.is_compound()) {
        // Two beats make a part as in 6/8; an odd one over is by itself.
        const Duration beat = meter.beat_length();
        while (at < meter.bar_length()) {
            const bool two = at + beat * Rational{2} <= meter.bar_length() && meter.beats % 6 == 0;
            out.push_back({at, two ? beat * Rational{2} : beat, true});
            at += out.back().length;
        }
        return out;
    }
    for (const int group : meter.grouping()) {
        out.push_back({at, meter.unit_length() * Rational{group}, false});
        at += out.back().length;
    }
    return out;
}

}  // namespace shedbook
