#include "app/work_desk.hpp"

#include <utility>

#include "app/session.hpp"
#include "app/trace_log.hpp"

namespace padchart::app {

WorkDesk::WorkDesk()
    : job_([](const Order& order, const std::stop_token& stop, const auto& give) {
          const Say say = [&](std::string step) { give({order.number, std::move(step), std::nullopt}); };
          Then then = order.work(stop, say);
          if (!stop.stop_requested()) give({order.number, {}, std::move(then)});
      }) {}

bool WorkDesk::begin(std::string title, bool holds_hands, Work work) {
    if (is_busy()) return false;
    title_ = std::move(title);
    step_ = job_.is_busy() ? "waiting for what was given up" : "";
    holds_hands_ = holds_hands;
    for_good_ = false;
    began_ = Clock::now();
    trace("work", title_);
    job_.ask({std::move(work), ++number_});
    return true;
}

bool WorkDesk::begin_for_good(std::string title, Work work) {
    if (!begin(std::move(title), false, std::move(work))) return false;
    for_good_ = true;
    return true;
}

void WorkDesk::cancel(Session& s) {
    if (!can_be_given_up()) return;
    trace("work given up", title_);
    title_.clear();
    ++number_; // what still comes of it is late
    job_.drop();
    s.editor.tell(Severity::Note, holds_hands_ ? "Given up, the chart is as it was." : "Given up, nothing written.");
}

bool WorkDesk::update(Session& s) {
    if (!is_busy()) return false;
    std::optional<Answer> answer = job_.take();
    if (answer && answer->number == number_) {
        if (answer->then) {
            title_.clear();
            (*answer->then)(s);
            return true;
        }
        step_ = std::move(answer->step);
        return true;
    }
    // The seconds that run tell that the program does.
    const int tenths = static_cast<int>(seconds() * 10);
    return std::exchange(shown_tenths_, tenths) != tenths;
}

double WorkDesk::seconds() const {
    return std::chrono::duration<double>(Clock::now() - began_).count();
}

void WorkDesk::wait(Session& s) {
    job_.wait();
    update(s);
}

} // namespace padchart::app
