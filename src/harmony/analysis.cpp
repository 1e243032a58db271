#include "shedbook/harmony/analysis.h"

#include <algorithm>

#include "judgement.h"
#include "key_names.h"
#include "scale_choice.h"

namespace shedbook {
namespace {

// A melody note shorter than this passes; it decides nothing.
constexpr Duration kShort = kEighth;

// The melody over each chord, walked once from left to right.
class MelodyUnder {
  public:
    explicit MelodyUnder(const Timeline& timeline) : notes_{timeline.melody} {}

    // Half steps over `root`; spans must come in order of time.
    std::optional<MelodyTime> over(const ChordSpan& span, int root) {
        const Position end = span.at + span.length;
        while (first_ < notes_.size() && notes_[first_].at + notes_[first_].length <= span.at) ++first_;
        MelodyTime out{};
        bool any = false;
        for (std::size_t i = first_; i < notes_.size() && notes_[i].at < end; ++i) {
            const Position from = std::max(notes_[i].at, span.at);
            const Position to = std::min(notes_[i].at + notes_[i].length, end);
            if (to <= from || to - from <= kShort) continue;
            out[static_cast<std::size_t>(above(notes_[i].pitch.name().semitone(), root))] +=
                quarters(to - from);
            any = true;
        }
        if (!any) return std::nullopt;
        return out;
    }

  private:
    const std::vector<PlacedMelodyNote>& notes_;
    std::size_t first_ = 0;
};

bool same_meaning(const Reading& a, const Reading& b) {
    return a.key == b.key && a.numeral == b.numeral && a.function == b.function && a.target == b.target &&
           a.scale.scale == b.scale.scale;
}

// What each voice says for a home key. Its goal is the chord that it speaks of.
constexpr std::string_view kSaidBy[] = {"the chart names it",
                                        "the bars have the form of a blues on {tonic}",
                                        "the last cadence comes home to {tonic}",
                                        "it begins on {goal}",
                                        "it ends on {goal}",
                                        "it ends on {goal}, which leads back to {tonic}",
                                        "more of its chords belong there",
                                        "more of its cadences and phrases rest on {tonic}"};
static_assert(has_a_row_each<Voice>(kSaidBy));

// Everything that the readings are made from.
class Analyst {
  public:
    Analyst(const Chart& chart, const Timeline& timeline, const AnalysisOptions& options)
        : timeline_{timeline},
          options_{options},
          views_{view_of(chart, timeline)},
          judgement_{judge(views_.chords, chart.key, options.key_is_law ? Said::Law : Said::Hint)},
          names_{views_, keys_, chart.key},
          melody_{timeline} {
        // A mode that the chart names is taken over, as long as the third agrees.
        const bool agrees = chart.key && chart.key->tonic.semitone() == keys_.home.tonic &&
                            is_minor(chart.key->mode) == (keys_.home.ground == Ground::Minor);
        if (agrees) {
            home_mode_ = chart.key->mode;
        } else if (!views_.chords.empty()) {
            overruled_ = chart.key;
        }
        home_ = key_of(keys_.home);
    }

    Analysis run() {
        Analysis out;
        out.home = home_;
        out.form = to_string(form_.form);
        out.doubt = doubt();
        out.overruled = overruled_;
        std::map<int, std::size_t> place_of;  // by inst
        for (std::size_t i = 0; i < views_.chords.size(); ++i) {
            Reading reading = read(i);
            const auto [found, is_new] = place_of.emplace(reading.inst, out.readings.size());
            if (is_new) {
                out.readings.push_back(std::move(reading));
                out.also.emplace_back();
                continue;
            }
            auto& also = out.also[found->second];
            const bool known =
                same_meaning(out.readings[found->second], reading) ||
                std::ranges::any_of(also, [&](const Reading& r) { return same_meaning(r, reading); });
            if (!known) also.push_back(std::move(reading));
        }
        sort_by_inst(out);
        return out;
    }

  private:
    // Jumps may play what is written later first.
    static void sort_by_inst(Analysis& analysis) {
        const auto in_order = std::ranges::is_sorted(analysis.readings, {}, &Reading::inst);
        if (in_order) return;
        std::vector<std::size_t> order(analysis.readings.size());
        for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
        std::ranges::sort(order, {}, [&](std::size_t i) { return analysis.readings[i].inst; });
        std::vector<Reading> readings;
        std::vector<std::vector<Reading>> also;
        for (const std::size_t i : order) {
            readings.push_back(std::move(analysis.readings[i]));
            also.push_back(std::move(analysis.also[i]));
        }
        analysis.readings = std::move(readings);
        analysis.also = std::move(also);
    }

    Key key_of(Tonality key) const {
        const Mode plain = key.ground == Ground::Minor ? Mode::Minor : Mode::Major;
        if (key == keys_.home && home_mode_) return {names_.tonic(key), *home_mode_};
        return {names_.tonic(key), form_.form == Form::Modal ? form_.mode_for(key) : plain};
    }

    const ChordSpan& span(std::size_t view) const {
        return timeline_.chords[static_cast<std::size_t>(views_.span_of[view])];
    }
    const ChordSymbol* symbol_at(int view) const {
        return view < 0 ? nullptr : &*span(static_cast<std::size_t>(view)).symbol;
    }

    HomeDoubt doubt() const {
        const HomeOdds& odds = judgement_.odds;
        HomeDoubt out{odds.probability, {}, {}, {}};
        if (!odds.runner_up) return out;
        out.runner_up = key_of(*odds.runner_up);
        out.for_home = spoken(odds.for_home, home_);
        out.for_runner_up = spoken(odds.for_runner_up, *out.runner_up);
        return out;
    }

    Reason spoken(const std::optional<Voice>& voice, Key key) const {
        Reason out;
        if (!voice) return out;
        out.words = kSaidBy[row_index(*voice)];
        out.key = key;
        out.goal = *symbol_at(*voice == Voice::FirstChord ? 0 : static_cast<int>(views_.chords.size()) - 1);
        return out;
    }

    Reading read(std::size_t i) {
        const ChordSpan& here = span(i);
        const ChordView& view = views_.chords[i];
        const Role& role = roles_[i];
        Setting setting;
        setting.symbol = &views_.heard[i];
        setting.is_heard = views_.heard[i] != *here.symbol;
        setting.view = &view;
        setting.role = role;
        setting.key = key_of(role.key);
        setting.numeral = numeral_of(role, view, names_.as_written(role.key), setting.symbol->root);
        setting.goal = symbol_at(role.target);
        setting.next = symbol_at(view.next);
        setting.fixed = here.fixed_scale;
        setting.palette = options_.palette;
        const std::optional<MelodyTime> melody = melody_.over(here, view.root);
        if (melody) setting.melody = &*melody;

        Chosen chosen = chooser_.choose(setting);
        Reading out;
        out.inst = here.inst;
        out.symbol = *here.symbol;
        out.key = setting.key;
        out.numeral = setting.numeral;
        out.function = function_of(role, view.sound, form_.form == Form::Modal);
        if (role.target >= 0) out.target = span(static_cast<std::size_t>(role.target)).inst;
        out.scale = std::move(chosen.first);
        out.alternatives = std::move(chosen.others);
        out.guide_tones = guide_tones(*setting.symbol);
        return out;
    }

    const Timeline& timeline_;
    AnalysisOptions options_;
    ChordViews views_;
    Judgement judgement_;
    const KeyReading& keys_ = judgement_.keys;
    const std::vector<Role>& roles_ = judgement_.roles;
    const FormReading& form_ = judgement_.form;
    KeyNames names_;
    MelodyUnder melody_;
    ScaleChooser chooser_;
    std::optional<Mode> home_mode_;
    std::optional<Key> overruled_;
    Key home_;
};

}  // namespace

std::string to_string(Function function) {
    switch (function) {
        case Function::Tonic:
            return "tonic";
        case Function::Subdominant:
            return "subdominant";
        case Function::Dominant:
            return "dominant";
        case Function::Passing:
            return "passing";
        case Function::Modal:
            return "modal";
        case Function::Blues:
            return "blues";
    }
    return {};
}

Analysis analyse(const Chart& chart, const Timeline& timeline, const AnalysisOptions& options) {
    return Analyst{chart, timeline, options}.run();
}

}  // namespace shedbook
