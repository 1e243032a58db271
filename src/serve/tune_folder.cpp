#include "tune_folder.h"

#include <sys/stat.h>

#include <algorithm>
#include <array>
#include <ctime>
#include <filesystem>
#include <ostream>
#include <system_error>

#include "ask.h"
#include "shedbook/base/checksum.h"
#include "shedbook/base/text.h"
#include "shedbook/chart/readers.h"
#include "shedbook/io/files.h"

namespace shedbook {
namespace {

namespace fs = std::filesystem;

constexpr const char* kBin = ".bin";
constexpr std::size_t kLongestFileName = 120;
constexpr std::string_view kRemoved = "removed";
constexpr std::string_view kReplaced = "replaced";

std::time_t changed_at(const std::string& path) {
    struct stat facts {};
    return stat(path.c_str(), &facts) == 0 ? facts.st_mtime : 0;
}

bool is_chart_name(const std::string& file) {
    const std::string ending = lower_case(fs::path{file}.extension().string());
    return std::ranges::find(chart_readers(), ending, &ChartReader::ending) != chart_readers().end();
}

std::vector<std::string> files_in(const std::string& folder) {
    std::vector<std::string> out;
    std::error_code error;
    for (const auto& entry : fs::directory_iterator{folder, error}) {
        const std::string name = entry.path().filename().string();
        if (!name.starts_with('.') && is_valid_utf8(name) && entry.is_regular_file(error))
            out.push_back(name);
    }
    std::ranges::sort(out);
    return out;
}

// "ID.WHY.NAME"
std::optional<BinEntry> entry_of(const std::string& name) {
    const std::size_t first = name.find('.');
    const std::size_t second = first == std::string::npos ? first : name.find('.', first + 1);
    if (second == std::string::npos) return std::nullopt;
    const std::string why = name.substr(first + 1, second - first - 1);
    if (why != kRemoved && why != kReplaced) return std::nullopt;
    BinEntry out{name.substr(0, first), name.substr(second + 1), "", why == kReplaced};
    return out;
}

std::string name_in_bin(const BinEntry& entry) {
    return entry.id + "." + std::string{entry.was_replaced ? kReplaced : kRemoved} + "." + entry.file;
}

}  // namespace

std::string moment_text(std::time_t time) {
    std::tm parts{};
    gmtime_r(&time, &parts);
    std::array<char, 32> out{};
    std::strftime(out.data(), out.size(), "%Y-%m-%dT%H:%M:%SZ", &parts);
    return out.data();
}

void check_file_name(const std::string& name) {
    const auto refuse = [](const std::string& why) { throw Refusal(400, "a name " + why); };
    if (trimmed(name).empty()) refuse("is missing");
    if (name.size() > kLongestFileName) refuse("has 120 letters at most");
    if (!is_valid_utf8(name)) refuse("is text");
    if (name.front() == '.') refuse("does not begin with a dot");
    if (trimmed(name).size() != name.size()) refuse("neither begins nor ends with a blank");
    for (const char c : name) {
        const bool is_control = static_cast<unsigned char>(c) < 0x20U || c == 0x7F;
        if (is_control || std::string_view{"/\\:*?\"<>|"}.find(c) != std::string_view::npos)
            refuse("has none of / \\ : * ? \" < > |");
    }
}

std::string revision_of(const std::string& text) {
    constexpr std::string_view kDigits = "0123456789abcdef";
    std::uint64_t sum = checksum(text);
    std::string out(16, '0');
    for (std::size_t i = out.size(); i-- > 0; sum >>= 4U) out[i] = kDigits[sum & 0xFU];
    return out;
}

TuneFolder::TuneFolder(std::string path) : path_{std::move(path)} {
    std::error_code error;
    if (!fs::is_directory(path_, error)) throw FileError(path_ + ": there is no such folder");
    path_ = fs::canonical(path_, error).string();
}

std::string TuneFolder::name() const {
    return fs::path{path_}.filename().string();
}

std::vector<std::string> TuneFolder::chart_files() const {
    std::vector<std::string> out = files_in(path_);
    std::erase_if(out, [](const std::string& name) { return !is_chart_name(name); });
    return out;
}

std::vector<std::string> TuneFolder::files_with(const std::string& ending) const {
    std::vector<std::string> out = files_in(path_);
    std::erase_if(out, [&](const std::string& name) { return !lower_case(name).ends_with(ending); });
    return out;
}

std::string TuneFolder::path_of(const std::string& file) const {
    check_file_name(file);
    return path_ + "/" + file;
}

bool TuneFolder::has(const std::string& file) const {
    std::error_code error;
    // A link could lead out of the folder.
    return fs::symlink_status(path_of(file), error).type() == fs::file_type::regular;
}

std::optional<std::string> TuneFolder::file_of(const std::string& name) const {
    check_file_name(name);
    if (has(name + ".tune")) return name + ".tune";
    if (is_chart_name(name) && has(name)) return name;
    return std::nullopt;
}

std::string TuneFolder::state() const {
    std::uint64_t sum = kEmptyChecksum;
    for (const std::string& name : files_in(path_)) {
        struct stat facts {};
        if (stat((path_ + "/" + name).c_str(), &facts) != 0) continue;
        sum = checksum(name + "|" + std::to_string(facts.st_mtim.tv_sec) + "." +
                           std::to_string(facts.st_mtim.tv_nsec) + "|" + std::to_string(facts.st_size),
                       sum);
    }
    return std::to_string(sum);
}

std::optional<StoredText> TuneFolder::read(const std::string& file) const {
    if (!has(file)) return std::nullopt;
    const std::string path = path_of(file);
    StoredText out{read_file(path), "", moment_text(changed_at(path))};
    out.revision = revision_of(out.text);
    return out;
}

std::variant<StoredText, TuneFolder::Conflict> TuneFolder::save(const std::string& file,
                                                                const std::string& text,
                                                                const std::string& revision, bool whatever) {
    const std::lock_guard hold{guard_};
    std::optional<StoredText> there = read(file);
    if (there && there->text == text) return *there;
    const bool is_as_known = there ? there->revision == revision : revision.empty();
    if (!is_as_known && !whatever) return Conflict{std::move(there)};
    if (there && !is_as_known) to_bin(file, true);
    write_atomically(path_of(file), [&](std::ostream& out) { out << text; });
    return StoredText{text, revision_of(text), moment_text(changed_at(path_of(file)))};
}

bool TuneFolder::rename(const std::string& from, const std::string& to) {
    const std::lock_guard hold{guard_};
    std::error_code error;
    if (fs::exists(path_of(to), error)) return false;
    fs::rename(path_of(from), path_of(to), error);
    if (error) throw FileError(from + ": cannot be renamed: " + error.message());
    return true;
}

// Where a copy is taken the file itself stays, so that it is there at every moment.
std::string TuneFolder::to_bin(const std::string& file, bool by_copy) {
    const std::string folder = path_ + "/" + kBin;
    std::error_code error;
    fs::create_directories(folder, error);
    std::string now = moment_text(std::time(nullptr));
    std::erase_if(now, [](char c) { return c == '-' || c == ':' || c == 'Z'; });
    BinEntry entry{"", file, "", by_copy};
    for (int i = 1;; ++i) {
        entry.id = now + "-" + std::to_string(i);
        if (!in_bin(entry.id)) break;
    }
    const std::string to = folder + "/" + name_in_bin(entry);
    by_copy ? static_cast<void>(fs::copy_file(path_of(file), to, error))
            : fs::rename(path_of(file), to, error);
    if (error) throw FileError(file + ": cannot be moved to the bin: " + error.message());
    return entry.id;
}

std::string TuneFolder::remove(const std::string& file) {
    const std::lock_guard hold{guard_};
    return to_bin(file, false);
}

std::vector<BinEntry> TuneFolder::bin() const {
    std::vector<BinEntry> out;
    std::error_code error;
    for (const auto& each : fs::directory_iterator{path_ + "/" + kBin, error}) {
        std::optional<BinEntry> entry = entry_of(each.path().filename().string());
        if (!entry || !is_valid_utf8(entry->file)) continue;
        const std::string& id = entry->id;
        // 20261130T184002-1
        constexpr std::size_t kShortestId = 17;
        if (id.size() < kShortestId) continue;
        entry->removed = id.substr(0, 4) + "-" + id.substr(4, 2) + "-" + id.substr(6, 5) + ":" +
                         id.substr(11, 2) + ":" + id.substr(13, 2) + "Z";
        out.push_back(*std::move(entry));
    }
    std::ranges::sort(out, std::ranges::greater{}, &BinEntry::id);
    return out;
}

std::optional<BinEntry> TuneFolder::in_bin(const std::string& id) const {
    for (BinEntry& entry : bin()) {
        if (entry.id == id) return std::move(entry);
    }
    return std::nullopt;
}

std::string TuneFolder::text_in_bin(const BinEntry& entry) const {
    return read_file(path_ + "/" + kBin + "/" + name_in_bin(entry));
}

std::string TuneFolder::free_name(const std::string& file) const {
    const fs::path path{file};
    std::error_code error;
    std::string out = file;
    for (int i = 2; fs::exists(path_of(out), error); ++i)
        out = path.stem().string() + "-" + std::to_string(i) + path.extension().string();
    return out;
}

std::string TuneFolder::put_back(const BinEntry& entry) {
    const std::lock_guard hold{guard_};
    std::string name = free_name(entry.file);
    std::error_code error;
    fs::rename(path_ + "/" + kBin + "/" + name_in_bin(entry), path_of(name), error);
    if (error) throw FileError(entry.file + ": cannot be put back: " + error.message());
    return name;
}

void TuneFolder::forget(const BinEntry& entry) {
    const std::lock_guard hold{guard_};
    std::error_code error;
    fs::remove(path_ + "/" + kBin + "/" + name_in_bin(entry), error);
    if (error) throw FileError(entry.file + ": cannot be removed: " + error.message());
}

}  // namespace shedbook
