#include <zip.h>

#include <algorithm>
#include <cerrno>
#include <cstdint>
#include <cstring>
#include <fstream>
#include <memory>
#include <ostream>
#include <string_view>
#include <vector>

#include "beside.h"
#include "shedbook/io/files.h"
#include "shedbook/io/zip.h"

namespace shedbook {
namespace {

constexpr std::string_view kMediaType = "application/vnd.recordare.musicxml";
constexpr std::string_view kContainer =
    "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
    "<container>\n"
    "  <rootfiles>\n"
    "    <rootfile full-path=\"score.musicxml\" media-type=\"application/vnd.recordare.musicxml+xml\"/>\n"
    "  </rootfiles>\n"
    "</container>\n";
// DOS time of 1980-01-01 00:00, the beginning of the format's calendar: same score, same bytes.
constexpr std::uint16_t kDosDate = (0U << 9U) | (1U << 5U) | 1U;
constexpr std::uint16_t kDosTime = 0;
constexpr std::uint32_t kCompressionLevel = 6;
// What is packed within itself already.
constexpr std::string_view kPackedEndings[] = {".pdf", ".mxl", ".flac", ".png"};

[[noreturn]] void fail(const std::string& path, const std::string& why) {
    throw FileError(path + ": cannot be written: " + why);
}

// One that is being written; what is not closed leaves no file.
class NewZip {
  public:
    // `named`: how messages call it.
    NewZip(const std::string& file, const std::string& named) : named_{named} {
        int code = 0;
        errno = 0;
        archive_.reset(zip_open(file.c_str(), ZIP_CREATE | ZIP_TRUNCATE, &code));
        if (archive_ == nullptr) fail(named_, std::strerror(errno));
    }

    // `text` must live until the zip is closed.
    zip_uint64_t add_text(const char* name, std::string_view text, bool compressed) {
        return add(name, zip_source_buffer(archive_.get(), text.data(), text.size(), 0), compressed);
    }
    zip_uint64_t add_file(const char* name, const std::string& file, bool compressed) {
        return add(name, zip_source_file(archive_.get(), file.c_str(), 0, -1), compressed);
    }
    void set_first_day(zip_uint64_t entry) {
        zip_file_set_dostime(archive_.get(), entry, kDosTime, kDosDate, 0);
    }
    void close() {
        if (zip_close(archive_.get()) != 0) fail(named_, zip_strerror(archive_.get()));
        static_cast<void>(archive_.release());  // a successful close has freed it
    }

  private:
    struct Discards {
        void operator()(zip_t* archive) const { zip_discard(archive); }
    };

    zip_uint64_t add(const char* name, zip_source_t* source, bool compressed) {
        zip_t* const archive = archive_.get();
        if (source == nullptr) fail(named_, zip_strerror(archive));
        const zip_int64_t index = zip_file_add(archive, name, source, ZIP_FL_ENC_UTF_8);
        if (index < 0) {
            zip_source_free(source);
            fail(named_, zip_strerror(archive));
        }
        const auto at = static_cast<zip_uint64_t>(index);
        zip_set_file_compression(archive, at, compressed ? ZIP_CM_DEFLATE : ZIP_CM_STORE,
                                 compressed ? kCompressionLevel : 0);
        zip_file_set_external_attributes(archive, at, 0, ZIP_OPSYS_DOS, 0);
        return at;
    }

    const std::string& named_;
    std::unique_ptr<zip_t, Discards> archive_;
};

bool is_packed(std::string_view name) {
    return std::ranges::any_of(kPackedEndings,
                               [&](std::string_view ending) { return name.ends_with(ending); });
}

}  // namespace

void write_mxl(const std::string& path, const std::function<void(std::ostream&)>& produce) {
    const FileBeside score{path + ".score"};
    {
        std::vector<char> buffer(64 * 1024);
        errno = 0;
        std::ofstream out;
        out.rdbuf()->pubsetbuf(buffer.data(), static_cast<std::streamsize>(buffer.size()));
        out.open(score.temporary(), std::ios::binary | std::ios::trunc);
        if (!out) fail(path, std::strerror(errno));
        produce(out);
        out.close();
        if (!out) fail(path, std::strerror(errno));
    }
    FileBeside beside{path};
    NewZip archive{beside.temporary(), path};
    archive.set_first_day(archive.add_text("mimetype", kMediaType, false));
    archive.set_first_day(archive.add_text("META-INF/container.xml", kContainer, true));
    archive.set_first_day(archive.add_file("score.musicxml", score.temporary(), true));
    archive.close();
    beside.keep();
}

void write_zip(const std::string& path, const std::vector<PackedFile>& files) {
    FileBeside beside{path};
    NewZip archive{beside.temporary(), path};
    for (const PackedFile& file : files)
        archive.add_file(file.name.c_str(), file.path, !is_packed(file.name));
    archive.close();
    beside.keep();
}

}  // namespace shedbook
