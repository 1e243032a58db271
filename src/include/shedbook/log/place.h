// Where the log lies: in the user's data folder, for nobody else to read.
//
//     log_file({}, environment);                               //
//     "/home/ada/.local/share/shedbook/practice.db"
#pragma once

#include <string>

namespace shedbook {

// The part of the environment that decides.
struct DataEnvironment {
    std::string shedbook_data;  // SHEDBOOK_DATA: the file itself
    std::string xdg_data_home;
    std::string home;
};
[[nodiscard]] DataEnvironment data_environment();

// `asked` (--data) comes first, then SHEDBOOK_DATA, then the data folder. FileError without any.
[[nodiscard]] std::string log_file(const std::string& asked, const DataEnvironment& environment);
// The folder beside it for the tables of printed pages.
[[nodiscard]] std::string pages_folder(const std::string& log_file);

// Makes the folders that are missing (0700) and an empty file (0600) if there is none.
void make_private_file(const std::string& path);

// Whether a file lies on a folder shared over a network, as the kind of its file system tells: there the
// memory that readers of a write-ahead log share does not reach the other machine.
[[nodiscard]] bool is_network_file_system(long kind);
[[nodiscard]] bool is_on_network(const std::string& path);

}  // namespace shedbook
