#include "shedbook/harmony/own_scales.h"

#include <algorithm>
#include <deque>
#include <set>

#include "scale_rules.h"
#include "scale_uses.h"
#include "shedbook/base/text.h"
#include "shedbook/io/fields.h"
#include "shedbook/theory/scale.h"

namespace shedbook {
namespace {

constexpr std::size_t kFewestDegrees = 3;
constexpr std::size_t kMostDegrees = 12;
// Before the scales of the table, in the order in which they are searched: somebody wants to see it.
constexpr int kOwnPlace = 0;

// What is wrong with the degrees; empty if nothing is.
std::string fault_of_degrees(std::string_view text) {
    std::vector<int> semitones;
    for (const std::string_view word : split(text, ' ')) {
        const std::optional<Interval> degree = parse_degree(word);
        if (!degree) return "'" + std::string{word} + "' is no degree; say for instance 1, b3, #4";
        if (!semitones.empty() && degree->semitones() <= semitones.back())
            return "degrees rise: '" + std::string{word} + "' is not above the one before";
        semitones.push_back(degree->semitones());
    }
    if (semitones.size() < kFewestDegrees || semitones.size() > kMostDegrees)
        return "a scale has 3 to 12 degrees, with one blank between them";
    if (semitones.front() != 0 || semitones.back() >= 12)
        return "a scale begins on 1 and ends below the octave";
    return {};
}

std::optional<OwnScale> read_scale(Fields fields) {
    OwnScale out;
    out.id = fields.text("id");
    out.name = fields.text("name");
    out.degrees = fields.text("degrees");
    out.also = fields.texts("also");
    out.over = fields.texts("over");
    out.brings = fields.text("brings", "");
    if (const std::string fault = fault_of_degrees(out.degrees); !out.degrees.empty() && !fault.empty())
        fields.fail(fields.find("degrees")->where, fault);
    for (const std::string& sound : out.over) {
        if (!from_word<Sound>(sound))
            fields.fail_unknown(fields.find("over")->where, "sound of a chord", sound, words_of<Sound>(),
                                "there are: " + join(words_of<Sound>(), ", "));
    }
    if (!fields.finish()) return std::nullopt;
    return out;
}

// The tables point into these texts to the end of the program.
const char* kept(std::string text) {
    static std::deque<std::string> texts;
    return texts.emplace_back(std::move(text)).c_str();
}

}  // namespace

std::vector<OwnScale> read_scales(const SourceText& source, Diagnostics& diagnostics) {
    return read_entries("scale", source, diagnostics, read_scale);
}

void use_own_scales(const std::vector<OwnScale>& scales) {
    for (const OwnScale& scale : scales) {
        const char* id = kept(scale.id);
        add_scale_type({id, kept(scale.name), kept(scale.degrees), "", kept(join(scale.also, "; "))});
        unsigned sounds = 0;
        for (const std::string& sound : scale.over) sounds |= set_of(*from_word<Sound>(sound));
        if (sounds == 0) continue;
        const char* brings = kept(scale.brings.empty() ? "holds {all}" : scale.brings);
        add_scale_use({.scale = id, .brings = brings, .over = {{{sounds, kOwnPlace}}}});
    }
}

}  // namespace shedbook
