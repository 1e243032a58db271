#include "shedbook/io/zip.h"

#include <zip.h>

#include <algorithm>
#include <cstdint>
#include <memory>
#include <set>
#include <string_view>
#include <vector>

#include "mxl_container.h"
#include "shedbook/io/files.h"

namespace shedbook {
namespace {

constexpr std::uint64_t kSmall = 1024 * 1024;  // below this a high ratio proves nothing

struct ZipCloser {
    void operator()(zip_t* archive) const { zip_discard(archive); }
    void operator()(zip_file_t* file) const { zip_fclose(file); }
};
using Archive = std::unique_ptr<zip_t, ZipCloser>;
using Entry = std::unique_ptr<zip_file_t, ZipCloser>;

bool is_unsafe_name(std::string_view name) {
    if (name.empty() || name.front() == '/' || name.find('\\') != std::string_view::npos) return true;
    if (name.size() > 1 && name[1] == ':') return true;
    while (!name.empty()) {
        const std::size_t slash = name.find('/');
        if (name.substr(0, slash) == "..") return true;
        if (slash == std::string_view::npos) break;
        name.remove_prefix(slash + 1);
    }
    return false;
}

bool is_link(zip_t* archive, zip_uint64_t index) {
    zip_uint8_t system = 0;
    zip_uint32_t attributes = 0;
    if (zip_file_get_external_attributes(archive, index, 0, &system, &attributes) != 0) return false;
    constexpr zip_uint32_t kTypeMask = 0170000U;
    constexpr zip_uint32_t kLink = 0120000U;
    return system == ZIP_OPSYS_UNIX && ((attributes >> 16U) & kTypeMask) == kLink;
}

// Reads .mxl files with every limit checked before and while unpacking.
class MxlReader {
  public:
    MxlReader(const std::string& name, Diagnostics& diagnostics) : name_{name}, diagnostics_{diagnostics} {}

    std::optional<std::string> read(const std::string& bytes) {
        zip_error_t error;
        zip_error_init(&error);
        zip_source_t* source = zip_source_buffer_create(bytes.data(), bytes.size(), 0, &error);
        archive_.reset(source != nullptr ? zip_open_from_source(source, ZIP_RDONLY | ZIP_CHECKCONS, &error)
                                         : nullptr);
        if (archive_ == nullptr) {
            if (source != nullptr) zip_source_free(source);
            const std::string why = zip_error_strerror(&error);
            zip_error_fini(&error);
            return refuse("the zip file is damaged (" + why + ")");
        }
        zip_error_fini(&error);
        if (!check_entries()) return std::nullopt;
        const std::optional<std::string> score = score_name();
        if (!score) return std::nullopt;
        return unpack(*score);
    }

  private:
    std::nullopt_t refuse(const std::string& why) {
        diagnostics_.error_at(name_, why);
        return std::nullopt;
    }

    bool check_entries() {
        const zip_int64_t count = zip_get_num_entries(archive_.get(), 0);
        if (count <= 0 || count > kMostZipEntries) {
            refuse("the zip file has " + std::to_string(count) + " entries; a score has 1 to " +
                   std::to_string(kMostZipEntries));
            return false;
        }
        std::set<std::string, std::less<>> seen;
        for (zip_uint64_t i = 0; i < static_cast<zip_uint64_t>(count); ++i) {
            if (const std::string why = fault_of(i, seen); !why.empty()) {
                refuse(why);
                return false;
            }
        }
        return true;
    }

    std::string fault_of(zip_uint64_t index, std::set<std::string, std::less<>>& seen) {
        zip_stat_t stat;
        zip_stat_init(&stat);
        if (zip_stat_index(archive_.get(), index, 0, &stat) != 0 || stat.name == nullptr) {
            return "the zip file's list of entries is damaged";
        }
        const std::string name = stat.name;
        if (is_unsafe_name(name)) return "unsafe entry name in the zip file: '" + name + "'";
        if (is_link(archive_.get(), index)) return "the zip file holds a link: '" + name + "'";
        if (!seen.insert(name).second) return "entry twice in the zip file: '" + name + "'";
        if ((stat.valid & ZIP_STAT_ENCRYPTION_METHOD) != 0 && stat.encryption_method != ZIP_EM_NONE) {
            return "the zip file is encrypted: '" + name + "'";
        }
        if (stat.size > kLargestDocument) return "entry '" + name + "' unpacks to more than 32 MiB";
        if (stat.size > kSmall &&
            stat.size > static_cast<zip_uint64_t>(kMostZipRatio) * (stat.comp_size + 1)) {
            return "entry '" + name + "' is packed more tightly than any score is";
        }
        names_.push_back(name);
        return {};
    }

    // Counts bytes while unpacking: the header may lie. The library checks the CRC at the end.
    std::optional<std::string> unpack(const std::string& name) {
        const Entry entry{zip_fopen(archive_.get(), name.c_str(), 0)};
        if (entry == nullptr) return refuse("entry '" + name + "' cannot be unpacked");
        std::string out;
        std::vector<char> chunk(64 * 1024);
        while (true) {
            const zip_int64_t got = zip_fread(entry.get(), chunk.data(), chunk.size());
            if (got < 0) return refuse("entry '" + name + "' is damaged");
            if (got == 0) break;
            out.append(chunk.data(), static_cast<std::size_t>(got));
            if (out.size() > kLargestDocument)
                return refuse("entry '" + name + "' unpacks to more than 32 MiB");
        }
        zip_stat_t stat;
        zip_stat_init(&stat);
        const bool is_known =
            zip_stat(archive_.get(), name.c_str(), 0, &stat) == 0 && (stat.valid & ZIP_STAT_SIZE) != 0;
        if (is_known && stat.size != out.size()) {
            return refuse("entry '" + name + "' has " + std::to_string(out.size()) +
                          " bytes, and the zip file says " + std::to_string(stat.size));
        }
        return out;
    }

    [[nodiscard]] bool has(std::string_view name) const {
        return std::ranges::find(names_, name) != names_.end();
    }

    // What the container names (MusicXML 4.0, "Compressed .mxl files": the full-path of the first rootfile).
    // Where it names nothing that is there, the first score is taken, and it is said.
    std::optional<std::string> score_name() {
        constexpr const char* kContainerName = "META-INF/container.xml";
        if (!has(kContainerName)) return first_score("it has no META-INF/container.xml");
        const std::optional<std::string> container = unpack(kContainerName);
        if (!container) return std::nullopt;
        const ContainerPath found = path_in_container(*container, names_);
        if (!found.refusal.empty()) return refuse(found.refusal);
        if (found.path.empty()) return first_score("its container names no score");
        if (is_unsafe_name(found.path))
            return refuse("its container points out of the zip file: '" + found.path + "'");
        if (!has(found.path))
            return first_score("its container names '" + found.path + "', which is not in the zip file");
        return found.path;
    }

    std::optional<std::string> first_score(const std::string& why) {
        for (const std::string& name : names_) {
            if (name.starts_with("META-INF/") || (!name.ends_with(".xml") && !name.ends_with(".musicxml")))
                continue;
            diagnostics_.warning_at(name_, why, "the first score in it is taken: '" + name + "'");
            return name;
        }
        return refuse(why + ", and it holds no score");
    }

    const std::string& name_;
    Diagnostics& diagnostics_;
    Archive archive_;
    std::vector<std::string> names_;
};

}  // namespace

bool looks_like_zip(const std::string& bytes) {
    return bytes.starts_with("PK\x03\x04");
}

std::optional<std::string> read_mxl(const std::string& name, const std::string& bytes,
                                    Diagnostics& diagnostics) {
    return MxlReader{name, diagnostics}.read(bytes);
}

}  // namespace shedbook
