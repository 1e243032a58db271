#include "shedbook/log/place.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <sys/vfs.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <system_error>

#include "private_folder.h"
#include "shedbook/io/errors.h"

namespace shedbook {
namespace {

namespace fs = std::filesystem;

// Magic numbers of statfs(2).
constexpr std::array<unsigned, 10> kNetworkKinds{
    0x6969,      // NFS
    0x517B,      // SMB
    0xFF534D42,  // CIFS
    0xFE534D42,  // SMB2
    0x65735546,  // FUSE: sshfs and the like
    0x01021997,  // 9P
    0x5346414F,  // AFS
    0x73757245,  // Coda
    0x00C36400,  // Ceph
    0x786F4256,  // shared folders of a virtual machine
};

std::string variable(const char* name) {
    const char* value = std::getenv(name);
    return value == nullptr ? "" : value;
}

fs::path folder_of(const std::string& path) {
    const fs::path folder = fs::path{path}.parent_path();
    return folder.empty() ? fs::path{"."} : folder;
}

}  // namespace

void make_private_folders(const fs::path& folder) {
    std::error_code error;
    if (folder.empty() || fs::exists(folder, error)) return;
    make_private_folders(folder.parent_path());
    if (mkdir(folder.c_str(), 0700) != 0 && errno != EEXIST)
        throw FileError(folder.string() + ": the folder cannot be made: " + std::strerror(errno));
}

DataEnvironment data_environment() {
    return {variable("SHEDBOOK_DATA"), variable("XDG_DATA_HOME"), variable("HOME")};
}

std::string log_file(const std::string& asked, const DataEnvironment& environment) {
    if (!asked.empty()) return asked;
    if (!environment.shedbook_data.empty()) return environment.shedbook_data;
    constexpr const char* kName = "/shedbook/practice.db";
    if (environment.xdg_data_home.starts_with('/')) return environment.xdg_data_home + kName;
    if (environment.home.starts_with('/')) return environment.home + "/.local/share" + kName;
    throw FileError("there is no home folder to keep the log in: say --data FILE");
}

std::string pages_folder(const std::string& log_file) {
    return (folder_of(log_file) / "pages").string();
}

void make_private_file(const std::string& path) {
    make_private_folders(folder_of(path));
    const int file = open(path.c_str(), O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, 0600);
    if (file >= 0) {
        close(file);
    } else if (errno != EEXIST) {
        throw FileError(path + ": the log cannot be made: " + std::strerror(errno));
    }
}

bool is_network_file_system(long kind) {
    return std::ranges::find(kNetworkKinds, static_cast<unsigned>(kind)) != kNetworkKinds.end();
}

bool is_on_network(const std::string& path) {
    struct statfs about {};
    return statfs(folder_of(path).c_str(), &about) == 0 &&
           is_network_file_system(static_cast<long>(about.f_type));
}

}  // namespace shedbook
