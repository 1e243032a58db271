#include "lilypond_book.h"

#include <algorithm>
#include <ostream>
#include <utility>

#include "lilypond_music.h"
#include "lilypond_style.h"
#include "lilypond_text.h"
#include "shedbook/base/text.h"
#include "shedbook/notation/music_text.h"
#include "shedbook/notation/notate.h"

namespace shedbook {
namespace {

// Settings of a part that would be over-full by a little: staves and headings move together.
constexpr const char* kTight =
    "system-system-spacing = #'((basic-distance . 9) (minimum-distance . 7.5) (padding . 0.7) "
    "(stretchability . 30)) score-markup-spacing = #'((basic-distance . 7) (padding . 1) (stretchability . "
    "40)) last-bottom-spacing = #'((basic-distance . 4) (padding . 2.5) (stretchability . 10)) ";

std::string note_markup(NoteValue value, const char* stem) {
    return "\\note {" + std::to_string(1 << value.log2) +
           std::string(static_cast<std::size_t>(value.dots), '.') + "} #" + stem + " ";
}

// What the tempos count is said where it is no quarter.
std::string boxes_markup(const std::vector<std::string>& labels, const Meter& meter) {
    std::string out = "\\markup \\line { ";
    if (const NoteValue beat = note_value(meter.beat_length()); beat != NoteValue{})
        out += "\\fontsize #-2 " + note_markup(beat, "0.8");
    for (const std::string& label : labels) out += "\\tick " + quoted(label) + " ";
    return out + "}";
}

std::string notes_markup(const std::vector<PitchClass>& notes) {
    std::string text;
    for (const PitchClass note : notes) text += (text.empty() ? "" : " ") + to_string(note);
    return text_markup(with_signs(text));
}

std::string small_line(const std::string& label, const std::vector<std::string>& words) {
    std::string out =
        "\\override #'(word-space . 1.2) \\line { \\sans \\fontsize #-1 { \\combine \\hspace #8 " +
        quoted(label);
    for (const std::string& word : words) out += " " + text_markup(word);
    return out + " } }";
}

std::string tempo_markup(const WrittenMusic& music) {
    std::string out;
    if (!music.feel.empty()) out += "\\italic " + quoted(music.feel) + " \\hspace #0.5 ";
    if (music.tempo) {
        out += note_markup(music.tempo->beat, "0.9") + quoted("= " + std::to_string(music.tempo->per_minute));
    }
    return "\\fontsize #0 \\line { " + out + " }";
}

// The measures of one section of a rhythm part, as a piece of its own.
WrittenMusic part_of(const WrittenMusic& music, std::size_t from, std::size_t to) {
    WrittenMusic out = music;
    out.measures.assign(music.measures.begin() + static_cast<std::ptrdiff_t>(from),
                        music.measures.begin() + static_cast<std::ptrdiff_t>(to));
    out.measures.front().new_system = false;
    return out;
}

// Beside it stand the instrument and, in the middle, what the page is about.
constexpr std::size_t kTitleInFooter = 24;
// A long title is set smaller.
std::string title_markup(const std::string& title, std::size_t most_large) {
    const std::string text = short_title(title, most_large * 4 / 3);
    return "\\bold \\sans \\fontsize #" + std::string{count_characters(text) > most_large ? "2.5" : "5"} +
           " " + text_markup(text);
}

// One short line of a reason, as long as a column holds; all of it stands at the head of the chord's section.
std::string short_reason(const std::string& reason) {
    constexpr std::size_t kMost = 44;
    if (count_characters(reason) <= kMost) return reason;
    std::string out = reason.substr(0, reason.find_first_of(":;"));
    if (count_characters(out) <= kMost) return out;
    if (const std::size_t comma = out.find(", "); comma != std::string::npos && comma <= kMost)
        return out.substr(0, comma);
    // Signs of two bytes make it a little shorter still.
    return out.substr(0, out.rfind(' ', kMost - 2)) + " \u2026";
}

std::string label_of(const Measure& measure) {
    for (const Sign& sign : measure.signs_before) {
        if (!sign.form) return sign.label;
    }
    return {};
}

}  // namespace

LilypondWriter::LilypondWriter(std::ostream& out, PagePlan plan, const PageRoom& room)
    : out_{out}, plan_{std::move(plan)}, room_{room} {}

void LilypondWriter::begin(const DocumentHead& head) {
    head_ = head;
    out_ << "\\version \"2.24.0\"\n"
         << room_.setup << "#(set-default-paper-size \"" << room_.paper << "\")\n"
         << kLilypondStyle << room_.own_style
         << "\\paper { page-post-process = #(lambda (layout pages) (format (current-error-port) \""
         << kPartDone
         << "~a ~a\\n\" (ly:output-def-lookup layout 'shedpart) (length pages)) (force-output "
            "(current-error-port))) }\n"
         << "\\header { tagline = ##f foottune = \\markup "
         << text_markup(short_title(head.title, kTitleInFooter) + "  \u00B7  " + head.instrument.name)
         << " }\n";
}

void LilypondWriter::take(const Block& block) {
    struct Visitor {
        LilypondWriter& writer;
        void operator()(const Heading& heading) const {
            writer.close_section();
            if (heading.level == 1 && writer.tune_started_) {
                ++writer.tune_;
                writer.section_ = 0;
            }
            writer.tune_started_ = heading.level == 1 || writer.tune_started_;
        }
        void operator()(const ChordHead& head) const {
            writer.close_section();
            writer.open_section(head);
        }
        void operator()(const WrittenMusic& music) const {
            if (music.open_key && writer.section_open_) return writer.drill(music);
            writer.close_section();
            if (music.title.empty()) return writer.lead_sheet(music);
            writer.etude(music);
        }
        void operator()(const RhythmPart& part) const {
            writer.close_section();
            writer.changes(part.music);
        }
        // The first text is the caution; advice to a sitting stands in the table of sittings.
        void operator()(const Text& text) const {
            if (writer.caution_.empty()) writer.caution_ = text.text;
        }
        void operator()(const Table& /*printed behind the contents*/) const {}
        void operator()(const TickBoxes& boxes) const { writer.boxes_ = boxes.labels; }
        void operator()(const PageBreak& /*the plan has its own*/) const {}
    };
    std::visit(Visitor{*this}, block);
    // Title and contents wait for the caution, which is the first text.
    if (next_page_ == 1 && plan_.is_book && !caution_.empty()) {
        title_page(head_);
        contents();
        tables();
    }
}

void LilypondWriter::finish() {
    close_section();
    if (plan_.is_book) {
        note_pages_until(plan_.log_page);
        log_page();
    }
}

void LilypondWriter::open_part(int first_page, int pages, const std::string& footer, const std::string& paper,
                               int key) {
    out_ << "\\bookpart {\n\\paper { first-page-number = #" << first_page << " ";
    if (key != kNoKey) out_ << "shedpart = #" << key << " ";
    if (pages > 0) out_ << "page-count = #" << pages << " ";
    out_ << paper << "}\n\\header { footpart = " << footer << " }\n";
    next_page_ = first_page + pages;
}

// Pages of empty staves up to where the plan goes on.
void LilypondWriter::note_pages_until(int page) {
    while (next_page_ < page) {
        open_part(next_page_, 1, "\\markup \"Notes\"");
        out_ << "\\markup \\sans \\bold \\fontsize #5 \"Notes\"\n\\markup \\vspace #0.6\n\\score { \\new "
                "Staff \\with { \\omit "
                "BarLine \\omit Clef } { ";
        for (int staff = 0; staff < room_.without_head; ++staff)
            out_ << (staff > 0 ? "\\break " : "") << "s1 ";
        out_ << "} }\n}\n";
    }
}

void LilypondWriter::changes(const WrittenMusic& music) {
    const PlannedTune& tune = plan_.tunes[tune_];
    note_pages_until(tune.changes_page);
    open_part(tune.changes_page, tune.changes_used, "\\markup \"The changes\"",
              "score-system-spacing = #'((basic-distance . 12) (padding . 1.6) (stretchability . 30)) "
              "score-markup-spacing = "
              "#'((basic-distance . 9) (padding . 3.5) (stretchability . 20)) markup-system-spacing = "
              "#'((basic-distance . 0) "
              "(padding . 1.6) (stretchability . 6)) ",
              key_of_changes(tune_));
    out_ << "\\markup \\column { \\fill-line { " << title_markup(tune.title + ": the changes", 32) << " "
         << tempo_markup(music) << " } \\vspace #0.2 \\draw-hline }\n";
    scores_of_sections(music);
    scale_table();
    empty_staves(tune.empty_staves, "For the melody");
    out_ << "}\n";
}

// A score a section, so that each begins on a line of its own.
void LilypondWriter::scores_of_sections(const WrittenMusic& music) {
    std::size_t from = 0;
    bool first = true;
    for (std::size_t i = 1; i <= music.measures.size(); ++i) {
        if (i < music.measures.size() && label_of(music.measures[i]).empty()) continue;
        WrittenMusic section = part_of(music, from, i);
        const std::string label = label_of(music.measures[from]);
        std::string text = music_expression(section);
        // Its letter stands at the left of a section.
        const std::string with = first ? "" : "\\omit TimeSignature ";
        std::string staff = "\\new Staff \\with { " + with + "} { ";
        if (!label.empty()) staff += "\\letter " + quoted(label) + " ";
        const std::string plain = "\\new Staff { ";
        text.replace(text.find(plain), plain.size(), staff);
        const std::string final_bar = "\\bar \"|.\"";
        const std::size_t end = text.rfind(final_bar);
        if (i < music.measures.size() && end != std::string::npos)
            text.replace(end, final_bar.size(), "\\bar \"||\"");
        out_ << "\\score {\n" << text << "\\layout { \\changesLayout } }\n";
        from = i;
        first = false;
    }
}

void LilypondWriter::lead_sheet(const WrittenMusic& music) {
    // As many pages as it takes: nothing here stands on a page that another one names.
    open_part(1, 0, "\\markup " + text_markup(head_.composer), "ragged-last-bottom = ##t ");
    out_ << "\\markup \\column { \\fill-line { " << title_markup(head_.title, 32) << " "
         << tempo_markup(music) << " } \\vspace #0.2 \\draw-hline }\n";
    scores_of_sections(music);
    out_ << "}\n";
}

void LilypondWriter::scale_table() {
    const PlannedTune& tune = plan_.tunes[tune_];
    const std::vector<const PlannedSection*> listed = tune.listed();
    const std::size_t rows = (listed.size() + 1) / 2;
    if (rows == 0) return;
    const auto cell = [&](std::size_t i) {
        if (i >= listed.size()) return std::string{"\\null"};
        const PlannedSection& section = *listed[i];
        const ChordHead& head = section.head;
        return "\\why " + symbol_or_scale(head) + " " + text_markup(with_signs(head.scale_name)) + " " +
               notes_markup(head.notes) + " " + text_markup(with_signs(short_reason(head.reason))) +
               " \"p. " + std::to_string(section.first_page) + "\"";
    };
    if (tune.table_apart) {
        out_ << "}\n";
        open_part(tune.changes_page + tune.changes_used, tune.table_pages, "\\markup \"The changes\"",
                  "ragged-bottom = ##t ragged-last-bottom = ##t ");
    }
    out_ << "\\markup \\sans \\bold \\fontsize #2 \"Which scale on which chord\"\n";
    const auto pages = static_cast<std::size_t>(std::max(1, tune.table_pages));
    const std::size_t rows_a_page = (rows + pages - 1) / pages;
    // On a page of its own the table spreads out.
    const double skip =
        tune.table_apart ? std::clamp(room_.table_height / static_cast<double>(rows_a_page), 8.6, 16.0) : 8.6;
    for (std::size_t begin = 0; begin < rows; begin += rows_a_page) {
        const std::size_t end = std::min(rows, begin + rows_a_page);
        if (begin > 0) out_ << "\\pageBreak\n";
        // Read down the left column, then down the right.
        out_ << "\\markup \\override #'(baseline-skip . " << skip << ") \\combine \\left-column { ";
        for (std::size_t r = begin; r < end; ++r) out_ << cell(r) << "\n";
        out_ << "} \\translate #'(" << room_.table_column << " . 0) \\left-column { ";
        for (std::size_t r = begin; r < end; ++r) out_ << cell(rows + r) << "\n";
        out_ << "}\n";
    }
}

const PlannedSection& LilypondWriter::next_section() {
    const PlannedSection& section = plan_.tunes[tune_].sections[section_++];
    ++number_;
    note_pages_until(section.first_page);
    return section;
}

// What stands on a page: one chord and its scale, or the chords that share it.
std::string LilypondWriter::footer_of(std::size_t first) const {
    static constexpr const char* kDot = " \"  \u00B7  \" ";
    const std::vector<PlannedSection>& sections = plan_.tunes[tune_].sections;
    const PlannedSection& section = sections[first];
    std::string out = "\\markup { ";
    if (!section.sitting.empty())
        out += text_markup(with_signs(section.sitting.substr(0, section.sitting.find(':')))) + kDot;
    out += symbol_or_scale(section.head);
    if (!shares_next(first)) {
        if (section.head.symbol) out += kDot + text_markup(with_signs(section.head.scale_name));
        return out + " }";
    }
    for (std::size_t i = first; shares_next(i); ++i) out += kDot + symbol_or_scale(sections[i + 1].head);
    return out + " }";
}

bool LilypondWriter::shares_next(std::size_t section) const {
    const std::vector<PlannedSection>& sections = plan_.tunes[tune_].sections;
    return section + 1 < sections.size() && sections[section + 1].shares_page;
}

void LilypondWriter::open_section(const ChordHead& head) {
    const PlannedSection& section = next_section();
    if (!section.shares_page)
        open_part(section.first_page, section.pages, footer_of(section_ - 1), section.is_tight ? kTight : "",
                  number_ - 1);
    std::vector<std::string> notes;
    for (const PitchClass note : head.notes) notes.push_back(with_signs(to_string(note)));
    out_ << "\\markup \\column { \\line { \\bold \\sans \\fontsize #"
         << (section.shares_page || shares_next(section_ - 1) ? 5 : 8) << " " << symbol_or_scale(head)
         << " \\hspace #3 \\column { ";
    if (head.symbol)
        out_ << "\\line { \\sans \\fontsize #3 " << text_markup(with_signs(head.scale_name)) << " } ";
    if (!head.notes.empty())
        out_ << small_line("Degrees", head.degrees) << " " << small_line("Notes", notes) << " ";
    std::string why = head.reason;
    if (!head.bars.empty()) why += (why.empty() ? "" : " \u00B7 ") + head.bars;
    if (!why.empty()) out_ << "\\fontsize #-1.5 \\italic " << text_markup(with_signs(why)) << " ";
    out_ << "} } \\vspace #0.1 \\draw-hline }\n";
    section_open_ = true;
}

void LilypondWriter::close_section() {
    if (!section_open_) return;
    const PlannedSection& section = plan_.tunes[tune_].sections[section_ - 1];
    empty_staves(section.empty_staves,
                 section.head.notes.empty() ? "Your own line" : "Your own line on this chord");
    if (!shares_next(section_ - 1)) out_ << "}\n";
    section_open_ = false;
}

void LilypondWriter::empty_staves(int staves, const std::string& name) {
    if (staves == 0) return;
    out_ << "\\score { \\header { number = \\markup \\null dname = \\markup \\drillname " << quoted(name)
         << " ticks = \\markup \\null }\n \\new Staff \\with { \\omit BarLine } { "
         << clef_text(head_.instrument.clef);
    for (int staff = 0; staff < staves; ++staff) out_ << (staff > 0 ? "\\break " : "") << "s1 ";
    out_ << "} \\layout { \\context { \\Score \\override NonMusicalPaperColumn.page-break-permission = "
            "#'allow } } }\n";
}

void LilypondWriter::drill(const WrittenMusic& music) {
    // A long name and its remark would run into the boxes: then the remark stands below.
    constexpr std::size_t kRoom = 44;
    std::string name = "\\drillname " + text_markup(with_signs(music.title));
    if (!music.remark.empty()) {
        const std::string remark = "\\fontsize #-2.5 \\italic " + text_markup(with_signs(music.remark));
        const bool fits = count_characters(music.title) + count_characters(music.remark) * 3 / 4 < kRoom;
        name = fits ? "\\line { " + name + " " + remark + " }"
                    : "\\override #'(baseline-skip . 2) \\column { \\line { " + name + " } \\line { " +
                          remark + " } }";
    }
    out_ << "\\score { \\header { number = \\markup \\dnum " << quoted(music.number) << " dname = \\markup "
         << name << " ticks = " << boxes_markup(boxes_, music.meter) << " }\n"
         << music_expression(music) << "}\n";
}

void LilypondWriter::etude(const WrittenMusic& music) {
    // Fewer systems than this stand together at the top; they would drift apart over the page.
    constexpr double kFewSystems = 5;
    const PlannedSection& section = next_section();
    const bool is_short = section.empty_staves == 0 && section.etude_room < kFewSystems;
    open_part(section.first_page, section.pages, "\\markup " + text_markup(short_title(music.title)),
              is_short           ? "ragged-bottom = ##t ragged-last-bottom = ##t "
              : section.is_tight ? kTight
                                 : "",
              number_ - 1);
    const std::string number = music.number.empty() ? "" : "\\bold " + quoted(music.number) + " \\hspace #1 ";
    out_ << "\\markup \\column { \\line { \\sans \\fontsize #5 { " << number << "} "
         << title_markup(music.title, 44) << " } ";
    if (!music.remark.empty())
        out_ << "\\fill-line { \\fontsize #-1 \\italic " << text_markup(with_signs(music.remark))
             << " \\null } ";
    out_ << "\\vspace #0.2 \\draw-hline }\n"
         << "\\score { \\header { number = \\markup \\null dname = \\markup " << tempo_markup(music)
         << " ticks = " << boxes_markup(boxes_, music.meter) << " }\n"
         << music_expression(music) << "\\layout { \\lineLayout } }\n";
    empty_staves(section.empty_staves, "Your own line through these changes");
    out_ << "}\n";
}

}  // namespace shedbook
