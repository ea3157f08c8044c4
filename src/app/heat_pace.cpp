#include "app/heat_pace.hpp"

#include <algorithm>

namespace padchart::app {
namespace {

constexpr double kStep = 1.26;         // about the third root of two: three steps make the cells twice as large
constexpr double kQuickEnough_ms = 14; // a step finer takes up to twice as long and is still in time
constexpr int kQuickInARow = 30;

} // namespace

void LiveGrid::took(double ms) {
    const bool is_slow = std::min(ms, last_ms_) > kTooLong_ms;
    quick_in_a_row_ = ms < kQuickEnough_ms ? quick_in_a_row_ + 1 : 0;
    last_ms_ = ms;
    const double before = coarser_;
    if (is_slow)
        coarser_ = std::min(kMostCoarser, coarser_ * kStep);
    else if (quick_in_a_row_ >= kQuickInARow)
        coarser_ = std::max(1.0, coarser_ / kStep);
    if (coarser_ == before) return;
    last_ms_ = 0.0; // of another grid
    quick_in_a_row_ = 0;
}

void FramePace::asked(std::uint64_t number) {
    const std::size_t newest = (next_ + last_.size() - 1) % last_.size();
    // Of several within one frame only the last can be seen.
    if (last_[newest].number > 0 && last_[newest].frame == frame_) {
        last_[newest].number = number;
        return;
    }
    last_[next_] = {number, frame_};
    next_ = (next_ + 1) % last_.size();
}

std::uint64_t FramePace::due() const {
    std::uint64_t number = 0;
    for (const Asked& one : last_)
        if (one.number > 0 && one.frame + kMostFrames <= frame_) number = std::max(number, one.number);
    return number;
}

} // namespace padchart::app
