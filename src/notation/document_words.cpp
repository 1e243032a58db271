#include "shedbook/notation/document_words.h"

#include <algorithm>
#include <array>
#include <utility>

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

// Characters of a title and its remark on one line.
constexpr std::size_t kHeadingRoom = 72;
// Of a tune's title before that of its etude.
constexpr std::size_t kLongestTuneTitle = 40;

bool has_room(const PieceHeading& heading) {
    return count_characters(heading.title) + count_characters(heading.remark) <= kHeadingRoom;
}

std::string with_small_start(const std::string& text) {
    return lower_case(text.substr(0, 1)) + text.substr(1);
}

std::string with_large_start(std::string text) {
    if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
    return text;
}

std::string joined(const std::string& a, const std::string& b) {
    return a + (a.empty() || b.empty() ? "" : ", ") + b;
}

std::string in_words(const DrillRemark::Octave& octave) {
    if (octave.positions == 2) return octave.position == 0 ? "low octave" : "high octave";
    static constexpr std::array<const char*, 3> kOfThree{"low octave", "middle octave", "high octave"};
    if (octave.positions == 3) return kOfThree.at(static_cast<std::size_t>(octave.position));
    return "octave " + std::to_string(octave.position + 1) + " of " + std::to_string(octave.positions);
}

}  // namespace

std::vector<std::pair<int, int>> parts_of(const UnitHead::Place& place) {
    if (!place.skips) return {{place.first_bar, place.last_bar}};
    return {{place.first_bar, place.skips->first - 1}, {place.skips->second + 1, place.last_bar}};
}

namespace {

// "D major", but "D Dorian": the name of a mode is as that of its scale.
std::string key_in_words(const Key& key) {
    std::string out = to_string(key);
    const std::size_t mode = out.rfind(' ') + 1;
    const bool is_plain = key.mode == Mode::Major || key.mode == Mode::Minor;
    return is_plain ? out : out.substr(0, mode) + with_large_start(out.substr(mode));
}

std::string key_in_words(const UnitHead::Place& place) {
    return key_in_words(place.named_in.value_or(place.key));
}

// "in F, bars 3 to 6"
std::string in_words(const UnitHead::Place& place) {
    std::string in = "in " + key_in_words(place);
    if (place.last_bar == 0) return in;
    std::vector<int> bars;
    for (const auto& [first, last] : parts_of(place)) {
        for (int bar = first; bar <= last; ++bar) bars.push_back(bar);
    }
    return in + ", " + bars_in_words(bars);
}

// Those behind the first, by key: "in F major, bars 13\u201314 and 29\u201330".
std::vector<std::string> other_places(const UnitHead& unit) {
    std::vector<std::pair<std::string, std::vector<std::string>>> by_key;
    for (std::size_t i = 1; i < unit.places.size(); ++i) {
        const UnitHead::Place& place = unit.places[i];
        std::string in = "in " + key_in_words(place);
        auto known = std::ranges::find(by_key, in, [](const auto& entry) { return entry.first; });
        if (known == by_key.end())
            known = by_key.insert(known, std::pair{std::move(in), std::vector<std::string>{}});
        for (const auto& [first, last] : parts_of(place)) {
            std::string bars = std::to_string(first);
            if (last > first) bars += "\u2013" + std::to_string(last);
            known->second.push_back(std::move(bars));
        }
    }
    std::vector<std::string> out;
    for (const auto& [in, bars] : by_key) {
        const bool is_one = bars.size() == 1 && bars.front().find("\u2013") == std::string::npos;
        out.push_back(in + (is_one ? ", bar " : ", bars ") + join(bars, ", "));
    }
    return out;
}

// Numerals keep their letters: ii is no II.
std::string name_as_title(const UnitHead& unit) {
    return unit.name.starts_with("i") ? unit.name : with_large_start(unit.name);
}

template <class AnyTopic>
std::string named(const AnyTopic& topic) {
    return topic.symbol ? to_string(*topic.symbol) : to_string(topic.scale);
}

template <class AnyTopic>
std::string named_with_scale(const AnyTopic& topic) {
    return (topic.symbol ? to_string(*topic.symbol) + ", " : "") + to_string(topic.scale);
}

}  // namespace

std::string in_words(const PieceNumber& number) {
    if (number.section == 0) return {};
    return std::to_string(number.section) + (number.piece > 0 ? "." + std::to_string(number.piece) : "");
}

std::string name_of(const Topic& topic) {
    return named(topic);
}
std::string name_of(const TopicInPart& topic) {
    return named(topic);
}
std::string name_with_scale(const Topic& topic) {
    return named_with_scale(topic);
}
std::string name_with_scale(const TopicInPart& topic) {
    return named_with_scale(topic);
}

std::string bars_in_words(const std::vector<int>& bars) {
    if (bars.empty()) return {};
    std::vector<std::string> parts;
    for (std::size_t i = 0; i < bars.size();) {
        std::size_t j = i;
        while (j + 1 < bars.size() && bars[j + 1] == bars[j] + 1) ++j;
        std::string part = std::to_string(bars[i]);
        if (j > i) part += (j == i + 1 ? ", " : " to ") + std::to_string(bars[j]);
        parts.push_back(std::move(part));
        i = j + 1;
    }
    return (bars.size() == 1 ? "bar " : "bars ") + join(parts, ", ");
}

std::string as_it_sounds(const TopicHead& head) {
    return "Sounds: " + name_with_scale(head.topic) +
           (head.bars.empty() ? "" : " (" + bars_in_words(head.bars) + ")");
}

PieceHeading heading_of(const Drill& drill) {
    const DrillRemark& remark = drill.remark;
    PieceHeading out{drill.title, remark.what + (remark.why.empty() ? "" : " ") + remark.why};
    if (!has_room(out)) out.remark = remark.what;
    if (remark.octave) out.remark = joined(out.remark, in_words(*remark.octave));
    if (!drill.named) return out;
    out.title = name_of(*drill.named) + ": " + with_small_start(out.title);
    if (drill.named->symbol) {
        const std::string scale = to_string(drill.named->scale);
        out.remark = joined(scale, out.remark);
        if (!has_room(out)) out.remark = scale;
    }
    if (!has_room(out)) out.remark.clear();
    return out;
}

PieceHeading heading_of(const Etude& etude) {
    PieceHeading out{etude.title, {}};
    if (etude.number.piece > 0) {
        if (etude.place) out.remark = in_words(*etude.place);
        return out;
    }
    if (!etude.tune.title.empty() && count_characters(etude.tune.title) <= kLongestTuneTitle)
        out.title = etude.tune.title + ": " + with_small_start(etude.title);
    if (!etude.made) return out;
    out.remark = "level " + std::to_string(etude.made->level) + ", seed " + std::to_string(etude.made->seed);
    if (etude.made->choruses > 1) out.remark += ", " + std::to_string(etude.made->choruses) + " choruses";
    return out;
}

std::string before_tempo(const WrittenMusic& music) {
    if (!music.tempo || !music.tempo->is_of_tune) return music.feel;
    return music.feel + (music.feel.empty() ? "the tune:" : "; the tune:");
}

std::string title_of(const SittingStart& sitting) {
    return sitting.title + (sitting.subject.empty() ? "" : ": ") + sitting.subject;
}

std::string title_of(const RoundHead& round) {
    return "Round " + std::to_string(round.round);
}

std::string reason_of(const RoundHead& /*round*/) {
    return "another chord and another drill every time";
}

std::string title_of(const UnitHead& unit) {
    return name_as_title(unit) + " " + in_words(unit.places.front());
}

// "40 bars, A A B C (32 written)"
std::string form_in_words(const TuneOverview& overview) {
    constexpr std::size_t kMostLabels = 30;  // characters
    int written = 0;
    for (const TuneOverview::Section& section : overview.sections) {
        for (const TuneOverview::Bar& bar : section.bars) written += bar.number > 0 ? 1 : 0;
    }
    const int bars = overview.played_bars > 0 ? overview.played_bars : written;
    std::string labels;
    for (const std::string& label : overview.played)
        labels += (labels.empty() || label.empty() ? "" : " ") + label;
    std::string out = std::to_string(bars) + (bars == 1 ? " bar" : " bars");
    if (!labels.empty() && count_characters(labels) <= kMostLabels) out += ", " + labels;
    return out + (bars == written ? "" : " (" + std::to_string(written) + " written)");
}

std::string name_with_keys(const UnitHead& unit, std::size_t most) {
    std::vector<std::string> keys;
    for (const UnitHead::Place& place : unit.places) {
        const std::string key = key_in_words(place);
        if (std::ranges::find(keys, key) == keys.end()) keys.push_back(key);
    }
    const std::string first = name_as_title(unit) + " in " + keys.front();
    std::string out = first;
    for (std::size_t i = 1; i < keys.size(); ++i) out += (i + 1 < keys.size() ? ", " : " and ") + keys[i];
    if (count_characters(out) <= most) return out;
    return first + " and " + std::to_string(keys.size() - 1) +
           (keys.size() > 2 ? " other keys" : " other key");
}

std::string reason_of(const UnitHead& unit) {
    if (unit.again > 0) return "unit " + std::to_string(unit.again) + " again";
    std::string out = unit.here.empty() ? "" : "here " + unit.here;
    if (!unit.why.empty()) out += (out.empty() ? "" : "; ") + unit.why;
    const std::vector<std::string> others = other_places(unit);
    if (!others.empty()) out += (out.empty() ? "also " : "; also ") + join(others, "; ");
    return out;
}

std::string shared_notes(const TopicHead& head) {
    std::vector<std::string> names;
    for (const TopicInPart& topic : head.shares) names.push_back(name_with_scale(topic));
    return names.empty() ? "" : "Same notes: " + join(names, "; ");
}

std::vector<std::string> labels_of(const TempoBoxes& boxes) {
    std::vector<std::string> out;
    for (const int tempo : boxes.tempos) out.push_back("at " + std::to_string(tempo));
    if (boxes.from_memory) out.emplace_back("from memory");
    return out;
}

std::string in_words(const WrittenRange& range) {
    return to_string(range.low.on_paper()) + " to " + to_string(range.high.on_paper());
}

std::string keys_of(const Cover& cover) {
    if (!cover.sounding_key) return {};
    std::string sounding = key_in_words(*cover.sounding_key);
    if (!cover.written_key || *cover.written_key == *cover.sounding_key) return sounding;
    return sounding + ", written " + key_in_words(*cover.written_key);
}

std::vector<PlanRowWords> rows_in_words(const PlanTable& table) {
    struct Line {
        const char* name;
        std::string text;
    };
    std::vector<PlanRowWords> out;
    std::vector<Line> before;
    for (const PlanTable::Row& row : table.rows) {
        std::vector<std::string> topics;
        for (const TopicInPart& topic : row.topics) topics.push_back(name_of(topic));
        std::vector<std::string> units;
        for (const UnitHead& unit : row.units) units.push_back(title_of(unit));
        std::vector<std::string> drills;
        for (const std::string& drill : row.drills) drills.push_back(lower_case(drill));
        const bool has_topics = !topics.empty();
        const std::vector<Line> lines{
            {"", row.sitting.advice},
            {"Units: ", join(units, "; ")},
            {"Chords and scales: ", join(topics, ", ")},
            {"Drills: ", has_topics ? join(drills, "; ") : ""},
            {"Tempos: ", join(labels_of({row.boxes.tempos, false}), ", ")},
        };
        PlanRowWords words{title_of(row.sitting), {}};
        for (std::size_t i = 0; i < lines.size(); ++i) {
            const bool is_said = !before.empty() && lines[i].text == before[i].text;
            if (!lines[i].text.empty() && !is_said) words.lines.push_back(lines[i].name + lines[i].text);
        }
        out.push_back(std::move(words));
        before = lines;
    }
    return out;
}

}  // namespace shedbook
