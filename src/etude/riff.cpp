#include "riff.h"

#include <algorithm>

#include "chord_facts.h"
#include "degree_over.h"
#include "phrase_figure.h"
#include "shedbook/etude/etude.h"
#include "shedbook/io/embedded.h"
#include "shedbook/io/fields.h"

namespace shedbook {
namespace {

PhraseFigure read_half(Fields& fields, const char* key) {
    PhraseFigure out;
    const std::string text = fields.text(key);
    const Data* typed = fields.find(key);
    if (typed == nullptr || text.empty()) return out;
    PatternFault fault;
    if (!read_figure(text, out, fault)) {
        // The text begins behind its quotation mark.
        fields.fail({typed->where.begin + 1 + fault.begin, typed->where.begin + 1 + fault.end}, fault.message,
                    fault.hint);
    } else if (out.length != kRiffHalf) {
        fields.fail(typed->where, "this is not two bars of 4/4 long", "rests (r) fill what is left");
    }
    return out;
}

std::optional<Riff> read_riff(Fields fields) {
    Riff out;
    out.id = fields.text("id");
    out.about = fields.text("about");
    out.mode = fields.word("mode", RiffMode::Any);
    out.feel = fields.word("feel", PhraseFeel::Any);
    out.level = fields.number("level", 1, kHighestLevel);
    out.call = read_half(fields, "call");
    out.answer = read_half(fields, "answer");
    if (!fields.finish()) return std::nullopt;
    return out;
}

Pitch over_tonic(const PhraseNote& note, const EtudeGround& ground) {
    constexpr int kMiddle = 4;
    const bool is_minor_key = is_minor(ground.home.mode);
    const auto is_tonic = [&](const ScaleSpan& span) {
        return span.symbol && span.symbol->root == ground.home.tonic &&
               (family(*span.symbol) == ChordFamily::Minor) == is_minor_key;
    };
    const auto tonic = std::ranges::find_if(ground.spans, is_tonic);
    Interval above;
    if (note.alter) {
        above = make_degree(note.steps + 1, *note.alter);
    } else if (tonic != ground.spans.end()) {
        above = degree_over(*tonic, facts_of(*tonic->symbol), note.steps);
    } else {
        const int letter = note.steps % 7;
        const bool is_flat = letter == 6 || (letter == 2 && is_minor_key);
        above = make_degree(note.steps + 1, is_flat ? -1 : 0);
    }
    return Pitch{ground.home.tonic, kMiddle} + above + note.octaves * kOctave;
}

}  // namespace

std::vector<RiffNote> over_tonic(const PhraseFigure& figure, const EtudeGround& ground) {
    std::vector<RiffNote> out;
    Duration at;
    for (const PhraseNote& note : figure.notes) {
        if (note.kind == PhraseNote::Kind::Hold && !out.empty()) out.back().length += note.length;
        if (note.kind == PhraseNote::Kind::Degree) {
            const std::size_t bar = at < kWhole ? 0 : 1;
            out.push_back({bar, at - kWhole * Rational{static_cast<std::int64_t>(bar)}, note.length,
                           over_tonic(note, ground)});
        }
        at += note.length;
    }
    return out;
}

std::vector<Riff> read_riffs(const SourceText& source, Diagnostics& diagnostics) {
    return read_entries("riff", source, diagnostics, read_riff);
}

const std::vector<Riff>& riffs() {
    static const std::vector<Riff> kRiffs = read_shipped("riffs.toml", read_riffs);
    return kRiffs;
}

std::vector<const Riff*> riffs_for(const RiffWish& wish) {
    const RiffMode mode = wish.is_minor ? RiffMode::Minor : RiffMode::Major;
    const PhraseFeel feel = wish.is_straight ? PhraseFeel::Straight : PhraseFeel::Swing;
    std::vector<const Riff*> out;
    for (const Riff& riff : riffs()) {
        const bool suits = (riff.mode == RiffMode::Any || riff.mode == mode) &&
                           (riff.feel == PhraseFeel::Any || riff.feel == feel) && riff.level <= wish.level;
        if (suits) out.push_back(&riff);
    }
    const int highest = (*std::ranges::max_element(out, {}, &Riff::level))->level;
    std::erase_if(out, [&](const Riff* riff) { return riff->level < highest; });
    return out;
}

}  // namespace shedbook
