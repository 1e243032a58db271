#include "shedbook/log/pages.h"

#include <algorithm>
#include <cstdint>
#include <filesystem>
#include <ostream>
#include <system_error>
#include <utility>

#include "private_folder.h"
#include "shedbook/base/checksum.h"
#include "shedbook/base/text.h"
#include "shedbook/io/fields.h"
#include "shedbook/io/files.h"

namespace shedbook {
namespace {

constexpr std::string_view kPagesEnding = ".json";

Data number_data(int number) {
    return Data{std::int64_t{number}};
}

Data piece_data(const PrintedPiece& piece) {
    Data::Array boxes;
    boxes.reserve(piece.boxes.size());
    for (const int tempo : piece.boxes) boxes.push_back(number_data(tempo));
    return Data{Data::Object{{"number", Data{piece.number}},
                             {"kind", Data{std::string{to_word(piece.item.kind)}}},
                             {"subject", Data{piece.item.subject}},
                             {"root", number_data(piece.item.root)},
                             {"work", Data{piece.item.work}},
                             {"instrument", Data{piece.item.instrument}},
                             {"boxes", Data{std::move(boxes)}},
                             {"from_memory", Data{piece.from_memory}}}};
}

std::optional<PrintedPiece> piece_of(Fields fields) {
    PrintedPiece out;
    out.number = fields.text("number");
    out.item.kind = fields.word("kind", ItemKind::Scale);
    out.item.subject = fields.text("subject");
    out.item.root = fields.number("root", kNoRoot, 11);
    out.item.work = fields.text("work");
    out.item.instrument = fields.text("instrument");
    out.from_memory = fields.flag("from_memory", false);
    if (const Data* boxes = fields.need("boxes"); boxes != nullptr && boxes->as_array() != nullptr) {
        for (const Data& tempo : *boxes->as_array())
            out.boxes.push_back(static_cast<int>(tempo.as_int().value_or(0)));
    }
    if (!fields.finish()) return std::nullopt;
    return out;
}

std::string tempos_text(const std::vector<int>& tempos) {
    std::vector<std::string> out;
    out.reserve(tempos.size());
    for (const int tempo : tempos) out.push_back(std::to_string(tempo));
    return join(out, ", ");
}

std::vector<std::string> numbers_of(const PrintedPages& pages) {
    std::vector<std::string> out;
    out.reserve(pages.pieces.size());
    for (const PrintedPiece& piece : pages.pieces) out.push_back(piece.number);
    return out;
}

}  // namespace

std::string page_code(std::string_view contents) {
    return code_of(checksum(contents));
}

void save_pages(const std::string& folder, const PrintedPages& pages) {
    make_private_folders(folder);
    Data::Array pieces;
    pieces.reserve(pages.pieces.size());
    for (const PrintedPiece& piece : pages.pieces) pieces.push_back(piece_data(piece));
    Data::Object all{{"code", Data{pages.code}}};
    if (!pages.title.empty()) all.emplace_back("title", Data{pages.title});
    if (!pages.tune.empty()) all.emplace_back("tune", Data{pages.tune});
    all.emplace_back("pieces", Data{std::move(pieces)});
    const std::string file =
        (std::filesystem::path{folder} / (pages.code + std::string{kPagesEnding})).string();
    write_atomically(file, [&](std::ostream& out) { out << write_json(Data{all}) << "\n"; });
}

std::optional<PrintedPages> read_pages(const SourceText& source, Diagnostics& diagnostics) {
    const std::optional<Data> data = read_json(source, diagnostics);
    if (!data) return std::nullopt;
    Fields fields{source, *data, "table of pages", diagnostics};
    PrintedPages out;
    out.code = fields.text("code");
    out.title = fields.text("title", "");
    out.tune = fields.text("tune", "");
    const Data* pieces = fields.need("pieces");
    if (!fields.finish() || pieces == nullptr || pieces->as_array() == nullptr) return std::nullopt;
    for (const Data& piece : *pieces->as_array()) {
        if (auto one = piece_of(Fields{source, piece, "piece", diagnostics}))
            out.pieces.push_back(*std::move(one));
    }
    if (diagnostics.has_errors()) return std::nullopt;
    return out;
}

std::vector<std::string> codes_in(const std::string& folder) {
    std::vector<std::string> out;
    std::error_code error;
    for (const auto& entry : std::filesystem::directory_iterator{folder, error}) {
        if (entry.path().extension() == kPagesEnding) out.push_back(entry.path().stem().string());
    }
    std::ranges::sort(out);
    return out;
}

std::optional<Tick> parse_tick(std::string_view word) {
    Tick out;
    if (word.ends_with('m') || word.ends_with('M')) {
        out.from_memory = true;
        word.remove_suffix(1);
    }
    const std::size_t at = word.find('@');
    out.number = word.substr(0, at);
    const bool is_number = !out.number.empty() && std::ranges::count(out.number, '.') <= 1 &&
                           is_digit(out.number.front()) && is_digit(out.number.back()) &&
                           std::ranges::all_of(out.number, [](char c) { return is_digit(c) || c == '.'; });
    if (!is_number) return std::nullopt;
    if (at == std::string_view::npos) return out;
    for (const std::string_view tempo : split(word.substr(at + 1), ',')) {
        if (tempo.empty() || tempo.size() > 3 || !std::ranges::all_of(tempo, is_digit)) return std::nullopt;
        out.tempos.push_back(std::stoi(std::string{tempo}));
    }
    return out;
}

std::vector<Entry> entries_of(const PrintedPages& pages, const std::vector<std::string>& words, Day day,
                              Diagnostics& diagnostics) {
    std::vector<Entry> out;
    for (const std::string& word : words) {
        const std::optional<Tick> tick = parse_tick(word);
        if (!tick) {
            diagnostics.error_at(pages.code,
                                 "expected ticks as in 2.3@86,115 or 2.4m, but found '" + word + "'");
            continue;
        }
        const auto piece = std::ranges::find(pages.pieces, tick->number, &PrintedPiece::number);
        if (piece == pages.pieces.end()) {
            const std::string near = nearest(tick->number, numbers_of(pages));
            diagnostics.error_at(pages.code, "there is no piece " + tick->number + " on these pages",
                                 near.empty() ? "" : "did you mean " + near + "?");
            continue;
        }
        const auto wrong = std::ranges::find_if(tick->tempos, [&](int tempo) {
            return std::ranges::find(piece->boxes, tempo) == piece->boxes.end();
        });
        if (wrong != tick->tempos.end()) {
            diagnostics.error_at(pages.code,
                                 "piece " + tick->number + " has no box at " + std::to_string(*wrong),
                                 "there are: " + tempos_text(piece->boxes));
            continue;
        }
        Entry& entry = out.emplace_back();
        entry.item = piece->item;
        entry.day = day;
        if (!tick->tempos.empty()) entry.tempo = *std::ranges::max_element(tick->tempos);
        if (!piece->boxes.empty()) entry.goal = piece->boxes.back();
        entry.right = 1;
        entry.from_memory = tick->from_memory;
        entry.typed = pages.code + " " + word;
        entry.tune = pages.tune;
        entry.source = "ticks";
    }
    return out;
}

}  // namespace shedbook
