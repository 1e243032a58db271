// What the numbers of the key search are worth on songs that they were not fitted to.
//
//     fit_keys REFERENCE                   five folds by song, solos and songs together, three seeds, from a
//                                          neutral start: figures of the songs fitted on and of the others,
//                                          and what the others gain over the compiled numbers
//     fit_keys REFERENCE --kinds KB        only some kinds of numbers fitted (search.h)
//     fit_keys REFERENCE --trials 400      steps of each search (200)
//     fit_keys REFERENCE --now             only the compiled numbers, their way to the neutral ones in four
//                                          steps, and those with nearness worked out
//
// Exit status 1 where a figure of the songs fitted on leads the others by more than three points.
#include <cstdio>
#include <cstdlib>
#include <string_view>

#include "judged.h"
#include "search.h"

namespace shedbook {
namespace {

constexpr unsigned kSeeds = 3;
constexpr double kMostLead = 3;  // per cent

// From the compiled numbers to the neutral ones.
struct Step {
    const char* name;
    double share;
};
constexpr Step kSteps[]{{"1/4", 0.25}, {"1/2", 0.5}, {"3/4", 0.75}, {"neutral", 1}};

struct Request {
    std::string_view kinds = kAllKinds;
    int trials = 200;
    bool only_now = false;
};

BySong judged(const std::vector<KnownChart>& charts, const KeyModel& model) {
    BySong out;
    for (const KnownChart& chart : charts) out[chart.song].add(judge(chart, model));
    return out;
}

void print(const char* title, const BySong& songs) {
    std::printf("%-10s", title);
    for (const Figure& figure : kFigures) {
        const Share one = share(songs, figure);
        std::printf("  %s %.1f +-%.1f", figure.name, one.value, one.error);
    }
    std::printf("\n");
}

// Every song judged by the numbers fitted without it, and again by all those fitted with it.
struct Folds {
    BySong unseen;
    BySong seen;
};
Folds fit_folds(const std::vector<KnownChart>& charts, const Request& request, unsigned seed) {
    Folds out;
    for (int fold = 0; fold < kFolds; ++fold) {
        std::vector<const KnownChart*> others;
        for (const KnownChart& chart : charts) {
            if (fold_of(chart.song, seed) != fold) others.push_back(&chart);
        }
        const KeyModel model = fitted_numbers(others, request.kinds, seed, request.trials).model();
        for (const KnownChart& chart : charts) {
            BySong& songs = fold_of(chart.song, seed) == fold ? out.unseen : out.seen;
            songs[chart.song].add(judge(chart, model));
        }
    }
    return out;
}

bool cross_validate(const std::vector<KnownChart>& charts, const Request& request, const BySong& now) {
    double lead[std::size(kFigures)]{};
    for (unsigned seed = 1; seed <= kSeeds; ++seed) {
        const Folds folds = fit_folds(charts, request, seed);
        for (std::size_t i = 0; i < std::size(kFigures); ++i) {
            const Figure& figure = kFigures[i];
            const Share seen = share(folds.seen, figure);
            const Share unseen = share(folds.unseen, figure);
            const Share more = gain(folds.unseen, now, figure);
            lead[i] += (seen.value - unseen.value) / kSeeds;
            std::printf("seed %u  %-22s in-sample %.1f, out-of-fold %.1f +-%.1f, gain %+.1f +-%.1f\n", seed,
                        figure.name, seen.value, unseen.value, unseen.error, more.value, more.error);
        }
        std::fflush(stdout);
    }
    bool honest = true;
    for (std::size_t i = 0; i < std::size(kFigures); ++i) {
        std::printf("lead of in-sample, %-22s %+.1f\n", kFigures[i].name, lead[i]);
        honest = honest && lead[i] <= kMostLead;
    }
    if (!honest) std::printf("too many numbers for these songs: a lead is more than %.0f\n", kMostLead);
    return honest;
}

int run(int argc, char** argv) {
    Request request;
    for (int i = 2; i < argc; ++i) {
        const std::string_view word = argv[i];
        if (word == "--now") request.only_now = true;
        if (word == "--kinds" && i + 1 < argc) request.kinds = argv[++i];
        if (word == "--trials" && i + 1 < argc) request.trials = std::atoi(argv[++i]);
    }
    if (argc < 2 || request.trials < 1) {
        std::printf("usage: fit_keys REFERENCE [--kinds LETTERS] [--trials N] [--now]\n");
        return 2;
    }
    const std::vector<KnownChart> charts = read_known_charts(argv[1]);
    const BySong now = judged(charts, key_model());
    print("compiled", now);
    for (const Step& step : kSteps) print(step.name, judged(charts, shrunk_numbers(step.share).model()));
    print("worked out", judged(charts, neutral_numbers().model()));
    if (request.only_now) return 0;
    return cross_validate(charts, request, now) ? 0 : 1;
}

}  // namespace
}  // namespace shedbook

int main(int argc, char** argv) {
    return shedbook::run(argc, argv);
}
