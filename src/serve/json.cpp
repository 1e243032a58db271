#include "json.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "shedbook/base/source_text.h"
#include "shedbook/base/text.h"

namespace shedbook {
namespace {

constexpr std::string_view kSeverityWords[] = {"error", "warning", "note"};

Data slip_of(const Diagnostic& said, const SourceText* source) {
    Data::Object out{{"severity", as_data(kSeverityWords[static_cast<std::size_t>(said.severity)])},
                     {"message", as_data(said.message)},
                     {"hint", as_data(said.hint)}};
    Data::Array mendings;
    if (source != nullptr && said.span) {
        Units units{source->text};
        const Place place = source->place_of(said.span->begin);
        const std::string_view marked =
            std::string_view{source->text}.substr(said.span->begin, said.span->end - said.span->begin);
        out.emplace_back("line", size_as_data(place.line));
        out.emplace_back("column", size_as_data(place.column));
        out.emplace_back("length", size_as_data(count_characters(marked)));
        out.emplace_back("from", as_data(units.of_byte(said.span->begin)));
        out.emplace_back("to", as_data(units.of_byte(said.span->end)));
        for (const Mending& mending : said.mendings) {
            Units at{source->text};
            const std::int64_t from = at.of_byte(mending.where.begin);
            mendings.push_back(as_data(Data::Object{{"from", as_data(from)},
                                                    {"to", as_data(at.of_byte(mending.where.end))},
                                                    {"text", as_data(mending.text)}}));
        }
    } else {
        out.emplace_back("where", as_data(said.where));
        out.emplace_back("shown", as_data(said.line));
        for (const char* member : {"line", "column", "length", "from", "to"})
            out.emplace_back(member, Data{});
        for (const Mending& mending : said.mendings)
            mendings.push_back(as_data(Data::Object{{"text", as_data(mending.text)}}));
    }
    out.emplace_back("instead", as_data(std::move(mendings)));
    return as_data(std::move(out));
}

}  // namespace

Data seconds_as_data(double seconds) {
    constexpr double kTenths = 10'000'000;
    return {std::round(seconds * kTenths) / kTenths};
}

std::int64_t Units::of_byte(std::size_t byte) {
    if (byte < byte_) byte_ = 0, units_ = 0;
    byte = std::min(byte, text_.size());
    while (byte_ < byte) {
        const std::size_t length = character_length(text_, byte_);
        units_ += length == 4 ? 2 : 1;
        byte_ += length;
    }
    return units_;
}

Data::Array slips_of(const Diagnostics& diagnostics, const std::string* text) {
    std::optional<SourceText> source;
    if (text != nullptr) source.emplace("", *text);
    Data::Array out;
    for (const Diagnostic& said : diagnostics.all())
        out.push_back(slip_of(said, source ? &*source : nullptr));
    return out;
}

Data::Array slips_of(const Diagnostics& diagnostics) {
    return slips_of(diagnostics, nullptr);
}

}  // namespace shedbook
