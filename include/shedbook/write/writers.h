// The table of output formats, found by the ending of the file's name. A new format is a row.
//
//     const Writer* writer = find_writer("book.mxl");
//     writer->write("book.mxl", [&](BlockSink& sink) { assemble(plan, sink); }, {});
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "shedbook/base/enum_table.h"
#include "shedbook/io/data.h"
#include "shedbook/notation/document.h"
#include "shedbook/write/sound_options.h"

namespace shedbook {

// Tablet: a screen of 4:3 across, larger staves, one page at a time.
enum class Paper { A4, Letter, Tablet };
template <>
inline constexpr Worded<Paper> kWords<Paper>[] = {
    {Paper::A4, "a4"}, {Paper::Letter, "letter"}, {Paper::Tablet, "tablet"}};

// How loud a line and its band are, each by itself, in LUFS; nothing: silent.
struct SideLoudness {
    std::optional<double> line;
    std::optional<double> band;
};

struct WriteOptions {
    Paper paper = Paper::A4;
    SoundOptions sound;
    int page = 1;            // of a picture
    bool uses_cache = true;  // pages that were set before are taken from the user's cache folder
    // What the log knows a piece as, by its number: for writers whose readers tick. Asked once all of the
    // document is there.
    std::function<Data(const std::string& number)> item_of = {};
    // How many pages are set, of how many: called by writers of pages as they come.
    std::function<void(int done, int of)> on_pages = {};
    // Of sound: what was measured of the same music before, at whatever tempo; where it holds nothing yet, it
    // is measured and left there. Null: it is measured each time.
    std::shared_ptr<std::optional<SideLoudness>> loudness = {};
};

struct Writer {
    std::string_view ending;  // ".mxl"
    std::string_view what;    // in words
    // Calls `assemble` once. The file appears whole or not at all.
    void (*write)(const std::string& path, const std::function<void(BlockSink&)>& assemble,
                  const WriteOptions& options);
    unsigned traits = 0;
    static constexpr unsigned kSound = 1;    // takes WriteOptions::sound
    static constexpr unsigned kPages = 2;    // takes WriteOptions::paper
    static constexpr unsigned kPicture = 4;  // of one page: takes WriteOptions::page
    static constexpr unsigned kScore = 8;    // holds several parts; else the first is written
    static constexpr unsigned kScreen = 16;  // for a browser
    [[nodiscard]] constexpr bool has(unsigned trait) const { return (traits & trait) != 0; }
};

[[nodiscard]] std::span<const Writer> writers();
// The endings of those with a trait (0: of all), in their order, as a reader says it: ".svg, .png".
[[nodiscard]] std::string writer_endings(unsigned trait = 0);
// What this machine lacks for sound, or for pages, in words; empty: nothing.
[[nodiscard]] std::string missing_for_sound(const std::string& sound_font);
[[nodiscard]] std::string missing_for_pages();
// Null if no writer has that ending.
[[nodiscard]] const Writer* find_writer(std::string_view file_name);

}  // namespace shedbook
