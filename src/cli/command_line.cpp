#include "command_line.h"

#include <algorithm>
#include <filesystem>
#include <map>
#include <optional>
#include <system_error>

#include "shedbook/base/text.h"
#include "shedbook/job/caller.h"
#include "shedbook/write/writers.h"

namespace shedbook {
namespace {

namespace fs = std::filesystem;

bool is_there(const std::string& path) {
    std::error_code error;
    return path == "-" || fs::exists(path, error);
}

// What comes along when a command line is pasted from a page: quotation marks around a word, and one long
// dash for the two of an option.
std::string as_typed(std::string word) {
    for (const std::string_view dash : {"—", "–"}) {
        if (word.starts_with(dash)) return "--" + word.substr(dash.size());
    }
    static constexpr std::string_view kMarks[][2] = {{"“", "”"}, {"„", "“"}, {"”", "”"}, {"‘", "’"}};
    for (const auto& [open, close] : kMarks) {
        if (word.size() > open.size() + close.size() && word.starts_with(open) && word.ends_with(close))
            return word.substr(open.size(), word.size() - open.size() - close.size());
    }
    return word;
}

std::string did_you_mean(const std::string& near) {
    return near.empty() ? "" : "; did you mean '" + near + "'?";
}

class CommandLine {
  public:
    CommandLine(const CommandRows& command, const std::vector<std::string>& words,
                const CommandsWith& commands_with)
        : command_{command}, commands_with_{commands_with} {
        for (const std::string& word : words) words_.push_back(as_typed(word));
        for (const SyntaxRow& row : command.rows) {
            if (row.is_argument()) arguments_.push_back(&row);
        }
    }

    LineRead read() {
        bool options_are_over = false;
        while (at_ < words_.size() && !out_.is_answered) {
            const std::string word = words_[at_++];
            if (word == "--" && !options_are_over) {
                options_are_over = true;
            } else if (!options_are_over && word.size() > 1 && word.starts_with('-')) {
                read_option(word);
            } else {
                read_argument(word);
            }
        }
        if (!out_.is_answered) tell_missing();
        out_.is_only_missing_files = missing_files_ == out_.faults.size() && missing_files_ > 0;
        return std::move(out_);
    }

  private:
    void fault(std::string text) { out_.faults.push_back(std::move(text)); }

    const SyntaxRow* find(const std::string& name) const {
        const auto found = std::ranges::find_if(command_.rows, [&](const SyntaxRow& row) {
            return !row.is_argument() && (row.name == name || row.short_name == name);
        });
        return found == command_.rows.end() ? nullptr : &*found;
    }

    // "--for=flute" and "-oa.mxl" hold their value.
    void read_option(const std::string& word) {
        std::string name = word;
        std::optional<std::string> value;
        const std::size_t equals = word.find('=');
        if (equals != std::string::npos) {
            name = word.substr(0, equals);
            value = word.substr(equals + 1);
        } else if (!word.starts_with("--") && word.size() > 2 && find(word.substr(0, 2)) != nullptr &&
                   find("-" + word) == nullptr) {
            name = word.substr(0, 2);
            value = word.substr(2);
        }
        const SyntaxRow* row = find(name);
        if (row == nullptr) return unknown_option(name, value.has_value());
        if (row->is_flag()) {
            if (value) return fault(row->name + " takes no value");
            take(*row, "");
        } else if (value) {
            take_values(*row, *value);
        } else {
            read_value(*row);
        }
    }

    void read_value(const SyntaxRow& row) {
        // Nothing that is taken here begins with two hyphens: the next option does.
        const bool has_value =
            at_ < words_.size() && !words_[at_].starts_with("--") && find(words_[at_]) == nullptr;
        if (!has_value) {
            ++times_[&row];
            return fault(row.name + " needs a value, " + row.value + ": " + row.about);
        }
        take_values(row, words_[at_++]);
        while (row.goes_on && at_ < words_.size() && !is_there(words_[at_]) && row.goes_on(words_[at_]))
            take(row, words_[at_++]);
    }

    void take_values(const SyntaxRow& row, const std::string& text) {
        if (!row.with_commas) return take(row, text);
        bool has_any = false;
        for (const std::string_view part : split(text, ',')) {
            const std::string_view value = trimmed(part);
            if (value.empty()) continue;
            has_any = true;
            take(row, std::string{value});
        }
        if (!has_any) fault(row.name + " needs a value, " + row.value + ": " + row.about);
    }

    void take(const SyntaxRow& row, const std::string& value) {
        const int times = ++times_[&row];
        if (times == 2 && !row.is_list && !row.is_flag())
            return fault(row.name + " stands twice, and takes one " + row.value);
        if (row.file == SyntaxRow::File::Read && !is_there(value)) {
            ++missing_files_;
            return fault(missing_file(value));
        }
        try {
            for (const auto& check : row.checks) check(value);
            row.set(value);
            if (row.is_answer) out_.is_answered = true;
        } catch (const UsageError& error) {
            const std::string what = error.what();
            fault((what.starts_with("takes ") ? row.name + " " : "") + what);
        }
    }

    void unknown_option(const std::string& name, bool holds_value) {
        std::vector<std::string> names;
        for (const SyntaxRow& row : command_.rows) {
            if (!row.is_argument()) names.push_back(row.name);
        }
        // "-for" is "--for" with a dash missing.
        const std::string full = name.starts_with("--") ? name : "-" + name;
        const std::string near = nearest(full, names);
        std::string said = "'" + command_.name + "' has no option " + name;
        const std::vector<std::string> others = near == full ? Words{} : commands_with_(name);
        if (!others.empty()) {
            said += "; it goes with " + join(others, ", ");
        } else {
            said += near.empty() ? "; 'shedbook help " + command_.name + "' shows what it has"
                                 : did_you_mean(near);
        }
        fault(said);
        // What stands behind it is its value, and no fault of its own.
        const SyntaxRow* meant = near.empty() ? nullptr : find(near);
        const bool takes_one = meant != nullptr ? !meant->is_flag() : !others.empty();
        if (takes_one && !holds_value && at_ < words_.size() && !words_[at_].starts_with('-') &&
            !is_there(words_[at_]))
            ++at_;
        if (meant != nullptr) ++times_[meant];
    }

    void read_argument(const std::string& word) {
        while (next_argument_ < arguments_.size()) {
            const SyntaxRow& row = *arguments_[next_argument_];
            if (!row.is_list) ++next_argument_;
            return take(row, word);
        }
        std::string said = "'" + word + "' is one word too many";
        const SyntaxRow* output = find("--output");
        if (output != nullptr && times_[output] == 0 && find_writer(word) != nullptr) {
            said = "to write '" + word + "', put -o before it";
            ++times_[output];
        }
        fault(said);
    }

    void tell_missing() {
        for (const SyntaxRow& row : command_.rows) {
            if (row.is_required && times_[&row] == 0) fault(usage_of(row) + " is missing: " + row.about);
        }
    }

    const CommandRows& command_;
    const CommandsWith& commands_with_;
    std::vector<std::string> words_;
    std::vector<const SyntaxRow*> arguments_;
    std::size_t at_ = 0;
    std::size_t next_argument_ = 0;
    std::size_t missing_files_ = 0;
    std::map<const SyntaxRow*, int> times_;
    LineRead out_;
};

}  // namespace

std::string usage_of(const SyntaxRow& row) {
    if (row.is_argument()) {
        std::string out;
        for (const char c : row.name) out += c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
        return out + (row.is_list ? "..." : "");
    }
    const std::string name = row.short_name.empty() ? row.name : row.short_name;
    return name + (row.is_flag() ? "" : " " + row.value);
}

std::string missing_file(const std::string& path) {
    const fs::path wanted{path};
    const fs::path folder = wanted.has_parent_path() ? wanted.parent_path() : fs::path{"."};
    std::error_code error;
    if (!fs::is_directory(folder, error))
        return path + ": there is no such file, and no folder '" + folder.string() + "'";
    Words there;
    for (const auto& entry : fs::directory_iterator{folder, error})
        there.push_back(entry.path().filename().string());
    std::ranges::sort(there);
    std::string near = nearest(wanted.filename().string(), there);
    // "goat-path" is "goat-path.tune" without its ending.
    const auto longer = std::ranges::find_if(there, [&](const std::string& name) {
        return fs::path{name}.stem() == wanted.stem() && !wanted.stem().empty();
    });
    if (near.empty() && longer != there.end()) near = *longer;
    if (!near.empty() && wanted.has_parent_path()) near = (folder / near).string();
    return path + ": there is no such file" + did_you_mean(near);
}

LineRead read_command_line(const CommandRows& command, const std::vector<std::string>& words,
                           const CommandsWith& commands_with) {
    return CommandLine{command, words, commands_with}.read();
}

}  // namespace shedbook
