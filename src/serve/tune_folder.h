// The folder of tunes: names in it, texts with their revisions, and the bin. Nothing outside of it is reached
// by any name, and nothing that was there is lost: what is taken away or written over goes to the bin.
//
//     TuneFolder folder{"my-tunes"};
//     folder.save("blue-door", text, revision);                // a revision, or what stands in its place
#pragma once

#include <ctime>
#include <mutex>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace shedbook {

// "2026-11-30T18:02:11Z"
[[nodiscard]] std::string moment_text(std::time_t time);

// A name of a file in the folder, without its ending where that is the usual one.
// Refusal 400 for one that could leave the folder or that no file should have.
void check_file_name(const std::string& name);

struct StoredText {
    std::string text;
    std::string revision;  // of what is in the file
    std::string changed;   // "2026-11-30T18:02:11Z"
};

struct BinEntry {
    std::string id;             // "20261130T184002-1"
    std::string file;           // its name in the folder
    std::string removed;        // when
    bool was_replaced = false;  // something else was written over it
};

[[nodiscard]] std::string revision_of(const std::string& text);

class TuneFolder {
  public:
    // FileError if it is no folder.
    explicit TuneFolder(std::string path);

    [[nodiscard]] const std::string& path() const { return path_; }
    // Its own name, to be shown.
    [[nodiscard]] std::string name() const;
    // Files of charts and lead sheets, by name; and those with that ending.
    [[nodiscard]] std::vector<std::string> chart_files() const;
    [[nodiscard]] std::vector<std::string> files_with(const std::string& ending) const;
    // The file of a tune by its name in an address; nothing if there is none.
    [[nodiscard]] std::optional<std::string> file_of(const std::string& name) const;
    [[nodiscard]] std::string path_of(const std::string& file) const;
    [[nodiscard]] bool has(const std::string& file) const;
    // Something that changes when any file does.
    [[nodiscard]] std::string state() const;

    [[nodiscard]] std::optional<StoredText> read(const std::string& file) const;
    // Writes where the file still has the revision (empty: where there is none yet), else hands back what it
    // has, or nothing where it is gone. `whatever`: writes all the same, and what was there goes to the bin.
    struct Conflict {
        std::optional<StoredText> theirs;
    };
    std::variant<StoredText, Conflict> save(const std::string& file, const std::string& text,
                                            const std::string& revision, bool whatever);
    // False where the new name is taken.
    bool rename(const std::string& from, const std::string& to);
    // Under which id it lies in the bin.
    std::string remove(const std::string& file);

    // The last one first.
    [[nodiscard]] std::vector<BinEntry> bin() const;
    [[nodiscard]] std::optional<BinEntry> in_bin(const std::string& id) const;
    [[nodiscard]] std::string text_in_bin(const BinEntry& entry) const;
    // Back into the folder, under a name that is free; that name.
    std::string put_back(const BinEntry& entry);
    void forget(const BinEntry& entry);
    // "blue-door.tune", or "blue-door-2.tune" where that is taken.
    [[nodiscard]] std::string free_name(const std::string& file) const;

  private:
    std::string to_bin(const std::string& file, bool by_copy);

    std::string path_;
    mutable std::mutex guard_;
};

}  // namespace shedbook
