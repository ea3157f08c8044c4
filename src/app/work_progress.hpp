#pragma once
// How far a long piece of work is, and whether it is to go on: written on its thread, read by the window every frame.

#include <atomic>
#include <memory>
#include <stop_token>

namespace padchart::app {

class WorkProgress {
public:
    /// `words` must be of static storage: "Reading shapes". `share` of that step: 0 to 1, below 0: not known.
    void at(const char* words, double share = -1.0) {
        words_ = words;
        share_ = share;
    }
    [[nodiscard]] const char* words() const { return words_; }
    [[nodiscard]] double share() const { return share_; }

private:
    std::atomic<const char*> words_ = "Waiting for its turn";
    std::atomic<double> share_ = -1.0;
};

/// What a piece of work tells and asks while it runs. Works without either.
struct Watch {
    std::shared_ptr<WorkProgress> progress;
    std::stop_token stop;

    /// False: to be given up.
    [[nodiscard]] bool go_on(const char* words, double share = -1.0) const {
        if (progress) progress->at(words, share);
        return !stop.stop_requested();
    }
};

} // namespace padchart::app
