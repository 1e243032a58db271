// What all requests have before them: the folder, whose log it is, what has been worked out and may be asked
// for again.
#pragma once

#include <memory>
#include <string>

#include "documents.h"
#include "paper_queue.h"
#include "shedbook/job/log_requests.h"
#include "shedbook/serve/serve.h"
#include "shelf.h"
#include "sound_store.h"
#include "tune_folder.h"

namespace shedbook {

struct Desk {
    explicit Desk(const ServeOptions& asked);

    ServeOptions options;
    TuneFolder folder;
    Shelf shelf;
    // A book of a long tune is a few megabytes.
    Documents documents{24};
    // Charts as they are being written, of which only the last matter.
    Documents drafts{6};
    SoundStore sounds;
    PaperQueue paper;

    // Refusal 410 if it is not there any more.
    [[nodiscard]] std::shared_ptr<const ShownDocument> document(const std::string& id);
    [[nodiscard]] std::string log_file() const;
    // Of this moment.
    [[nodiscard]] LogPlace log_place() const;
};

}  // namespace shedbook
