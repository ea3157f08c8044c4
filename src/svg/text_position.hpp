#pragma once
// Line and column of a place in a text, and the way back through an expansion of entities.

#include <array>
#include <cstddef>
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
    static constexpr std::size_t kWord = 64;
    static constexpr std::size_t kBlock = 4 * kWord; ///< a table of all lines could be larger than the text

    struct Line {
        std::size_t start = 0;
        std::uint32_t before = 0; ///< so many lines end before it
    };
    /// A stretch of the text: the line it begins in, and a bit for every byte that ends one.
    struct Block {
        Line first;
        std::array<std::uint64_t, kBlock / kWord> breaks{};
    };

    /// The line that goes on after the first `bytes` bytes of a block.
    [[nodiscard]] Line line_in(std::size_t block, std::size_t bytes) const;

    std::string_view text_;
    std::vector<Block> blocks_;
    bool is_ascii_; ///< then a column is told without looking at the text again
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
