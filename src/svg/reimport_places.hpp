#pragma once
// Parts that a corrected trace draws where others of the chart lay: most likely names were corrected, not parts moved.
// For svg/reimport alone.

#include <optional>
#include <span>
#include <vector>

#include "svg/reimport_match.hpp"

namespace padchart::svg {

/// One that is drawn where the next one lay, that one where the one after it lay, and so on.
struct PlaceChain {
    /// Positions in `current`; behind them those in `fresh` of what is new.
    std::vector<std::size_t> members;
    bool is_closed = false; ///< the last one is drawn where the first one lay
};

/// Cycles and chains of two and more. A row that moved as one along itself is none.
[[nodiscard]] std::vector<PlaceChain> exchanged_places(std::span<const Token> current, std::span<const Token> fresh,
                                                       std::span<const std::optional<Partner>> partner);

} // namespace padchart::svg
