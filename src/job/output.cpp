#include "output.h"

#include <algorithm>
#include <chrono>
#include <memory>
#include <set>
#include <utility>

#include "shedbook/base/text.h"
#include "shedbook/job/words.h"
#include "shedbook/notation/document_words.h"
#include "sound_request.h"

namespace shedbook {
namespace {

// Stops a document without music before it is finished: nothing is written then.
struct NothingToPlay {};

class WithMusic : public BarCount {
  public:
    using BarCount::BarCount;
    void finish() override {
        if (bars() == 0) throw NothingToPlay{};
        BarCount::finish();
    }
};

// "2.3" is a piece, "2" all of that section.
bool is_meant(const std::string& wanted, const PieceNumber& number) {
    return wanted == in_words(number) || wanted == std::to_string(number.section);
}

// The numbers there are, a long list with its middle left out.
std::string in_short(std::vector<std::string> numbers) {
    constexpr std::size_t kMost = 12;
    if (numbers.size() <= kMost) return join(numbers, ", ");
    const std::string last = numbers.back();
    numbers.resize(kMost - 2);
    return join(numbers, ", ") + " and so on to " + last;
}

std::vector<int> tempos_of_boxes(const Document& document) {
    std::set<int> out;
    for (const Block& block : document.blocks) {
        const TempoBoxes boxes = boxes_of(block);
        out.insert(boxes.tempos.begin(), boxes.tempos.end());
    }
    if (out.empty()) {
        throw UsageError(
            "there are no boxes with tempos to tick here, as drills have; say which tempos: --tempo "
            "60,80,100");
    }
    return {out.begin(), out.end()};
}

bool has_box_at(const Block& block, int tempo) {
    const TempoBoxes boxes = boxes_of(block);
    return boxes.empty() || std::ranges::find(boxes.tempos, tempo) != boxes.tempos.end();
}

}  // namespace

WriteOptions write_options_of(const OutputRequest& request) {
    const std::string& file = request.file;
    if (!file.empty()) {
        refuse_sound_options(request.sound, file);
        const Writer* writer = find_writer(file);
        const auto is = [&](unsigned trait) { return writer != nullptr && writer->has(trait); };
        if (request.page > 0 && !is(Writer::kPicture))
            throw UsageError("--page is for a picture (" + writer_endings(Writer::kPicture) + "), not for '" +
                             file + "'");
        if (!request.paper.empty() && !is(Writer::kPages))
            throw UsageError("--paper is for pages (" + writer_endings(Writer::kPages) + "), not for '" +
                             file + "'");
    }
    return {paper_of(request.paper), sound_options_of(request.sound), std::max(1, request.page),
            !request.no_cache};
}

std::string name_with(const std::string& output, const std::string& word) {
    const std::size_t dot = output.rfind('.');
    const std::size_t slash = output.rfind('/');
    if (dot == std::string::npos || (slash != std::string::npos && dot < slash)) return output + "-" + word;
    return output.substr(0, dot) + "-" + word + output.substr(dot);
}

void take_only(const std::vector<std::string>& numbers, const Assemble& assemble, BlockSink& sink) {
    if (numbers.empty()) return assemble(sink);
    std::set<std::string> found;
    std::vector<std::string> there;
    Recorder kept;
    PieceFilter only{[&](const Block& piece) {
                         const std::optional<PieceNumber> number = number_of(piece);
                         if (!number) return false;
                         there.push_back(in_words(*number));
                         bool is_wanted = false;
                         for (const std::string& wanted : numbers) {
                             if (!is_meant(wanted, *number)) continue;
                             is_wanted = true;
                             found.insert(wanted);
                         }
                         return is_wanted;
                     },
                     kept};
    assemble(only);
    for (const std::string& number : numbers) {
        if (!found.contains(number))
            throw UsageError("there is no piece " + number + "; there are: " + in_short(there));
    }
    hand_over(kept.document, sink);
}

std::string AtTempo::file_name(const std::string& output) const {
    return per_minute ? name_with(output, "at-" + std::to_string(*per_minute)) : output;
}

std::vector<AtTempo> at_tempos(const Writer& writer, const WriteOptions& options, const Assemble& assemble) {
    const bool of_boxes = options.sound.tempos_of_boxes;
    if (!writer.has(Writer::kSound) || (!of_boxes && options.sound.tempos.empty()))
        return {{std::nullopt, options, assemble}};
    const auto document = std::make_shared<const Document>(recorded(assemble));
    std::vector<AtTempo> out;
    for (const int tempo : of_boxes ? tempos_of_boxes(*document) : options.sound.tempos) {
        AtTempo each{tempo, options, {}};
        each.options.sound.tempo = TempoPlan{tempo, tempo};
        each.assemble = [document, tempo, of_boxes](BlockSink& sink) {
            PieceFilter at{[=](const Block& piece) { return !of_boxes || has_box_at(piece, tempo); }, sink};
            hand_over(*document, of_boxes ? static_cast<BlockSink&>(at) : sink);
        };
        out.push_back(std::move(each));
    }
    return out;
}

namespace {

std::string pages_in_words(int done, int of, std::chrono::steady_clock::duration since) {
    if (of == 1) return {};
    std::string out = ": " + std::to_string(done) + " of " + std::to_string(of) + " pages";
    // The first ones say little of the others: the engraver's start is in them.
    constexpr int kTell = 3;
    if (done < kTell || done == of) return out;
    const auto left = std::chrono::ceil<std::chrono::seconds>(since * (of - done) / done).count();
    return out + ", " + std::to_string(left) + " s more";
}

}  // namespace

std::function<void(int done, int of)> says_pages(Caller& caller, std::size_t step, std::size_t steps,
                                                 std::string what) {
    return [&caller, step, steps, what = std::move(what), began = std::chrono::steady_clock::now()](int done,
                                                                                                    int of) {
        caller.step(step, steps, what + pages_in_words(done, of, std::chrono::steady_clock::now() - began));
    };
}

Files write_parts(const OutputRequest& request, const std::vector<BookPart>& parts,
                  const std::function<void(std::size_t which, BlockSink&, Diagnostics&)>& assemble,
                  Caller& caller, const ItemsOfPart& items) {
    WriteOptions options = write_options_of(request);
    const Writer& writer = writer_for(request.file);
    Files out;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        Diagnostics diagnostics;
        const std::string name =
            parts.size() == 1 ? request.file : name_with(request.file, parts[i].instrument->id);
        if (items) options.item_of = [&items, i](const std::string& number) { return items(i, number); };
        const Assemble part = [&](BlockSink& sink) {
            WithMusic with_music{sink};
            take_only(
                request.only, [&](BlockSink& to) { assemble(i, to, diagnostics); }, with_music);
        };
        options.on_pages = says_pages(caller, i + 1, parts.size(), name);
        try {
            caller.step(i + 1, parts.size(), name);
            for (const AtTempo& each : at_tempos(writer, options, part)) {
                if (each.per_minute) caller.step(i + 1, parts.size(), each.file_name(name));
                writer.write(each.file_name(name), each.assemble, each.options);
                out.push_back(each.file_name(name));
            }
        } catch (const NothingToPlay&) {
            caller.say(diagnostics);
            caller.remark("nothing is left to play for " + parts[i].instrument->name +
                          "; no file was written for it");
            throw InputError{};
        }
        if (i == 0) caller.say(diagnostics);
    }
    return out;
}

}  // namespace shedbook
