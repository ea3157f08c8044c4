#pragma once
// How far the heat estimate on show may be taken at its word, and how that is said beside its numbers.

#include <cstdint>
#include <memory>
#include <string>

#include "app/heat_desk.hpp"

namespace padchart::app {

enum class Standing : std::uint8_t {
    Final,
    First, ///< a coarse one, or one about to be replaced
    Older  ///< of the plan, or the board, before the last change
};

/// Of the estimate the desk shows for its plan on this chart. Final where there is none.
[[nodiscard]] Standing standing_of(const HeatDesk& desk, const std::shared_ptr<const document::Chart>& chart);

/// "First estimate, being refined"; empty for a final one.
[[nodiscard]] std::string in_words(Standing standing);
/// What stands before every figure: "≈ ", or nothing.
[[nodiscard]] const char* sign_of(Standing standing);
/// "It may reach ≈ 191 to 321 °C, its limit is 280 °C": before every range, which is what was worked out.
[[nodiscard]] std::string with_signs(std::string sentence, Standing standing);

} // namespace padchart::app
