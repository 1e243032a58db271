#include "tune_headers.h"

#include <algorithm>
#include <optional>
#include <string>
#include <vector>

#include "shedbook/base/text.h"
#include "shedbook/chart/limits.h"

namespace shedbook {
namespace {

struct HeaderRow {
    std::string_view slug;
    HeaderKind kind;
    std::string_view printed;  // empty: another word for a row above
};

constexpr HeaderRow kHeaders[] = {
    {"title", HeaderKind::Title, "Title"}, {"composer", HeaderKind::Composer, "Composer"},
    {"key", HeaderKind::Key, "Key"},       {"meter", HeaderKind::Meter, "Meter"},
    {"metre", HeaderKind::Meter, ""},      {"time", HeaderKind::Meter, ""},
    {"tempo", HeaderKind::Tempo, "Tempo"}, {"feel", HeaderKind::Feel, "Feel"},
    {"style", HeaderKind::Feel, ""},       {"written-for", HeaderKind::WrittenFor, "Written for"},
};

std::string nearest_header(std::string_view name) {
    std::vector<std::string> names;
    for (const HeaderRow& row : kHeaders) {
        if (!row.printed.empty()) names.emplace_back(row.printed);
    }
    return nearest(name, names);
}

// "132", "132 bpm".
std::optional<int> parse_tempo(std::string_view text) {
    std::string word = lower_case(text);
    if (word.ends_with("bpm")) word = std::string{trimmed(std::string_view{word}.substr(0, word.size() - 3))};
    if (word.empty() || word.size() > 3 || word.find_first_not_of("0123456789") != std::string::npos) {
        return std::nullopt;
    }
    const int tempo = std::stoi(word);
    if (tempo < kSlowestMark || tempo > kFastestMark) return std::nullopt;
    return tempo;
}

bool is_free_text(HeaderKind kind) {
    return kind == HeaderKind::Title || kind == HeaderKind::Composer || kind == HeaderKind::Feel ||
           kind == HeaderKind::Other;
}

bool is_set(const Chart& chart, HeaderKind kind) {
    switch (kind) {
        case HeaderKind::Title:
            return !chart.title.empty();
        case HeaderKind::Composer:
            return !chart.composer.empty();
        case HeaderKind::Key:
            return chart.key.has_value();
        case HeaderKind::Meter:
            return chart.meter.has_value();
        case HeaderKind::Tempo:
            return chart.tempo.has_value();
        case HeaderKind::Feel:
            return !chart.feel.empty();
        case HeaderKind::WrittenFor:
            return !chart.written_for.empty();
        case HeaderKind::Other:
            return false;
    }
    return false;
}

class HeaderReader {
  public:
    HeaderReader(const TuneToken& header, const SourceText& source, Chart& chart, Diagnostics& diagnostics)
        : header_{header}, source_{source}, chart_{chart}, diagnostics_{diagnostics} {}

    void run() {
        const HeaderKind kind = header_kind(header_.name);
        const std::string_view value = is_free_text(kind) ? header_.text : header_value(header_);
        if (value.empty()) {
            if (!is_free_text(kind)) tell_of_nothing();
            return;
        }
        if (is_set(chart_, kind)) {
            fault("'" + std::string{header_.name} + "' is given twice",
                  "one file holds one tune; keep one of the two");
            return;
        }
        set(kind, value);
        const std::size_t comment = header_.text.find(';');
        if (!is_free_text(kind) && comment != std::string_view::npos) {
            chart_.comments.emplace_back(trimmed(header_.text.substr(comment + 1)));
        }
    }

  private:
    void set(HeaderKind kind, std::string_view value) {
        switch (kind) {
            case HeaderKind::Title:
                chart_.title = value;
                break;
            case HeaderKind::Composer:
                chart_.composer = value;
                break;
            case HeaderKind::Feel:
                chart_.feel = value;
                break;
            case HeaderKind::WrittenFor:
                chart_.written_for = slug(value);
                break;
            case HeaderKind::Key:
                chart_.key = parse_key(value);
                if (!chart_.key)
                    fault("no key is called '" + std::string{value} + "'", "as in: Bb, Gm, D dorian");
                break;
            case HeaderKind::Meter:
                chart_.meter = parse_meter(value);
                if (!chart_.meter)
                    fault("'" + std::string{value} + "' is no meter", "as in: 4/4, 6/8, 3+2/8");
                break;
            case HeaderKind::Tempo:
                set_tempo(value);
                break;
            case HeaderKind::Other:
                keep(value);
                break;
        }
    }

    // "138", and also "138 medium swing", whose words say how the tune goes.
    void set_tempo(std::string_view value) {
        chart_.tempo = parse_tempo(value);
        const std::size_t blank = std::min(value.find_first_of(" ,"), value.size());
        const std::string words{trimmed(value.substr(std::min(blank + 1, value.size())))};
        if (!chart_.tempo && chart_.feel.empty() && !words.empty() && is_letter(words.front())) {
            chart_.tempo = parse_tempo(value.substr(0, blank));
            if (chart_.tempo) take_as_feel(words);
        }
        if (!chart_.tempo)
            fault("'" + std::string{value} + "' is no tempo", "beats a minute, from 10 to 600: Tempo: 132");
    }

    void take_as_feel(const std::string& words) {
        chart_.feel = words;
        diagnostics_.note_at(source_.name + ":" + std::to_string(source_.place_of(header_.span.begin).line),
                             "'" + words + "' taken as the feel", "Feel: " + words);
    }

    // A title may be left for later; what the music hangs on is not passed over.
    void tell_of_nothing() {
        diagnostics_.warning(source_, header_.span, "'" + std::string{header_.name} + ":' says nothing",
                             "it is as if the line were not there");
    }

    void keep(std::string_view value) {
        const std::string near = nearest_header(header_.name);
        const Span name{header_.span.begin, header_.span.begin + header_.name.size()};
        if (!near.empty()) {
            diagnostics_.error(source_, name, "no header is called '" + std::string{header_.name} + "'",
                               "did you mean '" + near + ":'?", {{name, near}});
            return;
        }
        chart_.other_headers.emplace_back(header_.name, value);
        diagnostics_.warning(source_, name, "'" + std::string{header_.name} + "' is no header that is known",
                             "it is kept, and has no effect");
    }

    void fault(std::string message, std::string hint) {
        diagnostics_.error(source_, value_span(header_, source_), std::move(message), std::move(hint));
    }

    const TuneToken& header_;
    const SourceText& source_;
    Chart& chart_;
    Diagnostics& diagnostics_;
};

}  // namespace

HeaderKind header_kind(std::string_view name) {
    const std::string wanted = slug(name);
    const auto row = std::ranges::find(kHeaders, wanted, &HeaderRow::slug);
    return row == std::end(kHeaders) ? HeaderKind::Other : row->kind;
}

bool is_kept_header(std::string_view name, std::string_view value) {
    const SourceText line{{}, std::string{name} + ": " + std::string{value}};
    const std::vector<TuneToken> tokens = tune_tokens(line);
    const bool is_header = tokens.size() == 2 && tokens[0].kind == TokenKind::Header &&
                           tokens[0].name == name && tokens[0].text == value;
    return is_header && header_kind(name) == HeaderKind::Other && nearest_header(name).empty();
}

std::string_view header_value(const TuneToken& header) {
    return trimmed(header.text.substr(0, header.text.find(';')));
}

Span value_span(const TuneToken& header, const SourceText& source) {
    const std::string_view value = header_value(header);
    if (value.empty()) return header.span;
    const auto begin = static_cast<std::size_t>(value.data() - source.text.data());
    return {begin, begin + value.size()};
}

void take_header(const TuneToken& header, const SourceText& source, Chart& chart, Diagnostics& diagnostics) {
    HeaderReader{header, source, chart, diagnostics}.run();
}

}  // namespace shedbook
