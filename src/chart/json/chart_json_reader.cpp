#include <algorithm>
#include <string>
#include <utility>

#include "../form.h"
#include "../settle.h"
#include "../time_limits.h"
#include "chart_json_bars.h"
#include "shedbook/chart/limits.h"
#include "shedbook/chart/readers.h"

namespace shedbook {
namespace {

class JsonChartReader {
  public:
    JsonChartReader(const SourceText& source, Diagnostics& diagnostics)
        : source_{source},
          diagnostics_{diagnostics},
          members_{source, diagnostics},
          bars_{source, members_, diagnostics} {}

    std::optional<Chart> run(const Data& data) {
        const std::size_t before = diagnostics_.error_count();
        if (data.as_object() == nullptr) {
            fault(data, "a chart is an object",
                  "as in: {\"title\":\"...\",\"meter\":\"4/4\",\"sections\":[...]}");
            return std::nullopt;
        }
        read_headers(data);
        read_bar_meters(data);
        read_sections(data);
        const auto failed = [&] { return diagnostics_.error_count() > before; };
        if (failed()) return std::nullopt;
        settle(chart_);
        check_times(chart_, source_, diagnostics_);
        check_form(data);
        if (failed()) return std::nullopt;
        return std::move(chart_);
    }

  private:
    static std::string text_of(const Data& data, std::string_view name) {
        const Data* member = data.find(name);
        if (member == nullptr) return {};
        if (const auto number = member->as_int()) return std::to_string(*number);
        return member->as_string().value_or("");
    }

    static std::vector<std::string> strings(const Data& data, std::string_view name) {
        std::vector<std::string> out;
        const Data* member = data.find(name);
        if (member == nullptr || member->as_array() == nullptr) return out;
        for (const Data& text : *member->as_array()) out.push_back(text.as_string().value_or(""));
        return out;
    }

    void read_headers(const Data& data) {
        members_.check(data, JsonPart::Chart);
        chart_.id = text_of(data, "id");
        chart_.title = text_of(data, "title");
        chart_.composer = text_of(data, "composer");
        chart_.feel = text_of(data, "feel");
        chart_.written_for = text_of(data, "written_for");
        chart_.comments = strings(data, "comments");
        chart_.closing_comments = strings(data, "closing_comments");
        if (const Data* key = data.find("key")) {
            members_.check(*key, JsonPart::Key);
            const JsonKey found = read_json_key(*key);
            if (found.is_faulty)
                fault(*key, "this is no key", "as in: {\"tonic\":\"Bb\",\"mode\":\"major\"}");
            chart_.key = found.key;
            const Data* hint = key->find("signature_only");
            chart_.key_is_signature_only = found.key && hint != nullptr && hint->as_bool().value_or(false);
        }
        if (const Data* meter = data.find("meter"); meter != nullptr && !meter->is_null()) {
            chart_.meter = parse_meter(meter->as_string().value_or(""));
            if (!chart_.meter) fault(*meter, "this is no meter", "as in: \"4/4\"");
        }
        if (const Data* tempo = data.find("tempo"); tempo != nullptr && !tempo->is_null()) {
            const auto number = tempo->as_int();
            if (number && *number >= kSlowestMark && *number <= kFastestMark) {
                chart_.tempo = static_cast<int>(*number);
            } else {
                fault(*tempo, "this is no tempo", "beats a minute, from 10 to 600");
            }
        }
        const Data* headers = data.find("headers");
        if (headers == nullptr || headers->as_array() == nullptr) return;
        for (const Data& pair : *headers->as_array()) {
            const Data::Array* both = pair.as_array();
            if (both == nullptr || both->size() != 2) continue;
            chart_.other_headers.emplace_back((*both)[0].as_string().value_or(""),
                                              (*both)[1].as_string().value_or(""));
        }
    }

    // Bars whose meter differs from that of the tune, beside it.
    void read_bar_meters(const Data& data) {
        const Data* list = data.find("bar_meters");
        if (list == nullptr || list->as_array() == nullptr) return;
        for (const Data& row : *list->as_array()) {
            members_.check(row, JsonPart::BarMeter);
            const Data* bar = row.find("bar");
            const Data* text = row.find("meter");
            const auto number = bar != nullptr ? bar->as_int() : std::nullopt;
            const auto meter = text != nullptr ? parse_meter(text->as_string().value_or("")) : std::nullopt;
            if (!number || *number < 1 || !meter) {
                fault(row, "this is no bar with its meter", "as in: {\"bar\":5,\"meter\":\"2/4\"}");
                continue;
            }
            bar_meters_.emplace_back(*number, *meter);
        }
        std::ranges::stable_sort(bar_meters_, {}, &std::pair<std::int64_t, Meter>::first);
    }

    void read_sections(const Data& data) {
        const Data* sections = data.find("sections");
        if (sections == nullptr || sections->as_array() == nullptr) {
            fault(sections != nullptr ? *sections : data, "the chart has no list of 'sections'",
                  "as in: \"sections\":[{\"label\":\"A\",\"bars\":[...]}]");
            return;
        }
        meter_ = chart_.meter.value_or(Meter{});
        for (const Data& section : *sections->as_array()) {
            members_.check(section, JsonPart::Section);
            const Data* bars = section.find("bars");
            if (bars == nullptr || bars->as_array() == nullptr) {
                fault(section, "a section has a list of 'bars'", {});
                continue;
            }
            chart_.sections.push_back(
                {text_of(section, "label"), {}, strings(section, "comments"), text_of(section, "remark")});
            for (const Data& bar : *bars->as_array()) {
                read_bar(bar);
                if (diagnostics_.is_full()) return;
            }
        }
        if (count_ == 0) fault(*sections, "there are no bars in this chart", {});
    }

    void read_bar(const Data& data) {
        if (++count_ > kMostWrittenBars) {
            if (count_ == kMostWrittenBars + 1) {
                fault(data, "more than " + std::to_string(kMostWrittenBars) + " bars", {});
            }
            return;
        }
        std::optional<Meter> here;
        if (!bar_meters_.empty()) here = listed_meter();
        const bool changes = here && *here != meter_;
        if (changes) meter_ = *here;
        Bar bar = bars_.read(data, meter_);
        if (changes && !bar.meter) bar.meter = meter_;
        if (bar.is_pickup && count_ > 1) {
            fault(data, "only the first bar can be a pickup", "a short bar elsewhere has a 'length'");
        }
        if (bar.simile >= count_) fault(data, "there is no bar before it to repeat", {});
        chart_.sections.back().bars.push_back(std::move(bar));
    }

    // What the list of meters says of this bar: a bar that is not in it has the meter of the tune.
    [[nodiscard]] Meter listed_meter() {
        while (next_meter_ < bar_meters_.size() && bar_meters_[next_meter_].first < count_) ++next_meter_;
        const bool listed = next_meter_ < bar_meters_.size() && bar_meters_[next_meter_].first == count_;
        return listed ? bar_meters_[next_meter_].second : chart_.meter.value_or(Meter{});
    }

    void check_form(const Data& data) {
        FormPlan plan = plan_form(chart_);
        const std::vector<WrittenBar> bars = written_bars(chart_);
        for (FormFault& fault : plan.faults) {
            const Span where = bars[static_cast<std::size_t>(fault.bar)].bar->where;
            if (fault.severity == Severity::Error) {
                diagnostics_.error(source_, where, std::move(fault.message), {});
            } else {
                diagnostics_.warning(source_, where, std::move(fault.message), {});
            }
        }
        const Data* order = data.find("order");
        if (order == nullptr || order->as_array() == nullptr || !plan.is_playable()) return;
        const bool same = std::ranges::equal(*order->as_array(), plan.order, [](const Data& said, int bar) {
            return said.as_int() == std::optional<std::int64_t>{bar + 1};
        });
        if (!same) {
            diagnostics_.warning(source_, order->where, "'order' is not what the signs of the bars say",
                                 "the signs are taken");
        }
    }

    void fault(const Data& at, std::string message, std::string hint) {
        diagnostics_.error(source_, at.where, std::move(message), std::move(hint));
    }

    const SourceText& source_;
    Diagnostics& diagnostics_;
    JsonMembers members_;
    JsonBarReader bars_;
    Chart chart_;
    Meter meter_;
    std::vector<std::pair<std::int64_t, Meter>> bar_meters_;
    std::size_t next_meter_ = 0;
    int count_ = 0;
};

}  // namespace

std::optional<Chart> read_chart_json(const SourceText& source, Diagnostics& diagnostics) {
    const std::optional<Data> data = read_json(source, diagnostics);
    if (!data) return std::nullopt;
    return JsonChartReader{source, diagnostics}.run(*data);
}

}  // namespace shedbook
