// Searches for weights of KeyScores that do better than those compiled in, and says whether they would on
// songs not seen.
//
//     fit_keys REFERENCE            fit on all songs, print the values
//     fit_keys REFERENCE --cross    five-fold cross-validation by song: what to expect on songs not seen, and
//                                   the gain over the values that are compiled in with its standard error
//                                   over songs
//     fit_keys REFERENCE --now      only measure the values that are compiled in
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <map>
#include <random>
#include <string_view>

#include "known_charts.h"

namespace shedbook {
namespace {

struct Weight {
    std::string_view name;
    double KeyScores::*member;
    double most;  // what still makes musical sense: no more and no less than this
    double least = 0;
};
constexpr double kAny = 100;
constexpr Weight kWeights[]{
    {"duration", &KeyScores::duration, 1},
    {"change", &KeyScores::change, 10},
    {"per_fifth", &KeyScores::per_fifth, 1.5},
    {"away", &KeyScores::away, kAny},
    {"away_share", &KeyScores::away_share, kAny},
    {"minor", &KeyScores::minor, 2},
    {"blues", &KeyScores::blues, 10, 4},
    {"first_chord", &KeyScores::first_chord, kAny},
    {"last_chord", &KeyScores::last_chord, kAny},
    {"blues_form", &KeyScores::blues_form, 20},
    {"final_cadence", &KeyScores::final_cadence, 12},
    {"turns_back", &KeyScores::turns_back, kAny},
    {"opens_section", &KeyScores::opens_section, kAny},
    {"opens_phrase", &KeyScores::opens_phrase, kAny},
    {"dominant_tonic", &KeyScores::dominant_tonic, 1},
    {"minor_seventh_tonic", &KeyScores::minor_seventh_tonic, 0.8},
    {"fifth_cadence", &KeyScores::fifth_cadence, kAny},
    {"two_five_one", &KeyScores::two_five_one, 10, 5},
    {"two_five", &KeyScores::two_five, kAny},
    {"half_step_cadence", &KeyScores::half_step_cadence, kAny},
    {"backdoor", &KeyScores::backdoor, kAny},
    {"plagal", &KeyScores::plagal, kAny},
    {"triad_share", &KeyScores::triad_share, 1},
    {"applied", &KeyScores::applied, 4},
    {"related", &KeyScores::related, 4, 1.5},
    {"substitute", &KeyScores::substitute, 5, 1.5},
    {"diminished_up", &KeyScores::diminished_up, 5},
};
constexpr int kFolds = 5;

// A song is in the same fold on every machine.
int fold_of(const std::string& song) {
    unsigned sum = 17;
    for (const char c : song) sum = sum * 31 + static_cast<unsigned char>(c);
    return static_cast<int>((sum >> 4) % kFolds);
}

struct Tally {
    double home_of_solos = 0, solos = 0;
    double home_of_songs = 0, songs = 0;
    double local_time = 0, time = 0;
    double doubt_of_solos = 0, doubt_of_songs = 0;  // 1 minus the share of belief in the right home

    void add(const Tally& other) {
        home_of_solos += other.home_of_solos;
        solos += other.solos;
        home_of_songs += other.home_of_songs;
        songs += other.songs;
        local_time += other.local_time;
        time += other.time;
        doubt_of_solos += other.doubt_of_solos;
        doubt_of_songs += other.doubt_of_songs;
    }
    // What the fit makes small: doubt is smooth where right and wrong are not, and a hopeless chart cannot
    // pull it far.
    [[nodiscard]] double loss() const {
        return doubt_of_solos / std::max(solos, 1.0) + doubt_of_songs / std::max(songs, 1.0) +
               (1 - local_time / std::max(time, 1.0));
    }
    void print(const char* title) const {
        std::printf(
            "%-8s solos: home key %.1f of %.0f; songs: home tonic %.1f, local tonic %.1f; loss %.4f\n", title,
            100 * home_of_solos / solos, solos, 100 * home_of_songs / songs, 100 * local_time / time, loss());
    }
};

double doubt(const KeyReading& reading, const KnownChart& chart) {
    constexpr double kPerUnit = 0.5;  // a home that costs 2 more is believed e times less
    const double least = *std::ranges::min_element(reading.cost_of_home);
    double all = 0;
    double right = 0;
    for (std::size_t key = 0; key < reading.cost_of_home.size(); ++key) {
        const double belief = std::exp(kPerUnit * (least - reading.cost_of_home[key]));
        all += belief;
        const bool minor = key / 12 == static_cast<std::size_t>(Ground::Minor);
        const bool mode_fits = !chart.home || minor == (chart.home->ground == Ground::Minor);
        if (static_cast<int>(key % 12) == chart.home_tonic && mode_fits) right += belief;
    }
    return 1 - right / all;
}

Tally measure(const KnownChart& chart, const KeyScores& scores) {
    const KeyReading reading = find_keys(chart.chords, std::nullopt, scores);
    Tally out;
    if (chart.home) {
        const bool mode_fits =
            (reading.home.ground == Ground::Minor) == (chart.home->ground == Ground::Minor);
        out.solos = 1;
        out.home_of_solos = reading.home.tonic == chart.home_tonic && mode_fits ? 1 : 0;
        out.doubt_of_solos = doubt(reading, chart);
        return out;
    }
    out.songs = 1;
    out.home_of_songs = reading.home.tonic == chart.home_tonic ? 1 : 0;
    out.doubt_of_songs = doubt(reading, chart);
    for (std::size_t i = 0; i < chart.chords.size(); ++i) {
        out.time += chart.chords[i].beats;
        if (reading.keys[i].tonic == chart.tonics[i]) out.local_time += chart.chords[i].beats;
    }
    return out;
}

// Over the songs of one fold, or of all others; -1 for all.
Tally measure(const std::vector<KnownChart>& charts, const KeyScores& scores, int fold, bool inside) {
    Tally out;
    for (const KnownChart& chart : charts) {
        if (fold < 0 || (fold_of(chart.song) == fold) == inside) out.add(measure(chart, scores));
    }
    return out;
}

// Changes a few weights at a time, by steps that grow while they help and shrink while they do not, and keeps
// what lowers the loss. The answer is the middle of where it stood in the second half, not the luckiest
// place.
class Search {
  public:
    Search(const std::vector<KnownChart>& charts, int left_out) : charts_{charts}, left_out_{left_out} {}

    KeyScores run() {
        constexpr int kTrials = 600;
        constexpr std::uint32_t kOneIn = 6;
        Logs here = kStart;
        double least = loss(here);
        Logs sum{};
        double step = 0.3;
        for (int trial = 0; trial < kTrials; ++trial) {
            Logs next = here;
            for (double& log : next) {
                if (below(kOneIn) == 0) log += step * bell();
            }
            const double reached = loss(next);
            const bool helps = reached < least;
            if (helps) {
                least = reached;
                here = next;
            }
            step = std::clamp(step * (helps ? 1.3 : 0.96), 0.05, 0.6);
            if (trial < kTrials / 2) continue;
            for (std::size_t i = 0; i < sum.size(); ++i) sum[i] += here[i] / (kTrials - kTrials / 2);
        }
        return scores_of(sum);
    }

  private:
    // Logarithms of all weights, then of the levels between the ends.
    static constexpr std::size_t kLevels = std::tuple_size_v<decltype(KeyScores::level)>;
    using Logs = std::array<double, std::size(kWeights) + kLevels - 2>;
    inline static const Logs kStart = [] {
        Logs out{};
        std::size_t i = 0;
        for (const Weight& weight : kWeights) out[i++] = std::log(key_scores().*weight.member);
        for (std::size_t level = 1; level + 1 < kLevels; ++level)
            out[i++] = std::log(key_scores().level[level]);
        return out;
    }();

    static KeyScores scores_of(const Logs& logs) {
        KeyScores out = key_scores();
        std::size_t i = 0;
        for (const Weight& weight : kWeights)
            out.*weight.member = std::clamp(std::exp(logs[i++]), weight.least, weight.most);
        for (std::size_t level = 1; level + 1 < kLevels; ++level) out.level[level] = std::exp(logs[i++]);
        std::ranges::sort(out.level);
        return out;
    }

    // To leave the values it began with has a price: what the songs do not clearly ask for stays as it is.
    double loss(const Logs& logs) const {
        constexpr double kPrice = 0.003;
        double away = 0;
        for (std::size_t i = 0; i < logs.size(); ++i) away += (logs[i] - kStart[i]) * (logs[i] - kStart[i]);
        return measure(charts_, scores_of(logs), left_out_, false).loss() + kPrice * away;
    }

    // The standard library's distributions differ from one compiler to the next; these do not.
    std::uint32_t below(std::uint32_t n) { return static_cast<std::uint32_t>(random_()) % n; }
    double bell() {
        double sum = 0;
        for (int i = 0; i < 12; ++i) sum += static_cast<double>(random_()) / 4294967296.0;
        return sum - 6;
    }

    const std::vector<KnownChart>& charts_;
    int left_out_;
    std::mt19937 random_{1};
};

void print(const KeyScores& scores) {
    std::printf("level {");
    for (std::size_t i = 0; i < scores.level.size(); ++i)
        std::printf("%s%.3g", i == 0 ? "" : ", ", scores.level[i]);
    std::printf("}\n");
    for (const Weight& weight : kWeights) {
        std::printf("%-18s %.3g   (now %.3g)\n", std::string{weight.name}.c_str(), scores.*weight.member,
                    key_scores().*weight.member);
    }
}

using BySong = std::map<std::string, Tally>;

// A share of all songs, and its standard error over songs (of a ratio of sums).
struct Share {
    double value = 0;
    double error = 0;
};
template <class Right, class Of>
Share share(const BySong& songs, Right right, Of of) {
    double sum_right = 0;
    double sum_of = 0;
    double count = 0;
    for (const auto& [song, tally] : songs) {
        sum_right += right(song, tally);
        sum_of += of(tally);
        if (of(tally) > 0) ++count;
    }
    Share out{100 * sum_right / sum_of, 0};
    double squares = 0;
    for (const auto& [song, tally] : songs) {
        const double off = right(song, tally) - out.value / 100 * of(tally);
        squares += off * off;
    }
    out.error = 100 * std::sqrt(squares * count / (count - 1)) / sum_of;
    return out;
}

void cross_validate(const std::vector<KnownChart>& charts) {
    BySong fitted;
    BySong now;
    for (int fold = 0; fold < kFolds; ++fold) {
        const KeyScores scores = Search{charts, fold}.run();
        Tally unseen;
        for (const KnownChart& chart : charts) {
            if (fold_of(chart.song) != fold) continue;
            const Tally tally = measure(chart, scores);
            unseen.add(tally);
            fitted[chart.song].add(tally);
            now[chart.song].add(measure(chart, key_scores()));
        }
        unseen.print("fold");
    }
    const auto report = [&](const char* what, double Tally::*right, double Tally::*all) {
        const auto of = [all](const Tally& tally) { return tally.*all; };
        const auto own = [right](const std::string&, const Tally& tally) { return tally.*right; };
        const auto gain = [&](const std::string& song, const Tally& tally) {
            return tally.*right - now.at(song).*right;
        };
        const Share as_now = share(now, own, of);
        const Share unseen = share(fitted, own, of);
        const Share more = share(fitted, gain, of);
        std::printf("%-22s now %.1f +-%.1f, fitted on other songs %.1f +-%.1f, gain %+.1f +-%.1f\n", what,
                    as_now.value, as_now.error, unseen.value, unseen.error, more.value, more.error);
    };
    report("home key of solos", &Tally::home_of_solos, &Tally::solos);
    report("home tonic of songs", &Tally::home_of_songs, &Tally::songs);
    report("local tonic of songs", &Tally::local_time, &Tally::time);
}

int run(int argc, char** argv) {
    if (argc < 2) {
        std::printf("usage: fit_keys REFERENCE [--cross | --now]\n");
        return 2;
    }
    const std::vector<KnownChart> charts = read_known_charts(argv[1]);
    const std::string_view mode = argc > 2 ? argv[2] : "";
    measure(charts, key_scores(), -1, true).print("now");
    if (mode == "--now") return 0;
    if (mode == "--cross") {
        cross_validate(charts);
        return 0;
    }
    const KeyScores fitted = Search{charts, -1}.run();
    measure(charts, fitted, -1, true).print("fitted");
    print(fitted);
    return 0;
}

}  // namespace
}  // namespace shedbook

int main(int argc, char** argv) {
    return shedbook::run(argc, argv);
}
