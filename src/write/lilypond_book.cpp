#include "lilypond_book.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <span>
#include <sstream>
#include <utility>

#include "lilypond_music.h"
#include "lilypond_style.h"
#include "lilypond_text.h"
#include "more_lines.h"
#include "shedbook/base/text.h"
#include "shedbook/notation/document_words.h"
#include "shedbook/notation/music_text.h"
#include "shedbook/notation/notate.h"

namespace shedbook {
namespace {

// Settings of a part that would be over-full by a little: staves and headings move together.
constexpr const char* kTight =
    "system-system-spacing = #'((basic-distance . 9) (minimum-distance . 7.5) (padding . 0.7) "
    "(stretchability . 30)) score-markup-spacing = #'((basic-distance . 7) (padding . 1) (stretchability . "
    "40)) last-bottom-spacing = #'((basic-distance . 4) (padding . 2.5) (stretchability . 60)) ";

// As many systems stand together at the top of their page; they would drift apart over it.
constexpr double kFewSystems = 5.4;
constexpr double kSomeSystems = 8.6;
constexpr const char* kRagged = "ragged-bottom = ##t ragged-last-bottom = ##t ";
constexpr const char* kAiry =
    "score-markup-spacing = #'((basic-distance . 10) (padding . 4.4) (stretchability . 40)) "
    "system-system-spacing = #'((basic-distance . 12) (minimum-distance . 8.5) (padding . 2.6) "
    "(stretchability . 10)) ";
// Lines on the form that leave part of their page white take some of it between them.
constexpr const char* kSpread =
    "system-system-spacing = #'((basic-distance . 12) (minimum-distance . 8.5) (padding . 1.6) "
    "(stretchability . 26)) ";

std::string note_markup(NoteValue value, const char* stem) {
    return "\\note {" + std::to_string(1 << value.log2) +
           std::string(static_cast<std::size_t>(value.dots), '.') + "} #" + stem + " ";
}

// What the tempos count is said where it is no quarter. Where the same boxes stand above on the page, those
// are the heads of their columns: the tempos keep their places, unseen.
std::string boxes_markup(const TempoBoxes& boxes, const Meter& meter, bool are_headed = false) {
    if (boxes.empty()) return "\\markup \\null";
    std::string out = "\\markup \\line { ";
    const std::string unseen = are_headed ? "\\transparent " : "";
    if (const NoteValue beat = note_value(meter.beat_length()); beat != NoteValue{})
        out += unseen + "\\fontsize #-2 " + note_markup(beat, "0.8");
    constexpr std::size_t kFewBoxes = 5;  // more of them stand closer, or they would touch a long title
    const std::vector<std::string> labels = labels_of(boxes);
    const char* const each = labels.size() > kFewBoxes ? "\\closetick " : "\\tick ";
    for (const std::string& label : labels) out += each + unseen + quoted(label) + " ";
    return out + "}";
}

}  // namespace

std::string tempo_markup(const WrittenMusic& music) {
    std::string out;
    const std::string words = before_tempo(music);
    if (!words.empty()) out += "\\italic " + quoted(words) + " \\hspace #0.5 ";
    if (music.tempo) {
        out += note_markup(music.tempo->beat, "0.9") + quoted("= " + std::to_string(music.tempo->per_minute));
    }
    return "\\fontsize #0 \\line { " + out + " }";
}

namespace {

// The title as the foot of a page has room for it: beside it stand the instrument and, in the middle, what
// the page is about.
std::string title_in_footer(const std::string& title, const std::string& instrument) {
    constexpr std::size_t kBoth = 60;
    constexpr std::size_t kLeast = 24;
    const std::size_t beside = count_characters(instrument);
    return short_title(title, beside + kLeast < kBoth ? kBoth - beside : kLeast);
}

WrittenMusic without_chords(WrittenMusic music) {
    music.chords.clear();
    for (Measure& measure : music.measures) measure.first_chord = measure.chord_count = 0;
    return music;
}

// The section and those behind it that share its page.
std::span<const PlannedSection> on_one_page(const PlannedTune& tune, std::size_t first) {
    std::size_t count = 1;
    while (first + count < tune.sections.size() && tune.sections[first + count].shares_page) ++count;
    return std::span{tune.sections}.subspan(first, count);
}

double room_of_all(std::span<const PlannedSection> sections) {
    double room = 0;
    for (const PlannedSection& section : sections)
        room = std::accumulate(section.rooms.begin(), section.rooms.end(), room);
    return room;
}

// What stands on a page: one chord and its scale, or the sections and etudes that share it. `tune`: what the
// book is of stands at the foot already.
std::string footer_of(std::span<const PlannedSection> sections, const std::string& tune) {
    constexpr std::size_t kMost = 3;  // the foot of the page has no room for more
    const PlannedSection& first = sections.front();
    std::vector<std::string> parts;
    if (first.section() != nullptr && first.sitting != nullptr)
        parts.push_back(text_markup(with_signs(first.sitting->title)));
    const std::string* said = &tune;
    for (std::size_t i = 0; i < sections.size() && i < kMost; ++i) {
        if (const Etude* etude = sections[i].etude()) {
            const bool is_said = *said == etude->tune.title;
            said = &etude->tune.title;
            parts.push_back(text_markup(short_title(is_said ? etude->title : heading_of(*etude).title)));
        } else {
            parts.push_back(name_markup(*sections[i].section()));
        }
    }
    const auto* topic = first.section() != nullptr ? std::get_if<TopicHead>(&first.section()->head) : nullptr;
    if (sections.size() == 1 && topic != nullptr && topic->parts.front().symbol)
        parts.push_back(text_markup(with_signs(to_string(topic->parts.front().scale))));
    if (sections.size() > kMost) parts.push_back(quoted("\u2026"));
    return "\\markup { " + join(parts, " \"  \u00B7  \" ") + " }";
}

}  // namespace

LilypondBook& LilypondBook::operator<<(double number) {
    std::ostringstream out;
    out << number;
    return *this << std::string_view{out.str()};
}

EngraverText book_text(const Document& document, const PageRoom& room, const Faults& faults) {
    const PagePlan plan = planned(contents_of(document), room, faults);
    return LilypondBook{plan, room}.write();
}

EngraverText LilypondBook::write() {
    text_.preamble = preamble();
    foot();
    text_.title = plan_.head->title + ", " + plan_.head->parts.front().name;
    text_.author = plan_.head->composer;
    if (plan_.is_book()) {
        front(*plan_.cover);
        tables();
        text_.pages = plan_.log_page;
    }
    for (std::size_t t = 0; t < plan_.tunes.size(); ++t) {
        const PlannedTune& tune = plan_.tunes[t];
        if (tune.overview_page > 0) overview_page(tune);
        if (tune.changes != nullptr) changes(tune, t);
        for (std::size_t i = 0; i < tune.sections.size();) {
            note_pages_until(tune.sections[i].first_page);
            i += section_pages(tune, i);
        }
    }
    if (plan_.lead_sheet != nullptr) lead_sheet(*plan_.lead_sheet);
    if (plan_.has_log) {
        note_pages_until(plan_.log_page);
        log_page();
    }
    return std::move(text_);
}

std::string LilypondBook::preamble() const {
    std::string out = "\\version \"2.24.0\"\n";
    out += std::string{room_.setup} + "#(set-default-paper-size \"" + std::string{room_.paper} + "\")\n";
    out += kLilypondStyle;
    out += room_.own_style;
    out += kLilypondReport;
    out += "\\header { tagline = ##f foottune = \\markup " +
           text_markup(title_in_footer(plan_.head->title, plan_.head->parts.front().name) + "  \u00B7  " +
                       plan_.head->parts.front().name) +
           " }\n";
    return out;
}

// The book's code, at the foot of every page.
void LilypondBook::foot() {
    if (plan_.head->code.empty()) return;
    const std::string code = "footcode = " + quoted(plan_.head->code) + " }\n";
    text_.foot = "\\header { " + code;
    EngraverPart stamps{kNoKey, std::numeric_limits<int>::max(), 2, {}};
    stamps.text =
        "\\bookpart {\n\\paper { first-page-number = #1 page-count = #2 print-page-number = ##f }\n"
        "\\header { foottune = \\markup \\null footpart = \\markup \\null " +
        code + "\\markup \\null\n\\pageBreak\n\\markup \\null\n}\n";
    text_.stamps = std::move(stamps);
}

void LilypondBook::open_part(int first_page, int pages, const std::string& footer, const std::string& paper,
                             int key) {
    text_.parts.push_back({key, first_page, pages, {}});
    wide_ = 1;
    *this << "\\bookpart {\n\\paper { first-page-number = #" << first_page << " ";
    if (key != kNoKey) *this << "shedpart = #" << key << " ";
    if (pages > 0) *this << "page-count = #" << pages << " ";
    *this << paper << "}\n\\header { footpart = " << footer << " }\n";
    next_page_ = first_page + pages;
}

// Pages of empty staves up to where the plan goes on.
void LilypondBook::note_pages_until(int page) {
    while (next_page_ < page) {
        open_part(next_page_, 1, "\\markup \"Notes\"");
        *this << "\\markup \\sans \\bold \\fontsize #5 \"Notes\"\n\\markup \\vspace #0.6\n\\score { \\new "
                 "Staff \\with { \\omit "
                 "BarLine \\omit Clef } { ";
        for (int staff = 0; staff < room_.without_head; ++staff)
            *this << (staff > 0 ? "\\break " : "") << "s1 ";
        *this << "} }\n}\n";
    }
}

std::size_t LilypondBook::section_pages(const PlannedTune& tune, std::size_t first) {
    const std::span<const PlannedSection> sections = on_one_page(tune, first);
    const PlannedSection& leading = sections.front();
    // The engraver, which turns an etude's pages, shares its systems out evenly where they may spread.
    const int pages = leading.etude() != nullptr ? 1 : leading.pages;
    const double room = room_of_all(sections);
    const bool has_few = room <= kFewSystems * pages;
    const bool may_spread =
        room_.two_sided && leading.etude() != nullptr && leading.pages == 1 && room <= kSomeSystems;
    // A small page has no air to give.
    const std::string few = std::string{kRagged} + (room_.without_head > kSomeSystems ? kAiry : "");
    open_part(leading.first_page, leading.pages, footer_of(sections, plan_.head->title),
              leading.is_tight ? kTight
              : has_few        ? few
              : may_spread     ? kSpread
                               : "",
              leading.key);
    wide_ = leading.wide;
    is_tight_ = leading.is_tight;
    for (const PlannedSection& section : sections) {
        const HeadPlace place = sections.size() == 1   ? HeadPlace::Alone
                                : &section == &leading ? HeadPlace::First
                                                       : HeadPlace::Below;
        if (section.etude() != nullptr) {
            etude(section, place);
        } else {
            this->section(section, place);
        }
    }
    close_part();
    return sections.size();
}

void LilypondBook::section(const PlannedSection& section, HeadPlace place) {
    mark(name_in_outline(*section.section()), section.first_page);
    begin_anew();
    section_head(*section.section(), place);
    // Where the engraver turns the page by itself, nobody knows what stands above.
    const bool turns_anywhere = section.pages > 1 && section.turns.empty();
    std::size_t piece = 0;
    const auto turn_page = [&] {
        takes_more_lines_ =
            std::ranges::find(section.with_more_lines, piece) != section.with_more_lines.end();
        const bool turns = std::ranges::find(section.turns, piece) != section.turns.end();
        if (turns) *this << "\\pageBreak\n";
        if (turns || turns_anywhere) begin_anew();
        ++piece;
    };
    if (section.bars != nullptr) {
        turn_page();
        bars_of_unit(*section.bars);
    }
    for (const Drill* each : section.drills) {
        may_tear_ = section.rooms[piece] > room_.without_head;
        turn_page();
        drill(*each, *section.section());
        may_tear_ = false;
    }
    for (const Etude* each : section.lines) {
        turn_page();
        line_of_unit(*each);
    }
    own_line(section);
}

std::string LilypondBook::smaller() const {
    if (wide_ <= 1) return {};
    std::ostringstream share;
    share << 1 / wide_;
    return "\\scale #'(" + share.str() + " . " + share.str() + ") ";
}

std::string LilypondBook::layout(std::string_view settings) const {
    // Not all that stands in a line becomes narrower with the staff: from measurement.
    constexpr double kMoreThanWide = 1.45;
    std::string all{settings};
    if (may_tear_)
        all += "\\context { \\Score \\override NonMusicalPaperColumn.page-break-permission = #'allow } ";
    if (wide_ <= 1) return all.empty() ? "" : "\\layout { " + all + "} ";
    std::ostringstream size;
    size << room_.staff / std::pow(wide_, kMoreThanWide);
    // Settings by name come first, or the engraver does not take them.
    return "\\layout { " + all + "#(layout-set-staff-size " + size.str() + ") } ";
}

void LilypondBook::drill(const Drill& drill, const SectionStart& section) {
    const WrittenMusic& music = drill.music.front();
    piece(drill.number, heading_of(drill), drill.boxes,
          says_its_chords(section, music) ? without_chords(music) : music, "");
}

void LilypondBook::bars_of_unit(const UnitBars& bars) {
    piece({}, {"The bars, with the way in and out", {}}, {}, bars.music.front(), "\\lineLayout ");
}

void LilypondBook::line_of_unit(const Etude& etude) {
    piece(etude.number, heading_of(etude), etude.boxes, etude.music.front(), "\\lineLayout ");
}

void LilypondBook::piece(const PieceNumber& number, const PieceHeading& heading, const TempoBoxes& boxes,
                         const WrittenMusic& music, std::string_view settings) {
    // A long name and its remark would run into the boxes: then the remark stands below.
    constexpr std::size_t kRoom = 44;
    std::string name = "\\drillname " + text_markup(with_signs(heading.title));
    if (!heading.remark.empty()) {
        const std::string remark = "\\fontsize #-2.5 \\italic " + text_markup(with_signs(heading.remark));
        const bool fits = count_characters(heading.title) + count_characters(heading.remark) * 3 / 4 < kRoom;
        name = fits ? "\\line { " + name + " " + remark + " }"
                    : "\\override #'(baseline-skip . 2) \\column { \\line { " + name + " } \\line { " +
                          remark + " } }";
    }
    const bool has_new_meter = meter_ != music.meter;
    const bool are_headed = boxes == headed_ && !has_new_meter;
    headed_ = boxes;
    meter_ = music.meter;
    if (has_new_meter && settings.empty()) settings = "\\meterLayout ";
    *this << "\\score { \\header { number = \\markup \\dnum " << quoted(in_words(number))
          << " dname = \\markup " << name << " ticks = " << boxes_markup(boxes, music.meter, are_headed)
          << " }\n"
          << music_expression(takes_more_lines_ ? with_more_lines(music) : music) << layout(settings)
          << "}\n";
}

void LilypondBook::etude(const PlannedSection& section, HeadPlace place) {
    const Etude& etude = *section.etude();
    const WrittenMusic& music = etude.music.front();
    const PieceHeading heading = heading_of(etude);
    const std::string number = in_words(etude.number);
    mark(number + " " + heading.title, section.first_page);
    *this << "\\markup " << smaller() << "\\column { " << space_above(place)
          << "\\line { \\sans \\fontsize #5 { "
          << (number.empty() ? "" : "\\bold " + quoted(number) + " \\hspace #1 ") << "} "
          << title_markup(heading.title, 44) << " } ";
    if (!heading.remark.empty()) {
        const std::string player = plan_.is_book() ? "" : plan_.head->parts.front().name + ", ";
        *this << "\\fill-line { \\fontsize #-1 \\italic " << text_markup(player + with_signs(heading.remark))
              << " \\fontsize #-1 " << text_markup(etude.composer) << " } ";
    }
    *this << "\\vspace #0.2 \\draw-hline }\n"
          << "\\score { \\header { number = \\markup \\null dname = \\markup " << tempo_markup(music)
          << " ticks = " << boxes_markup(etude.boxes, music.meter) << " }\n"
          << music_expression(music) << layout("\\lineLayout ") << "}\n";
}

}  // namespace shedbook
