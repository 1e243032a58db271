#include "drill_request.h"
#include "output.h"
#include "parts.h"
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

// In the order of keys asked for, or around the circle.
std::vector<int> keys_wanted(const SheetRequest& request) {
    const KeyOrder order =
        request.keys.empty() ? KeyOrder::Fourths : choice_of<KeyOrder>("--keys", request.keys);
    return keys_in_order(order, request.seed);
}

Files make_unit_sheet(const SheetRequest& request, Caller& caller) {
    const PlainUnit* unit = find_plain_unit(request.unit);
    if (unit == nullptr)
        unknown_name("unit", request.unit, plain_unit_names(), "there are " + join(plain_unit_names(), ", "));
    if (!request.topics.empty())
        throw UsageError("a --unit has its own chords: leave out '" + request.topics.front() + "'");
    const std::vector<BookPart> parts = parts_of(request.part, nullptr, caller);
    BookOptions options;
    options.prefer = prefer_of(request.part.prefer);
    options.etude.seed = request.seed;
    options.etude.level = request.level.level > 0 ? request.level.level : kUsualLevelOfUnits;
    if (request.level.goal > 0) options.goal_tempo = request.level.goal;
    std::vector<Tune> keys;
    for (const int semitones : keys_wanted(request))
        keys.push_back(tune_of(chart_of(*unit, semitones, options.prefer)));
    return write_parts(
        request.output, parts,
        [&](std::size_t which, BlockSink& sink, Diagnostics& said) {
            assemble_unit_sheet(*unit, keys, parts, which, options, sink, said);
        },
        caller);
}

}  // namespace

Files make_sheet(const SheetRequest& request, Caller& caller) {
    if (request.unit.empty() && request.topics.empty())
        throw UsageError("drills need a chord (\"Db7#11\"), a scale (\"F lydian\") or a --unit (ii-V-I)");
    if (!request.unit.empty()) return make_unit_sheet(request, caller);
    const std::vector<BookPart> parts = parts_of(request.part, nullptr, caller);
    BookOptions options;
    options.prefer = prefer_of(request.part.prefer);
    Diagnostics diagnostics;
    const ChosenDrills drills = choose_drills(drills_wanted(request));
    options.drills = drills.drills;
    options.setting = drills.setting;
    const std::vector<SheetTopic> topics = topics_wanted(request, *parts.front().instrument, diagnostics);
    caller.say(diagnostics);
    if (diagnostics.has_errors()) throw InputError{};
    return write_parts(
        request.output, parts,
        [&](std::size_t which, BlockSink& sink, Diagnostics& said) {
            assemble_sheet(topics, parts, which, options, sink, said);
        },
        caller);
}

}  // namespace shedbook
