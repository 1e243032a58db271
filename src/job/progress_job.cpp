// What is mastered.
#include <algorithm>
#include <array>
#include <map>
#include <ostream>
#include <set>
#include <utility>

#include "drawings.h"
#include "goals.h"
#include "level_request.h"
#include "log_words.h"
#include "shedbook/base/text.h"
#include "shedbook/io/files.h"
#include "shedbook/job/log_jobs.h"
#include "shedbook/job/words.h"
#include "shedbook/log/place.h"
#include "shedbook/write/progress_svg.h"
#include "today_offers.h"

namespace shedbook {
namespace {

using Known = std::map<Item, Standing>;

ProgressRow::Cell cell_of(const Known& known, const Item& item) {
    ProgressRow::Cell out;
    out.work = item.work;
    const auto at = known.find(item);
    if (at == known.end()) return out;
    out.state = at->second.state;
    out.tempo = at->second.clean_tempo;
    out.goal = at->second.goal;
    out.due = at->second.due;
    return out;
}

int mean_share(const std::vector<ProgressRow::Cell>& cells) {
    int sum = 0;
    for (const ProgressRow::Cell& cell : cells) sum += share_of(cell.state);
    return cells.empty() ? 0 : sum / static_cast<int>(cells.size());
}

// A scale or a unit with these drills or lines, and what else the log knows of it.
ProgressRow row_of(const std::string& group, const Item& subject, const std::vector<std::string>& works,
                   const Known& known, const TonicsAsWritten& tonics) {
    ProgressRow out;
    out.group = group;
    out.item = subject;
    out.item.work = works.empty() ? "" : works.front();
    const SubjectAsRead read = subject_as_read(out.item, tonics);
    out.name = read.name + read.concert;
    std::set<std::string> seen;
    const auto add = [&](const std::string& work) {
        Item item = subject;
        item.work = work;
        if (seen.insert(work).second) out.cells.push_back(cell_of(known, item));
    };
    for (const std::string& work : works) add(work);
    out.share = mean_share(out.cells);
    for (const auto& [item, standing] : known) {
        if (item.kind == subject.kind && item.subject == subject.subject && item.root == subject.root)
            add(item.work);
    }
    return out;
}

class ProgressMaker {
  public:
    ProgressMaker(const ProgressRequest& request, LogBook& log, Caller& caller)
        : request_{request}, log_{log}, caller_{caller}, player_{player_called(request.place.player)} {
        out_.instrument = request.instrument.empty() ? log.last_instrument(player_)
                                                     : instrument_called(request.instrument).id;
        if (out_.instrument.empty())
            throw UsageError("on which instrument? --for alto-sax; nothing is entered yet");
        level_ = request.level > 0 ? request.level : kUsualLevelOfLog;
        for (const KnownItem& item : log.standings(player_, out_.instrument))
            known_.emplace(item.item, item.standing);
    }

    ProgressReport make() {
        if (request_.what.empty()) {
            all();
        } else if (is_tune_file(request_.what)) {
            tune();
        } else {
            topic();
        }
        int sum = 0;
        for (const ProgressRow& row : out_.rows) sum += row.share;
        if (!out_.rows.empty()) out_.share = sum / static_cast<int>(out_.rows.size());
        return std::move(out_);
    }

  private:
    void all() {
        out_.title = "All that was practised";
        std::set<std::tuple<ItemKind, std::string, int>> seen;
        for (const auto& [item, standing] : known_) {
            if (!is_known_here(item))
                out_.notes.push_back("not known here any more, and kept: " + name_of(item));
            if (!seen.emplace(item.kind, item.subject, item.root).second) continue;
            ProgressRow row = row_of(std::string{to_word(item.kind)} + "s", item, {}, known_, tonics_);
            row.item = item;
            row.share = mean_share(row.cells);
            out_.rows.push_back(std::move(row));
        }
    }

    void tune() {
        const std::vector<Tune> tunes =
            load_tunes({request_.what}, as_at_level(request_.reading, level_), caller_);
        out_.title = tunes.front().chart.name();
        const std::vector<UnitOfTune> units = units_of_tunes(tunes);
        tonics_ = tonics_of(tunes, units, out_.instrument);
        std::set<std::tuple<ItemKind, std::string, int>> there;
        for (const std::vector<Offer>& lines : unit_offers(units, out_.instrument, level_, TuneBooks{})) {
            std::vector<std::string> works;
            works.reserve(lines.size());
            for (const Offer& line : lines) works.push_back(line.item.work);
            add_row("units", lines.front().item, works, there);
        }
        for (const ScaleOfTune& scale : scales_of_tunes(tunes)) {
            const Item item{ItemKind::Scale, std::string{scale.scale.type->id}, scale.scale.tonic.semitone(),
                            "", out_.instrument};
            add_row("scales", item, level(level_).drills, there);
        }
        const Item form{ItemKind::Etude, tunes.front().chart.id, kNoRoot, "", out_.instrument};
        add_row("form", form, {"guide-tones", "arpeggios-up", "unbroken-scale"}, there);
        note_what_is_gone(tunes.front(), there);
    }

    void add_row(const std::string& group, const Item& item, const std::vector<std::string>& works,
                 std::set<std::tuple<ItemKind, std::string, int>>& there) {
        if (!there.emplace(item.kind, item.subject, item.root).second) return;
        out_.rows.push_back(row_of(group, item, works, known_, tonics_));
    }

    // What was practised for this tune when it was written another way.
    void note_what_is_gone(const Tune& tune, const std::set<std::tuple<ItemKind, std::string, int>>& there) {
        std::set<std::string> gone;
        LogFilter filter;
        filter.player = player_;
        filter.instrument = out_.instrument;
        filter.tune = tune.chart.id;
        log_.each(filter, [&](const Record& record) {
            const Item& item = record.entry.item;
            if (!there.contains({item.kind, item.subject, item.root})) gone.insert(name_of(item));
        });
        for (const std::string& name : gone)
            out_.notes.push_back("practised for this tune, and not in it now: " + name);
    }

    void topic() {
        const LogSubject subject = log_subject(request_.what, "", {}, caller_);
        const Item item{subject.kind, subject.id, subject.root, "", out_.instrument};
        const bool is_scale = subject.kind == ItemKind::Scale;
        const std::vector<std::string> works =
            is_scale ? level(level_).drills
                     : std::vector<std::string>{"guide-tones", "arpeggios-up", "unbroken-scale"};
        out_.rows.push_back(row_of(is_scale ? "scales" : "units", item, works, known_, tonics_));
        out_.title = out_.rows.front().name;
        for (const ProgressRow::Cell& cell : out_.rows.front().cells) {
            Item each = item;
            each.work = cell.work;
            for (Entry& entry : log_.entries_of(player_, each)) out_.entries.push_back(std::move(entry));
        }
    }

    const ProgressRequest& request_;
    LogBook& log_;
    Caller& caller_;
    std::string player_;
    int level_ = kUsualLevelOfLog;
    Known known_;
    TonicsAsWritten tonics_;  // of the tune
    ProgressReport out_;
};

TempoChart tempo_chart(const ProgressReport& report) {
    TempoChart out;
    out.title = report.title;
    if (report.entries.empty()) return out;
    const auto by_day = [](const Entry& a, const Entry& b) { return a.day < b.day; };
    const Day first = std::ranges::min_element(report.entries, by_day)->day;
    const Day last = std::ranges::max_element(report.entries, by_day)->day;
    out.first_day = date_text(first);
    out.last_day = date_text(last);
    out.days = days_between(first, last);
    for (const Entry& entry : report.entries) {
        if (out.lines.empty() || out.lines.back().name != entry.item.work)
            out.lines.push_back({entry.item.work, 0, {}});
        TempoLine& line = out.lines.back();
        line.goal = entry.goal.value_or(line.goal);
        line.dots.push_back(
            {days_between(first, entry.day), entry.tempo.value_or(0), is_clean(entry), entry.from_memory});
    }
    return out;
}

// Around the circle, as players see keys.
constexpr std::array<const char*, 12> kColumnNames{"C",  "F", "Bb", "Eb", "Ab", "Db",
                                                   "F#", "B", "E",  "A",  "D",  "G"};
constexpr std::array<const char*, 5> kStateSigns{"n", "s", "t", "m", "f"};

std::string label_of(const Item& item) {
    if (const ScaleType* type = item.kind == ItemKind::Scale ? find_scale_type(item.subject) : nullptr)
        return std::string{type->name};
    if (const auto unit = item.kind == ItemKind::Unit ? unit_with_id(item.subject) : std::nullopt)
        return unit_name(unit->kind, unit->mode);
    return item.subject;
}

KeyMap key_map(const ProgressReport& report) {
    KeyMap out;
    out.title = report.title;
    out.about =
        "Concert keys. The fuller, the better known: s slow, t at tempo, m from memory, f fluent, n new. The "
        "letter "
        "is the best drill, the filling all of them.";
    out.columns.assign(kColumnNames.begin(), kColumnNames.end());
    for (const ProgressRow& row : report.rows) {
        if (row.item.root == kNoRoot) continue;
        const std::string label = label_of(row.item);
        auto at = std::ranges::find(out.rows, label, &KeyMap::Row::label);
        if (at == out.rows.end()) {
            out.rows.push_back({label, std::vector<KeyMap::Cell>(kColumnNames.size())});
            at = out.rows.end() - 1;
        }
        Mastery best = Mastery::New;
        for (const ProgressRow::Cell& cell : row.cells) best = std::max(best, cell.state);
        // Column c is c fourths above C.
        const auto column = static_cast<std::size_t>(row.item.root * 5 % 12);
        at->cells[column] = {true, row.share, kStateSigns[static_cast<std::size_t>(best)]};
    }
    return out;
}

void draw(const ProgressReport& report, const std::string& file) {
    const bool has_days = !report.entries.empty();
    const KeyMap map = key_map(report);
    if (!has_days && map.rows.empty())
        throw UsageError("there is nothing to draw yet: nothing is entered there");
    write_drawing(file, "progress", [&](std::ostream& out) {
        has_days ? write_tempo_chart(tempo_chart(report), out) : write_key_map(map, out);
    });
}

}  // namespace

ProgressReport progress(const ProgressRequest& request, Caller& caller) {
    LogBook log{log_file(request.place.data, data_environment()), {.for_reading = true, .on_network = {}}};
    ProgressReport out = ProgressMaker{request, log, caller}.make();
    if (!request.output.empty()) draw(out, request.output);
    return out;
}

}  // namespace shedbook
