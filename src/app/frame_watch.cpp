#include "app/frame_watch.hpp"

#include <algorithm>
#include <cstdlib>
#include <ctime>

#include <fmt/format.h>

#include "app/trace_log.hpp"

namespace padchart::app {

FrameWatch::FrameWatch() : is_on_(std::getenv("PADCHART_TRACE") != nullptr) {}

FrameWatch::Time FrameWatch::now() {
    const auto ms = [](clockid_t which) {
        timespec t{};
        clock_gettime(which, &t);
        return 1e3 * static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_nsec);
    };
    return {ms(CLOCK_MONOTONIC), ms(CLOCK_THREAD_CPUTIME_ID)};
}

void FrameWatch::begin_round() {
    if (!is_on_) return;
    began_ = last_ = now();
    laps_.clear();
}

void FrameWatch::lap(const char* what) {
    if (!is_on_) return;
    const Time here = now();
    laps_.push_back({what, here.wall_ms - last_.wall_ms, here.own_ms - last_.own_ms});
    last_ = here;
}

std::string FrameWatch::laps_in_words() const {
    std::string words;
    for (const Lap& lap : laps_)
        if (lap.wall_ms >= 1.0)
            words += fmt::format("{}{} {:.0f} ({:.0f})", words.empty() ? "" : ", ", lap.what, lap.wall_ms, lap.own_ms);
    return words;
}

void FrameWatch::end_round() {
    if (!is_on_) return;
    const Time here = now();
    const Time took{here.wall_ms - began_.wall_ms, here.own_ms - began_.own_ms};
    if (took.wall_ms > kTooLong_ms)
        trace("slow", fmt::format("{:.0f} ms, own {:.0f} ms: {}", took.wall_ms, took.own_ms, laps_in_words()));
    if (took.wall_ms > longest_.wall_ms) {
        longest_ = took;
        longest_laps_ = laps_in_words();
    }
    if (took.own_ms > hardest_.own_ms) hardest_ = took;
}

void FrameWatch::report() {
    if (!is_on_) return;
    trace("longest round",
          fmt::format("{:.0f} ms, own {:.0f} ms: {}", longest_.wall_ms, longest_.own_ms, longest_laps_));
    trace("hardest round", fmt::format("own {:.0f} ms of {:.0f} ms", hardest_.own_ms, hardest_.wall_ms));
    longest_ = hardest_ = {};
    longest_laps_.clear();
}

} // namespace padchart::app
