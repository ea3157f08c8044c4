#pragma once
// What a person sets once and wants to find again at the next start: theme, tool to reach in with and how it is held,
// what is met while parts are moved. One line a setting in the state folder; never in a chart.

#include <chrono>
#include <filesystem>
#include <string>

#include "app/session.hpp"

namespace padchart::app {

/// "theme dark-room\naccess-tool tweezers-fine\n..."
[[nodiscard]] std::string habits_of(const Session& session);
/// Lines that mean nothing, and values that cannot be, are passed over: an older or a newer program wrote them.
void take_habits(Session& session, const std::string& text, bool theme_too = true);

class Habits {
public:
    /// Nothing is remembered where the folder is empty.
    explicit Habits(const std::filesystem::path& state);

    /// `theme_too`: not where the user asked for one.
    void take_up(Session& session, bool theme_too);
    /// Writes what has become another, once a hand rests.
    void look(const Session& session);
    void end(const Session& session);

private:
    using Clock = std::chrono::steady_clock;
    void write(const std::string& text);

    std::filesystem::path file_;
    std::string written_, seen_;
    Clock::time_point seen_since_, looked_;
};

} // namespace padchart::app
