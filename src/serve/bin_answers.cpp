// What was removed or written over, and putting it back.
#include <array>

#include "json.h"
#include "routes.h"
#include "shedbook/base/text.h"
#include "tune_names.h"

namespace shedbook {
namespace {

BinEntry entry_asked(const Desk& desk, const Ask& ask) {
    std::optional<BinEntry> entry = desk.folder.in_bin(ask.path[2]);
    if (!entry) throw Refusal(404, "that is not in the bin");
    return *std::move(entry);
}

Answer list_bin(Desk& desk, const Ask& /*all of it*/) {
    Data::Array out;
    for (const BinEntry& entry : desk.folder.bin()) {
        out.push_back(
            as_data(Data::Object{{"id", as_data(entry.id)},
                                 {"name", as_data(Shelf::name_of(entry.file))},
                                 {"removed", as_data(entry.removed)},
                                 {"why", as_data(entry.was_replaced ? "changed outside" : "removed")}}));
    }
    return answered({{"bin", as_data(std::move(out))}});
}

Answer read_from_bin(Desk& desk, const Ask& ask) {
    const std::string text = desk.folder.text_in_bin(entry_asked(desk, ask));
    return answered({{"text", is_valid_utf8(text) ? as_data(text) : Data{}}});
}

Answer put_back(Desk& desk, const Ask& ask) {
    return answered(described_tune(desk, desk.folder.put_back(entry_asked(desk, ask)), true));
}

Answer forget_in_bin(Desk& desk, const Ask& ask) {
    desk.folder.forget(entry_asked(desk, ask));
    return answered({});
}

}  // namespace

std::span<const Route> bin_routes() {
    static constexpr std::array<Route, 4> kRoutes{{
        {"GET", "/api/bin", list_bin},
        {"GET", "/api/bin/*", read_from_bin},
        {"POST", "/api/bin/*/put-back", put_back},
        {"DELETE", "/api/bin/*", forget_in_bin},
    }};
    return kRoutes;
}

}  // namespace shedbook
