#include "shedbook/book/roster.h"

#include <algorithm>
#include <array>
#include <cstdint>
#include <utility>

#include "shedbook/base/text.h"
#include "shedbook/io/csv.h"
#include "shedbook/io/fields.h"

namespace shedbook {
namespace {

constexpr int kSlowestGoal = 20;
constexpr int kFastestGoal = 400;
constexpr std::size_t kLongestPlainName = 40;

// What a row has that does not say it itself.
struct Defaults {
    std::optional<int> level;
    int goal = 0;
    std::string plan;
    Fingerings fingerings = Fingerings::None;
};

std::string plan_field(Fields& fields, const std::string& if_absent) {
    std::string name = fields.text("plan", if_absent);
    if (name == "none") return {};
    if (name.empty() || name.ends_with(".toml") || find_plan(name) != nullptr) return name;
    // A default that is wrong was reported at its own place.
    const Data* member = fields.find("plan");
    if (member == nullptr) return {};
    fields.fail_unknown(member->where, "plan", name, plan_names(),
                        "there are: " + join(plan_names(), ", ") + ", and files that end in .toml");
    return {};
}

const Instrument* instrument_field(Fields& fields) {
    const std::string name = fields.text("instrument");
    if (name.empty()) return nullptr;
    const Instrument* out = find_instrument(name);
    if (out != nullptr) return out;
    fields.fail_unknown(fields.find("instrument")->where, "instrument", name, instrument_names(),
                        "'shedbook list instruments' shows what there is");
    return nullptr;
}

WrittenRange range_field(Fields& fields, const std::string& text, const Instrument* instrument,
                         int level_number) {
    if (instrument == nullptr) return {};
    const std::string wanted = text.empty() ? level(level_number).range : text;
    const std::optional<WrittenRange> out = parse_range(wanted, *instrument);
    if (out) return *out;
    fields.fail(fields.find("range")->where, "'" + text + "' is no range",
                "say first, student, practical, full, or two written notes, the lower first: Bb3-F6");
    return {};
}

std::string name_field(Fields& fields) {
    std::string out = fields.text("name");
    if (out.empty()) return out;
    const auto is_control = [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7F; };
    if (trimmed(out).empty() || std::ranges::any_of(out, is_control))
        fields.fail(fields.find("name")->where, "a name is one line of text, and more than blanks");
    return std::string{trimmed(out)};
}

std::optional<Student> read_student(Fields fields, const Defaults& defaults) {
    Student out;
    out.name = name_field(fields);
    out.part.instrument = instrument_field(fields);
    out.level = defaults.level ? fields.number("level", kLowestLevel, kHighestLevel, *defaults.level)
                               : fields.number("level", kLowestLevel, kHighestLevel);
    const std::string range = fields.text("range", "");
    out.part.range = range_field(fields, range, out.part.instrument, out.level);
    out.part.frets = parse_frets(range);
    out.goal = fields.number("goal", kSlowestGoal, kFastestGoal, defaults.goal);
    out.plan = plan_field(fields, defaults.plan);
    out.part.fingerings = fields.word("fingerings", defaults.fingerings);
    if (!fields.finish()) return std::nullopt;
    return out;
}

// Letters of the Latin alphabet with marks, as the plain letters people type for them (decompositions of
// the Unicode Character Database, blocks Latin-1 Supplement, Latin Extended-A and, for Romanian
// and Vietnamese, Extended-B and Additional; the letters without one,
// such as o with stroke, by common practice, no source). Each row goes up to and with `last`.
struct PlainLetters {
    std::uint32_t last;
    std::string_view letters;
};
constexpr std::array<PlainLetters, 66> kPlainLetters{{
    {0xBF, ""},    {0xC5, "a"},   {0xC6, "ae"},  {0xC7, "c"},    {0xCB, "e"},   {0xCF, "i"},   {0xD0, "d"},
    {0xD1, "n"},   {0xD6, "o"},   {0xD7, ""},    {0xD8, "o"},    {0xDC, "u"},   {0xDD, "y"},   {0xDE, "th"},
    {0xDF, "ss"},  {0xE5, "a"},   {0xE6, "ae"},  {0xE7, "c"},    {0xEB, "e"},   {0xEF, "i"},   {0xF0, "d"},
    {0xF1, "n"},   {0xF6, "o"},   {0xF7, ""},    {0xF8, "o"},    {0xFC, "u"},   {0xFD, "y"},   {0xFE, "th"},
    {0xFF, "y"},   {0x105, "a"},  {0x10D, "c"},  {0x111, "d"},   {0x11B, "e"},  {0x123, "g"},  {0x127, "h"},
    {0x131, "i"},  {0x133, "ij"}, {0x135, "j"},  {0x138, "k"},   {0x142, "l"},  {0x14B, "n"},  {0x151, "o"},
    {0x153, "oe"}, {0x159, "r"},  {0x161, "s"},  {0x167, "t"},   {0x173, "u"},  {0x175, "w"},  {0x178, "y"},
    {0x17E, "z"},  {0x17F, "s"},  {0x19F, ""},   {0x1A1, "o"},   {0x1AE, ""},   {0x1B0, "u"},  {0x217, ""},
    {0x219, "s"},  {0x21B, "t"},  {0x1E9D, ""},  {0x1E9E, "ss"}, {0x1EB7, "a"}, {0x1EC7, "e"}, {0x1ECB, "i"},
    {0x1EE3, "o"}, {0x1EF1, "u"}, {0x1EF9, "y"},
}};

std::uint32_t code_point(std::string_view bytes) {
    const auto first = static_cast<unsigned char>(bytes.front());
    if (bytes.size() == 1) return first < 0x80 ? first : 0;  // not UTF-8: no letter
    std::uint32_t out = first & (0x7FU >> bytes.size());
    for (const char c : bytes.substr(1)) out = (out << 6U) | (static_cast<unsigned char>(c) & 0x3FU);
    return out;
}

// Marks that are written behind their letter leave it as it is; so does an apostrophe.
bool joins(std::uint32_t code) {
    return (code >= 0x300 && code <= 0x36F) || code == '\'' || code == 0x2019;
}

}  // namespace

namespace {

constexpr std::array<std::string_view, 7> kStudentFields{"name", "instrument", "level",     "range",
                                                         "goal", "plan",       "fingerings"};

// Columns that say nothing here: a slip of a name is a fault, what a school notes beside is read past.
void check_columns(const CsvTable& table, const SourceText& source, Diagnostics& diagnostics) {
    const std::vector<std::string> known{kStudentFields.begin(), kStudentFields.end()};
    for (const auto& [name, where] : table.columns) {
        if (name.empty() || std::ranges::find(known, name) != known.end()) continue;
        if (const std::string near = nearest(name, known); !near.empty()) {
            diagnostics.error(source, where, "no column is called '" + name + "'",
                              "did you mean '" + near + "'?");
        } else {
            diagnostics.warning(source, where, "this column is read past",
                                "those that are known: " + join(known, ", "));
        }
    }
}

// A spreadsheet as the file with a [[student]] for each row that it stands for.
std::optional<Data> students_of_table(const SourceText& source, Diagnostics& diagnostics) {
    const std::size_t before = diagnostics.error_count();
    CsvTable table = read_csv(source, diagnostics);
    const bool has_names = std::ranges::any_of(table.columns, [](const auto& column) {
        return column.first == "name" || column.first == "instrument";
    });
    if (!has_names) {
        diagnostics.error(source, {0, source.line_at(0).size()}, "the first line does not name the columns",
                          "write above the students: name,instrument,level");
        return std::nullopt;
    }
    check_columns(table, source, diagnostics);
    if (diagnostics.error_count() > before) return std::nullopt;
    for (Data& row : table.rows) {
        std::erase_if(std::get<Data::Object>(row.value), [](const Data::Member& member) {
            return std::ranges::find(kStudentFields, member.first) == kStudentFields.end();
        });
    }
    if (table.rows.empty()) return Data{Data::Object{}};
    return Data{Data::Object{{"student", {std::move(table.rows)}}}};
}

}  // namespace

Roster read_roster(const SourceText& source, Diagnostics& diagnostics) {
    Roster out;
    const bool is_table = lower_case(source.name).ends_with(".csv");
    const std::optional<Data> data =
        is_table ? students_of_table(source, diagnostics) : read_toml(source, diagnostics);
    if (!data) return out;
    Fields fields{source, *data, "roster", diagnostics};
    Defaults defaults;
    if (fields.find("level") != nullptr) defaults.level = fields.number("level", kLowestLevel, kHighestLevel);
    defaults.goal = fields.number("goal", kSlowestGoal, kFastestGoal, 0);
    defaults.plan = plan_field(fields, "");
    defaults.fingerings = fields.word("fingerings", Fingerings::None);
    const bool has_students = fields.find("student") != nullptr;
    const bool is_sound = fields.finish();
    if (!has_students) {
        diagnostics.error(source, {}, "this roster has no student",
                          is_table ? "each has a line under the names of the columns"
                                   : "each begins with a line [[student]], then name, instrument and level");
        return out;
    }
    for (const Data& entry : entries_of(*data, "student", source, diagnostics)) {
        ++out.rows;
        std::optional<Student> student =
            read_student(Fields{source, entry, "student", diagnostics}, defaults);
        // Nobody's book can be right where what holds for all is wrong.
        if (!student || !is_sound) continue;
        student->number = out.rows;
        student->where = entry.where;
        out.students.push_back(*std::move(student));
    }
    return out;
}

std::string plain_name(std::string_view name) {
    std::string out;
    bool is_apart = false;
    for (std::size_t i = 0; i < name.size();) {
        const std::size_t length = character_length(name, i);
        const std::uint32_t code = code_point(name.substr(i, length));
        i += length;
        if (joins(code)) continue;
        std::string letters;
        if (code < 0x80) {
            const std::string low = lower_case(std::string(1, static_cast<char>(code)));
            if ((low[0] >= 'a' && low[0] <= 'z') || (low[0] >= '0' && low[0] <= '9')) letters = low;
        } else {
            const auto* const row = std::ranges::lower_bound(kPlainLetters, code, {}, &PlainLetters::last);
            if (row != kPlainLetters.end()) letters = row->letters;
        }
        if (letters.empty()) {
            is_apart = !out.empty();
            continue;
        }
        if (out.size() + letters.size() + (is_apart ? 1 : 0) > kLongestPlainName) break;
        if (std::exchange(is_apart, false)) out += '-';
        out += letters;
    }
    return out;
}

std::string file_name_of(const Student& student, std::size_t rows) {
    const std::size_t digits = std::max<std::size_t>(2, std::to_string(rows).size());
    std::string number = std::to_string(student.number);
    number.insert(0, digits - std::min(digits, number.size()), '0');
    const std::string name = plain_name(student.name);
    return number + "-" + (name.empty() ? "" : name + "-") + student.part.instrument->id;
}

std::vector<BookPart> parts_together(const std::vector<Student>& students) {
    const auto height = [](WrittenPitch note) { return note.on_paper().midi(); };
    std::vector<BookPart> out;
    for (const Student& student : students) {
        const auto known = std::ranges::find(out, student.part.instrument, &BookPart::instrument);
        if (known == out.end()) {
            out.push_back(student.part);
            continue;
        }
        WrittenRange both = known->range;
        if (height(student.part.range.low) > height(both.low)) both.low = student.part.range.low;
        if (height(student.part.range.high) < height(both.high)) both.high = student.part.range.high;
        // Players who share no note: the first one's range stays.
        if (height(both.low) < height(both.high)) known->range = both;
    }
    return out;
}

}  // namespace shedbook
