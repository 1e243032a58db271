#include <algorithm>
#include <array>
#include <cstdlib>
#include <optional>
#include <utility>

#include "drill_request.h"
#include "level_request.h"
#include "output.h"
#include "parts.h"
#include "printed_pages.h"
#include "shedbook/base/text.h"
#include "shedbook/book/key_order.h"
#include "shedbook/book/unit_sheet.h"
#include "shedbook/job/jobs.h"
#include "shedbook/job/words.h"
#include "topics.h"
#include "tunes.h"

namespace shedbook {
namespace {

// The topics as typed, or in all keys.
std::vector<SheetTopic> topics_wanted(const SheetRequest& request, const Instrument& instrument,
                                      Diagnostics& diagnostics) {
    std::vector<SheetTopic> topics = topics_of(request.topics, diagnostics);
    if (request.keys.empty() || diagnostics.has_errors()) return topics;
    KeyOrderOptions options;
    options.order = choice_of<KeyOrder>("--keys", request.keys);
    options.seed = request.seed;
    options.prefer = prefer_of(request.part.prefer);
    return in_all_keys(topics, options, instrument);
}

DrillRequest drills_wanted(const SheetRequest& request) {
    DrillRequest out = request.drill;
    if (out.drills.empty() && own_drills().empty()) out.drills = sheet_drills();
    return out;
}

// In the order asked for, or around the circle.
std::vector<Tune> keys_wanted(const SheetRequest& request, const PlainUnit& unit,
                              const Instrument& instrument) {
    const Prefer prefer = prefer_of(request.part.prefer);
    const KeyOrder order =
        request.keys.empty() ? KeyOrder::Fourths : choice_of<KeyOrder>("--keys", request.keys);
    std::vector<Tune> out;
    for (const int semitones : keys_in_order(order, request.seed))
        out.push_back(tune_of(chart_of(unit, semitones, prefer)));
    if (order != KeyOrder::Hardest) return out;
    std::ranges::stable_sort(out, std::ranges::greater{}, [&](const Tune& tune) {
        const Key key = key_of(tune);
        return std::abs(signature({key.tonic + written_interval(instrument, key, {}, prefer), key.mode}));
    });
    return out;
}

// What only drills on chords and scales have.
void check_no_drill_options(const SheetRequest& request) {
    const DrillRequest& drill = request.drill;
    const std::array<std::pair<const char*, bool>, 7> options{
        {{"--drills", !drill.drills.empty()},
         {"--rhythm", !drill.rhythm.empty()},
         {"--meter", !drill.meter.empty()},
         {"--displace", drill.displaced != 0},
         {"--articulation", !drill.articulation.empty()},
         {"--signatures", !drill.signatures.empty()},
         {"--octaves", drill.octaves != DrillRequest{}.octaves}}};
    for (const auto& [option, is_given] : options) {
        if (is_given) throw UsageError(std::string{"a --unit has its own lines: leave out "} + option);
    }
}

Files make_unit_sheet(const SheetRequest& request, Caller& caller) {
    const PlainUnit* unit = find_plain_unit(request.unit);
    if (unit == nullptr)
        unknown_name("unit", request.unit, plain_unit_names(), "there are " + join(plain_unit_names(), ", "));
    if (!request.topics.empty())
        throw UsageError("a --unit has its own chords: leave out '" + request.topics.front() + "'");
    check_no_drill_options(request);
    const std::vector<BookPart> parts = parts_of(request.part, caller);
    BookOptions options;
    options.prefer = prefer_of(request.part.prefer);
    options.etude.seed = request.seed;
    options.etude.level = request.level.level > 0 ? request.level.level : kUsualLevelOfUnits;
    if (request.level.goal > 0) options.goal_tempo = request.level.goal;
    const std::vector<Tune> keys = keys_wanted(request, *unit, *parts.front().instrument);
    return write_parts(
        request.output, parts,
        [&](std::size_t which, BlockSink& sink, Diagnostics& said) {
            assemble_unit_sheet(*unit, keys, parts, which, options, sink, said);
        },
        caller);
}

struct SheetInHand {
    std::vector<BookPart> parts;
    BookOptions options;
    std::vector<SheetTopic> topics;
};

SheetInHand sheet_in_hand(const SheetRequest& request, Caller& caller) {
    SheetInHand out;
    const bool has_level = request.level.level > 0;
    PartRequest part = request.part;
    if (has_level && part.range.empty()) part.range = level(request.level.level).range;
    out.parts = parts_of(part, caller);
    out.options.prefer = prefer_of(request.part.prefer);
    Diagnostics diagnostics;
    const ChosenDrills drills = choose_drills(drills_wanted(request));
    if (has_level) apply_level(level(request.level.level), out.options);
    if (!has_level || !request.drill.drills.empty() || !own_drills().empty())
        out.options.drills = drills.drills;
    if (request.level.goal > 0) out.options.goal_tempo = request.level.goal;
    out.options.setting = drills.setting;
    out.options.signatures = drills.signatures;
    out.topics = topics_wanted(request, *out.parts.front().instrument, diagnostics);
    caller.say(diagnostics);
    if (diagnostics.has_errors()) throw InputError{};
    return out;
}

// The scale in place of the one that was worked out.
void set_scale(SheetTopic& topic, const std::string& name) {
    std::optional<Scale> scale = parse_scale(name);
    if (const ScaleType* type = find_scale_type(name))
        scale = Scale{topic.symbol ? topic.symbol->root : topic.scale.scale.tonic, type};
    if (!scale) unknown_name("scale", name, scale_type_names(), "'shedbook list scales' shows what there is");
    topic.scale = {};
    topic.scale.scale = *scale;
    topic.scale.notes = spelled(*scale);
}

}  // namespace

Files make_sheet(const SheetRequest& request, Caller& caller) {
    if (request.unit.empty() && request.topics.empty())
        throw UsageError("drills need a chord (\"Db7#11\"), a scale (\"F lydian\") or a --unit (ii-V-I)");
    if (!request.unit.empty()) return make_unit_sheet(request, caller);
    const SheetInHand sheet = sheet_in_hand(request, caller);
    return write_parts(
        request.output, sheet.parts,
        [&](std::size_t which, BlockSink& sink, Diagnostics& said) {
            assemble_sheet(sheet.topics, sheet.parts, which, sheet.options, sink, said);
        },
        caller);
}

BookOnScreen open_sheet(const SheetRequest& request, const std::string& scale, Caller& caller) {
    if (request.topics.empty())
        throw UsageError("a sheet needs a chord (\"Db7#11\") or a scale (\"F lydian\")");
    SheetInHand sheet = sheet_in_hand(request, caller);
    if (!scale.empty()) set_scale(sheet.topics.front(), scale);
    BookOnScreen out;
    out.goal = sheet.options.goal_tempo;
    Diagnostics diagnostics;
    out.document = recorded([&](BlockSink& sink) {
        assemble_sheet(sheet.topics, sheet.parts, 0, sheet.options, sink, diagnostics);
    });
    out.pages = pages_of(out.document, {});
    caller.say(diagnostics);
    return out;
}

}  // namespace shedbook
