#pragma once
// Entities declared in a document's own DOCTYPE, expanded before the parser sees the text (which knows none of its
// own). External ones are never fetched. The growth is bounded, so that a few lines cannot become gigabytes.

#include <string>
#include <string_view>

#include "base/diagnostic.hpp"
#include "base/result.hpp"
#include "svg/text_position.hpp"

namespace padchart::svg {

struct ExpandedText {
    bool changed = false; ///< false: there was nothing to do, `text` is empty
    std::string text;     ///< the DOCTYPE's own part is blanked out
    OriginMap origins;
    Diagnostics diagnostics;
};

inline constexpr std::size_t kMaxEntityGrowth = 16U << 20;

/// Errors: an entity that contains itself; growth beyond kMaxEntityGrowth.
[[nodiscard]] Result<ExpandedText> expand_entities(std::string_view text);

} // namespace padchart::svg
