#pragma once
// One trace's file at a time, read on a thread while the window goes on.

#include <filesystem>
#include <memory>
#include <optional>
#include <utility>

#include "app/found_trace.hpp"
#include "app/latest_job.hpp"

namespace padchart::app {

class TraceReader {
public:
    /// Begins; a file that is still being read is given up.
    void begin(std::filesystem::path path, MeaningMemory memory);
    /// Gives up; nothing more comes of it.
    void cancel();
    [[nodiscard]] bool is_reading() const { return progress_ != nullptr; }
    /// Requires: is_reading().
    [[nodiscard]] const WorkProgress& progress() const { return *progress_; }
    [[nodiscard]] const std::filesystem::path& path() const { return path_; }
    /// What has come of it, once.
    [[nodiscard]] std::optional<Result<FoundTrace>> take();
    /// Blocks until something has come of it.
    void wait() { job_.wait(); }

private:
    struct Order {
        std::filesystem::path path;
        MeaningMemory memory;
        std::shared_ptr<WorkProgress> progress;
    };
    /// Tells by its progress which reading it is of.
    using Answer = std::pair<std::shared_ptr<WorkProgress>, Result<FoundTrace>>;
    using Job = LatestJob<Order, Answer>;

    static void work(const Order& order, const std::stop_token& stop, const Job::Give& give);

    std::filesystem::path path_;
    std::shared_ptr<WorkProgress> progress_;
    Job job_{work};
};

} // namespace padchart::app
