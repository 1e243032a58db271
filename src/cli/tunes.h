// Tunes from files, ready for a command.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/book/book.h"

namespace shedbook {

// To standard error, in order.
void print(const Diagnostics& diagnostics);

struct TuneOptions {
    std::string part;       // of a score with several
    std::string transpose;  // as --transpose takes it; empty: as it is
    Palette palette = Palette::Usual;
};

// Reads a chart and brings it to concert pitch and the key asked for. Prints what there is to say; InputError
// if it cannot be read, FileError if it cannot be opened.
[[nodiscard]] Chart load_chart(const std::string& path, const TuneOptions& options);
// The same, unfolded and understood.
[[nodiscard]] Tune load_tune(const std::string& path, const TuneOptions& options);
// All of them; every one is read before the first error ends it, so that all faults are seen.
[[nodiscard]] std::vector<Tune> load_tunes(const std::vector<std::string>& paths, const TuneOptions& options);

// In what meter drills on these tunes are where nothing was said: those of a waltz are waltzes; tunes in
// compound meters keep drills in 4/4, whose cells would land off the beat there. Nothing: as the drill says.
[[nodiscard]] std::optional<Meter> meter_for_drills(const std::vector<Tune>& tunes);

[[nodiscard]] Palette palette_of(const std::string& word);

}  // namespace shedbook
