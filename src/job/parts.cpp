#include "parts.h"

#include <algorithm>
#include <array>
#include <string_view>

#include "shedbook/base/text.h"
#include "shedbook/job/words.h"
#include "shedbook/notation/fingering.h"

namespace shedbook {
namespace {

// A row that no instrument has is a mistake; one that some have is given to those.
void add_fingerings_to(std::vector<BookPart>& parts, const std::string& word, Caller& caller) {
    if (word.empty()) return;
    const auto wanted = choice_of<Fingerings>("--fingerings", word);
    std::vector<std::string> without;
    for (BookPart& part : parts) {
        part.fingerings = wanted;
        if (fingering_chart_of(*part.instrument) == nullptr) without.push_back(part.instrument->name);
    }
    if (wanted == Fingerings::None || without.empty()) return;
    if (without.size() == parts.size())
        throw UsageError("there are no fingerings for " + join(without, ", ") +
                         "; brass, strings and frets have them");
    Diagnostics diagnostics;
    diagnostics.note_at("--fingerings", "there are none for " + join(without, ", "));
    caller.say(diagnostics);
}

}  // namespace

std::vector<BookPart> parts_of(const PartRequest& request, Caller& caller) {
    std::vector<BookPart> out;
    for (const std::string& name : request.instruments) {
        const Instrument& instrument = instrument_called(name);
        const std::optional<WrittenRange> range =
            parse_range(request.range.empty() ? "practical" : request.range, instrument);
        if (!range) {
            throw UsageError("'" + request.range +
                             "' is no range; say first, student, practical, full, or two written notes, the "
                             "lower first: Bb3-F6");
        }
        const bool twice =
            std::ranges::any_of(out, [&](const BookPart& p) { return p.instrument == &instrument; });
        if (twice) continue;
        out.push_back({&instrument, *range, parse_frets(request.range)});
        // Who names notes, frets or the full range wants them all.
        constexpr std::array<std::string_view, 4> kUsual{"", "first", "student", "practical"};
        out.back().keeps_comfortable = std::ranges::find(kUsual, request.range) != kUsual.end();
    }
    add_fingerings_to(out, request.fingerings, caller);
    if (out.empty())
        throw UsageError("--for needs an instrument; 'shedbook list instruments' shows what there is");
    return out;
}

}  // namespace shedbook
