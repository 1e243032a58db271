#include "documents.h"

#include <algorithm>

#include "tune_folder.h"

namespace shedbook {
std::shared_ptr<const ShownDocument> Documents::get(const std::string& asked,
                                                    const std::function<ShownDocument()>& make) {
    const std::string id = "d-" + revision_of(asked);
    {
        const std::lock_guard hold{guard_};
        const auto at = std::ranges::find(kept_, id, [](const auto& each) { return each->id; });
        if (at != kept_.end()) {
            kept_.splice(kept_.begin(), kept_, at);
            return kept_.front();
        }
    }
    // Others need not wait meanwhile; of two who make the same the last one stays.
    ShownDocument made = make();
    made.id = id;
    auto out = std::make_shared<const ShownDocument>(std::move(made));
    const std::lock_guard hold{guard_};
    std::erase_if(kept_, [&](const auto& each) { return each->id == id; });
    kept_.push_front(out);
    if (kept_.size() > most_) kept_.pop_back();
    return out;
}

std::shared_ptr<const ShownDocument> Documents::find(const std::string& id) {
    const std::lock_guard hold{guard_};
    const auto at = std::ranges::find(kept_, id, [](const auto& each) { return each->id; });
    if (at == kept_.end()) return nullptr;
    kept_.splice(kept_.begin(), kept_, at);
    return kept_.front();
}

}  // namespace shedbook
