#include <algorithm>
#include <stdexcept>
#include <string>
#include <utility>

#include "../form_words.h"
#include "../score_bars.h"
#include "../score_messages.h"
#include "abc_fields.h"
#include "abc_music.h"
#include "shedbook/base/text.h"
#include "shedbook/chart/limits.h"
#include "shedbook/chart/readers.h"

namespace shedbook {
namespace {

// A comment runs from a percent sign to the end of the line; "\\%" is the sign itself.
std::string_view without_comment(std::string_view line) {
    for (std::size_t at = 0; at < line.size(); ++at) {
        if (line[at] == '%' && (at == 0 || line[at - 1] != '\\')) return line.substr(0, at);
    }
    return line;
}

// "K:Bb", but not the end of a repeat ("C:|").
bool is_field(std::string_view line) {
    return line.size() > 1 && (is_letter(line[0]) || line[0] == '+') && line[1] == ':' &&
           !line.substr(2).starts_with('|') && !line.substr(2).starts_with(':');
}

class AbcReader {
  public:
    AbcReader(const SourceText& source, Diagnostics& diagnostics)
        : source_{source}, diagnostics_{diagnostics}, music_{source, diagnostics} {}

    std::optional<Chart> run() {
        const std::string_view text = source_.text;
        for (std::size_t at = 0; at < text.size() && !is_over_;) {
            const std::size_t end = std::min(text.find('\n', at), text.size());
            take_line(text.substr(at, end - at), at);
            if (music_.is_full()) {
                diagnostics_.error(source_, {at, end},
                                   "more than " + std::to_string(kMostWrittenBars) + " bars", {});
                return std::nullopt;
            }
            at = end + 1;
        }
        if (!has_key_) {
            diagnostics_.error(source_, {0, 1}, "this is no ABC tune: no K: field ends its header",
                               "as in: X:1  T:Title  M:4/4  L:1/8  K:G, a line each");
            return std::nullopt;
        }
        std::vector<ScoreBar> bars = music_.finish();
        if (bars.empty()) {
            diagnostics_.error_at(source_.name, "the tune has no music", {});
            return std::nullopt;
        }
        if (chart_.feel.empty()) chart_.feel = rhythm_;
        ScoreMessages messages{source_.name, {}, diagnostics_};
        if (!put_into_chart(std::move(bars), chart_, messages)) return std::nullopt;
        return std::move(chart_);
    }

  private:
    void take_line(std::string_view line, std::size_t begin) {
        if (line.ends_with('\r')) line.remove_suffix(1);
        if (begin == 0 && line.starts_with("\xEF\xBB\xBF")) {
            line.remove_prefix(3);
            begin += 3;
        }
        if (trimmed(line).empty()) {
            is_over_ = has_key_;  // an empty line ends the tune
            return;
        }
        line = without_comment(line);
        if (trimmed(line).empty()) return;
        if (is_field(line)) {
            take_field(line[0], trimmed(line.substr(2)), {begin, begin + line.size()});
        } else if (has_key_ && is_first_voice_) {
            music_.take_line(line, begin, [&](char name, std::string_view value) {
                const auto at = static_cast<std::size_t>(value.data() - source_.text.data());
                take_field(name, value, {at, at + value.size()});
            });
        }
    }

    void take_field(char name, std::string_view value, Span where) {
        switch (name) {
            case 'X':
                take_number(where);
                break;
            case 'T':
                if (chart_.title.empty()) chart_.title = plain_words(value);
                break;
            case 'C':
                if (chart_.composer.empty()) chart_.composer = plain_words(value);
                break;
            case 'R':
                rhythm_ = plain_words(value);
                break;
            case 'M':
                take_meter(value, where);
                break;
            case 'L':
                take_unit(value, where);
                break;
            case 'Q':
                take_tempo(value);
                break;
            case 'K':
                take_key(value, where);
                break;
            case 'P':
                take_part(value, where);
                break;
            case 'V':
                take_voice(value, where);
                break;
            default:
                break;  // words, notes, sources and so on: not of the chart
        }
    }

    void take_number(Span where) {
        if (!has_key_) return;
        diagnostics_.warning(source_, where, "the file has more tunes; the first is read",
                             "put each into a file of its own");
        is_over_ = true;
    }

    void take_meter(std::string_view value, Span where) {
        const AbcMeter found = parse_abc_meter(value);
        if (!found.is_understood) {
            diagnostics_.warning(source_, where, "this meter is not understood", "as in: M:4/4, M:6/8, M:C|");
            return;
        }
        if (!has_key_) chart_.meter = found.meter;
        music_.set_meter(found.meter, has_key_);
    }

    void take_unit(std::string_view value, Span where) {
        const std::size_t slash = value.find('/');
        const bool has_form = slash != std::string_view::npos || value == "1";
        const auto unit = value == "1" ? std::optional<Meter>{Meter{1, 1}} : parse_meter(value);
        if (has_form && unit) {
            music_.set_unit(unit->bar_length());
        } else {
            diagnostics_.warning(source_, where, "this note length is not understood", "as in: L:1/8");
        }
    }

    void take_tempo(std::string_view value) {
        const AbcTempo found = parse_abc_tempo(value, chart_.meter);
        if (!chart_.tempo) chart_.tempo = found.tempo;
        if (chart_.feel.empty()) chart_.feel = plain_words(found.words);
    }

    void take_key(std::string_view value, Span where) {
        const AbcKey found = parse_abc_key(value);
        if (!found.is_understood)
            diagnostics_.warning(source_, where, "this key is not understood", "as in: K:Bb, K:Gm, K:Ddor");
        if (found.has_transpose) {
            diagnostics_.warning(source_, where, "the tune is not transposed",
                                 "its notes and symbols are taken as written");
        }
        if (!has_key_) chart_.key = found.key;
        music_.set_key(found, has_key_);
        has_key_ = true;
    }

    void take_part(std::string_view value, Span where) {
        if (has_key_) {
            music_.begin_section(plain_words(value));
        } else if (value.size() > 1) {
            diagnostics_.warning(source_, where, "the order of the parts is not followed",
                                 "the tune is played as its repeats say");
        }
    }

    void take_voice(std::string_view value, Span where) {
        const std::string voice{value.substr(0, value.find_first_of(" \t"))};
        if (!has_key_) return;
        if (first_voice_.empty()) first_voice_ = voice;
        is_first_voice_ = voice == first_voice_;
        if (!is_first_voice_ && !std::exchange(has_said_voices_, true)) {
            diagnostics_.warning(source_, where, "the tune has several voices; the first is read", {});
        }
    }

    const SourceText& source_;
    Diagnostics& diagnostics_;
    AbcMusic music_;
    Chart chart_;
    std::string rhythm_;
    std::string first_voice_;
    bool is_first_voice_ = true;
    bool has_said_voices_ = false;
    bool has_key_ = false;  // the header is over
    bool is_over_ = false;
};

}  // namespace

std::optional<Chart> read_abc(const SourceText& source, Diagnostics& diagnostics) {
    if (source.text.size() > kLargestAbc) {
        diagnostics.error_at(source.name, "this text is larger than 1 MiB; no tune is", {});
        return std::nullopt;
    }
    if (!is_valid_utf8(source.text)) {
        diagnostics.error_at(source.name, "this is no UTF-8 text", "save it as UTF-8 in the editor");
        return std::nullopt;
    }
    try {
        return AbcReader{source, diagnostics}.run();
    } catch (const std::overflow_error&) {
        diagnostics.error_at(source.name, "the lengths of its notes cannot be added up", {});
        return std::nullopt;
    }
}

}  // namespace shedbook
