#pragma once
// Work on a thread of its own of which only the latest order counts: a hand that drags asks sixty times a second, the
// answer takes longer, and the window never waits. An order not yet begun gives way to a newer one; the one under way
// is asked to stop and may still answer, since an answer of a moment ago is better than none while the hand moves on.

#include <chrono>
#include <condition_variable>
#include <functional>
#include <mutex>
#include <optional>
#include <stop_token>
#include <thread>
#include <utility>

#include "app/urgency.hpp"

namespace padchart::app {

template <class Request, class Answer>
class LatestJob {
public:
    /// Hands an answer over; may be called several times for one order (a first rough one, then better ones).
    using Give = std::function<void(Answer)>;
    using Work = std::function<void(const Request&, const std::stop_token&, const Give&)>;

    explicit LatestJob(Work work, Urgency urgency = Urgency::BehindTheWindow)
        : work_(std::move(work)), urgency_(urgency) {}
    LatestJob(const LatestJob&) = delete;
    LatestJob& operator=(const LatestJob&) = delete;
    ~LatestJob() {
        {
            const std::lock_guard lock(mutex_);
            ends_ = true;
            order_.reset();
            stop_.request_stop();
        }
        wake_.notify_all();
        if (thread_.joinable()) thread_.join();
    }

    void ask(Request request) {
        {
            const std::lock_guard lock(mutex_);
            order_ = std::move(request);
            stop_.request_stop();
            if (!thread_.joinable()) thread_ = std::thread([this] { run(); });
        }
        wake_.notify_one();
    }

    /// Forgets the order that waits and asks the one under way to stop.
    void drop() {
        const std::lock_guard lock(mutex_);
        order_.reset();
        stop_.request_stop();
    }

    /// The newest answer since the last call; older ones that nobody took are gone.
    [[nodiscard]] std::optional<Answer> take() {
        const std::lock_guard lock(mutex_);
        return std::exchange(answer_, std::nullopt);
    }

    [[nodiscard]] bool has_answer() const {
        const std::lock_guard lock(mutex_);
        return answer_.has_value();
    }

    [[nodiscard]] bool is_busy() const {
        const std::lock_guard lock(mutex_);
        return order_.has_value() || running_;
    }

    /// Blocks until an answer is there to be taken, nothing is under way, or the time is over.
    void wait_for_answer(std::chrono::steady_clock::time_point until) {
        std::unique_lock lock(mutex_);
        given_.wait_until(lock, until, [this] { return answer_.has_value() || (!order_ && !running_); });
    }

    /// Blocks until nothing is under way.
    void wait() {
        std::unique_lock lock(mutex_);
        idle_.wait(lock, [this] { return !order_ && !running_; });
    }

private:
    void run() {
        take_urgency(urgency_);
        std::unique_lock lock(mutex_);
        while (true) {
            wake_.wait(lock, [this] { return ends_ || order_; });
            if (ends_) return;
            const Request request = std::move(*std::exchange(order_, std::nullopt));
            stop_ = std::stop_source();
            const std::stop_token token = stop_.get_token();
            running_ = true;
            lock.unlock();
            work_(request, token, [this](Answer answer) {
                const std::lock_guard inner(mutex_);
                answer_ = std::move(answer);
                given_.notify_all();
            });
            lock.lock();
            running_ = false;
            if (order_) continue;
            idle_.notify_all();
            given_.notify_all();
        }
    }

    Work work_;
    Urgency urgency_;
    mutable std::mutex mutex_;
    std::condition_variable wake_, idle_, given_;
    std::optional<Request> order_; // this and all below: guarded by mutex_
    std::optional<Answer> answer_;
    std::stop_source stop_;
    bool running_ = false;
    bool ends_ = false;
    std::thread thread_;
};

} // namespace padchart::app
