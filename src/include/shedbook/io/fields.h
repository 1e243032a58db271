// Fields of one entry of a template, read one after the other; what is missing, wrong or unknown is reported
// at its place.
//
//     Fields fields{source, entry, "plan", diagnostics};
//     plan.id = fields.text("id");
//     plan.level = fields.number("level", 1, 6, 3);            // 3 if there is none
//     fields.finish();                                         // what nobody asked for is a fault
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

#include "shedbook/base/enum_table.h"
#include "shedbook/io/data.h"

namespace shedbook {

class Fields {
  public:
    // `what` names the entry in messages: "instrument", "student".
    Fields(const SourceText& source, const Data& entry, std::string what, Diagnostics& diagnostics)
        : source_{source}, entry_{entry}, what_{std::move(what)}, diagnostics_{diagnostics} {}

    // Null, with an error, if it is not there.
    [[nodiscard]] const Data* need(std::string_view key);
    // Null if it is not there.
    [[nodiscard]] const Data* find(std::string_view key);

    [[nodiscard]] std::string text(std::string_view key);
    [[nodiscard]] std::string text(std::string_view key, std::string_view if_absent);
    [[nodiscard]] int number(std::string_view key, int low, int high);
    [[nodiscard]] int number(std::string_view key, int low, int high, int if_absent);
    [[nodiscard]] bool flag(std::string_view key, bool if_absent);
    // A list of texts, or one text by itself; empty if it is not there.
    [[nodiscard]] std::vector<std::string> texts(std::string_view key);
    // One of the words of an enum (enum_table.h).
    template <class Enum>
    [[nodiscard]] Enum word(std::string_view key, Enum if_absent) {
        const std::optional<std::string> found = one_of(key, words_of<Enum>());
        return found ? from_word<Enum>(*found).value_or(if_absent) : if_absent;
    }
    // One of two words: whether it is the second.
    [[nodiscard]] bool either(std::string_view key, const std::string& no, const std::string& yes,
                              bool if_absent);

    void fail(Span where, std::string message, std::string hint = {});
    // A name that nothing has: with the nearest one, or else with what there is.
    void fail_unknown(Span where, const std::string& what, const std::string& typed,
                      const std::vector<std::string>& known, const std::string& what_there_is);
    [[nodiscard]] bool has_failed() const { return failed_; }
    // Faults every member that is none of these.
    void allow_only(const std::vector<std::string>& known);
    // Faults a member that was not asked for. False if anything was wrong.
    [[nodiscard]] bool finish();

  private:
    // Nothing if it is not there, or, with an error, none of the words.
    [[nodiscard]] std::optional<std::string> one_of(std::string_view key,
                                                    const std::vector<std::string>& words);

    const SourceText& source_;
    const Data& entry_;
    std::string what_;
    Diagnostics& diagnostics_;
    std::vector<std::string> asked_;
    bool failed_ = false;
};

// The entries of a list of tables, [[name]]; with an error if there is none.
[[nodiscard]] const Data::Array& entries_of(const Data& data, std::string_view name, const SourceText& source,
                                            Diagnostics& diagnostics);

// All that `read` makes of the entries of [[name]]; those that it makes nothing of are left out.
template <class Read>
auto read_entries(std::string_view name, const SourceText& source, Diagnostics& diagnostics, Read read) {
    std::vector<typename std::invoke_result_t<Read, Fields>::value_type> out;
    const std::optional<Data> data = read_toml(source, diagnostics);
    if (!data) return out;
    for (const Data& entry : entries_of(*data, name, source, diagnostics)) {
        if (auto one = read(Fields{source, entry, std::string{name}, diagnostics}))
            out.push_back(*std::move(one));
    }
    return out;
}

}  // namespace shedbook
