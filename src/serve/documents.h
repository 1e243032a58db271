// Documents that were worked out for a screen: kept for as long as somebody may ask for their music, the ones
// that were not asked for longest go first.
#pragma once

#include <cstddef>
#include <functional>
#include <list>
#include <memory>
#include <mutex>
#include <string>

#include "shedbook/io/data.h"
#include "shedbook/log/pages.h"
#include "shedbook/notation/pieces.h"

namespace shedbook {

struct ShownDocument {
    std::string id;  // "d-5c0f3b7a00112233": of what was asked for
    Document document;
    PrintedPages pages;      // its pieces as items of the log
    std::string tune;        // its title; may be empty
    Data::Object described;  // as it was answered
};

class Documents {
  public:
    explicit Documents(std::size_t most) : most_{most} {}
    // The one for that, made if it is not there. `asked`: all that it depends on.
    std::shared_ptr<const ShownDocument> get(const std::string& asked,
                                             const std::function<ShownDocument()>& make);
    // Null if it is not there any more.
    [[nodiscard]] std::shared_ptr<const ShownDocument> find(const std::string& id);

  private:
    std::size_t most_;
    std::mutex guard_;
    std::list<std::shared_ptr<const ShownDocument>> kept_;  // the last used first
};

}  // namespace shedbook
