#include "app/latest_job.hpp"

#include <atomic>
#include <future>
#include <string>
#include <vector>

#include <doctest/doctest.h>

namespace padchart::app {
namespace {

using Job = LatestJob<int, std::string>;

/// Work that begins when it is let go, so that a test decides what waits and what runs.
struct Gate {
    std::mutex mutex;
    std::condition_variable changed;
    std::vector<int> begun;
    int allowed = 0;
    std::vector<bool> asked_to_stop;

    Job::Work work() {
        return [this](const int& request, const std::stop_token& stop, const Job::Give& give) {
            std::unique_lock lock(mutex);
            begun.push_back(request);
            const auto place = static_cast<int>(begun.size());
            changed.notify_all();
            changed.wait(lock, [&] { return allowed >= place; });
            asked_to_stop.push_back(stop.stop_requested());
            give("answer " + std::to_string(request));
        };
    }
    void await_begun(std::size_t count) {
        std::unique_lock lock(mutex);
        changed.wait(lock, [&] { return begun.size() >= count; });
    }
    void let_go(int count) {
        const std::lock_guard lock(mutex);
        allowed += count;
        changed.notify_all();
    }
};

} // namespace

TEST_CASE("an order is answered once and the answer is taken once") {
    Job job([](const int& n, const std::stop_token&, const Job::Give& give) { give(std::to_string(2 * n)); });
    CHECK_FALSE(job.take());
    CHECK_FALSE(job.is_busy());
    job.ask(21);
    job.wait();
    CHECK_FALSE(job.is_busy());
    CHECK(job.take() == "42");
    CHECK_FALSE(job.take());
}

TEST_CASE("of the orders that wait only the latest is done") {
    Gate gate;
    Job job(gate.work());
    job.ask(1);
    gate.await_begun(1);
    for (int n = 2; n <= 60; ++n)
        job.ask(n);
    CHECK(job.is_busy());
    gate.let_go(60);
    job.wait();
    CHECK(gate.begun == std::vector<int>{1, 60});
    CHECK(job.take() == "answer 60");
}

TEST_CASE("the order under way is told to stop by a newer one and its answer still counts") {
    Gate gate;
    Job job(gate.work());
    job.ask(1);
    gate.await_begun(1);
    job.ask(2);
    gate.let_go(1);
    gate.await_begun(2); // the first has been answered
    CHECK(job.take() == "answer 1");
    gate.let_go(1);
    job.wait();
    CHECK(gate.asked_to_stop == std::vector<bool>{true, false});
    CHECK(job.take() == "answer 2");
}

TEST_CASE("a dropped order is never begun and asking does not wait for the work") {
    Gate gate;
    Job job(gate.work());
    job.ask(1);
    gate.await_begun(1);
    job.ask(2); // returns at once although the first is not done
    job.drop();
    gate.let_go(2);
    job.wait();
    CHECK(gate.begun == std::vector<int>{1});
    CHECK(job.take() == "answer 1");
}

TEST_CASE("of several answers to one order the newest is kept") {
    Job job([](const int&, const std::stop_token&, const Job::Give& give) {
        give("rough");
        give("better");
        give("final");
    });
    job.ask(0);
    job.wait();
    CHECK(job.take() == "final");
}

TEST_CASE("a job ends with its work told to stop") {
    std::promise<bool> stopped;
    std::promise<void> begun;
    {
        Job job([&](const int&, const std::stop_token& stop, const Job::Give&) {
            begun.set_value();
            while (!stop.stop_requested())
                std::this_thread::yield();
            stopped.set_value(true);
        });
        job.ask(1);
        begun.get_future().wait();
    }
    CHECK(stopped.get_future().get());
}

} // namespace padchart::app
