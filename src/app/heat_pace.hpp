#pragma once
// How the quick estimate keeps up with the hand: on a slow or busy machine its grid is made coarser, and a frame that
// would show an answer of more than two frames ago waits for a moment. Without clock or thread: whoever measures tells.

#include <array>
#include <cstddef>
#include <cstdint>

namespace padchart::app {

/// How much coarser than usual the grid of the quick estimate has to be, from what the last answers took.
class LiveGrid {
public:
    static constexpr double kMostCoarser = 1.6; ///< a third of the work; beyond it small parts are no longer seen
    static constexpr double kTooLong_ms = 33.0; ///< two frames at sixty a second

    /// Factor on the cell, 1 to kMostCoarser.
    [[nodiscard]] double coarser() const { return coarser_; }
    /// An answer on this grid took so long. One slow answer alone changes nothing: the first of a board makes its grid.
    void took(double ms);

private:
    double coarser_ = 1.0;
    double last_ms_ = 0.0;
    int quick_in_a_row_ = 0;
};

/// Which question has to be answered before a frame may be shown.
class FramePace {
public:
    static constexpr std::uint64_t kMostFrames = 2; ///< after the one in which the hand moved

    void frame_begins() { ++frame_; }
    /// Requires: numbers rise.
    void asked(std::uint64_t number);
    /// The newest question that is due in the frame that has begun; 0: none.
    [[nodiscard]] std::uint64_t due() const;

private:
    struct Asked {
        std::uint64_t number = 0, frame = 0;
    };
    std::uint64_t frame_ = 0;
    std::array<Asked, 8> last_{}; ///< a ring, one a frame
    std::size_t next_ = 0;
};

} // namespace padchart::app
