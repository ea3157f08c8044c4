#pragma once
// How long the window kept a hand waiting. Every round of the main loop is measured, by the clock and by what this
// thread itself worked; rounds over 100 ms go to the log of PADCHART_TRACE as they happen, the longest one at the end.
// A busy machine makes the first number larger, not the second; of each piece of work the second stands in brackets.

#include <chrono>
#include <string>
#include <vector>

namespace padchart::app {

class FrameWatch {
public:
    static constexpr double kTooLong_ms = 100.0;

    FrameWatch();
    void begin_round();
    /// What was done since the last lap.
    void lap(const char* what);
    /// Of what was measured, nothing is kept but the longest.
    void end_round();
    /// To the log; begins anew.
    void report();

private:
    struct Time {
        double wall_ms = 0.0, own_ms = 0.0;
    };
    struct Lap {
        const char* what;
        double wall_ms, own_ms;
    };
    static Time now();
    [[nodiscard]] std::string laps_in_words() const;

    bool is_on_;
    Time began_, last_;
    std::vector<Lap> laps_;
    Time longest_, hardest_;
    std::string longest_laps_;
};

} // namespace padchart::app
