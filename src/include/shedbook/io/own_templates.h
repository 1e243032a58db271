// Templates of the user's own: files whose entries ([[instrument]], [[drill]], [[plan]] ...) stand beside
// those that come with the program; one of the same id takes the other's place. The program names them before
// anything is read; faults are said by whoever names them, and a file with a fault is not used.
//
//     use_own_templates({SourceText{"mine.toml", text}});
//     static const auto kPlans = read_templates("plans.toml", "plan", read_plans, &BookPlan::id);
#pragma once

#include <algorithm>
#include <array>
#include <span>
#include <string_view>
#include <utility>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/base/source_text.h"
#include "shedbook/io/data.h"
#include "shedbook/io/embedded.h"

namespace shedbook {

// The kinds of entries that a file may have.
inline constexpr std::array<std::string_view, 10> kTemplateKinds{
    "drill", "rhythm", "articulation", "instrument", "fingering", "level", "plan", "scale", "phrase", "unit"};
// Reports every table of another name at its place, and a file without any entry.
void check_kinds(const SourceText& source, const Data& data, Diagnostics& diagnostics);

void use_own_templates(std::vector<SourceText> files);
[[nodiscard]] std::span<const SourceText> own_templates();
// Whether the file has an entry [[name]].
[[nodiscard]] bool has_entries(const SourceText& source, std::string_view name);

// The entries of a shipped file with those of other files put in.
template <class Read, class Entry, class Id>
auto with_entries(std::vector<Entry> shipped, std::span<const SourceText> files, std::string_view name,
                  Read read, Id Entry::*id) {
    for (const SourceText& file : files) {
        if (!has_entries(file, name)) continue;
        Diagnostics said;  // by whoever named the file
        for (Entry& own : read(file, said)) {
            const auto known = std::ranges::find(shipped, own.*id, id);
            if (known != shipped.end()) {
                *known = std::move(own);
            } else {
                shipped.push_back(std::move(own));
            }
        }
    }
    return shipped;
}

template <class Read, class Entry, class Id>
auto read_templates(const char* shipped, std::string_view name, Read read, Id Entry::*id) {
    return with_entries(read_shipped(shipped, read), own_templates(), name, read, id);
}

}  // namespace shedbook
