#include "shown.h"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "json.h"
#include "shedbook/base/text.h"
#include "shedbook/io/errors.h"
#include "shedbook/log/log_book.h"
#include "shedbook/notation/document_words.h"

namespace shedbook {
namespace {

Data whole(int number) {
    return as_data(std::int64_t{number});
}

Data whole_numbers(const std::vector<int>& numbers) {
    Data::Array out;
    for (const int number : numbers) out.push_back(whole(number));
    return {std::move(out)};
}

// The answers of pages that are played from memory take the place of those pages.
std::vector<Block> with_all_notes(std::vector<Block> blocks) {
    std::map<PieceNumber, Block> answers;
    std::vector<Block> out;
    bool is_answer = false;
    for (Block& block : blocks) {
        if (std::holds_alternative<AnswersStart>(block)) is_answer = true;
        if (is_answer) {
            if (const auto number = number_of(block)) answers.emplace(*number, block);
        } else {
            out.push_back(std::move(block));
        }
        if (std::holds_alternative<AnswersEnd>(block)) is_answer = false;
    }
    for (Block& block : out) {
        const auto number = number_of(block);
        if (!number) continue;
        const auto answer = answers.find(*number);
        if (answer != answers.end()) block = answer->second;
    }
    return out;
}

// The symbols that stand over a piece, each change once.
std::string chords_over(const WrittenMusic& music) {
    constexpr std::size_t kMost = 12;
    std::vector<std::string> out;
    for (const Measure& measure : music.measures) {
        for (const ChordMark& mark : music.chords_of(measure)) {
            const std::string symbol = mark.symbol ? to_string(*mark.symbol) : "N.C.";
            if (out.empty() || out.back() != symbol) out.push_back(symbol);
        }
    }
    if (out.size() > kMost) {
        out.resize(kMost);
        out.emplace_back("...");
    }
    return join(out, " ");
}

class Describer {
  public:
    Describer(const PrintedPages& pages, int goal) : pages_{pages}, goal_{goal} {}

    void operator()(const TuneOverview& overview) {
        Data::Array sections;
        for (const TuneOverview::Section& section : overview.sections) {
            Data::Array bars;
            for (const TuneOverview::Bar& bar : section.bars) {
                bars.push_back(as_data(Data::Object{{"number", whole(bar.number)},
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
        section_ = {{"number", whole(number)}, {"sitting", text_or_null(sitting_)}};
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
        section_.emplace_back("bars", whole_numbers(head.bars));
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
                                                  {"name", text_or_null(place.name)},
                                                  {"first_bar", whole(place.first_bar)},
                                                  {"last_bar", whole(place.last_bar)}}));
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
        const auto known = std::ranges::find(pages_.pieces, number, &PrintedPiece::number);
        const WrittenMusic& music = piece.music.front();
        const std::vector<int>& boxes = piece.boxes.tempos;
        piece_list_.push_back(as_data(Data::Object{
            {"piece", as_data(number)},
            {"kind", as_data(kind)},
            {"id", as_data(piece.id)},
            {"name", as_data(heading.title)},
            {"remark", as_data(heading.remark)},
            {"bars", size_as_data(music.measures.size())},
            {"boxes", whole_numbers(boxes)},
            {"memory", {piece.boxes.from_memory}},
            {"goal", whole(boxes.empty() ? goal_ : boxes.back())},
            {"chords", as_data(chords_over(music))},
            {"item", known == pages_.pieces.end() ? Data{} : as_data(item_as_data(known->item))}}));
    }

    const PrintedPages& pages_;
    int goal_;
    Data form_;
    std::string sitting_;
    bool is_open_ = false;
    Data::Object section_;
    Data::Array piece_list_;
    Data::Array sections_;
};

Data standing_as_data(const Standing& standing) {
    return as_data(Data::Object{{"state", as_data(to_word(standing.state))},
                                {"clean_tempo", whole(standing.clean_tempo)},
                                {"goal", whole(standing.goal)},
                                {"entries", whole(standing.entries)},
                                {"last", as_data(date_text(standing.last))},
                                {"due", as_data(date_text(standing.due))}});
}

Data standing_of_piece(LogBook& log, const std::string& player, const PrintedPiece& piece, Day today) {
    const std::optional<Standing> standing = log.standing(player, piece.item);
    if (!standing) return {};
    Data out = standing_as_data(*standing);
    std::set<int> ticked;
    bool from_memory = false;
    std::int64_t right = 0;
    std::int64_t wrong = 0;
    for (const Entry& entry : log.entries_of(player, piece.item)) {
        const bool is_right = is_clean(entry);
        if (is_right && entry.tempo && std::ranges::find(piece.boxes, *entry.tempo) != piece.boxes.end())
            ticked.insert(*entry.tempo);
        from_memory = from_memory || (is_right && entry.from_memory);
        if (entry.day != today) continue;
        right += entry.right.value_or(0);
        wrong += entry.wrong.value_or(0);
    }
    auto& members = std::get<Data::Object>(out.value);
    members.emplace_back("ticked", whole_numbers({ticked.begin(), ticked.end()}));
    members.emplace_back("memory", Data{from_memory});
    members.emplace_back("right", as_data(right));
    members.emplace_back("wrong", as_data(wrong));
    return out;
}

}  // namespace

ShownDocument shown_document(BookOnScreen book) {
    ShownDocument out;
    out.document = {std::move(book.document.head), with_all_notes(std::move(book.document.blocks))};
    out.pages = std::move(book.pages);
    Describer describer{out.pages, book.goal};
    for (const Block& block : out.document.blocks) std::visit(describer, block);
    out.described = std::move(describer).described();
    out.described.emplace_back("goal", whole(book.goal));
    return out;
}

Data::Object item_as_data(const Item& item) {
    return {{"kind", as_data(to_word(item.kind))},
            {"subject", as_data(item.subject)},
            {"root", item.root == kNoRoot ? Data{} : whole(item.root)},
            {"work", as_data(item.work)},
            {"instrument", as_data(item.instrument)}};
}

Data::Object standings_of(const Desk& desk, const ShownDocument& shown) {
    Data::Object out;
    const LogPlace place = desk.log_place();
    const std::string player = place.player.empty() ? kMe : place.player;
    LogBook log{desk.log_file(), {.for_reading = true, .on_network = {}}};
    for (const PrintedPiece& piece : shown.pages.pieces) {
        Data standing = standing_of_piece(log, player, piece, place.today);
        if (!standing.is_null()) out.emplace_back(piece.number, std::move(standing));
    }
    return out;
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
