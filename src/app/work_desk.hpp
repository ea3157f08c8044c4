#pragma once
// One piece of work that takes longer than a hand waits, such as a sheet of thousands of parts: done on a thread of its
// own on a snapshot, with its step and its time on show, and given up when the user says so. What comes of it reaches
// the chart only at the end, on the window's thread.

#include <chrono>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>

#include "app/latest_job.hpp"

namespace padchart::app {

struct Session;

class WorkDesk {
public:
    /// Done on the window's thread when the work has come to its end.
    using Then = std::function<void(Session&)>;
    /// What is done now: "laying out the pages".
    using Say = std::function<void(std::string)>;
    /// Looks at the token between its steps; what it returns after a stop is dropped. Touches nothing of the session.
    using Work = std::function<Then(const std::stop_token&, const Say&)>;

    WorkDesk();

    /// "Writing corner.pdf". `holds_hands`: nothing else can be done meanwhile, since the chart becomes another.
    /// False where some other work is under way; the user is to be told.
    bool begin(std::string title, bool holds_hands, Work work);
    /// As above, of work that must come to its end, such as saving: nobody can give it up, and no hand is held.
    bool begin_for_good(std::string title, Work work);
    /// And says so. Does nothing where it must come to its end.
    void cancel(Session& session);
    /// Takes what has come. True where something else is to be seen than before.
    bool update(Session& session);

    [[nodiscard]] bool is_busy() const { return !title_.empty(); }
    [[nodiscard]] bool holds_hands() const { return is_busy() && holds_hands_; }
    [[nodiscard]] bool can_be_given_up() const { return is_busy() && !for_good_; }
    [[nodiscard]] const std::string& title() const { return title_; }
    [[nodiscard]] const std::string& step() const { return step_; }
    /// Since it began.
    [[nodiscard]] double seconds() const;
    /// Blocks until it is done, and takes it. For tests and pictures.
    void wait(Session& session);

private:
    using Clock = std::chrono::steady_clock;
    struct Order {
        Work work;
        std::uint64_t number = 0;
    };
    struct Answer {
        std::uint64_t number = 0;
        std::string step;
        std::optional<Then> then;
    };

    std::string title_, step_;
    bool holds_hands_ = false, for_good_ = false;
    std::uint64_t number_ = 0;
    Clock::time_point began_;
    int shown_tenths_ = 0;
    LatestJob<Order, Answer> job_;
};

} // namespace padchart::app
