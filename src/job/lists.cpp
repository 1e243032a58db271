#include "shedbook/job/lists.h"

#include <utility>
#include <vector>

#include "shedbook/base/text.h"
#include "shedbook/book/plan.h"
#include "shedbook/drill/drill_template.h"
#include "shedbook/etude/etude.h"
#include "shedbook/etude/phrase.h"
#include "shedbook/theory/chord_symbol.h"
#include "shedbook/theory/scale.h"

namespace shedbook {
namespace {

Data text(std::string_view value) {
    return {std::string{value}};
}

Data number(std::int64_t value) {
    return {value};
}

Data texts(const std::vector<std::string>& values) {
    Data::Array out;
    for (const std::string& value : values) out.push_back(text(value));
    return {std::move(out)};
}

// "bebop dominant; dominant bebop" as a list.
Data texts_between_semicolons(std::string_view joined) {
    Data::Array out;
    for (const std::string_view part : split(joined, ';')) {
        if (const std::string_view word = trimmed(part); !word.empty()) out.push_back(text(word));
    }
    return {std::move(out)};
}

template <class Rows, class ToObject>
Data::Array rows_as_data(const Rows& rows, ToObject to_object) {
    Data::Array out;
    for (const auto& row : rows) out.push_back({Data::Object{to_object(row)}});
    return out;
}

}  // namespace

std::string range_text(const WrittenRange& range) {
    return to_string(range.low.on_paper()) + "-" + to_string(range.high.on_paper());
}

std::string transposition_text(const Instrument& instrument) {
    const Interval by = to_sounding(instrument.transposition);
    if (by == kUnison) return "as written";
    std::string name = interval_name(by);
    const bool lower = name.starts_with('-');
    if (lower) name.erase(0, 1);
    return name + (lower ? " lower" : " higher");
}

std::string rhythm_text(const Rhythm& rhythm) {
    std::vector<std::string> out;
    for (const RhythmStep& step : rhythm)
        out.push_back((step.is_rest ? "r" : "") + to_string(step.length.whole_notes));
    return join(out, " ");
}

Data::Array instruments_as_data() {
    return rows_as_data(instruments(), [](const Instrument& row) {
        return Data::Object{{"id", text(row.id)},
                            {"name", text(row.name)},
                            {"also", texts(row.also)},
                            {"sounds", text(transposition_text(row))},
                            {"sounds_semitones", number(to_sounding(row.transposition).semitones())},
                            {"student", text(range_text(row.student))},
                            {"practical", text(range_text(row.practical))},
                            {"full", text(range_text(row.full))}};
    });
}

Data::Array scales_as_data() {
    return rows_as_data(scale_types(), [](const ScaleType& row) {
        return Data::Object{{"id", text(row.id)},
                            {"name", text(row.name)},
                            {"degrees", text(row.degrees.text())},
                            {"also", texts_between_semicolons(row.other_names)}};
    });
}

Data::Array drills_as_data() {
    return rows_as_data(drill_templates(), [](const DrillTemplate& row) {
        return Data::Object{{"id", text(row.id)},
                            {"title", text(row.title)},
                            {"family", text(row.family)},
                            {"level", number(row.level)},
                            {"about", text(row.about)}};
    });
}

Data::Array etudes_as_data() {
    return rows_as_data(etude_kinds(), [](const EtudeKind& row) {
        return Data::Object{{"id", text(row.id)}, {"about", text(row.about)}, {"levels", texts(row.levels)}};
    });
}

Data::Array plans_as_data() {
    return rows_as_data(book_plans(), [](const BookPlan& row) {
        return Data::Object{{"id", text(row.id)},
                            {"title", text(row.title)},
                            {"sittings", number(static_cast<std::int64_t>(row.sittings.size()))},
                            {"about", text(row.about)}};
    });
}

Data::Array levels_as_data() {
    Data::Array out;
    for (int at = kLowestLevel; at <= kHighestLevel; ++at) {
        const Level& row = level(at);
        out.push_back({Data::Object{{"level", number(at)},
                                    {"about", text(row.about)},
                                    {"range", text(row.range)},
                                    {"drills", texts(row.drills)},
                                    {"etudes", texts(row.etudes)}}});
    }
    return out;
}

Data::Array rhythms_as_data() {
    return rows_as_data(shipped_drills().rhythms, [](const NamedRhythm& row) {
        return Data::Object{
            {"id", text(row.id)}, {"lengths", text(rhythm_text(row.rhythm))}, {"about", text(row.about)}};
    });
}

Data::Array articulations_as_data() {
    return rows_as_data(shipped_drills().articulations, [](const NamedArticulation& row) {
        return Data::Object{{"id", text(row.id)}, {"about", text(row.about)}};
    });
}

Data::Array phrases_as_data() {
    return rows_as_data(phrases(), [](const Phrase& row) {
        std::vector<std::string> over;
        for (const UnitKind kind : row.over) over.emplace_back(to_word(kind));
        return Data::Object{{"id", text(row.id)},
                            {"level", number(row.level)},
                            {"over", texts(over)},
                            {"about", text(row.about)}};
    });
}

Data::Array chords_as_data() {
    return rows_as_data(chord_kinds(), [](const ChordKind& row) {
        return Data::Object{{"id", text(row.id)},
                            {"symbol", text("C" + std::string{row.suffix})},
                            {"name", text(row.name)},
                            {"degrees", text(row.degrees)}};
    });
}

}  // namespace shedbook
