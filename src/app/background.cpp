#include "app/background.hpp"

#include <utility>

#include "app/urgency.hpp"

namespace padchart::app {
namespace {

// Up to here both reports take a few ms together.
constexpr std::size_t kPadsAtOnce = 600;

bool is_small(const document::Chart& chart) {
    std::size_t pads = 0;
    for (const document::Footprint& part : chart.parts)
        pads += part.pads.size() + 1;
    return pads <= kPadsAtOnce;
}

} // namespace

std::shared_ptr<const Computed> compute(std::shared_ptr<const document::Chart> chart) {
    auto computed = std::make_shared<Computed>();
    computed->fit = analysis::fit(*chart);
    computed->clearance = analysis::clearance(*chart);
    computed->chart = std::move(chart);
    return computed;
}

Background::~Background() {
    {
        const std::lock_guard lock(mutex_);
        stop_ = true;
    }
    wake_.notify_all();
    if (thread_.joinable()) thread_.join();
}

bool Background::update(const std::shared_ptr<const document::Chart>& chart) {
    bool changed = collect();
    if (chart == wanted_) return changed;
    wanted_ = chart;
    if (is_small(*chart)) {
        latest_ = compute(chart);
        return true;
    }
    if (!thread_.joinable()) thread_ = std::thread([this] { run(); });
    {
        const std::lock_guard lock(mutex_);
        order_ = chart; // an older order that has not been begun is dropped
    }
    wake_.notify_one();
    return changed;
}

bool Background::collect() {
    const std::lock_guard lock(mutex_);
    if (!result_) return false;
    const std::shared_ptr<const Computed> fresh = std::exchange(result_, nullptr);
    // A small chart opened meanwhile has been computed already.
    if (latest_ && latest_->chart == wanted_) return false;
    latest_ = fresh;
    return true;
}

void Background::wait() {
    while (is_busy()) {
        {
            std::unique_lock lock(mutex_);
            done_.wait(lock, [this] { return result_ != nullptr; });
        }
        collect();
    }
}

void Background::run() {
    take_urgency(Urgency::BehindTheWindow);
    std::unique_lock lock(mutex_);
    while (true) {
        wake_.wait(lock, [this] { return stop_ || order_; });
        if (stop_) return;
        const std::shared_ptr<const document::Chart> order = std::exchange(order_, nullptr);
        lock.unlock();
        std::shared_ptr<const Computed> fresh = compute(order);
        lock.lock();
        result_ = std::move(fresh);
        done_.notify_all();
    }
}

} // namespace padchart::app
