#include <cstdint>
#include <string>
#include <utility>

#include "output.h"
#include "parts.h"
#include "shedbook/base/text.h"
#include "shedbook/book/etude.h"
#include "shedbook/chart/readers.h"
#include "shedbook/job/jobs.h"
#include "shedbook/job/words.h"

namespace shedbook {
namespace {

// As the words of the tune say: triplets are only for who asks for them.
EtudeFeel feel_of(const std::string& word, const std::vector<Tune>& tunes) {
    if (!word.empty()) return choice_of<EtudeFeel>("--feel", word);
    const std::string words = tunes.empty() ? "" : lower_case(tunes.front().chart.feel);
    return words.find("swing") != std::string::npos ? EtudeFeel::Swing : EtudeFeel::Straight;
}

std::optional<std::pair<int, int>> bars_wanted(const EtudeJobRequest& request) {
    if (!request.bars.empty()) {
        if (request.start != 0 || request.end != 0)
            throw UsageError("say the bars once: --bars 5-8, or --start 5 --end 8");
        return bars_of(request.bars);
    }
    if (request.start == 0 && request.end == 0) return std::nullopt;
    const int start = request.start == 0 ? 1 : request.start;
    if (request.end == 0) return std::pair{start, INT32_MAX};
    return bars_of(std::to_string(start) + "-" + std::to_string(request.end));
}

EtudeRequest request_of(const EtudeJobRequest& request) {
    EtudeRequest out;
    out.kind = etude_kind_called(request.kind).id;
    out.level = request.level;
    out.seed = request.seed;
    out.density = choice_of<Density>("--density", request.density);
    if (!request.style.empty()) out.style = choice_of<EtudeStyle>("--style", request.style);
    out.choruses = request.choruses;
    out.bars = bars_wanted(request);
    out.explain = request.explain;
    if (!request.cell.empty()) {
        if (out.kind != "cell") throw UsageError("--cell belongs to --kind cell");
        if (const std::string fault = fault_of_cell(request.cell); !fault.empty())
            throw UsageError("--cell: " + fault);
        out.cell = request.cell;
    }
    return out;
}

void check_ranges(const std::vector<BookPart>& parts, const EtudeKind& kind) {
    for (const BookPart& part : parts) {
        if (!fits(kind, sounding_range(*part.instrument, part.range)))
            throw UsageError("'" + kind.title + "' needs a --range of " + std::to_string(kind.narrowest) +
                             " half steps or more");
    }
}

}  // namespace

Files make_etude(const EtudeJobRequest& request, Caller& caller) {
    const std::vector<BookPart> parts = parts_of(request.part, caller);
    if (request.part.fingerings == "scales")
        throw UsageError("an etude is no scale: --fingerings takes all here, or none");
    EtudeRequest etude = request_of(request);
    if (request.tunes.empty()) throw UsageError("etude needs a tune: a file that ends in " + chart_endings());
    check_ranges(parts, etude_kind_called(etude.kind));
    const std::vector<Tune> tunes = load_tunes(request.tunes, request.tune, caller);
    etude.feel = feel_of(request.feel, tunes);
    if (etude.bars) {
        for (const Tune& tune : tunes) {
            if (!has_chords(ground_of(tune.timeline, tune.analysis, {.bars = etude.bars})))
                throw UsageError("there is no chord in those bars of '" + tune.chart.title + "'");
        }
    }
    EtudeMaker maker{parts, etude, {.prefer = prefer_of(request.part.prefer)}};
    return write_parts(
        request.output, parts,
        [&](std::size_t which, BlockSink& sink, Diagnostics& diagnostics) {
            assemble_etudes(tunes, maker, which, sink, diagnostics);
        },
        caller);
}

}  // namespace shedbook
