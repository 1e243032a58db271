// Broken inputs, made from good ones by chance and the same on every run. What the fuzz targets do for hours,
// in short.
#include <catch2/catch.hpp>
#include <filesystem>
#include <set>

#include "chart/random_chart.h"
#include "shedbook/chart/readers.h"
#include "shedbook/io/files.h"

namespace shedbook {
namespace {

struct Seed {
    std::string name;  // its ending chooses the reader
    std::string text;
};

// The inputs of all cases, and the sample charts as JSON.
std::vector<Seed> seeds() {
    std::set<std::string> files;
    const std::string root = SHEDBOOK_SOURCE_DIR;
    for (const auto& entry : std::filesystem::directory_iterator{root + "/tests/cases"})
        files.insert(entry.path().string());
    std::vector<Seed> out;
    for (const std::string& file : files) {
        const std::string text = read_file(file);
        const std::size_t mark = text.find("--- x.");
        if (mark == std::string::npos) continue;
        const std::size_t begin = text.find('\n', mark) + 1;
        out.push_back({text.substr(mark + 4, begin - mark - 5),
                       text.substr(begin, text.find("\n--- ", begin) - begin)});
    }
    for (std::uint32_t i = 0; i < 8; ++i) {
        Diagnostics ignored;
        out.push_back({"x.json", write_chart_json(random_chart(i, {true, true, true}), ignored)});
    }
    return out;
}

// A few changes: characters lost, doubled, swapped for others of the same text or for signs that mean
// something.
std::string mutated(std::string text, const std::vector<Seed>& all, Chance& chance) {
    static const std::string kSigns = "|:%/;[]()<>\"'{}0129#b\n\x80\xFF.,-";
    const int changes = 1 + chance.below(6);
    for (int i = 0; i < changes && !text.empty(); ++i) {
        const auto at = static_cast<std::size_t>(chance.below(static_cast<int>(text.size())));
        const auto length = static_cast<std::size_t>(1 + chance.below(12));
        switch (chance.below(5)) {
            case 0:
                text.erase(at, length);
                break;
            case 1:
                text.insert(at, text.substr(at, length));
                break;
            case 2:
                text[at] = kSigns[static_cast<std::size_t>(chance.below(static_cast<int>(kSigns.size())))];
                break;
            case 3:
                text.insert(at, 1,
                            kSigns[static_cast<std::size_t>(chance.below(static_cast<int>(kSigns.size())))]);
                break;
            default: {
                const std::string& other =
                    all[static_cast<std::size_t>(chance.below(static_cast<int>(all.size())))].text;
                if (other.empty()) break;
                const auto from = static_cast<std::size_t>(chance.below(static_cast<int>(other.size())));
                text.insert(at, other.substr(from, length));
                break;
            }
        }
    }
    return text;
}

}  // namespace

TEST_CASE("broken charts of every form are read or refused with a message, never worse",
          "[chart][mutation]") {
    const std::vector<Seed> all = seeds();
    REQUIRE(all.size() > 50);
    Chance chance{7};
    int taken = 0;
    int refused = 0;
    for (int round = 0; round < 12; ++round) {
        for (const Seed& seed : all) {
            const std::string text = mutated(seed.text, all, chance);
            INFO(seed.name << "\n" << text);
            Diagnostics diagnostics;
            const auto chart = read_chart(seed.name, text, {}, diagnostics);
            REQUIRE(chart.has_value() != diagnostics.has_errors());
            (chart ? taken : refused) += 1;
            if (!chart) continue;
            const std::string tidy = write_tune(*chart);
            Diagnostics again;
            const auto other = read_tune(SourceText{"again.tune", tidy}, again);
            std::string messages;
            for (const Diagnostic& diagnostic : again.all()) messages += render(diagnostic);
            INFO(tidy << messages);
            REQUIRE(other);
            REQUIRE(write_tune(*other) == tidy);
        }
    }
    // Both ways are walked.
    CHECK(taken > 100);
    CHECK(refused > 100);
}

}  // namespace shedbook
