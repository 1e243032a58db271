#include "shown.h"

#include <algorithm>
#include <set>
#include <utility>

#include "json.h"
#include "shedbook/base/text.h"
#include "shedbook/job/log_data.h"
#include "shedbook/log/day_plan.h"
#include "shedbook/log/log_book.h"
#include "shedbook/write/screen_data.h"

namespace shedbook {
namespace {

// What nobody has played yet is new, and has no days.
Data::Object standing_as_data(const Standing& standing, const TempoSteps& tempo) {
    const bool is_known = standing.entries > 0;
    return {{"state", as_data(to_word(standing.state))},
            {"clean_tempo", as_data(standing.clean_tempo)},
            {"goal", as_data(standing.goal)},
            {"entries", as_data(standing.entries)},
            {"last", is_known ? as_data(date_text(standing.last)) : Data{}},
            {"due", is_known ? as_data(date_text(standing.due)) : Data{}},
            {"start", as_data(tempo.start)},
            {"step", as_data(tempo.step)}};
}

Data standing_of_piece(LogBook& log, const std::string& player, const PrintedPiece& piece, Day today) {
    const Standing standing = log.standing(player, piece.item).value_or(Standing{});
    std::set<int> ticked;
    bool from_memory = false;
    std::int64_t right = 0;
    std::int64_t wrong = 0;
    for (const Entry& entry : log.entries_of(player, piece.item)) {
        const bool is_right = is_clean(entry);
        if (is_right && entry.tempo && std::ranges::find(piece.boxes, *entry.tempo) != piece.boxes.end())
            ticked.insert(*entry.tempo);
        // As the log counts it; a tick on paper may leave its tempo out.
        from_memory = from_memory ||
                      (is_right && entry.from_memory && entry.tempo.value_or(standing.goal) >= standing.goal);
        if (entry.day != today) continue;
        right += entry.right.value_or(0);
        wrong += entry.wrong.value_or(0);
    }
    Data::Object out = standing_as_data(standing, tempo_steps(standing, piece.boxes));
    out.emplace_back("ticked", as_data(std::vector<int>{ticked.begin(), ticked.end()}));
    out.emplace_back("memory", Data{from_memory});
    out.emplace_back("right", as_data(right));
    out.emplace_back("wrong", as_data(wrong));
    return as_data(std::move(out));
}

}  // namespace

namespace {

Data reading_as_data(const Reading& reading) {
    std::vector<std::string> notes;
    for (const PitchClass note : reading.scale.notes) notes.push_back(to_string(note));
    return as_data(Data::Object{{"symbol", as_data(to_string(reading.symbol))},
                                {"numeral", as_data(reading.numeral)},
                                {"function", as_data(to_string(reading.function))},
                                {"scale_name", as_data(to_string(reading.scale.scale))},
                                {"notes", as_data(notes)},
                                {"why", as_data(in_words(reading.scale.reason))}});
}

// What one plays on, for each section on a unit.
void add_chords(const std::map<int, std::vector<Reading>>& chords, Data::Object& described) {
    for (auto& [name, value] : described) {
        auto* sections = name == "sections" ? std::get_if<Data::Array>(&value.value) : nullptr;
        if (sections == nullptr) continue;
        for (Data& section : *sections) {
            const auto found = chords.find(static_cast<int>(section.find("number")->as_int().value_or(0)));
            if (found == chords.end()) continue;
            Data::Array list;
            for (const Reading& reading : found->second) list.push_back(reading_as_data(reading));
            std::get<Data::Object>(section.value).emplace_back("chords", as_data(std::move(list)));
        }
    }
}

}  // namespace

ShownDocument shown_document(BookOnScreen book) {
    ShownDocument out;
    out.document = whole_pieces(std::move(book.document));
    out.pages = std::move(book.pages);
    out.described =
        screen_data(out.document, book.goal, [&](const std::string& number, const Block& /*told already*/) {
            return Data::Object{{"item", item_called(out.pages, number)}};
        });
    add_chords(book.chords, out.described);
    return out;
}

Data::Object standings_of(const Desk& desk, const ShownDocument& shown) {
    Data::Object out;
    const LogPlace place = desk.log_place();
    const std::string player = place.player.empty() ? kMe : place.player;
    LogBook log{desk.log_file(), {.for_reading = true, .on_network = {}}};
    for (const PrintedPiece& piece : shown.pages.pieces) {
        out.emplace_back(piece.number, standing_of_piece(log, player, piece, place.today));
    }
    return out;
}

Data instrument_as_data(const Instrument& instrument) {
    return as_data(Data::Object{{"id", as_data(instrument.id)}, {"name", as_data(instrument.name)}});
}

Data standing_of(const Desk& desk, const PrintedPiece& piece) {
    const LogPlace place = desk.log_place();
    LogBook log{desk.log_file(), {.for_reading = true, .on_network = {}}};
    return standing_of_piece(log, place.player.empty() ? kMe : place.player, piece, place.today);
}

const PrintedPiece* piece_called(const ShownDocument& shown, const std::string& number) {
    const auto found = std::ranges::find(shown.pages.pieces, number, &PrintedPiece::number);
    return found == shown.pages.pieces.end() ? nullptr : &*found;
}

Data::Object answer_for(const Desk& desk, const ShownDocument& shown) {
    Data::Object out{{"document", as_data(shown.id)}, {"title", as_data(shown.document.head.title)}};
    out.insert(out.end(), shown.described.begin(), shown.described.end());
    out.emplace_back("standings", as_data(standings_of(desk, shown)));
    return out;
}

}  // namespace shedbook
