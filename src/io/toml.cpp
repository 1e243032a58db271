#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include <toml++/toml.h>

#include "shedbook/io/data.h"

namespace shedbook {
namespace {

// The library counts lines and columns from 1, columns in code points, as a Place does.
Span span_of(const toml::source_region& region, const SourceText& source) {
    const std::size_t begin = source.byte_of({region.begin.line, region.begin.column});
    return {begin, std::max(source.byte_of({region.end.line, region.end.column}), begin)};
}

Data to_data(const toml::node& node, const SourceText& source) {
    Data out;
    out.where = span_of(node.source(), source);
    if (const toml::table* table = node.as_table()) {
        // The library sorts its tables; the order of the text is the order of places.
        Data::Object object;
        for (auto&& [key, value] : *table)
            object.emplace_back(std::string{key.str()}, to_data(value, source));
        std::ranges::stable_sort(object, {}, [](const Data::Member& m) { return m.second.where.begin; });
        out.value = std::move(object);
    } else if (const toml::array* array = node.as_array()) {
        Data::Array members;
        for (const toml::node& member : *array) members.push_back(to_data(member, source));
        out.value = std::move(members);
    } else if (const auto* text = node.as_string()) {
        out.value = text->get();
    } else if (const auto* whole = node.as_integer()) {
        out.value = whole->get();
    } else if (const auto* number = node.as_floating_point()) {
        out.value = number->get();
    } else if (const auto* truth = node.as_boolean()) {
        out.value = truth->get();
    }
    return out;
}

}  // namespace

std::optional<Data> read_toml(const SourceText& source, Diagnostics& diagnostics) {
    try {
        return to_data(toml::parse(std::string_view{source.text}), source);
    } catch (const toml::parse_error& error) {
        diagnostics.error(source, span_of(error.source(), source), std::string{error.description()});
        return std::nullopt;
    }
}

}  // namespace shedbook
