#include "log_words.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <filesystem>
#include <string_view>
#include <utility>

#include "shedbook/base/text.h"
#include "shedbook/book/unit_sheet.h"
#include "shedbook/etude/phrase.h"
#include "shedbook/job/jobs.h"
#include "shedbook/job/log_jobs.h"
#include "shedbook/job/words.h"
#include "topics.h"

namespace shedbook {
namespace {

// Names of units as a person types them: those of templates/units.toml and those of docs/units.md.
std::vector<std::string> unit_names() {
    std::vector<std::string> out;
    for (const Worded<UnitKind>& row : kWords<UnitKind>) out.push_back(unit_id(row.value, Mode::Major));
    return out;
}

// By one of those, or as players write it in minor: "iiø-V-i", "iiø-V".
std::optional<UnitInMode> unit_called(const std::string& name) {
    if (const PlainUnit* unit = find_plain_unit(std::string{trimmed(name)}))
        return UnitInMode{unit->kind, unit->chart.key.value_or(Key{}).mode};
    constexpr std::string_view kHalfDiminished = "\u00F8";
    std::string plain = name;
    const std::size_t sign = plain.find(kHalfDiminished);
    if (sign != std::string::npos) plain.erase(sign, kHalfDiminished.size());
    std::optional<UnitInMode> out = unit_with_id(slug(plain));
    if (out && sign != std::string::npos) out->mode = Mode::Minor;
    return out;
}

LogSubject on_unit(UnitKind kind, const Key& key, std::string typed) {
    LogSubject out;
    out.kind = ItemKind::Unit;
    out.id = unit_id(kind, key.mode);
    out.root = key.tonic.semitone();
    out.typed = std::move(typed);
    return out;
}

// "ii-V-I in F".
std::optional<LogSubject> unit_in_key(const std::string& topic) {
    const std::size_t in = lower_case(topic).rfind(" in ");
    if (in == std::string::npos) {
        if (unit_called(topic)) throw UsageError("a unit is practised in a key: say \"" + topic + " in F\"");
        return std::nullopt;
    }
    const std::string name = topic.substr(0, in);
    const std::string key_name{trimmed(topic.substr(in + 4))};
    const std::optional<UnitInMode> unit = unit_called(name);
    if (!unit) unknown_name("unit", name, unit_names(), "there are " + join(unit_names(), ", "));
    std::optional<Key> key = parse_key(key_name);
    if (!key && !key_name.empty()) {
        std::string capital = key_name;
        capital.front() = static_cast<char>(
            capital.front() >= 'a' && capital.front() <= 'g' ? capital.front() - 'a' + 'A' : capital.front());
        key = parse_key(capital);
    }
    if (!key) throw UsageError("'" + key_name + "' is no key; say for instance \"" + name + " in Bb\"");
    // Who says "minor" of the one or of the other means both.
    if (key->mode == Mode::Major) key->mode = unit->mode;
    return on_unit(unit->kind, *key, topic);
}

// The unit of a tune that covers the bars; of several the shortest. Where none does, the longest one that
// begins with them: pages play a unit on into its goal (docs/units.md: three bars at most).
LogSubject unit_at(const Tune& tune, const std::string& bars) {
    constexpr int kMostBehind = 3;
    const auto [first, last] = bars_of(bars);
    const TuneUnits units = units_of(tune.chart, tune.analysis);
    std::optional<LogSubject> best;
    std::pair<bool, int> least;
    std::vector<std::string> there;
    for (const PracticeUnit& unit : units.units) {
        for (const UnitPlace& place : unit.places) {
            there.push_back(std::to_string(place.first_bar) + "-" + std::to_string(place.last_bar));
            const int length = place.last_bar - place.first_bar;
            const bool covers = place.first_bar <= first && last <= place.last_bar;
            const bool leads_in = place.first_bar == first && last - place.last_bar <= kMostBehind;
            const std::pair rank{!covers, covers ? length : -length};
            if ((!covers && !leads_in) || (best && least <= rank)) continue;
            best = on_unit(unit.kind, place.key, "bars " + bars + " of " + tune.chart.id);
            least = rank;
        }
    }
    if (best) return *std::move(best);
    throw UsageError("no unit of '" + tune.chart.name() + "' has the bars " + bars + "; units are at bars " +
                     join(there, ", ") + " ('shedbook changes --units' shows them)");
}

LogSubject in_tune(const std::string& file, const std::string& bars, const TuneRequest& reading,
                   Caller& caller) {
    const Tune tune = load_tune(file, reading, caller);
    LogSubject out;
    if (!bars.empty()) {
        out = unit_at(tune, bars);
    } else {
        out.kind = ItemKind::Etude;
        out.id = tune.chart.id;
        out.typed = tune.chart.name();
    }
    out.tune = tune.chart.id;
    out.tempo = tune.chart.tempo;
    return out;
}

}  // namespace

std::string unit_id(UnitKind kind, Mode mode) {
    if (kind == UnitKind::MinorTwoFiveOne) return "minor-ii-v-i";
    const std::string id = slug(to_word(kind));
    return mode == Mode::Major ? id : to_string(mode) + "-" + id;
}

std::optional<UnitInMode> unit_with_id(const std::string& id) {
    const std::optional<Mode> mode = parse_mode(id.substr(0, id.find('-')));
    UnitInMode out{UnitKind::MinorTwoFiveOne, mode.value_or(Mode::Major)};
    if (mode && unit_id(out.kind, out.mode) == id) return out;
    for (const Worded<UnitKind>& row : kWords<UnitKind>) {
        out.kind = row.value;
        if (unit_id(out.kind, out.mode) == id) return out;
    }
    return std::nullopt;
}

LogSubject log_subject(const std::string& topic, const std::string& bars, const TuneRequest& reading,
                       Caller& caller) {
    if (trimmed(topic).empty())
        throw UsageError(
            "what was practised? a chord (\"Db7#11\"), a scale (\"F lydian\"), a unit (\"ii-V-I in F\") or a "
            "tune's file");
    if (is_tune_file(topic)) return in_tune(topic, bars, reading, caller);
    if (!bars.empty()) throw UsageError("--bars belongs to a tune's file");
    if (std::optional<LogSubject> unit = unit_in_key(topic)) return *std::move(unit);
    Diagnostics diagnostics;
    const std::vector<SheetTopic> topics = topics_of({topic}, diagnostics);
    caller.say(diagnostics);
    if (diagnostics.has_errors()) throw InputError{};
    const Scale& scale = topics.front().scale.scale;
    LogSubject out;
    out.id = scale.type->id;
    out.root = scale.tonic.semitone();
    out.typed = topic;
    return out;
}

std::string log_work(ItemKind kind, const std::string& name) {
    if (kind != ItemKind::Scale) {
        if (name.empty()) throw UsageError("which line was it? one of " + join(etude_kind_names(), ", "));
        std::string id = slug(name);
        if (kind == ItemKind::Unit && std::ranges::find(phrases(), id, &Phrase::id) != phrases().end())
            return id;
        if (id == "phrase" || id == "phrases")
            throw UsageError(
                "phrases are entered by the boxes of their page: 'shedbook log ticks' with the code in its "
                "footer");
        return etude_kind_called(id).id;
    }
    if (name.empty())
        throw UsageError(
            "which drill was it, thirds for instance? 'shedbook list drills' shows what there is");
    return drill_called(name).id;
}

namespace {

// Over a diminished seventh chord, named as the chord is: F sharp, where the scale alone would be as simple
// from G flat (common practice, no source).
std::optional<PitchClass> root_of_diminished(int root, const ScaleType& type) {
    static constexpr std::array<int, 12> kFifths{0, 7, 2, -3, 4, -1, 6, 1, 8, 3, -2, 5};
    if (type.id != "whole_half_diminished" || root < 0 || root > 11) return std::nullopt;
    return PitchClass::from_fifths(kFifths[static_cast<std::size_t>(root)]);
}

}  // namespace

Scale named_simply(int root, const ScaleType& type, std::optional<PitchClass> rather) {
    if (const auto usual = root_of_diminished(root, type)) return {*usual, &type};
    Scale best{PitchClass{}, &type};
    int fewest = 1000;
    // From the flat side: of two names with as many accidentals, players read the flats more often.
    for (int fifths = -7; fifths <= 7; ++fifths) {
        const Scale here{PitchClass::from_fifths(fifths), &type};
        if (here.tonic.semitone() != root) continue;
        int accidentals = 0;
        for (const PitchClass note : spelled(here)) accidentals += std::abs(note.alter());
        if (accidentals > fewest || (accidentals == fewest && here.tonic != rather)) continue;
        fewest = accidentals;
        best = here;
    }
    return best;
}

Key key_named_simply(int root, Mode mode, std::optional<PitchClass> rather) {
    Key best{PitchClass{}, mode};
    int fewest = 1000;
    for (int fifths = -8; fifths <= 8; ++fifths) {
        const Key here{PitchClass::from_fifths(fifths), mode};
        const int accidentals = std::abs(signature(here));
        if (here.tonic.semitone() != root || accidentals > fewest ||
            (accidentals == fewest && here.tonic != rather))
            continue;
        fewest = accidentals;
        best = here;
    }
    return best;
}

std::optional<Scale> scale_of(const Item& item, const TonicsAsWritten& tonics) {
    const ScaleType* type = item.kind == ItemKind::Scale ? find_scale_type(item.subject) : nullptr;
    if (type == nullptr || item.root < 0 || item.root > 11) return std::nullopt;
    if (const TonicsAsWritten::Tonics* written = tonics.find(item)) return Scale{written->sounding, type};
    return named_simply(item.root, *type);
}

Day day_called(const std::string& word, Day today) {
    if (word.empty()) return today;
    if (const std::optional<Day> day = parse_day(word, today)) return *day;
    static const std::vector<std::string> kDayWords{
        "today", "yesterday", "monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"};
    const std::string near = nearest(word, kDayWords);
    throw UsageError(
        "'" + word + "' is no day; " +
        (near.empty() ? "say " + std::string{kDaysThatAreRead} : "did you mean '" + near + "'?"));
}

std::optional<int> number_called(const std::string& option, const std::string& word, int low, int high) {
    if (word.empty()) return std::nullopt;
    int out = 0;
    const bool is_number = word.size() <= 6 && std::ranges::all_of(word, is_digit);
    if (is_number) out = std::atoi(word.c_str());
    if (!is_number || out < low || out > high)
        throw UsageError(option + " takes a number from " + std::to_string(low) + " to " +
                         std::to_string(high) + ", not '" + word + "'");
    return out;
}

std::string player_called(const std::string& name) {
    std::string out{trimmed(name)};
    if (out.empty()) return kMe;
    constexpr std::size_t kLongestName = 100;
    if (out.size() > kLongestName || !is_valid_utf8(out) || printable(out) != out)
        throw UsageError("--player takes a name of at most 100 letters");
    return out;
}

std::string tune_id(const std::string& typed) {
    return std::filesystem::path{typed}.stem().string();
}

namespace {

struct Named {
    std::string name;                 // without drill or line
    std::optional<PitchClass> tonic;  // of a scale or a unit that is known here
};

std::string scale_in_words(const Scale& scale) {
    // Nobody tells a beginner to practise Ionian.
    return scale.type->id == "ionian" ? to_string(scale.tonic) + " major" : to_string(scale);
}

// `rather`: of two names as simple, this one; `written`: this one, as a chart has it.
Named named(const Item& item, std::optional<PitchClass> rather, std::optional<PitchClass> written) {
    const ScaleType* type = item.kind == ItemKind::Scale ? find_scale_type(item.subject) : nullptr;
    const bool has_root = item.root >= 0 && item.root < 12;
    if (type != nullptr && has_root) {
        const Scale scale = written ? Scale{*written, type} : named_simply(item.root, *type, rather);
        return {scale_in_words(scale), scale.tonic};
    }
    const auto unit = item.kind == ItemKind::Unit ? unit_with_id(item.subject) : std::nullopt;
    if (unit && has_root) {
        const Key key = written ? Key{*written, unit->mode} : key_named_simply(item.root, unit->mode, rather);
        return {unit_name(unit->kind, key), key.tonic};
    }
    return {item.subject, std::nullopt};
}

Named named_as_it_sounds(const Item& item, const TonicsAsWritten& tonics) {
    const TonicsAsWritten::Tonics* written = tonics.find(item);
    return named(item, {}, written == nullptr ? std::nullopt : std::optional{written->sounding});
}

// As its instrument reads it; nothing where that is what sounds.
std::optional<Named> named_as_read(const Item& item, const TonicsAsWritten& tonics) {
    const Named concert = named_as_it_sounds(item, tonics);
    const Instrument* instrument = find_instrument(item.instrument);
    if (instrument == nullptr || !concert.tonic) return std::nullopt;
    const PitchClass tonic = *concert.tonic - to_sounding(instrument->transposition);
    Item read = item;
    read.root = tonic.semitone();
    if (read.root == item.root) return std::nullopt;
    const TonicsAsWritten::Tonics* written = tonics.find(item);
    return named(read, tonic, written == nullptr ? std::nullopt : std::optional{written->read});
}

}  // namespace

void TonicsAsWritten::add(const Item& item, const Tonics& tonics) {
    tonics_.emplace(std::tuple{item.kind, item.subject, item.root}, tonics);
}

const TonicsAsWritten::Tonics* TonicsAsWritten::find(const Item& item) const {
    const auto there = tonics_.find(std::tuple{item.kind, item.subject, item.root});
    return there == tonics_.end() ? nullptr : &there->second;
}

std::string name_of(const Item& item, const TonicsAsWritten& tonics) {
    return named_as_it_sounds(item, tonics).name + ", " + item.work;
}

SubjectAsRead subject_as_read(const Item& item, const TonicsAsWritten& tonics) {
    const Named concert = named_as_it_sounds(item, tonics);
    const std::optional<Named> read = named_as_read(item, tonics);
    if (!read) return {concert.name, ""};
    return {read->name, " (concert " + to_string(*concert.tonic) + ")"};
}

std::string written_remark(const Item& item) {
    const std::optional<Named> read = named_as_read(item, {});
    return read && read->tonic ? " (written " + to_string(*read->tonic) + ")" : "";
}

std::string name_as_read(const Item& item, const TonicsAsWritten& tonics) {
    const SubjectAsRead subject = subject_as_read(item, tonics);
    return subject.name + ", " + item.work + subject.concert;
}

bool is_phrase(const Item& item) {
    return std::ranges::find(phrases(), item.work, &Phrase::id) != phrases().end();
}

bool is_known_here(const Item& item) {
    if (item.kind == ItemKind::Scale) return scale_of(item) && find_drill(item.work) != nullptr;
    if (item.kind == ItemKind::Unit && !unit_with_id(item.subject)) return false;
    return find_etude_kind(item.work) != nullptr || is_phrase(item);
}

}  // namespace shedbook
