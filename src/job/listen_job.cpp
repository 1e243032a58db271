#include <algorithm>
#include <memory>
#include <optional>
#include <utility>

#include "books_in_order.h"
#include "drill_request.h"
#include "output.h"
#include "parts.h"
#include "shedbook/book/lead_sheet.h"
#include "shedbook/job/jobs.h"
#include "shedbook/job/words.h"
#include "shedbook/notation/document_words.h"
#include "sound_request.h"
#include "topics.h"

namespace shedbook {
namespace {

// Everything that the sound is made of, for as long as somebody listens.
struct Heard {
    std::vector<BookPart> parts;
    BookOptions options;
    std::vector<Tune> tunes;
    std::vector<SheetTopic> topics;
};

// A tune is played with its melody, if it has one; with pieces or drills named, from its book.
Assemble assemble_tunes(std::shared_ptr<const Heard> heard, bool from_book) {
    if (!from_book && heard->tunes.size() > 1)
        throw UsageError("play takes one tune at a time, or chords and scales");
    return [heard = std::move(heard), from_book](BlockSink& sink) {
        Diagnostics unused;  // what paper cannot carry is no matter here
        if (from_book) {
            BooksInOrder books{heard->tunes, heard->parts, heard->options};
            hand_over(books.book(0, unused), sink);
        } else {
            assemble_lead_sheet(heard->tunes.front().chart, *heard->parts.front().instrument, Prefer::Fewest,
                                sink, unused);
        }
    };
}

Assemble assemble_topics(std::shared_ptr<const Heard> heard) {
    return [heard = std::move(heard)](BlockSink& sink) {
        Diagnostics unused;
        assemble_sheet(heard->topics, heard->parts, 0, heard->options, sink, unused);
    };
}

Assemble assemble_what(const ListenRequest& request, Caller& caller) {
    if (request.what.empty()) throw UsageError("play needs a tune, a chord or a scale");
    const bool of_tunes = is_tune_file(request.what.front());
    const bool has_drills = !request.drill.drills.empty() || !own_drills().empty();
    auto heard = std::make_shared<Heard>();
    heard->parts = parts_of(request.part, caller);
    DrillRequest drill = request.drill;
    if (!of_tunes && !has_drills) drill.drills = sheet_drills();
    Diagnostics diagnostics;
    const ChosenDrills chosen = choose_drills(drill);
    if (!of_tunes) heard->topics = topics_of(request.what, diagnostics);
    caller.say(diagnostics);
    if (diagnostics.has_errors()) throw InputError{};
    heard->options.drills = chosen.drills;
    heard->options.setting = chosen.setting;
    // To hear a chord's scale, one drill will do.
    if (!of_tunes && !has_drills && request.only.empty()) heard->options.drills.resize(1);
    if (!of_tunes) return assemble_topics(std::move(heard));
    heard->tunes = load_tunes(request.what, request.tune, caller);
    return assemble_tunes(std::move(heard), !request.only.empty() || has_drills);
}

}  // namespace

std::vector<Listening> listen(const ListenRequest& request, Caller& caller) {
    WriteOptions options;
    options.sound = sound_options_of(request.sound);
    const Assemble all = assemble_what(request, caller);
    const Assemble some = [all, only = request.only](BlockSink& sink) { take_only(only, all, sink); };
    const Writer& writer = writer_for("sound.wav");
    std::vector<Listening> out;
    for (AtTempo& each : at_tempos(writer, options, some)) {
        out.push_back({each.per_minute, [&writer, each](const std::string& file) {
                           writer.write(file, each.assemble, each.options);
                       }});
    }
    return out;
}

HeardPiece hear_piece(const Document& document, const std::string& number, const SoundRequest& request,
                      const std::shared_ptr<std::optional<SideLoudness>>& loudness) {
    const auto piece = std::ranges::find_if(document.blocks, [&](const Block& block) {
        const std::optional<PieceNumber> own = number_of(block);
        return number.empty() ? music_of(block) != nullptr : own && in_words(*own) == number;
    });
    if (piece == document.blocks.end()) throw UsageError("there is no piece " + number);
    WriteOptions options;
    options.sound = sound_options_of(request);
    options.loudness = loudness;
    HeardPiece out;
    out.timing = timing_of(*piece, options.sound);
    out.seconds = out.timing.count_in + out.timing.times * out.timing.pass;
    const auto alone = std::make_shared<const Document>(Document{document.head, {*piece}});
    out.render = [alone, options](const std::string& file) {
        writer_for("sound.wav")
            .write(
                file, [&](BlockSink& sink) { hand_over(*alone, sink); }, options);
    };
    return out;
}

}  // namespace shedbook
