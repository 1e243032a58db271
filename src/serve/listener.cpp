#include "listener.h"

#include "json.h"

namespace shedbook {

void Listener::say(const Diagnostics& diagnostics) {
    for (Data& slip : slips_of(diagnostics)) slips_.push_back(std::move(slip));
    for (const Diagnostic& said : diagnostics.all())
        said_.push_back(said.message + (said.hint.empty() ? "" : "; " + said.hint));
}

std::vector<std::string> Listener::sentences() const {
    std::vector<std::string> out = said_;
    out.insert(out.end(), remarks_.begin(), remarks_.end());
    return out;
}

}  // namespace shedbook
