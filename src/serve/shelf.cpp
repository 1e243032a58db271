#include "shelf.h"

#include <filesystem>

#include "json.h"
#include "listener.h"
#include "shedbook/base/text.h"
#include "shedbook/chart/readers.h"
#include "shedbook/harmony/units.h"
#include "shedbook/job/jobs.h"

namespace shedbook {
namespace {

Data first_error(const Diagnostics& diagnostics, const std::string* text) {
    Data::Array slips = slips_of(diagnostics, text);
    for (Data& slip : slips) {
        const Data* severity = slip.find("severity");
        if (severity != nullptr && severity->as_string() == "error") return std::move(slip);
    }
    return {};
}

void add_chart(const std::optional<Chart>& chart, Data::Object& out) {
    const auto number = [](int value) { return as_data(std::int64_t{value}); };
    const bool has_key = chart && chart->key;
    out.emplace_back("title", chart ? as_data(chart->title) : Data{});
    out.emplace_back("composer", chart ? as_data(chart->composer) : Data{});
    out.emplace_back("key", has_key ? as_data(to_string(*chart->key)) : Data{});
    out.emplace_back("meter", chart && chart->meter ? as_data(to_string(*chart->meter)) : Data{});
    out.emplace_back("tempo", chart && chart->tempo ? number(*chart->tempo) : Data{});
    int bars = 0;
    if (chart) {
        for (const Section& section : chart->sections) bars += static_cast<int>(section.bars.size());
    }
    out.emplace_back("bars", chart ? number(bars) : Data{});
}

Data::Object read_facts(const std::string& file, const StoredText& stored, bool is_text) {
    Data::Object out;
    Diagnostics diagnostics;
    if (is_text) {
        add_chart(read_unfinished_tune(SourceText{file, stored.text}, diagnostics).chart, out);
    } else {
        add_chart(read_chart(file, stored.text, {}, diagnostics), out);
    }
    out.emplace_back("slip", first_error(diagnostics, is_text ? &stored.text : nullptr));
    return out;
}

Data units_in(const TuneFolder& folder, const std::string& file) {
    Listener unheard;
    try {
        const Tune tune = load_tune(folder.path_of(file), {}, unheard);
        return size_as_data(units_of(tune.chart, tune.analysis).units.size());
    } catch (const InputError&) {
        return {};
    }
}

}  // namespace

std::string Shelf::name_of(const std::string& file) {
    return file.ends_with(".tune") ? file.substr(0, file.size() - std::string_view{".tune"}.size()) : file;
}

std::optional<Data::Object> Shelf::describe(const TuneFolder& folder, const std::string& file,
                                            Deadline until) {
    const std::optional<StoredText> stored = folder.read(file);
    if (!stored) return std::nullopt;
    const bool is_text = file.ends_with(".tune") && is_valid_utf8(stored->text);
    const std::lock_guard hold{guard_};
    Known& known = known_[file];
    if (known.revision != stored->revision) known = {stored->revision, read_facts(file, *stored, is_text)};
    if (!known.has_units && std::chrono::steady_clock::now() < until) {
        known.facts.emplace_back("units", units_in(folder, file));
        known.has_units = true;
    }
    Data::Object out{{"name", as_data(name_of(file))},
                     {"file", as_data(file)},
                     {"editable", {is_text}},
                     {"revision", as_data(stored->revision)},
                     {"changed", as_data(stored->changed)}};
    out.insert(out.end(), known.facts.begin(), known.facts.end());
    return out;
}

}  // namespace shedbook
