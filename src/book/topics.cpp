#include "topics.h"

#include <algorithm>
#include <utility>

#include "shedbook/base/text.h"
#include "shedbook/notation/notate.h"

namespace shedbook {
namespace {

// Keeps the chords that sound longest, in the order of the tune; says which are left out.
void keep_most_important(std::vector<ChordInContext>& chords, const BookOptions& options,
                         const std::string& title, Diagnostics& diagnostics) {
    if (!options.most_chords || chords.size() <= *options.most_chords) return;
    std::vector<Duration> lengths;
    lengths.reserve(chords.size());
    for (const ChordInContext& chord : chords) lengths.push_back(chord.sounding);
    std::ranges::sort(lengths, std::ranges::greater{});
    const Duration least = lengths[*options.most_chords - 1];
    std::size_t room = *options.most_chords - static_cast<std::size_t>(std::ranges::count_if(
                                                  lengths, [&](Duration length) { return length > least; }));
    std::vector<ChordInContext> kept;
    std::vector<std::string> left_out;
    for (ChordInContext& chord : chords) {
        const bool keeps = chord.sounding > least || (chord.sounding == least && room > 0);
        if (chord.sounding == least && room > 0) --room;
        if (keeps) {
            kept.push_back(std::move(chord));
        } else {
            left_out.push_back(to_string(chord.symbol) + " (" + to_string(chord.scale.scale) + ")");
        }
    }
    diagnostics.note_at(title,
                        "the book keeps the " + std::to_string(kept.size()) +
                            " chords that sound longest; left out: " + join(left_out, ", "),
                        "--all takes every chord, --chords or --bars choose");
    chords = std::move(kept);
}

Scale scale_of(const Key& key) {
    // A minor key is practised in its natural form first: the notes of the signature.
    static constexpr std::string_view kNames[] = {"major", "natural_minor"};
    const ScaleType* type = find_scale_type(to_string(key.mode));
    if (type == nullptr) type = find_scale_type(kNames[key.mode == Mode::Minor ? 1 : 0]);
    return {key.tonic, type};
}

// The scale of each key that the tune goes through.
std::vector<SectionTopic> key_topics(const Tune& tune, const BookOptions& options) {
    std::vector<SectionTopic> out;
    for (const ChordInContext& chord : chords_in_context(tune, options)) {
        const Scale scale = scale_of(chord.key);
        auto at =
            std::ranges::find_if(out, [&](const SectionTopic& topic) { return topic.scale.scale == scale; });
        if (at == out.end()) {
            SectionTopic topic;
            topic.scale.scale = scale;
            topic.scale.notes = spelled(scale);
            topic.key = tune.chart.key.value_or(tune.analysis.home);
            topic.scale.reason = {"the scale of the key"};
            out.push_back(std::move(topic));
            at = out.end() - 1;
        }
        at->sounding += chord.sounding;
    }
    if (options.most_chords && out.size() > *options.most_chords) {
        std::ranges::stable_sort(out, std::ranges::greater{}, &SectionTopic::sounding);
        out.resize(*options.most_chords);
    }
    return out;
}

// Written bars from 1 as pages count them.
std::vector<int> as_on_pages(std::vector<int> bars, const Chart& chart) {
    const int first = first_bar_number(chart);
    for (int& bar : bars) bar += first - 1;
    return bars;
}

}  // namespace

std::vector<SectionTopic> topics_of(const Tune& tune, const BookOptions& options, Diagnostics& diagnostics) {
    if (options.material == Material::Keys) return key_topics(tune, options);
    const std::string title = tune.chart.name();
    std::vector<ChordInContext> chords = chords_in_context(tune, options);
    keep_most_important(chords, options, title, diagnostics);
    std::vector<SectionTopic> out;
    for (const ChordInContext& chord : chords) {
        SectionTopic topic;
        topic.symbol = chord.symbol;
        topic.scale = chord.scale;
        topic.key = tune.chart.key.value_or(tune.analysis.home);
        topic.bars = as_on_pages(chord.bars, tune.chart);
        topic.bars_of_reason = as_on_pages(chord.bars_of_reason, tune.chart);
        topic.sounding = chord.sounding;
        out.push_back(std::move(topic));
    }
    return out;
}

}  // namespace shedbook
