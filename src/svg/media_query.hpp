#pragma once
// Media queries as far as drawings use them (Media Queries 4, sections 2 and 3): lists, `not`, `only`, types, and the
// features below, held against one nominal screen.

#include <optional>
#include <string_view>

namespace padchart::svg {

/// What a drawing is taken to be looked at on: a colour screen, wider than high.
inline constexpr double kScreenWidth = 1280.0;
inline constexpr double kScreenHeight = 720.0;

struct MediaAnswer {
    bool applies = false;
    bool asks_size = false; ///< the answer hangs on the size of the window
};

/// Nothing when a query of the list is not understood and no other one applies.
[[nodiscard]] std::optional<MediaAnswer> media_answer(std::string_view list);

} // namespace padchart::svg
