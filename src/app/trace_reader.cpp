#include "app/trace_reader.hpp"

namespace padchart::app {

void TraceReader::work(const Order& order, const std::stop_token& stop, const Job::Give& give) {
    Result<FoundTrace> found = find_trace(order.path, order.memory, {order.progress, stop});
    if (!stop.stop_requested()) give({order.progress, std::move(found)});
}

void TraceReader::begin(std::filesystem::path path, MeaningMemory memory) {
    path_ = std::move(path);
    progress_ = std::make_shared<WorkProgress>();
    job_.ask({path_, std::move(memory), progress_});
}

void TraceReader::cancel() {
    progress_.reset();
    job_.drop();
}

std::optional<Result<FoundTrace>> TraceReader::take() {
    auto answer = job_.take();
    if (!answer || answer->first != progress_ || !progress_) return std::nullopt;
    progress_.reset();
    return std::move(answer->second);
}

} // namespace padchart::app
