#include <algorithm>
#include <array>
#include <functional>
#include <memory>
#include <utility>

#include "books_in_order.h"
#include "drill_request.h"
#include "level_request.h"
#include "output.h"
#include "parts.h"
#include "printed_pages.h"
#include "shedbook/chart/readers.h"
#include "shedbook/job/jobs.h"
#include "shedbook/job/log_data.h"
#include "shedbook/job/words.h"
#include "shedbook/notation/notate.h"
#include "tune_book.h"
#include "tunes.h"

namespace shedbook {
namespace {

// More chords than this are more than a player gets through in a few weeks (our rule).
constexpr std::size_t kUsualChords = 16;

// "Dm7,G7(b9,#11)" as its two symbols: commas within brackets belong to a symbol.
std::vector<std::string> split_symbols(const std::vector<std::string>& typed) {
    std::vector<std::string> out;
    for (const std::string& text : typed) {
        int depth = 0;
        std::string symbol;
        for (const char c : text + ",") {
            depth += c == '(' ? 1 : c == ')' ? -1 : 0;
            if (depth > 0 || (c != ',' && c != ';')) {
                symbol += c;
            } else if (!symbol.empty()) {
                out.push_back(std::exchange(symbol, {}));
            }
        }
        if (!symbol.empty()) out.push_back(symbol);
    }
    return out;
}

std::vector<ChordSymbol> chords_of(const std::vector<std::string>& typed, Caller& caller) {
    std::vector<ChordSymbol> out;
    Diagnostics diagnostics;
    for (const std::string& text : split_symbols(typed)) {
        if (const auto symbol = read_chord_symbol(SourceText{"--chords", text}, diagnostics))
            out.push_back(*symbol);
    }
    caller.say(diagnostics);
    if (diagnostics.has_errors()) throw InputError{};
    return out;
}

// Chords and bars that were asked for and that no tune has.
void check_choice(const std::vector<Tune>& tunes, const BookOptions& options) {
    const auto is_found = [&](const BookOptions& choice) {
        return std::ranges::any_of(
            tunes, [&](const Tune& tune) { return !chords_in_context(tune, choice).empty(); });
    };
    const std::string where = options.only_bars ? " in those --bars" : " in the tune";
    for (const ChordSymbol& symbol : options.only_chords) {
        BookOptions only = options;
        only.only_chords = {symbol};
        if (!is_found(only))
            throw UsageError("there is no " + to_string(symbol) + where +
                             "; 'shedbook changes' shows its chords");
    }
    if (!is_found(options)) throw UsageError("no chord is left to practise: there is none" + where);
}

// What only a book by chords can do; a book by units chooses its chords, drills and order itself. Nothing if
// none is asked for.
std::optional<std::string> option_of_chords(const BookRequest& request, const std::optional<BookPlan>& plan) {
    const std::array<std::pair<const char*, bool>, 9> options{{{"--plan", plan && !plan->is_on_units()},
                                                               {"--drills", !request.drill.drills.empty()},
                                                               {"--bars", !request.bars.empty()},
                                                               {"--chords", !request.chords.empty()},
                                                               {"--all", request.all},
                                                               {"--order", !request.level.order.empty()},
                                                               {"--memory", !request.level.memory.empty()},
                                                               {"--basic-first", request.level.basic_first},
                                                               {"--etude", !request.level.etude.empty()}}};
    for (const auto& [option, is_given] : options) {
        if (is_given) return option;
    }
    return std::nullopt;
}

BookBy sections_of(const BookRequest& request, const std::optional<BookPlan>& plan) {
    const std::optional<std::string> option = option_of_chords(request, plan);
    if (request.by.empty()) return option ? BookBy::Chord : BookBy::Unit;
    const auto out = choice_of<BookBy>("--by", request.by);
    if (out == BookBy::Unit && option)
        throw UsageError("a book by units chooses its pages itself: leave out " + *option + " or --by unit");
    return out;
}

// Lines of a middle level, and boxes that go up to the tempo of the tune where a good player reaches it.
void ask_no_level(BookOptions& options) {
    constexpr int kSpeedLevel = 5;
    options.etude.level = kUsualLevelOfUnits;
    options.speed_level = kSpeedLevel;
}

BookOptions options_of(const BookRequest& request, const ChosenDrills& drills, std::optional<BookPlan>& plan,
                       Caller& caller) {
    BookOptions options;
    const bool has_drills = !request.drill.drills.empty() || !own_drills().empty();
    const bool has_level = request.level.level > 0;
    if (has_level) apply_level(level(request.level.level), options);
    if (!has_level || has_drills) options.drills = drills.drills;
    options.setting = drills.setting;
    options.signatures = drills.signatures;
    options.prefer = prefer_of(request.part.prefer);
    options.only_chords = chords_of(request.chords, caller);
    if (!request.bars.empty()) options.only_bars = bars_of(request.bars);
    if (request.all || !request.bars.empty() || !request.chords.empty()) {
        options.most_chords = std::nullopt;
    } else if (!has_level && request.level.plan.empty()) {
        options.most_chords = kUsualChords;
    }
    if (!request.chords.empty()) options.material = Material::Chords;
    options.with_line = !request.no_line;
    apply(request.level, options, plan, caller);
    options.by = sections_of(request, plan);
    if (options.by == BookBy::Unit && !has_level) ask_no_level(options);
    return options;
}

// What the level says holds where nothing else was asked.
void take_from_level(BookRequest& request) {
    if (request.level.level == 0) return;
    const Level& asked = level(request.level.level);
    if (request.part.range.empty()) request.part.range = asked.range;
    request.tune = as_at_level(std::move(request.tune), request.level.level);
}

// All that a book is made of. The options point to the plan beside them.
struct BookInHand {
    std::vector<BookPart> parts;
    std::optional<BookPlan> plan;
    BookOptions options;
    std::vector<Tune> tunes;
};

// The words of the request are looked at before the tunes.
std::unique_ptr<BookInHand> take_in_hand(const BookRequest& request,
                                         const std::function<std::vector<Tune>()>& tunes, Caller& caller) {
    auto out = std::make_unique<BookInHand>();
    out->parts = parts_of(request.part, caller);
    const ChosenDrills drills = choose_drills(request.drill);
    BookOptions& options = out->options;
    options = options_of(request, drills, out->plan, caller);
    out->tunes = tunes();
    if (request.drill.meter.empty())
        options.setting.meter = options.usual_meter = meter_for_drills(out->tunes);
    const std::optional<int>& own_tempo = out->tunes.front().chart.tempo;
    if (request.level.goal == 0 && own_tempo) options.goal_tempo = *own_tempo;
    check_choice(out->tunes, options);
    return out;
}

std::unique_ptr<BookInHand> take_in_hand(BookRequest request, Caller& caller) {
    take_from_level(request);
    const auto tunes = [&] {
        if (request.tunes.empty())
            throw UsageError("book needs a tune: a file that ends in " + chart_endings());
        return load_tunes(request.tunes, request.tune, caller);
    };
    return take_in_hand(request, tunes, caller);
}

// Written bars as pages count them, by written chord.
std::vector<int> bars_of_chords(const Chart& chart) {
    std::vector<int> out;
    const int first = first_bar_number(chart);
    for (const WrittenBar& bar : written_bars(chart))
        out.insert(out.end(), bar.bar->chords.size(), bar.index + first);
    return out;
}

bool lies_in(const UnitHead::Place& place, int bar) {
    const bool is_skipped = place.skips && bar >= place.skips->first && bar <= place.skips->second;
    return bar >= place.first_bar && bar <= place.last_bar && !is_skipped;
}

std::map<int, std::vector<Reading>> chords_of_units(const BookInHand& book, const Document& document) {
    std::map<int, std::vector<Reading>> out;
    if (book.tunes.size() != 1) return out;
    const Tune& tune = book.tunes.front();
    const Interval by =
        written_interval(*book.parts.front().instrument, key_of(tune), {}, book.options.prefer);
    const Analysis as_read = transposed(tune.analysis, by);
    const std::vector<int> bars = bars_of_chords(tune.chart);
    for (const Block& block : document.blocks) {
        const auto* start = std::get_if<SectionStart>(&block);
        const auto* head = start == nullptr ? nullptr : std::get_if<UnitHead>(&start->head);
        if (head == nullptr || head->places.empty()) continue;
        for (const Reading& reading : as_read.readings) {
            if (lies_in(head->places.front(), bars[static_cast<std::size_t>(reading.inst)]))
                out[start->number].push_back(reading);
        }
    }
    return out;
}

BookOnScreen on_screen(const BookInHand& book, Caller& caller) {
    BookOnScreen out;
    out.goal = book.options.goal_tempo;
    Diagnostics diagnostics;
    out.document = BooksInOrder{book.tunes, book.parts, book.options}.book(0, diagnostics);
    out.pages = pages_of(out.document, book.tunes);
    out.chords = chords_of_units(book, out.document);
    caller.say(diagnostics);
    return out;
}

}  // namespace

Files make_book(BookRequest request, Caller& caller) {
    const OutputRequest output = request.output;
    const std::unique_ptr<BookInHand> book = take_in_hand(std::move(request), caller);
    std::vector<PrintedPages> pages(book->parts.size());
    BooksInOrder books{book->tunes, book->parts, book->options};
    Files out = write_parts(
        output, book->parts,
        [&](std::size_t which, BlockSink& sink, Diagnostics& diagnostics) {
            const Document document = books.book(which, diagnostics);
            pages[which] = pages_of(document, book->tunes);
            hand_over(document, sink);
        },
        caller,
        [&](std::size_t which, const std::string& number) { return item_called(pages[which], number); });
    keep_pages(pages, caller);
    return out;
}

BookOnScreen open_book(BookRequest request, Caller& caller) {
    return on_screen(*take_in_hand(std::move(request), caller), caller);
}

BookOnScreen open_book_of(const Tune& tune, BookRequest request, Caller& caller) {
    take_from_level(request);
    return on_screen(*take_in_hand(
                         request, [&] { return std::vector{tune}; }, caller),
                     caller);
}

}  // namespace shedbook
