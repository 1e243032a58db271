#include "phone_page.h"

#include <cmath>
#include <optional>
#include <ostream>
#include <sstream>
#include <utility>

#include "musicxml_elements.h"
#include "shedbook/io/as_data.h"
#include "shedbook/io/embedded.h"
#include "shedbook/io/files.h"
#include "shedbook/notation/document_words.h"
#include "shedbook/notation/music_text.h"
#include "shedbook/write/midi.h"
#include "shedbook/write/musicxml.h"
#include "shedbook/write/piece_timing.h"
#include "shedbook/write/screen_data.h"
#include "staff_svg.h"

namespace shedbook {
namespace {

constexpr std::string_view kPhoneFile = "phone.html";
constexpr std::string_view kPlaceOfBook = "@BOOK@";
constexpr std::string_view kPlaceOfNotes = "@NOTES@";
constexpr int kGoalOfPhone = 100;

std::string page_for_phones() {
    const auto files = page_files();
    const auto found = files.find(std::string{kPhoneFile});
    if (found == files.end()) {
        throw MissingProgram(
            "a page for phones needs what npm bundles, and this program was built without it (on Debian: "
            "apt-get install npm, then configure and build again); .pdf and .mxl work without");
    }
    return std::string{found->second};
}

double in_quarters(std::int64_t ticks) {
    return static_cast<double>(ticks) / kMidiTicksPerQuarter;
}

SoundOptions sound_of(const Block& piece) {
    SoundOptions out;
    const std::vector<int> boxes = boxes_of(piece).tempos;
    const int tempo = boxes.empty() ? kGoalOfPhone : boxes.back();
    out.tempo = TempoPlan{tempo, tempo};
    out.times = 1;
    return out;
}

// All in quarters as they sound: a browser plays them at any tempo.
Data sound_as_data(const Block& piece) {
    const SoundOptions options = sound_of(piece);
    const PieceTiming timing = timing_of(piece, options);
    const double quarters = timing.beat_quarters * timing.per_minute / 60;  // a second
    const auto rounded = [](double value) {
        constexpr double kThousandths = 1000;
        return Data{std::round(value * kThousandths) / kThousandths};
    };
    Data::Array bars;
    Data::Array onsets;
    Data::Array notes;
    for (const PieceTiming::Bar& bar : timing.bars) bars.push_back(rounded(bar.at * quarters));
    for (const PieceTiming::Onset& onset : timing.onsets) {
        const double written =
            static_cast<double>(onset.quarters.num()) / static_cast<double>(onset.quarters.den());
        onsets.push_back(as_data(Data::Array{Data{written}, rounded(onset.at * quarters)}));
    }
    for (const SoundedNote& note : sounded_notes(piece, options)) {
        notes.push_back(as_data(Data::Array{rounded(in_quarters(note.at)), rounded(in_quarters(note.length)),
                                            as_data(note.key), as_data(note.velocity),
                                            as_data(static_cast<int>(note.part))}));
    }
    return as_data(Data::Object{{"length", rounded(timing.pass * quarters)},
                                {"beat", Data{timing.beat_quarters}},
                                {"bars", as_data(std::move(bars))},
                                {"onsets", as_data(std::move(onsets))},
                                {"notes", as_data(std::move(notes))}});
}

// A piece by itself, without what is printed around it.
std::string drawn(const DocumentHead& head, const WrittenMusic& music) {
    WrittenMusic plain = music;
    plain.tempo.reset();
    plain.feel.clear();
    std::ostringstream out;
    MusicXmlWriter writer{out};
    hand_over({head, {LeadSheet{{std::move(plain)}}}}, writer);
    return out.str();
}

Data::Object book_as_data(const Document& document, const WriteOptions& options) {
    const DocumentHead& head = document.head;
    std::string student;
    for (const Block& block : document.blocks) {
        if (const auto* cover = std::get_if<Cover>(&block)) student = cover->player;
    }
    Data::Object out{{"code", as_data(head.code)},
                     {"title", as_data(head.title)},
                     {"student", as_data(student)},
                     {"instrument", as_data(Data::Object{{"id", as_data(head.parts.front().id)},
                                                         {"name", as_data(head.parts.front().name)}})}};
    Data::Object listed =
        screen_data(document, kGoalOfPhone, [&](const std::string& number, const Block& piece) {
            const WrittenMusic& music = music_of(piece)->front();
            return Data::Object{{"musicxml", as_data(drawn(head, music))},
                                {"words", as_data(bars_in_words(music))},
                                {"item", options.item_of ? options.item_of(number) : Data{}},
                                {"sound", sound_as_data(piece)}};
        });
    for (auto& member : listed) out.push_back(std::move(member));
    return out;
}

std::string escaped(std::string_view text) {
    std::string out;
    append_escaped(out, text);
    return out;
}

// All drills as drawings, for a browser that runs no scripts: nothing there is heard or ticked.
std::string notes_of(const Document& document) {
    std::string out = "<h1>" + escaped(document.head.title) + "</h1>\n";
    for (const Block& block : document.blocks) {
        const std::optional<PieceNumber> number = number_of(block);
        if (!number) continue;
        const auto* drill = std::get_if<Drill>(&block);
        const PieceHeading heading =
            drill != nullptr ? heading_of(*drill) : heading_of(std::get<Etude>(block));
        const std::string name = in_words(*number) + " " + with_signs(heading.title);
        out += "<h2>" + escaped(name) + "</h2>\n" + staff_svg(music_of(block)->front(), name);
        for (const std::string& label : labels_of(boxes_of(block)))
            out += "<span>☐ " + escaped(label) + "</span> ";
        out += "\n";
    }
    return out;
}

// Within a script element no text may look like its end (HTML Living Standard, 4.12.1.3).
std::string within_script(const std::string& json) {
    std::string out;
    for (const char c : json) out += c == '<' ? std::string{"\\u003c"} : std::string{c};
    return out;
}

}  // namespace

void write_phone_page(const std::string& path, const std::function<void(BlockSink&)>& assemble,
                      const WriteOptions& options) {
    const std::string page = page_for_phones();
    const Document document = whole_pieces(recorded(assemble));
    const std::string book = within_script(write_json(as_data(book_as_data(document, options))));
    const std::string notes = notes_of(document);
    const std::size_t first = page.find(kPlaceOfNotes);
    const std::size_t second = page.find(kPlaceOfBook);
    if (first == std::string::npos || second == std::string::npos || second < first)
        throw FailedProgram("the page for phones has no place for a book");
    const std::size_t between = first + kPlaceOfNotes.size();
    write_atomically(path, [&](std::ostream& out) {
        out << page.substr(0, first) << notes << page.substr(between, second - between) << book
            << page.substr(second + kPlaceOfBook.size());
    });
}

}  // namespace shedbook
