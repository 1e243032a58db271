#include "routes.h"

#include <array>
#include <new>
#include <string>
#include <string_view>

#include "json.h"
#include "shedbook/base/text.h"
#include "shedbook/io/errors.h"
#include "shedbook/job/caller.h"
#include "shedbook/notation/notate.h"

namespace shedbook {
namespace {

bool fits(std::string_view pattern, const std::vector<std::string>& path) {
    const std::vector<std::string_view> parts = split(pattern.substr(1), '/');
    if (parts.size() != path.size()) return false;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        if (parts[i] != "*" && parts[i] != path[i]) return false;
    }
    return true;
}

Answer found_answer(Desk& desk, const Ask& ask) {
    using Table = std::span<const Route> (*)();
    constexpr std::array<Table, 9> kTables{state_routes, tune_routes,     bin_routes,
                                           write_routes, practise_routes, sound_routes,
                                           log_routes,   paper_routes,    class_routes};
    bool has_other_method = false;
    for (const Table table : kTables) {
        for (const Route& route : table()) {
            if (!fits(route.pattern, ask.path)) continue;
            has_other_method = true;
            if (ask.method != route.method &&
                (ask.method != "HEAD" || route.method != std::string_view{"GET"}))
                continue;
            if (ask.is_guest && !route.for_guests && route.method != std::string_view{"GET"})
                return refused(403, "guests look and listen, and change nothing");
            return route.answer(desk, ask);
        }
    }
    if (has_other_method) return refused(405, "that cannot be done there");
    return refused(404, "there is nothing at that address");
}

}  // namespace

Answer answer_of(Desk& desk, const Ask& ask) {
    try {
        return found_answer(desk, ask);
    } catch (const Refusal& refusal) {
        return refused(refusal.status(), refusal.what(), refusal.more());
    } catch (const UsageError& error) {
        return refused(422, error.what());
    } catch (const UnusableRequest& error) {
        return refused(422, error.what());
    } catch (const InputError&) {
        return refused(422, "the tune has slips");
    } catch (const UnwritableMusic& error) {
        return refused(422, error.what());
    } catch (const MissingProgram& error) {
        return refused(503, error.what());
    } catch (const MachineError& error) {
        return refused(500, error.what());
    } catch (const std::bad_alloc&) {
        return refused(503, "there is not enough memory for this now");
    } catch (const std::exception& error) {
        return refused(500, std::string{"this is a fault of the program, please report it: "} + error.what());
    }
}

}  // namespace shedbook
