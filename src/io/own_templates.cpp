#include "shedbook/io/own_templates.h"

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

std::vector<SourceText>& files_in_use() {
    static std::vector<SourceText> files;
    return files;
}

}  // namespace

void check_kinds(const SourceText& source, const Data& data, Diagnostics& diagnostics) {
    const std::vector<std::string> kinds{kTemplateKinds.begin(), kTemplateKinds.end()};
    for (const auto& [name, value] : *data.as_object()) {
        if (std::ranges::find(kinds, name) != kinds.end()) continue;
        const std::string near = nearest(name, kinds);
        diagnostics.error(source, value.where, "nothing here is called '" + name + "'",
                          near.empty() ? "a file has entries of these kinds: " + join(kinds, ", ")
                                       : "did you mean [[" + near + "]]?");
    }
    if (data.as_object()->empty())
        diagnostics.error(source, {}, "no entry in this file: [[drill]], [[plan]] ...");
}

void use_own_templates(std::vector<SourceText> files) {
    files_in_use() = std::move(files);
}

std::span<const SourceText> own_templates() {
    return files_in_use();
}

bool has_entries(const SourceText& source, std::string_view name) {
    Diagnostics unused;
    const std::optional<Data> data = read_toml(source, unused);
    const Data* list = data ? data->find(name) : nullptr;
    return list != nullptr && list->as_array() != nullptr;
}

}  // namespace shedbook
