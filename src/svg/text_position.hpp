#pragma once
// Line and column of a place in a text, and the way back through an expansion of entities.

#include <cstdint>
#include <string_view>
#include <vector>

namespace padchart::svg {

struct TextPosition {
    std::uint32_t line = 1;
    std::uint32_t column = 1; ///< in characters (UTF-8), from 1
};

class TextPositions {
public:
    /// The text must outlive this.
    explicit TextPositions(std::string_view text);
    [[nodiscard]] TextPosition at(std::size_t offset) const;

private:
    /// Of a stretch of the text: how many lines end before it, and where the line it begins in begins.
    struct Block {
        std::size_t line_start = 0;
        std::uint32_t lines_before = 0;
    };

    std::string_view text_;
    std::vector<Block> blocks_;
};

/// Where each stretch of an expanded text came from, in rising order.
struct OriginStretch {
    std::size_t begin = 0;  ///< in the expanded text
    std::size_t origin = 0; ///< in the text as it was written
    bool moves = true;      ///< false: inside an expanded entity, all of it came from `origin`
};
using OriginMap = std::vector<OriginStretch>;

/// An empty map means the text was not changed.
[[nodiscard]] std::size_t origin_of(const OriginMap& map, std::size_t offset);

} // namespace padchart::svg
