#include "shedbook/log/exchange.h"

#include <algorithm>
#include <ostream>
#include <string>
#include <string_view>
#include <unordered_map>
#include <utility>

#include "record_columns.h"
#include "shedbook/base/text.h"
#include "shedbook/io/csv.h"
#include "shedbook/io/data.h"

namespace shedbook {
namespace {

// Quoted where a comma, a quote or a line end would be taken for the file's own (RFC 4180).
std::string csv_field(const std::string& text) {
    if (text.find_first_of(",\"\r\n") == std::string::npos && trimmed(text) == text) return text;
    std::string out = "\"";
    for (const char c : text) {
        if (c == '"') out += '"';
        out += c;
    }
    return out + "\"";
}

const RecordColumn* column_called(std::string_view name) {
    const auto columns = record_columns();
    const auto found = std::ranges::find_if(columns, [&](const RecordColumn& c) { return c.name == name; });
    return found == columns.end() ? nullptr : &*found;
}

std::vector<std::string> column_names() {
    std::vector<std::string> out;
    for (const RecordColumn& column : record_columns()) out.emplace_back(column.name);
    return out;
}

class RecordReader {
  public:
    RecordReader(const SourceText& source, Diagnostics& diagnostics)
        : source_{source}, diagnostics_{diagnostics} {}

    void set(Record& record, const RecordColumn& column, const std::string& text, Span where) {
        if (!is_valid_utf8(text)) return fail(where, std::string{column.name} + ": the text is no UTF-8");
        const std::string expected = column.set(record, text);
        if (expected.empty()) return;
        fail(where, std::string{column.name} + ": expected " + expected + ", but found '" + text + "'");
    }
    void fail(Span where, const std::string& message, const std::string& hint = {}) {
        diagnostics_.error(source_, where, message, hint);
    }
    void check_needed(const std::vector<bool>& is_there, Span where) {
        const auto columns = record_columns();
        for (std::size_t i = 0; i < columns.size(); ++i) {
            if (columns[i].is_needed && !is_there[i])
                fail(where, std::string{"'"} + columns[i].name + "' is missing");
        }
    }
    const RecordColumn* column_at(const std::string& name, Span where) {
        const RecordColumn* column = column_called(name);
        if (column == nullptr) {
            const std::string near = nearest(name, column_names());
            fail(where, "no column is called '" + name + "'",
                 near.empty() ? "there are: " + join(column_names(), ", ") : "did you mean '" + near + "'?");
        }
        return column;
    }
    static std::size_t index_of(const RecordColumn* column) {
        return static_cast<std::size_t>(column - record_columns().data());
    }

    std::vector<Record> read_csv();
    std::vector<Record> read_json_records();

  private:
    std::vector<const RecordColumn*> read_heading(CsvReader& reader);
    Record read_object(const Data& entry, const Data::Object& members);

    const SourceText& source_;
    Diagnostics& diagnostics_;
};

std::vector<const RecordColumn*> RecordReader::read_heading(CsvReader& reader) {
    const auto fields = reader.next();
    std::vector<const RecordColumn*> out;
    std::vector<bool> is_there(record_columns().size());
    if (!fields) {
        fail({}, "there is nothing in it; expected a line with the names of the columns");
        return out;
    }
    for (const CsvCell& field : *fields) {
        out.push_back(
            column_at(slug(field.text) == "from-memory" ? "from_memory" : lower_case(trimmed(field.text)),
                      field.where));
        if (out.back() != nullptr) is_there[index_of(out.back())] = true;
    }
    check_needed(is_there, {fields->front().where.begin, fields->back().where.end});
    return out;
}

std::vector<Record> RecordReader::read_csv() {
    CsvReader reader{source_, diagnostics_};
    const std::vector<const RecordColumn*> columns = read_heading(reader);
    std::vector<Record> out;
    if (diagnostics_.has_errors()) return out;
    while (!diagnostics_.is_full()) {
        const auto fields = reader.next();
        if (!fields) break;
        if (fields->size() != columns.size()) {
            fail({fields->front().where.begin, fields->back().where.end},
                 "expected " + std::to_string(columns.size()) + " columns as in the first line, but found " +
                     std::to_string(fields->size()));
            continue;
        }
        Record record;
        for (std::size_t i = 0; i < fields->size(); ++i)
            set(record, *columns[i], (*fields)[i].text, (*fields)[i].where);
        out.push_back(std::move(record));
    }
    return out;
}

std::string text_of(const Data& value) {
    if (const auto number = value.as_int()) return std::to_string(*number);
    if (const auto flag = value.as_bool()) return *flag ? "1" : "0";
    return value.as_string().value_or("");
}

Record RecordReader::read_object(const Data& entry, const Data::Object& members) {
    Record record;
    std::vector<bool> is_there(record_columns().size());
    for (const auto& [name, value] : members) {
        const RecordColumn* column = name == "id" ? nullptr : column_at(name, value.where);
        if (column == nullptr) continue;
        is_there[index_of(column)] = true;
        set(record, *column, text_of(value), value.where);
    }
    check_needed(is_there, {entry.where.begin, std::min(entry.where.end, entry.where.begin + 1)});
    return record;
}

std::vector<Record> RecordReader::read_json_records() {
    std::vector<Record> out;
    const std::optional<Data> data = read_json(source_, diagnostics_);
    if (!data) return out;
    const Data* list = data->as_array() != nullptr ? &*data : data->find("entries");
    if (list == nullptr || list->as_array() == nullptr) {
        fail({0, 1}, "expected a list of entries, or an object with 'entries'");
        return out;
    }
    for (const Data& entry : *list->as_array()) {
        if (diagnostics_.is_full()) break;
        if (entry.as_object() == nullptr) {
            fail(entry.where, "expected an entry, an object");
            continue;
        }
        out.push_back(read_object(entry, *entry.as_object()));
    }
    return out;
}

}  // namespace

void write_records_csv(const Records& records, std::ostream& out) {
    out << join(column_names(), ",") << "\r\n";
    records([&](const Record& record) {
        std::string line;
        for (const RecordColumn& column : record_columns()) {
            if (!line.empty()) line += ',';
            line += csv_field(column.text(record));
        }
        out << line << "\r\n";
    });
}

void write_records_json(const Records& records, std::ostream& out, bool with_ids) {
    out << "{\"shedbook_log\": 1, \"entries\": [";
    bool is_first = true;
    records([&](const Record& record) {
        Data::Object object;
        if (with_ids) object.emplace_back("id", Data{record.id});
        for (const RecordColumn& column : record_columns()) {
            const std::string text = column.text(record);
            Data value;
            if (!column.is_number) {
                value.value = text;
            } else if (!text.empty()) {
                value.value = static_cast<std::int64_t>(std::stoll(text));
            }
            object.emplace_back(column.name, std::move(value));
        }
        out << (is_first ? "\n" : ",\n") << write_json(Data{std::move(object)});
        is_first = false;
    });
    out << "\n]}\n";
}

std::vector<Record> read_records(const SourceText& source, Diagnostics& diagnostics) {
    RecordReader reader{source, diagnostics};
    const std::string_view text = trimmed(source.text);
    const bool is_json = text.starts_with('{') || text.starts_with('[');
    std::vector<Record> out = is_json ? reader.read_json_records() : reader.read_csv();
    if (diagnostics.has_errors()) return {};
    for (Record& record : out) {
        if (record.uid == 0) record.uid = uid_from(record);
    }
    return out;
}

}  // namespace shedbook
