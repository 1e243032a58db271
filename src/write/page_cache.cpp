#include "page_cache.h"

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <iomanip>
#include <ostream>
#include <sstream>

#include "shedbook/base/checksum.h"
#include "shedbook/io/errors.h"
#include "shedbook/io/files.h"

namespace shedbook {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view kEntry = ".part";
constexpr std::size_t kMostOfAFile = 64U * 1024 * 1024;

// 128 bits in hexadecimal, from two beginnings. What it names is compared in full before it is used.
std::string digest(std::string_view text) {
    std::ostringstream out;
    for (const std::uint64_t begin : {kEmptyChecksum, ~kEmptyChecksum})
        out << std::hex << std::setfill('0') << std::setw(16) << checksum(text, begin);
    return out.str();
}

// An entry is a line that says where the pages are and how wide, one with the warning, then the key.
struct Entry {
    std::string file;
    std::uintmax_t bytes = 0;  // of it: another size is another file
    int first = 1;
    int count = 0;
    double wide = 1;
    std::string warning;
};

std::optional<Entry> read_entry(const fs::path& path, const std::string& key) {
    const std::string text = read_file(path.string(), kMostOfAFile);
    const std::size_t end = text.find('\n');
    const std::size_t end_of_warning = end == std::string::npos ? end : text.find('\n', end + 1);
    if (end_of_warning == std::string::npos || text.compare(end_of_warning + 1, std::string::npos, key) != 0)
        return std::nullopt;
    std::istringstream line{text.substr(0, end)};
    Entry out;
    line >> out.file >> out.bytes >> out.first >> out.count >> out.wide;
    out.warning = text.substr(end + 1, end_of_warning - end - 1);
    const bool is_plain = !out.file.empty() && out.file.find('/') == std::string::npos;
    return line && is_plain ? std::optional{out} : std::nullopt;
}

void bring(const fs::path& from, const fs::path& to) {
    if (fs::exists(to)) return;
    std::error_code error;
    fs::create_hard_link(from, to, error);
    if (error) fs::copy_file(from, to);
}

}  // namespace

PageCache::PageCache(std::string folder, std::uintmax_t most) : folder_{std::move(folder)}, most_{most} {}

std::optional<PageCache::Found> PageCache::find(const std::string& key, const std::string& into) const {
    if (folder_.empty()) return std::nullopt;
    try {
        const fs::path path = fs::path{folder_} / (digest(key) + std::string{kEntry});
        if (!fs::exists(path)) return std::nullopt;
        const std::optional<Entry> entry = read_entry(path, key);
        if (!entry) return std::nullopt;
        const fs::path file = fs::path{folder_} / entry->file;
        const fs::path own = fs::path{into} / ("kept-" + entry->file);
        bring(file, own);
        if (fs::file_size(own) != entry->bytes) return std::nullopt;
        std::error_code ignored;
        for (const fs::path& used : {file, path})
            fs::last_write_time(used, fs::file_time_type::clock::now(), ignored);
        return Found{{own.string(), entry->first, entry->count}, entry->wide, entry->warning};
    } catch (const fs::filesystem_error&) {
        return std::nullopt;
    } catch (const FileError&) {
        return std::nullopt;
    }
}

void PageCache::keep(const std::vector<Kept>& parts) const {
    if (folder_.empty() || parts.empty()) return;
    try {
        fs::create_directories(folder_);
        // A book is its player's business.
        fs::permissions(folder_, fs::perms::owner_all);
        const std::string bytes = read_file(parts.front().what.pages.path, kMostOfAFile);
        const std::string name = digest(bytes) + ".pdf";
        write_atomically(folder_ + "/" + name, [&](std::ostream& out) { out << bytes; });
        for (const Kept& part : parts) {
            write_atomically(folder_ + "/" + digest(part.key) + std::string{kEntry}, [&](std::ostream& out) {
                const auto& [pages, wide, warning] = part.what;
                out << name << ' ' << bytes.size() << ' ' << pages.first << ' ' << pages.count << ' ' << wide
                    << '\n'
                    << warning << '\n'
                    << part.key;
            });
        }
        make_room();
    } catch (const fs::filesystem_error&) {
    } catch (const FileError&) {
    }
}

void PageCache::make_room() const {
    struct File {
        fs::file_time_type used;
        std::uintmax_t bytes;
        fs::path path;
    };
    std::vector<File> files;
    std::uintmax_t all = 0;
    for (const auto& file : fs::directory_iterator{folder_}) {
        std::error_code gone;
        files.push_back({file.last_write_time(gone), file.file_size(gone), file.path()});
        if (gone)
            files.pop_back();
        else
            all += files.back().bytes;
    }
    std::ranges::sort(files, {}, &File::used);
    for (const File& file : files) {
        if (all <= most_) return;
        std::error_code ignored;
        fs::remove(file.path, ignored);
        all -= file.bytes;
    }
}

}  // namespace shedbook
