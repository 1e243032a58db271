// Compressed MusicXML (.mxl), a zip file with one score in it; and several files in one zip.
#pragma once

#include <functional>
#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

#include "shedbook/base/diagnostics.h"

namespace shedbook {

// Limits on what is unpacked; beyond them a file is refused before its content is looked at.
inline constexpr int kMostZipEntries = 256;
inline constexpr int kMostZipRatio = 250;  // unpacked to packed, for entries above 1 MiB

[[nodiscard]] bool looks_like_zip(const std::string& bytes);

// The score inside: what META-INF/container.xml names, else, with a warning, the first XML file. Refuses
// unsafe names, links, encrypted and doubled entries, containers with entities of their own or that point
// outside, entries of another size than is said, and more than kLargestDocument bytes unpacked. Nothing is
// ever written to disk.
[[nodiscard]] std::optional<std::string> read_mxl(const std::string& name, const std::string& bytes,
                                                  Diagnostics& diagnostics);

// Writes `path` as .mxl with the score that `produce` prints, called "score.musicxml" inside. Same score,
// same bytes. The score goes through a temporary file, so memory does not grow with it. Whole or not at all,
// as write_atomically.
void write_mxl(const std::string& path, const std::function<void(std::ostream&)>& produce);

// A file of the disk, and what it is called inside; a folder stands before a slash.
struct PackedFile {
    std::string name;
    std::string path;
};
// Writes them as one zip, each with the time of its last change. Whole or not at all, as write_atomically;
// FileError also where one of the files is gone.
void write_zip(const std::string& path, const std::vector<PackedFile>& files);

}  // namespace shedbook
