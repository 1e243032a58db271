#include "lilypond_book.h"

#include <algorithm>
#include <array>
#include <ostream>
#include <utility>

#include "lilypond_music.h"
#include "lilypond_style.h"
#include "lilypond_text.h"
#include "shedbook/base/text.h"
#include "shedbook/notation/music_text.h"

namespace shedbook {
namespace {

// Settings of a part that would be over-full by a little: staves and headings move together.
constexpr const char* kTight =
    "system-system-spacing = #'((basic-distance . 9) (minimum-distance . 7.5) (padding . 0.7) "
    "(stretchability . 30)) score-markup-spacing = #'((basic-distance . 7) (padding . 1) (stretchability . "
    "40)) last-bottom-spacing = #'((basic-distance . 4) (padding . 2.5) (stretchability . 10)) ";

std::string boxes_markup(const std::vector<std::string>& labels) {
    std::string out = "\\markup \\line { ";
    for (const std::string& label : labels) out += "\\tick " + quoted(label) + " ";
    return out + "}";
}

std::string notes_markup(const std::vector<PitchClass>& notes) {
    std::string text;
    for (const PitchClass note : notes) text += (text.empty() ? "" : " ") + to_string(note);
    return text_markup(with_signs(text));
}

std::string symbol_or_scale(const ChordHead& head) {
    return head.symbol ? symbol_markup(*head.symbol) : text_markup(with_signs(head.scale_name));
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
        out += "\\note {" + std::to_string(1 << music.tempo->beat.log2) +
               std::string(static_cast<std::size_t>(music.tempo->beat.dots), '.') + "} #0.9 " +
               quoted("= " + std::to_string(music.tempo->per_minute));
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

// As much of a title as a heading or a footer holds in one row.
std::string short_title(const std::string& title, std::size_t most = 40) {
    std::string out;
    for (std::size_t i = 0; i < title.size();) {
        const std::size_t length = character_length(title, i);
        if (count_characters(out) == most) return with_signs(out) + "...";
        out += title.substr(i, length);
        i += length;
    }
    return with_signs(out);
}

// How a title stands on the first page: a long one takes two lines or more, and the room above it.
struct TitleLook {
    std::size_t most;  // characters
    int size;          // steps of font size
    double space_above;
};
constexpr std::size_t kLongestTitle = 150;
// Beside it stand the instrument and, in the middle, what the page is about.
constexpr std::size_t kTitleInFooter = 24;
constexpr std::array<TitleLook, 4> kTitleLooks{
    {{13, 12, 6}, {18, 8, 6}, {48, 8, 3.5}, {kLongestTitle, 4, 3.5}}};

const TitleLook& look_of(const std::string& title) {
    const std::size_t length = count_characters(title);
    const auto fits = [&](const TitleLook& look) { return length <= look.most; };
    const auto at = std::ranges::find_if(kTitleLooks, fits);
    return at == kTitleLooks.end() ? kTitleLooks.back() : *at;
}

// A long title is set smaller.
std::string title_markup(const std::string& title, std::size_t most_large) {
    const std::string text = short_title(title, most_large * 4 / 3);
    return "\\bold \\sans \\fontsize #" + std::string{count_characters(text) > most_large ? "2.5" : "5"} +
           " " + text_markup(text);
}

// One short line of a reason.
std::string short_reason(const std::string& reason) {
    constexpr std::size_t kMost = 48;
    return count_characters(reason) > kMost ? reason.substr(0, reason.find_first_of(":;")) : reason;
}

std::string label_of(const Measure& measure) {
    for (const Sign& sign : measure.signs_before) {
        if (sign.kind == SignKind::SectionLabel) return sign.text;
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

void LilypondWriter::title_page(const DocumentHead& head) {
    static constexpr std::array<const char*, 5> kUse{
        "Hear the chord first: a piano, a guitar, a friend.",
        "Take one chord a day. Slow enough to be right counts more than fast.",
        "Tick a tempo when the drill goes through three times without a slip.",
        "Close the book for the last box: from memory, and from another note.",
        "Then play the tune, and the line through its changes at the end."};
    const auto space = [&](double lines) {
        return "\\markup \\vspace #" + std::to_string(lines * room_.title_spread) + "\n";
    };
    const TitleLook& look = look_of(head.title);
    out_ << "\\bookpart {\n\\paper { first-page-number = #1 page-count = #1 ragged-bottom = ##t "
            "ragged-last-bottom = ##t oddFooterMarkup = ##f evenFooterMarkup = ##f markup-markup-spacing = "
            "#'((basic-distance . 1) (padding . "
         << 1.6 * room_.title_spread << ")) }\n"
         << space(look.space_above) << "\\markup \\sans \\fontsize #4 \"Practice book\"\n"
         << space(0.5) << "\\markup \\override #'(line-width . 96) \\bold \\sans \\fontsize #" << look.size
         << " \\wordwrap-string " << quoted(short_title(head.title, kLongestTitle)) << "\n"
         << space(0.4) << "\\markup \\draw-hline\n"
         << space(0.6) << "\\markup \\sans \\fontsize #5 " << quoted(head.instrument.name) << "\n"
         << space(0.2) << "\\markup \\sans "
         << text_markup(with_signs(head.range + (head.keys.empty() ? "" : "   \u00B7   " + head.keys)))
         << "\n"
         << space(3.5) << "\\markup \\sans \\bold \\fontsize #2 \"How to use this book\"\n"
         << space(0.4);
    for (std::size_t i = 0; i < kUse.size(); ++i) {
        out_ << "\\markup \\line { \\sans \\bold \"" << i + 1 << "\" \\hspace #1 " << quoted(kUse[i])
             << " }\n"
             << space(0.2);
    }
    out_ << space(4) << "\\markup \\line { \\sans \"Name\" \\hspace #1 "
         << (head.player.empty() ? std::string{"\\draw-line #'(50 . 0)"}
                                 : "\\sans \\bold " + quoted(short_title(head.player)))
         << " \\hspace #4 \\sans "
            "\"Begun\" \\hspace #1 \\draw-line #'(24 . 0) }\n"
         << space(6)
         << "\\markup \\concat { \\hspace #1.3 \\override #'(box-padding . 1.2) \\box \\override "
            "#'(line-width . 90) \\wordwrap-string "
         << quoted(caution_) << " }\n}\n";
    next_page_ = 2;
}

void LilypondWriter::contents() {
    // Few lines stand further apart.
    const double apart = std::clamp(
        0.5 + 1.2 * (room_.contents_lines - plan_.contents_lines) / plan_.contents_lines, 0.5, 1.8);
    open_part(plan_.contents_page, plan_.contents_used, "\\markup \"Contents\"",
              "ragged-bottom = ##t ragged-last-bottom = ##t markup-markup-spacing = #'((basic-distance . "
              "0) (padding . " +
                  std::to_string(apart) + ")) ");
    out_ << "\\markup \\sans \\bold \\fontsize #5 \"Contents\"\n\\markup \\vspace #0.5\n";
    int lines = 2;
    // Lines that belong together stay together.
    const auto next_lines = [&](int count) {
        lines += count;
        if (lines <= room_.contents_lines) return;
        lines = count;
        out_ << "\\pageBreak\n";
    };
    const auto names = [&](const std::vector<PlannedDrill>& drills) {
        for (const std::string& row : rows_of_names(drills)) {
            out_ << "\\markup \\fontsize #-2.5 \\sans \\line { \\hspace #4 " << text_markup(with_signs(row))
                 << " }\n";
        }
    };
    const auto entry = [&](const std::string& what, int page, const std::string& size) {
        out_ << "\\markup \\fontsize #" << size << " \\sans \\fill-with-pattern #0.8 #RIGHT \".\" \\line { "
             << what << " } \"" << page << "\"\n";
    };
    if (!plan_.shared_drills.empty()) {
        next_lines(1 + static_cast<int>(rows_of_names(plan_.shared_drills).size()));
        out_ << "\\markup \\fontsize #-1 \\sans \"Each chord has these drills:\"\n";
        names(plan_.shared_drills);
        out_ << "\\markup \\vspace #0.5\n";
    }
    for (const PlannedTune& tune : plan_.tunes) {
        if (plan_.tunes.size() > 1) {
            next_lines(1);
            out_ << "\\markup \\sans \\bold \\fontsize #1 " << text_markup(with_signs(tune.title)) << "\n";
        }
        next_lines(1);
        if (tune.changes_pages > 0)
            entry("\"The changes, and which scale on which chord\"", tune.changes_page, "0");
        std::string sitting;
        for (const PlannedSection& section : tune.sections) {
            if (section.sitting != sitting) {
                sitting = section.sitting;
                next_lines(2);
                --lines;
                out_ << "\\markup \\sans \\bold \\fontsize #0.5 " << text_markup(with_signs(sitting)) << "\n";
            }
            const bool lists = plan_.shared_drills.empty();
            next_lines(1 + (lists ? static_cast<int>(rows_of_names(section.drills).size()) : 0));
            if (section.is_etude) {
                entry(text_markup(with_signs(section.title)), section.first_page, "0");
                continue;
            }
            std::string what = "\\bold " + symbol_or_scale(section.head);
            if (section.head.symbol)
                what += " \\hspace #1 " + text_markup(with_signs(section.head.scale_name));
            entry(what, section.first_page, "0");
            if (lists) names(section.drills);
        }
    }
    next_lines(1);
    entry("\"Practice log\"", plan_.log_page, "0");
    out_ << "}\n";
}

// Each row: a heading with a box to tick, what else it says below.
void LilypondWriter::tables() {
    int page = plan_.tables_page;
    for (const Table& table : plan_.tables) {
        const std::vector<std::size_t> starts = page_starts(table, room_);
        const auto pages = static_cast<int>(starts.size());
        open_part(page, pages, "\\markup " + text_markup(with_signs(table.title)),
                  "ragged-bottom = ##t ragged-last-bottom = ##t markup-markup-spacing = "
                  "#'((basic-distance . 0) (padding . 0.5)) ");
        page += pages;
        out_ << "\\markup \\sans \\bold \\fontsize #5 " << text_markup(with_signs(table.title))
             << "\n\\markup \\vspace #0.5\n";
        for (std::size_t r = 0; r < table.rows.size(); ++r) {
            const std::vector<std::string>& row = table.rows[r];
            if (r > 0 && std::ranges::find(starts, r) != starts.end()) out_ << "\\pageBreak\n";
            out_ << "\\markup \\fill-line { \\sans \\bold \\fontsize #1 "
                 << text_markup(with_signs(row.front())) << " \\tick \"done\" }\n";
            for (std::size_t c = 1; c < row.size(); ++c) {
                if (row[c].empty()) continue;
                out_ << "\\markup \\fontsize #-0.5 \\override #'(line-width . 88) \\wordwrap-string "
                     << quoted(with_signs(c < table.columns.size() && !table.columns[c].empty()
                                              ? table.columns[c] + ": " + row[c]
                                              : row[c]))
                     << "\n";
            }
            out_ << "\\markup \\vspace #0.5\n";
        }
        out_ << "}\n";
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
        out_ << "\\markup \\override #'(baseline-skip . " << skip << ") \\fill-line { \\left-column { ";
        for (std::size_t r = begin; r < end; ++r) out_ << cell(r) << "\n";
        out_ << "} \\left-column { ";
        for (std::size_t r = begin; r < end; ++r) out_ << cell(rows + r) << "\n";
        out_ << "} }\n";
    }
}

const PlannedSection& LilypondWriter::next_section() {
    const PlannedSection& section = plan_.tunes[tune_].sections[section_++];
    ++number_;
    note_pages_until(section.first_page);
    return section;
}

void LilypondWriter::open_section(const ChordHead& head) {
    const PlannedSection& section = next_section();
    std::string footer = "\\markup { ";
    if (!section.sitting.empty())
        footer += text_markup(with_signs(section.sitting.substr(0, section.sitting.find(':')))) +
                  " \"  \u00B7  \" ";
    footer += symbol_or_scale(head);
    if (head.symbol) footer += " \"  \u00B7  \" " + text_markup(with_signs(head.scale_name));
    open_part(section.first_page, section.pages, footer + " }", section.is_tight ? kTight : "", number_ - 1);
    std::vector<std::string> notes;
    for (const PitchClass note : head.notes) notes.push_back(with_signs(to_string(note)));
    out_ << "\\markup \\column { \\line { \\bold \\sans \\fontsize #8 " << symbol_or_scale(head)
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
    own_line(section, section.head.notes.empty() ? "Your own line" : "Your own line on this chord");
    out_ << "}\n";
    section_open_ = false;
}

void LilypondWriter::own_line(const PlannedSection& section, const std::string& name) {
    if (section.empty_staves == 0) return;
    out_ << "\\score { \\header { number = \\markup \\null dname = \\markup \\drillname " << quoted(name)
         << " ticks = \\markup \\null }\n \\new Staff \\with { \\omit BarLine } { "
         << clef_text(head_.instrument.clef);
    for (int staff = 0; staff < section.empty_staves; ++staff) out_ << (staff > 0 ? "\\break " : "") << "s1 ";
    out_ << "} }\n";
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
         << name << " ticks = " << boxes_markup(boxes_) << " }\n"
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
         << " ticks = " << boxes_markup(boxes_) << " }\n"
         << music_expression(music) << "\\layout { \\lineLayout } }\n";
    own_line(section, "Your own line through these changes");
    out_ << "}\n";
}

void LilypondWriter::log_page() {
    // Widths and heights in staff spaces of 1.8 mm.
    static constexpr std::array<std::pair<const char*, double>, 7> kColumns{{{"Date", 11.1},
                                                                             {"Drills", 16.6},
                                                                             {"Tempo", 10},
                                                                             {"Right", 7.8},
                                                                             {"Wrong", 7.8},
                                                                             {"From memory", 11.7},
                                                                             {"What to do next time", 33.3}}};
    constexpr double kRow = 5.17;
    const int rows = room_.log_rows;
    open_part(plan_.log_page, 1, "\\markup \"Practice log\"",
              "ragged-bottom = ##t ragged-last-bottom = ##t ");
    out_ << "\\markup \\sans \\bold \\fontsize #5 \"Practice log\"\n"
         << "\\markup \\vspace #0.3\n\\markup \\overlay { \\path #0.12 #'(";
    double width = 0;
    for (const auto& [name, wide] : kColumns) width += wide;
    for (int row = 0; row <= rows; ++row) {
        out_ << "(moveto 0 " << -kRow * row << ")(lineto " << width << " " << -kRow * row << ")";
    }
    double x = 0;
    for (std::size_t column = 0; column <= kColumns.size(); ++column) {
        out_ << "(moveto " << x << " 0)(lineto " << x << " " << -kRow * rows << ")";
        if (column < kColumns.size()) x += kColumns[column].second;
    }
    out_ << ") ";
    x = 0;
    for (const auto& [name, wide] : kColumns) {
        out_ << "\\translate #'(" << x + 0.6 << " . " << -kRow + 1.8 << ") \\sans \\bold \\fontsize #-3 "
             << quoted(name) << " ";
        x += wide;
    }
    out_ << "}\n\\markup \\vspace #0.6\n\\markup \\fontsize #-2 \\italic " << quoted(caution_) << "\n}\n";
}

}  // namespace shedbook
