#include "shedbook/write/screen_data.h"

#include <map>
#include <utility>

#include "musicxml_elements.h"
#include "shedbook/base/text.h"
#include "shedbook/io/as_data.h"
#include "shedbook/notation/document_words.h"
#include "shedbook/notation/notate.h"

namespace shedbook {
namespace {

// The answers of pages that are played from memory take the place of those pages.
std::vector<Block> with_all_notes(std::vector<Block> blocks) {
    std::map<PieceNumber, Block> answers;
    std::vector<Block> out;
    bool is_answer = false;
    for (Block& block : blocks) {
        if (std::holds_alternative<AnswersStart>(block)) is_answer = true;
        const bool is_last_answer = std::holds_alternative<AnswersEnd>(block);
        if (is_answer) {
            if (const auto number = number_of(block)) answers.emplace(*number, block);
        } else {
            out.push_back(std::move(block));
        }
        if (is_last_answer) is_answer = false;
    }
    for (Block& block : out) {
        const auto number = number_of(block);
        if (!number) continue;
        const auto answer = answers.find(*number);
        if (answer != answers.end()) block = answer->second;
    }
    return out;
}

class Describer {
  public:
    Describer(int goal, const MoreOfPiece& more) : goal_{goal}, more_{more} {}

    void operator()(const TuneOverview& overview) {
        Data::Array sections;
        for (const TuneOverview::Section& section : overview.sections) {
            Data::Array bars;
            for (const TuneOverview::Bar& bar : section.bars) {
                bars.push_back(as_data(Data::Object{{"number", as_data(bar.number)},
                                                    {"grade", as_data(to_word(bar.grade))},
                                                    {"repeat_start", {bar.repeat_start}},
                                                    {"repeat_end", {bar.repeat_end}},
                                                    {"ending", as_data(bar.ending)}}));
            }
            sections.push_back(
                as_data(Data::Object{{"label", as_data(section.label)}, {"bars", as_data(std::move(bars))}}));
        }
        form_ = as_data(Data::Object{{"sections", as_data(std::move(sections))}});
    }
    void operator()(const SittingStart& sitting) { sitting_ = title_of(sitting); }
    void operator()(const SittingEnd& /*the next one begins*/) { sitting_.clear(); }
    void operator()(const SectionStart& start) {
        begin(start.number);
        std::visit([&](const auto& head) { say(head); }, start.head);
    }
    void operator()(const SectionEnd& /*it is whole*/) { end(); }
    void operator()(const Drill& drill) { add(drill, "drill", heading_of(drill)); }
    void operator()(const Etude& etude) {
        const bool is_alone = !is_open_;
        if (is_alone) {
            begin(etude.number.section);
            section_.emplace_back("kind", as_data("line"));
            section_.emplace_back("name", as_data(etude.title));
        }
        add(etude, "line", heading_of(etude));
        if (is_alone) end();
    }
    template <class Other>
    void operator()(const Other& /*stands around the pieces*/) {}

    [[nodiscard]] Data::Object described() && {
        return {{"form", std::move(form_)}, {"sections", as_data(std::move(sections_))}};
    }

  private:
    void begin(int number) {
        end();
        is_open_ = true;
        section_ = {{"number", as_data(number)}, {"sitting", text_or_null(sitting_)}};
    }
    void end() {
        if (!is_open_) return;
        is_open_ = false;
        section_.emplace_back("pieces", as_data(std::exchange(piece_list_, {})));
        sections_.push_back(as_data(std::exchange(section_, {})));
    }
    void say(const TopicHead& head) {
        std::vector<std::string> notes;
        const TopicInPart* part = head.parts.empty() ? nullptr : &head.parts.front();
        if (part != nullptr) {
            for (const PitchClass note : part->notes) notes.push_back(to_string(note));
        }
        section_.emplace_back("kind", as_data("chord"));
        section_.emplace_back(
            "name", as_data(part != nullptr ? name_with_scale(*part) : name_with_scale(head.topic)));
        section_.emplace_back("scale", part != nullptr ? as_data(to_string(part->scale)) : Data{});
        section_.emplace_back("notes", as_data(notes));
        section_.emplace_back("why", as_data(head.reason));
        section_.emplace_back("bars", as_data(head.bars));
        section_.emplace_back("grade", Data{});
    }
    void say(const RoundHead& head) {
        section_.emplace_back("kind", as_data("round"));
        section_.emplace_back("name", as_data(title_of(head)));
        section_.emplace_back("why", as_data(reason_of(head)));
        section_.emplace_back("grade", Data{});
    }
    void say(const UnitHead& head) {
        Data::Array places;
        for (const UnitHead::Place& place : head.places) {
            places.push_back(as_data(Data::Object{{"key", as_data(to_string(place.key))},
                                                  {"first_bar", as_data(place.first_bar)},
                                                  {"last_bar", as_data(place.last_bar)}}));
        }
        section_.emplace_back("kind", as_data("unit"));
        section_.emplace_back("name", as_data(head.name));
        section_.emplace_back("title", as_data(title_of(head)));
        section_.emplace_back("grade", as_data(to_word(head.grade)));
        section_.emplace_back("why", as_data(head.why));
        section_.emplace_back("places", as_data(std::move(places)));
    }
    template <class Piece>
    void add(const Piece& piece, const char* kind, const PieceHeading& heading) {
        const std::string number = in_words(piece.number);
        const WrittenMusic& music = piece.music.front();
        const std::vector<int>& boxes = piece.boxes.tempos;
        Data::Object out{{"piece", as_data(number)},
                         {"kind", as_data(kind)},
                         {"id", as_data(piece.id)},
                         {"name", as_data(heading.title)},
                         {"remark", as_data(heading.remark)},
                         {"bars", size_as_data(music.measures.size())},
                         {"boxes", as_data(boxes)},
                         {"memory", {piece.boxes.from_memory}},
                         {"goal", as_data(boxes.empty() ? goal_ : boxes.back())},
                         {"beat", as_data(beat_in_words(music.meter))},
                         {"pickup", {!music.measures.empty() && music.measures.front().is_pickup}},
                         {"symbols", as_data(symbols_over(music))}};
        if (more_) {
            for (auto& member : more_(number, Block{piece})) out.push_back(std::move(member));
        }
        piece_list_.push_back(as_data(std::move(out)));
    }

    int goal_;
    const MoreOfPiece& more_;
    Data form_;
    std::string sitting_;
    bool is_open_ = false;
    Data::Object section_;
    Data::Array piece_list_;
    Data::Array sections_;
};

// "B flat" of Bb4.
std::string note_in_words(WrittenPitch pitch) {
    const std::string name = to_string(pitch.on_paper());
    std::string out{name.front()};
    for (const char c : name.substr(1)) {
        if (c == 'b') out += " flat";
        if (c == '#') out += " sharp";
    }
    return out;
}

}  // namespace

std::string beat_in_words(const Meter& meter) {
    return in_words(note_value(meter.beat_length()));
}

Document whole_pieces(Document document) {
    document.blocks = with_all_notes(std::move(document.blocks));
    return document;
}

Data::Object screen_data(const Document& document, int goal, const MoreOfPiece& more) {
    Describer describer{goal, more};
    for (const Block& block : document.blocks) std::visit(describer, block);
    Data::Object out = std::move(describer).described();
    out.emplace_back("goal", as_data(goal));
    return out;
}

std::vector<std::string> symbols_over(const WrittenMusic& music) {
    std::vector<std::string> out;
    for (const Measure& measure : music.measures) {
        for (const ChordMark& mark : music.chords_of(measure)) {
            if (mark.symbol) out.push_back(to_string(*mark.symbol));
        }
    }
    return out;
}

std::vector<std::string> bars_in_words(const WrittenMusic& music) {
    std::vector<std::string> out;
    for (const Measure& measure : music.measures) {
        std::vector<std::string> notes;
        for (const Event& event : music.events_of(measure)) {
            if (const auto* note = std::get_if<Sounded>(&event.what)) {
                if (!note->tied_from_before) notes.push_back(note_in_words(note->pitch));
            } else if (std::holds_alternative<Rest>(event.what)) {
                notes.emplace_back("rest");
            }
        }
        out.push_back("Bar " + std::to_string(out.size() + 1) + ": " +
                      (notes.empty() ? "as you like" : join(notes, ", ")));
    }
    return out;
}

}  // namespace shedbook
