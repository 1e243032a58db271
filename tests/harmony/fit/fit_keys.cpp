// Fits the weights of KeyScores, from values that a book would suggest, by steps up and down one weight at a
// time.
//
//     fit_keys REFERENCE            fit on all songs, print the values
//     fit_keys REFERENCE --cross    five-fold cross-validation by song: what to expect on songs not seen, and
//                                   the gain over the values of the book with its standard error over songs
//     fit_keys REFERENCE --now      only measure the values that are compiled in
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <map>
#include <string_view>

#include "known_charts.h"

namespace shedbook {
namespace {

struct Weight {
    std::string_view name;
    double KeyScores::*member;
    int kind;     // weights of one kind move together at first
    double book;  // where the search starts
    double most;  // what still makes musical sense: no more and no less than this
    double least = 0;
};
constexpr double kAny = 100;
constexpr Weight kWeights[]{
    {"duration", &KeyScores::duration, 0, 0.5, 1},
    {"change", &KeyScores::change, 1, 8, 10},
    {"per_fifth", &KeyScores::per_fifth, 1, 1, 1.5},
    {"away", &KeyScores::away, 2, 0.15, kAny},
    {"away_share", &KeyScores::away_share, 2, 3, kAny},
    {"minor", &KeyScores::minor, 3, 2, 2},
    {"blues", &KeyScores::blues, 4, 5, 10, 4},
    {"first_chord", &KeyScores::first_chord, 5, 6, kAny},
    {"last_chord", &KeyScores::last_chord, 6, 6, kAny},
    {"blues_form", &KeyScores::blues_form, 8, 15, 20},
    {"final_cadence", &KeyScores::final_cadence, 7, 8, 12},
    {"turns_back", &KeyScores::turns_back, 5, 2, kAny},
    {"opens_section", &KeyScores::opens_section, 9, 1.5, kAny},
    {"opens_phrase", &KeyScores::opens_phrase, 9, 0.5, kAny},
    {"dominant_tonic", &KeyScores::dominant_tonic, 14, 0.5, 1},
    {"minor_seventh_tonic", &KeyScores::minor_seventh_tonic, 14, 0.8, 1, 0.7},
    {"fifth_cadence", &KeyScores::fifth_cadence, 10, 2, kAny},
    {"two_five_one", &KeyScores::two_five_one, 10, 5, 10, 5},
    {"two_five", &KeyScores::two_five, 11, 0.5, kAny},
    {"half_step_cadence", &KeyScores::half_step_cadence, 10, 1.5, kAny},
    {"backdoor", &KeyScores::backdoor, 10, 1, kAny},
    {"plagal", &KeyScores::plagal, 12, 0.7, kAny},
    {"triad_share", &KeyScores::triad_share, 15, 0.5, 1},
    {"applied", &KeyScores::applied, 13, 1.5, 4},
    {"related", &KeyScores::related, 13, 3, 4, 1.5},
    {"substitute", &KeyScores::substitute, 13, 2.5, 5, 1.5},
    {"diminished_up", &KeyScores::diminished_up, 13, 2.5, 5},
};
constexpr std::array<double, 10> kBookLevels{0, 1, 2, 3, 4, 5, 6, 7, 8, 9};
constexpr int kKinds = 16;
constexpr int kFolds = 5;

KeyScores book_scores() {
    KeyScores out;
    for (const Weight& weight : kWeights) out.*weight.member = weight.book;
    out.level = kBookLevels;
    return out;
}

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

class Search {
  public:
    Search(const std::vector<KnownChart>& charts, int left_out) : charts_{charts}, left_out_{left_out} {
        loss_ = loss(scores_);
    }

    KeyScores run() {
        for (const double factor : {1.5, 1.25, 1.12, 1.12}) {
            for (int kind = 0; kind < kKinds; ++kind) {
                try_both_ways(factor, 1e-6, [kind](KeyScores& scores, double by) {
                    for (const Weight& weight : kWeights) {
                        if (weight.kind == kind) scale(scores, weight, by);
                    }
                });
            }
            // The levels keep their order and their ends; their curve changes.
            try_both_ways(1 + (factor - 1) / 3, 1e-6, [](KeyScores& scores, double power) {
                const double top = kBookLevels.back();
                for (double& level : scores.level) level = top * std::pow(level / top, power);
            });
        }
        constexpr double kClearly = 5e-5;
        for (const double factor : {1.5, 1.25, 1.12}) {
            for (const Weight& weight : kWeights) {
                try_both_ways(factor, kClearly,
                              [&](KeyScores& scores, double by) { scale(scores, weight, by); });
            }
            for (std::size_t i = 1; i + 1 < kBookLevels.size(); ++i) {
                try_both_ways(factor, kClearly, [i](KeyScores& scores, double by) { scores.level[i] *= by; });
            }
        }
        return scores_;
    }

  private:
    static void scale(KeyScores& scores, const Weight& weight, double by) {
        scores.*weight.member = std::clamp(scores.*weight.member * by, weight.least, weight.most);
    }
    double loss(const KeyScores& scores) const { return measure(charts_, scores, left_out_, false).loss(); }

    // Up to three steps down, or else up, as long as each gains.
    template <class Move>
    void try_both_ways(double factor, double gain, Move move) {
        for (const double by : {1 / factor, factor}) {
            bool moved = false;
            for (int step = 0; step < 3; ++step) {
                KeyScores next = scores_;
                move(next, by);
                if (!std::ranges::is_sorted(next.level)) break;
                const double reached = loss(next);
                if (reached > loss_ - gain) break;
                loss_ = reached;
                scores_ = next;
                moved = true;
            }
            if (moved) return;
        }
    }

    const std::vector<KnownChart>& charts_;
    int left_out_;
    KeyScores scores_ = book_scores();
    double loss_ = 0;
};

void print(const KeyScores& scores) {
    std::printf("level {");
    for (std::size_t i = 0; i < scores.level.size(); ++i)
        std::printf("%s%.3g", i == 0 ? "" : ", ", scores.level[i]);
    std::printf("}\n");
    for (const Weight& weight : kWeights) {
        std::printf("%-18s %.3g   (book %.3g)\n", std::string{weight.name}.c_str(), scores.*weight.member,
                    weight.book);
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
    BySong book;
    for (int fold = 0; fold < kFolds; ++fold) {
        const KeyScores scores = Search{charts, fold}.run();
        Tally unseen;
        for (const KnownChart& chart : charts) {
            if (fold_of(chart.song) != fold) continue;
            const Tally tally = measure(chart, scores);
            unseen.add(tally);
            fitted[chart.song].add(tally);
            book[chart.song].add(measure(chart, book_scores()));
        }
        unseen.print("fold");
    }
    const auto report = [&](const char* what, double Tally::*right, double Tally::*all) {
        const auto of = [all](const Tally& tally) { return tally.*all; };
        const auto own = [right](const std::string&, const Tally& tally) { return tally.*right; };
        const auto gain = [&](const std::string& song, const Tally& tally) {
            return tally.*right - book.at(song).*right;
        };
        const Share by_book = share(book, own, of);
        const Share unseen = share(fitted, own, of);
        const Share more = share(fitted, gain, of);
        std::printf("%-22s book %.1f +-%.1f, fitted on other songs %.1f +-%.1f, gain %+.1f +-%.1f\n", what,
                    by_book.value, by_book.error, unseen.value, unseen.error, more.value, more.error);
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
