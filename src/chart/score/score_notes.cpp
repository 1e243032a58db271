#include "shedbook/chart/score_notes.h"

#include <algorithm>
#include <pugixml.hpp>
#include <stdexcept>
#include <string_view>

#include "../form_words.h"
#include "score_cursor.h"
#include "score_document.h"
#include "score_parts.h"
#include "score_values.h"
#include "score_words.h"
#include "shedbook/io/zip.h"

namespace shedbook {
namespace {

class NotesReader {
  public:
    explicit NotesReader(ScoreMessages& messages) : cursor_{messages} {}

    ScoreNotesBar read(const ScoreMeasure& measure, int index) {
        ScoreNotesBar bar;
        cursor_.begin_measure(index);
        for (const pugi::xml_node element : measure.content.children()) take(element, bar);
        bar.meter = meter_;
        bar.key_fifths = key_fifths_;
        std::ranges::stable_sort(bar.notes, {}, &ScoreNote::at);
        return bar;
    }

  private:
    void take(pugi::xml_node element, ScoreNotesBar& bar) {
        const std::string_view name = element.name();
        if (name == "note") {
            take_note(element, bar);
        } else if (name == "attributes") {
            take_attributes(element);
        } else if (cursor_.take_move(element)) {
            return;
        } else if (name == "harmony") {
            bar.chords.push_back(std::string{element.child("root").child("root-step").text().get()} +
                                 element.child("root").child("root-alter").text().get() + " " +
                                 element.child("kind").text().get());
        } else if (name == "direction") {
            for (const pugi::xml_node type : element.children("direction-type")) {
                if (type.child("rehearsal")) bar.starts_piece = true;
                for (const pugi::xml_node words : type.children("words"))
                    bar.words.push_back(plain_words(words.text().get()));
            }
        }
    }

    void take_attributes(pugi::xml_node attributes) {
        cursor_.take_divisions(attributes);
        key_fifths_ = fifths_of(attributes.child("key")).value_or(key_fifths_);
        if (const auto meter = meter_of(attributes.child("time"))) meter_ = *meter;
        if (const pugi::xml_node transpose = attributes.child("transpose"))
            to_sounding_ = interval_of(transpose);
    }

    void take_note(pugi::xml_node note, ScoreNotesBar& bar) {
        const ScoreCursor::Note timed = cursor_.take_note(note);
        if (note.child("grace") || note.child("cue")) return;
        const std::optional<Pitch> written = pitch_of(note.child("pitch"));
        const bool is_slash = std::string_view{note.child("notehead").text().get()} == "slash";
        if (!written || is_slash) return;
        ScoreNote out;
        out.at = timed.at;
        out.length = timed.length;
        out.written = *written;
        out.sounding = readable(out.written + to_sounding_);
        out.staff = std::max(1, note.child("staff").text().as_int(1));
        out.shows_accidental = static_cast<bool>(note.child("accidental"));
        for (const pugi::xml_node tie : note.children("tie")) {
            if (std::string_view{tie.attribute("type").value()} == "stop") out.is_tied_from_before = true;
        }
        bar.notes.push_back(out);
    }

    ScoreCursor cursor_;
    Meter meter_;
    int key_fifths_ = 0;
    Interval to_sounding_;
};

}  // namespace

std::optional<ScoreNotes> read_score_notes(const std::string& file_name, const std::string& bytes,
                                           const ReadOptions& options, Diagnostics& diagnostics) {
    std::optional<std::string> xml = bytes;
    if (looks_like_zip(bytes)) xml = read_mxl(file_name, bytes, diagnostics);
    pugi::xml_document document;
    if (!xml || !load_score(document, file_name, *xml, diagnostics)) return std::nullopt;
    const pugi::xml_node score = document.document_element();
    const std::vector<ScorePart> parts = score_parts(score);
    const ScorePart* part = choose_part(parts, options.part, file_name, diagnostics);
    if (part == nullptr) return std::nullopt;
    ScoreNotes out;
    out.title = plain_words(score.child("work").child("work-title").text().get());
    ScoreMessages messages{file_name, part->id, diagnostics};
    NotesReader reader{messages};
    try {
        for (const ScoreMeasure& measure : part->measures)
            out.bars.push_back(reader.read(measure, static_cast<int>(out.bars.size())));
    } catch (const std::overflow_error&) {
        diagnostics.error_at(file_name, "the lengths of its notes cannot be added up", "");
        return std::nullopt;
    }
    if (!out.bars.empty()) out.bars.front().starts_piece = true;
    return out;
}

}  // namespace shedbook
