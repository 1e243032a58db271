#include "drill_request.h"
#include "output.h"
#include "parts.h"
#include "shedbook/book/key_order.h"
#include "shedbook/job/jobs.h"
#include "shedbook/job/words.h"
#include "topics.h"

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

}  // namespace

Files make_sheet(const SheetRequest& request, Caller& caller) {
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
