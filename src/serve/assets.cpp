#include "assets.h"

#include <array>
#include <filesystem>
#include <system_error>

#include "shedbook/base/checksum.h"
#include "shedbook/base/text.h"
#include "shedbook/io/embedded.h"
#include "shedbook/io/files.h"
#include "tune_folder.h"

namespace shedbook {
namespace {

struct TypeOfFile {
    std::string_view ending;
    std::string_view type;
};
constexpr std::array<TypeOfFile, 13> kTypes{{{".html", "text/html; charset=utf-8"},
                                             {".js", "text/javascript; charset=utf-8"},
                                             {".mjs", "text/javascript; charset=utf-8"},
                                             {".css", "text/css; charset=utf-8"},
                                             {".json", "application/json"},
                                             {".map", "application/json"},
                                             {".svg", "image/svg+xml"},
                                             {".png", "image/png"},
                                             {".ico", "image/x-icon"},
                                             {".woff2", "font/woff2"},
                                             {".wasm", "application/wasm"},
                                             {".webmanifest", "application/manifest+json"},
                                             {".txt", "text/plain; charset=utf-8"}}};

std::string type_of(const std::string& name) {
    for (const TypeOfFile& row : kTypes) {
        if (name.ends_with(row.ending)) return std::string{row.type};
    }
    return "application/octet-stream";
}

void replace_all(std::string& text, std::string_view what, const std::string& by) {
    for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + by.size()))
        text.replace(at, what.size(), by);
}

constexpr std::string_view kWithoutPage =
    "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><title>shedbook</title></head><body>\n"
    "<main><h1>The page is not in this program</h1>\n"
    "<p>It was built without npm, which bundles the page. On Debian: <code>apt-get install npm</code>, then "
    "configure and build again.</p>\n"
    "<p>Everything else is here: the commands in the terminal do all that the page does.</p></main>\n"
    "</body></html>\n";

}  // namespace

Assets::Assets(const std::string& folder) {
    if (folder.empty()) {
        files_ = page_files();
    } else {
        std::error_code error;
        for (const auto& entry : std::filesystem::directory_iterator{folder, error}) {
            if (entry.is_regular_file(error))
                own_[entry.path().filename().string()] = read_file(entry.path().string());
        }
        if (error) throw FileError(folder + ": " + error.message());
        for (const auto& [name, bytes] : own_) files_[name] = bytes;
    }
    std::uint64_t sum = kEmptyChecksum;
    for (const auto& [name, bytes] : files_) sum = checksum(bytes, checksum(name, sum));
    hash_ = revision_of(std::to_string(sum));
}

Answer Assets::page(const std::string& nonce) const {
    Answer out{200, "text/html; charset=utf-8", ""};
    out.headers.emplace_back("Cache-Control", "no-store");
    if (!has_page()) {
        out.status = 503;
        out.body = kWithoutPage;
        return out;
    }
    out.body = files_.at("index.html");
    replace_all(out.body, "/assets/", "/assets/" + hash_ + "/");
    replace_all(out.body, "@NONCE@", nonce);
    return out;
}

Answer Assets::file(const std::string& hash, const std::string& name) const {
    const auto found = files_.find(name);
    if (found == files_.end()) return refused(404, "there is no such file of the page");
    Answer out{200, type_of(name), std::string{found->second}};
    const bool is_of_now = hash == hash_;
    out.headers.emplace_back("Cache-Control", is_of_now ? "public, max-age=31536000, immutable" : "no-store");
    return out;
}

std::optional<std::string> Assets::text(const std::string& name) const {
    const auto found = files_.find(name);
    return found == files_.end() ? std::nullopt : std::optional{std::string{found->second}};
}

}  // namespace shedbook
