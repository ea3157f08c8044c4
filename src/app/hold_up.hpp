#pragma once
// Tells in the trace log (trace_log.hpp) whenever the window has not looked at its keys for a tenth of a second, and
// how much of that was its own work: on a busy machine much of it is other programs'. Silent without that log.

#include <chrono>
#include <ctime>

#include <fmt/format.h>

#include "app/trace_log.hpp"

namespace padchart::app {

class HoldUp {
public:
    /// Call once a round of the window's loop. `idle`: the window waited of its own accord, which is no hold-up.
    void round(bool idle) {
        const auto now = std::chrono::steady_clock::now();
        const double own_ms = own_time_ms();
        const double ms = std::chrono::duration<double, std::milli>(now - last_).count();
        if (!idle && is_begun_ && ms > kNoticed_ms)
            trace("held up", fmt::format("{:.0f} ms, {:.0f} of them own work", ms, own_ms - own_ms_));
        last_ = now;
        own_ms_ = own_ms;
        is_begun_ = true;
    }

private:
    static constexpr double kNoticed_ms = 100.0;

    /// Of this thread.
    static double own_time_ms() {
        timespec time{};
        clock_gettime(CLOCK_THREAD_CPUTIME_ID, &time);
        return static_cast<double>(time.tv_sec) * 1e3 + static_cast<double>(time.tv_nsec) / 1e6;
    }

    std::chrono::steady_clock::time_point last_;
    double own_ms_ = 0.0;
    bool is_begun_ = false;
};

} // namespace padchart::app
