// Work on files in the background: one at a time, the others wait in line. Each can be stopped; what was made
// lies in a folder of the queue until the program ends.
#pragma once

#include <atomic>
#include <condition_variable>
#include <cstdint>
#include <deque>
#include <functional>
#include <list>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "listener.h"
#include "shedbook/io/data.h"
#include "shedbook/io/temporary_folder.h"
#include "shedbook/job/jobs.h"

namespace shedbook {

enum class PaperState { Waits, Making, Ready, Failed, Stopped };
template <>
inline constexpr Worded<PaperState> kWords<PaperState>[] = {{PaperState::Waits, "waits"},
                                                            {PaperState::Making, "making"},
                                                            {PaperState::Ready, "ready"},
                                                            {PaperState::Failed, "failed"},
                                                            {PaperState::Stopped, "stopped"}};

// What the work leaves behind beside its files, which it writes into the folder.
struct PaperResult {
    std::vector<ClassRow> rows;  // of a class
};
using PaperWork = std::function<PaperResult(const std::string& folder, Caller& caller)>;

struct PaperOrder {
    std::string make;  // "book"
    std::string of;    // the tune's title
    std::string pack;  // what its files together are called; empty: they are not packed
    Data request;      // as it was sent
    PaperWork work;
};

class PaperQueue {
  public:
    PaperQueue();
    ~PaperQueue();
    PaperQueue(const PaperQueue&) = delete;
    PaperQueue& operator=(const PaperQueue&) = delete;

    // Its number. Refusal 429 where too many wait.
    std::int64_t add(PaperOrder order);
    // Null where there is none of that number.
    [[nodiscard]] Data describe(std::int64_t id);
    // The last one first.
    [[nodiscard]] Data::Array describe_all();
    // False where there is none of that number.
    bool stop(std::int64_t id);
    bool remove(std::int64_t id);
    // A file that it made; empty if it is not one of them.
    [[nodiscard]] std::string file_of(std::int64_t id, const std::string& name);
    // A zip of all that these made, in a folder of the name that they were ordered with. Packed at most once.
    // Empty name and file where one of them is not ready, or where they do not go together.
    struct Pack {
        std::string name;
        std::string file;
    };
    [[nodiscard]] Pack packed(const std::vector<std::int64_t>& ids);
    // Another number after anything moved.
    [[nodiscard]] std::int64_t state() const { return state_; }

  private:
    struct Job;
    class JobListener;

    void work_through();
    void run(const std::shared_ptr<Job>& job);
    [[nodiscard]] Data described(const Job& job) const;
    [[nodiscard]] std::shared_ptr<Job> find(std::int64_t id) const;
    void drop_old();

    TemporaryFolder folder_;
    mutable std::mutex guard_;
    std::mutex packs_;  // one zip at a time
    std::condition_variable changed_;
    std::list<std::shared_ptr<Job>> jobs_;  // in the order of their numbers
    std::atomic<std::int64_t> state_ = 0;
    std::int64_t next_ = 1;
    bool is_over_ = false;
    std::thread worker_;
};

}  // namespace shedbook
