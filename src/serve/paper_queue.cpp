#include "paper_queue.h"

#include <algorithm>
#include <ctime>
#include <filesystem>
#include <system_error>

#include "ask.h"
#include "json.h"
#include "shedbook/base/text.h"
#include "shedbook/io/errors.h"
#include "shedbook/io/interrupt.h"
#include "shedbook/io/zip.h"
#include "tune_folder.h"

namespace shedbook {
namespace {

namespace fs = std::filesystem;

constexpr std::ptrdiff_t kMostInQueue = 8;
constexpr std::size_t kMostJobs = 40;
constexpr const char* kPacks = "packs";

std::vector<std::string> names_in(const std::string& folder) {
    std::vector<std::string> out;
    std::error_code error;
    for (const auto& entry : fs::directory_iterator{folder, error}) {
        if (entry.is_regular_file(error)) out.push_back(entry.path().filename().string());
    }
    std::ranges::sort(out);
    return out;
}

bool is_over(PaperState state) {
    return state != PaperState::Waits && state != PaperState::Making;
}

Data row_of_class(const ClassRow& row) {
    Data::Array left_out;
    for (const Diagnostic& said : row.left_out.all()) left_out.push_back(as_data(said.message));
    return as_data(Data::Object{{"who", as_data(row.who)},
                                {"instrument", as_data(row.instrument)},
                                {"level", as_data(row.level)},
                                {"bars", as_data(row.bars)},
                                {"file", text_or_null(row.file)},
                                {"left_out", as_data(std::move(left_out))}});
}

}  // namespace

struct PaperQueue::Job {
    std::int64_t id = 0;
    PaperOrder order;
    std::string folder;
    std::string began;
    std::atomic<bool> is_to_stop = false;
    PaperState state = PaperState::Waits;
    std::size_t done = 0;
    std::size_t steps = 0;
    std::string step;
    std::string error;
    Data::Array slips;
    std::vector<std::string> says;
    PaperResult result;
};

class PaperQueue::JobListener : public Listener {
  public:
    JobListener(PaperQueue& queue, Job& job) : queue_{queue}, job_{job} {}
    void step(std::size_t done, std::size_t of, const std::string& what) override {
        if (job_.is_to_stop) throw Stopped("stopped");
        const std::lock_guard hold{queue_.guard_};
        job_.done = done;
        job_.steps = of;
        job_.step = fs::path{what}.filename().string();
        ++queue_.state_;
    }

  private:
    PaperQueue& queue_;
    Job& job_;
};

PaperQueue::PaperQueue() : worker_{[this] { work_through(); }} {}

PaperQueue::~PaperQueue() {
    {
        const std::lock_guard hold{guard_};
        is_over_ = true;
        for (const auto& job : jobs_) job->is_to_stop = true;
    }
    changed_.notify_all();
    worker_.join();
}

void PaperQueue::work_through() {
    while (true) {
        std::shared_ptr<Job> job;
        {
            std::unique_lock hold{guard_};
            const auto next = [&] {
                return std::ranges::find(jobs_, PaperState::Waits,
                                         [](const auto& each) { return each->state; });
            };
            changed_.wait(hold, [&] { return is_over_ || next() != jobs_.end(); });
            if (is_over_) return;
            job = *next();
            job->state = PaperState::Making;
            ++state_;
        }
        run(job);
        const std::lock_guard hold{guard_};
        ++state_;
        drop_old();
    }
}

void PaperQueue::run(const std::shared_ptr<Job>& job) {
    const StopsByWish stops{job->is_to_stop};
    JobListener listener{*this, *job};
    PaperState state = PaperState::Failed;
    std::string error;
    PaperResult result;
    try {
        std::error_code ignored;
        fs::create_directories(job->folder, ignored);
        result = job->order.work(job->folder, listener);
        state = PaperState::Ready;
    } catch (const Stopped&) {
        state = PaperState::Stopped;
    } catch (const InputError&) {
        error = "there are slips that must be mended first";
    } catch (const std::exception& other) {
        error = other.what();
    }
    if (job->is_to_stop) state = PaperState::Stopped;
    const std::lock_guard hold{guard_};
    job->state = state;
    job->error = std::move(error);
    job->slips = listener.slips();
    job->says = listener.sentences();
    job->result = std::move(result);
}

std::int64_t PaperQueue::add(PaperOrder order) {
    const std::lock_guard hold{guard_};
    const auto waiting =
        std::ranges::count(jobs_, PaperState::Waits, [](const auto& job) { return job->state; });
    if (waiting >= kMostInQueue)
        throw Refusal(
            429, std::to_string(waiting) + " things wait to be made already; ask again when one is ready");
    auto job = std::make_shared<Job>();
    job->id = next_++;
    job->order = std::move(order);
    job->folder = folder_.path() + "/" + std::to_string(job->id);
    job->began = moment_text(std::time(nullptr));
    jobs_.push_back(job);
    ++state_;
    changed_.notify_all();
    return job->id;
}

std::shared_ptr<PaperQueue::Job> PaperQueue::find(std::int64_t id) const {
    const auto at = std::ranges::find(jobs_, id, [](const auto& job) { return job->id; });
    return at == jobs_.end() ? nullptr : *at;
}

Data PaperQueue::described(const Job& job) const {
    std::int64_t place = 0;
    if (job.state == PaperState::Waits) {
        for (const auto& other : jobs_) place += other->id <= job.id && !is_over(other->state) ? 1 : 0;
    }
    std::string words{to_word(job.state)};
    if (job.state == PaperState::Waits) words = "waits as number " + std::to_string(place);
    if (job.state == PaperState::Making && !job.step.empty())
        words = (job.steps > 1 ? std::to_string(job.done) + " of " + std::to_string(job.steps) + ": " : "") +
                job.step;
    Data::Array files;
    if (job.state == PaperState::Ready) {
        for (const std::string& name : names_in(job.folder)) {
            std::error_code error;
            files.push_back(as_data(
                Data::Object{{"name", as_data(name)},
                             {"bytes", size_as_data(fs::file_size(job.folder + "/" + name, error))},
                             {"url", as_data("/api/paper/" + std::to_string(job.id) + "/files/" + name)}}));
        }
    }
    Data::Array rows;
    for (const ClassRow& row : job.result.rows) rows.push_back(row_of_class(row));
    return as_data(Data::Object{{"id", as_data(std::to_string(job.id))},
                                {"make", as_data(job.order.make)},
                                {"of", as_data(job.order.of)},
                                {"pack", text_or_null(job.order.pack)},
                                {"state", as_data(to_word(job.state))},
                                {"words", as_data(words)},
                                {"done", size_as_data(job.done)},
                                {"steps", size_as_data(job.steps)},
                                {"place", as_data(place)},
                                {"began", as_data(job.began)},
                                {"request", job.order.request},
                                {"files", as_data(std::move(files))},
                                {"says", as_data(job.says)},
                                {"slips", as_data(Data::Array{job.slips})},
                                {"error", text_or_null(job.error)},
                                {"rows", as_data(std::move(rows))}});
}

Data PaperQueue::describe(std::int64_t id) {
    const std::lock_guard hold{guard_};
    const auto job = find(id);
    return job == nullptr ? Data{} : described(*job);
}

Data::Array PaperQueue::describe_all() {
    const std::lock_guard hold{guard_};
    Data::Array out;
    for (auto job = jobs_.rbegin(); job != jobs_.rend(); ++job) out.push_back(described(**job));
    return out;
}

bool PaperQueue::stop(std::int64_t id) {
    const std::lock_guard hold{guard_};
    const auto job = find(id);
    if (job == nullptr) return false;
    job->is_to_stop = true;
    if (job->state == PaperState::Waits) job->state = PaperState::Stopped;
    ++state_;
    return true;
}

bool PaperQueue::remove(std::int64_t id) {
    if (!stop(id)) return false;
    const std::lock_guard hold{guard_};
    const auto job = find(id);
    // What is just being stopped goes with the old ones.
    if (job == nullptr || !is_over(job->state)) return true;
    std::error_code error;
    fs::remove_all(job->folder, error);
    jobs_.remove(job);
    return true;
}

void PaperQueue::drop_old() {
    while (jobs_.size() > kMostJobs) {
        const auto old = std::ranges::find_if(jobs_, [](const auto& job) { return is_over(job->state); });
        if (old == jobs_.end()) return;
        std::error_code error;
        fs::remove_all((*old)->folder, error);
        jobs_.erase(old);
    }
}

std::string PaperQueue::file_of(std::int64_t id, const std::string& name) {
    const std::lock_guard hold{guard_};
    const auto job = find(id);
    if (job == nullptr || job->state != PaperState::Ready) return {};
    const std::vector<std::string> names = names_in(job->folder);
    return std::ranges::find(names, name) == names.end() ? std::string{} : job->folder + "/" + name;
}

PaperQueue::Pack PaperQueue::packed(const std::vector<std::int64_t>& ids) {
    const std::lock_guard one_at_a_time{packs_};
    std::vector<PackedFile> files;
    Pack out;
    {
        const std::lock_guard hold{guard_};
        for (const std::int64_t id : ids) {
            const auto job = find(id);
            if (job == nullptr || job->state != PaperState::Ready || job->order.pack.empty()) return {};
            if (out.name.empty()) {
                // With what it was made of, so that it goes when that goes.
                out = {job->order.pack, job->folder + "/" + kPacks + "/"};
            }
            if (job->order.pack != out.name) return {};
            out.file += std::to_string(id) + "-";
            for (const std::string& name : names_in(job->folder))
                files.push_back({out.name + "/" + name, job->folder + "/" + name});
        }
    }
    if (files.empty()) return {};
    out.file += "all.zip";
    std::error_code error;
    if (fs::exists(out.file, error)) return out;
    fs::create_directories(fs::path{out.file}.parent_path(), error);
    write_zip(out.file, files);
    return out;
}

}  // namespace shedbook
