#include <algorithm>
#include <utility>

#include "phrase_figure.h"
#include "shedbook/base/text.h"
#include "shedbook/etude/etude.h"
#include "shedbook/etude/phrase.h"
#include "shedbook/io/fields.h"
#include "shedbook/io/own_templates.h"

namespace shedbook {
namespace {

class PhraseReader {
  public:
    explicit PhraseReader(Fields& fields) : fields_{fields} {}

    std::optional<Phrase> read() {
        Phrase out;
        out.id = fields_.text("id");
        out.about = fields_.text("about");
        out.level = fields_.number("level", 1, kHighestLevel);
        out.feel = fields_.word("feel", PhraseFeel::Any);
        out.again = fields_.flag("again", false);
        read_kinds(out);
        read_chords(out);
        if (!fields_.finish()) return std::nullopt;
        return out;
    }

  private:
    void read_kinds(Phrase& out) {
        const Data* member = fields_.need("over");
        if (member == nullptr) return;
        for (const std::string& typed : fields_.texts("over")) {
            const auto kind = std::ranges::find_if(kWords<UnitKind>, [&](const Worded<UnitKind>& row) {
                return lower_case(row.word) == lower_case(typed);
            });
            if (kind != std::end(kWords<UnitKind>)) {
                out.over.push_back(kind->value);
            } else {
                fields_.fail_unknown(member->where, "kind of unit", typed, words_of<UnitKind>(),
                                     "there are: " + join(words_of<UnitKind>(), ", "));
            }
        }
        if (out.over.empty()) fields_.fail(member->where, "'over' has no kind of unit in it");
    }

    void read_chords(Phrase& out) {
        const Data* member = fields_.need("chords");
        if (member == nullptr) return;
        const Data::Array* list = member->as_array();
        if (list == nullptr || list->empty() || (out.again && list->size() < 2)) {
            fields_.fail(member->where, "'chords' must be a list of chords, each with its figures",
                         "as in [[\"G7\", \"1/4 3 5\"], [\"Cmaj7\", \"1/2 3 r\"]]");
            return;
        }
        for (const Data& row : *list) read_chord(row, out);
    }

    void read_chord(const Data& row, Phrase& out) {
        const Data::Array* list = row.as_array();
        if (list == nullptr || list->size() < 2) {
            fields_.fail(row.where, "a chord stands with its figures, one for each length",
                         "as in [\"G7\", \"1/4 3 5\", \"1/2 3 1/4 5 7\"]");
            return;
        }
        PhraseChord chord;
        if (!read_symbols(list->front(), chord)) return;
        for (auto text = list->begin() + 1; text != list->end(); ++text) {
            PhraseFigure figure;
            PatternFault fault;
            if (!read_figure(text->as_string().value_or(""), figure, fault)) {
                // The text begins behind its quotation mark.
                fields_.fail({text->where.begin + 1 + fault.begin, text->where.begin + 1 + fault.end},
                             fault.message, fault.hint);
                continue;
            }
            if (std::ranges::find(chord.figures, figure.length, &PhraseFigure::length) != chord.figures.end())
                fields_.fail(text->where, "this chord has a figure of that length already");
            chord.figures.push_back(std::move(figure));
        }
        out.chords.push_back(std::move(chord));
    }

    // "Dm7 or Dm7b5", "any": all on one root.
    bool read_symbols(const Data& typed, PhraseChord& out) {
        const std::string text = typed.as_string().value_or("");
        if (text == "any") return true;
        for (std::size_t at = 0; at < text.size();) {
            const std::size_t end = std::min(text.find(" or ", at), text.size());
            const auto symbol = parse_chord_symbol(text.substr(at, end - at));
            if (!symbol || (!out.families.empty() && symbol->root.semitone() != root_)) {
                fields_.fail({typed.where.begin + 1 + at, typed.where.begin + 1 + end},
                             symbol ? "these chords must have one root"
                                    : "no chord is called '" + text.substr(at, end - at) + "'",
                             "a chord as in C, others behind 'or' (\"Dm7 or Dm7b5\"), or \"any\"");
                return false;
            }
            root_ = symbol->root.semitone();
            out.families.push_back(family(*symbol));
            at = end + 4;
        }
        if (out.families.empty()) fields_.fail(typed.where, "a chord's name stands before its figures");
        if (first_ < 0) first_ = root_;
        out.over_first = (root_ - first_ + 12) % 12;
        return !out.families.empty();
    }

    Fields& fields_;
    int root_ = 0;    // of the chord that was read last
    int first_ = -1;  // of the first chord that has one
};

}  // namespace

std::vector<Phrase> read_phrases(const SourceText& source, Diagnostics& diagnostics) {
    return read_entries("phrase", source, diagnostics,
                        [](Fields fields) { return PhraseReader{fields}.read(); });
}

const std::vector<Phrase>& phrases() {
    static const std::vector<Phrase> kPhrases =
        read_templates("phrases.toml", "phrase", read_phrases, &Phrase::id);
    return kPhrases;
}

std::vector<const Phrase*> phrases_for(UnitKind kind, int level, PhraseFeel feel) {
    std::vector<const Phrase*> out;
    for (const Phrase& phrase : phrases()) {
        const bool suits = phrase.feel == PhraseFeel::Any || phrase.feel == feel;
        if (suits && phrase.level <= level && std::ranges::find(phrase.over, kind) != phrase.over.end())
            out.push_back(&phrase);
    }
    std::ranges::stable_sort(out, std::ranges::greater{}, &Phrase::level);
    return out;
}

}  // namespace shedbook
