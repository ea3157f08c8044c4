#include "svg/text_position.hpp"

#include <algorithm>

namespace padchart::svg {

namespace {

constexpr std::size_t kBlock = 256; ///< a table of all lines would be filled line by line, which takes longer

/// In stretches whose count fits a byte: the loop becomes vector instructions over bytes.
std::uint32_t count_breaks(std::string_view text) {
    std::uint32_t count = 0;
    while (!text.empty()) {
        const std::string_view stretch = text.substr(0, 128);
        std::uint8_t here = 0;
        for (const char c : stretch)
            here = static_cast<std::uint8_t>(here + (c == '\n' ? 1 : 0));
        count += here;
        text.remove_prefix(stretch.size());
    }
    return count;
}

struct Breaks {
    std::uint32_t count = 0;
    std::size_t after_last = 0; ///< Requires: count > 0
};

Breaks breaks_in(std::string_view text, std::size_t from, std::size_t to) {
    const std::uint32_t count = count_breaks(text.substr(from, to - from));
    if (count == 0) return {};
    return {count, text.rfind('\n', to - 1) + 1};
}

} // namespace

TextPositions::TextPositions(std::string_view text) : text_(text) {
    blocks_.reserve(text.size() / kBlock + 1);
    Block block;
    for (std::size_t from = 0; from <= text.size(); from += kBlock) {
        blocks_.push_back(block);
        const Breaks breaks = breaks_in(text, from, std::min(from + kBlock, text.size()));
        block.lines_before += breaks.count;
        if (breaks.count > 0) block.line_start = breaks.after_last;
    }
}

TextPosition TextPositions::at(std::size_t offset) const {
    offset = std::min(offset, text_.size());
    const Block& block = blocks_[offset / kBlock];
    const Breaks breaks = breaks_in(text_, offset - offset % kBlock, offset);
    const std::size_t start = breaks.count > 0 ? breaks.after_last : block.line_start;
    // A file that is one long line would make this quadratic: beyond this the column counts bytes.
    constexpr std::size_t kCountedCharacters = 4096;
    std::size_t column = offset - start;
    if (column <= kCountedCharacters)
        for (std::size_t i = start; i < offset; ++i)
            if ((static_cast<unsigned char>(text_[i]) & 0xC0U) == 0x80U) --column;
    return {block.lines_before + breaks.count + 1, static_cast<std::uint32_t>(column + 1)};
}

std::size_t origin_of(const OriginMap& map, std::size_t offset) {
    const auto after =
        std::upper_bound(map.begin(), map.end(), offset,
                         [](std::size_t at, const OriginStretch& stretch) { return at < stretch.begin; });
    if (after == map.begin()) return offset;
    const OriginStretch& stretch = *(after - 1);
    return stretch.moves ? stretch.origin + (offset - stretch.begin) : stretch.origin;
}

} // namespace padchart::svg
