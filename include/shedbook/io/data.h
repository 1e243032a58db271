// JSON and TOML as one tree of plain data, each value with its place in the text, so that a fault in a
// template or a JSON chart is reported like a fault in a chart.
//
//     auto data = read_toml(source, diagnostics);
//     const Data* title = data->find("title");
//     title->as_string();                                  // std::optional<std::string>
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/base/source_text.h"

namespace shedbook {

struct Data {
    using Array = std::vector<Data>;
    using Member = std::pair<std::string, Data>;
    using Object = std::vector<Member>;  // in the order of the text

    std::variant<std::nullptr_t, bool, std::int64_t, double, std::string, Array, Object> value = nullptr;
    Span where = {};

    [[nodiscard]] const Data* find(
        std::string_view key) const;  // null if it is no object or has no such member
    [[nodiscard]] bool is_null() const { return std::holds_alternative<std::nullptr_t>(value); }
    [[nodiscard]] std::optional<std::string> as_string() const;
    [[nodiscard]] std::optional<std::int64_t> as_int() const;  // a double that is whole counts
    [[nodiscard]] std::optional<double> as_number() const;
    [[nodiscard]] std::optional<bool> as_bool() const;
    [[nodiscard]] const Array* as_array() const;
    [[nodiscard]] const Object* as_object() const;
};

[[nodiscard]] std::optional<Data> read_json(const SourceText& source, Diagnostics& diagnostics);
[[nodiscard]] std::optional<Data> read_toml(const SourceText& source, Diagnostics& diagnostics);
// One line, members in their order.
[[nodiscard]] std::string write_json(const Data& data);

}  // namespace shedbook
