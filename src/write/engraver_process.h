// The engraver (LilyPond, a program of its own): how it is run, and what it says.
#pragma once

#include <functional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "engraver_text.h"
#include "shedbook/io/temporary_folder.h"

namespace shedbook {

// What Debian's package needs to find its own compiled Scheme; it is twice as slow without.
[[nodiscard]] std::vector<std::pair<std::string, std::string>> engraver_environment();

// Which engraver this is: another one sets other pages. MissingProgram if there is none.
[[nodiscard]] std::string engraver_identity();

// Runs it in a folder; what it said of each of the files `names` (without ending), in order. FailedProgram if
// it fails, Stopped if somebody asked to stop. `on_pages`: how many are set, some times a second.
[[nodiscard]] std::vector<std::string> run_engraver(const TemporaryFolder& folder,
                                                    const std::vector<std::string>& options,
                                                    const std::vector<std::string>& names,
                                                    const std::function<void(int pages)>& on_pages = {});

// Writes a file for it: NAME.ly.
void put(const TemporaryFolder& folder, const std::string& name, std::string_view preamble,
         std::span<const EngraverPart> parts);

struct EngravedPart {
    int key = kNoKey;
    int pages = 0;
    double wide = 1;      // the widest that stands over the margins, as a multiple of the line
    std::string warning;  // the last one; empty: none
    [[nodiscard]] bool is_at_fault() const { return wide > 1 || !warning.empty(); }
};
struct Engraved {
    std::vector<EngravedPart> parts;
    std::string fault;  // a warning behind all of them
    [[nodiscard]] int pages() const;
};
[[nodiscard]] Engraved read_engraver(std::string_view said);

}  // namespace shedbook
