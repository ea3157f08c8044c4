#include "svg/text_position.hpp"

#include <algorithm>
#include <bit>

namespace padchart::svg {

namespace {

bool is_ascii(std::string_view text) {
    std::uint8_t all = 0;
    for (const char c : text) // plain enough to become vector instructions
        all = static_cast<std::uint8_t>(all | static_cast<unsigned char>(c));
    return all < 0x80;
}

} // namespace

TextPositions::TextPositions(std::string_view text)
    : text_(text), blocks_(text.size() / kBlock + 1), is_ascii_(is_ascii(text)) {
    for (std::size_t at = text.find('\n'); at != std::string_view::npos; at = text.find('\n', at + 1))
        blocks_[at / kBlock].breaks[at % kBlock / kWord] |= std::uint64_t{1} << at % kWord;
    for (std::size_t i = 1; i < blocks_.size(); ++i)
        blocks_[i].first = line_in(i - 1, kBlock);
}

TextPositions::Line TextPositions::line_in(std::size_t block, std::size_t bytes) const {
    Line line = blocks_[block].first;
    for (std::size_t word = 0; word * kWord < bytes; ++word) {
        const std::size_t here = bytes - word * kWord;
        const std::uint64_t counted = here < kWord ? (std::uint64_t{1} << here) - 1 : ~std::uint64_t{0};
        const std::uint64_t breaks = blocks_[block].breaks[word] & counted;
        if (breaks == 0) continue;
        line.before += static_cast<std::uint32_t>(std::popcount(breaks));
        line.start = block * kBlock + word * kWord + static_cast<std::size_t>(std::bit_width(breaks));
    }
    return line;
}

TextPosition TextPositions::at(std::size_t offset) const {
    offset = std::min(offset, text_.size());
    const Line line = line_in(offset / kBlock, offset % kBlock);
    // A file that is one long line would make this quadratic: beyond this the column counts bytes.
    constexpr std::size_t kCountedCharacters = 4096;
    std::size_t column = offset - line.start;
    if (!is_ascii_ && column <= kCountedCharacters)
        for (std::size_t i = line.start; i < offset; ++i)
            if ((static_cast<unsigned char>(text_[i]) & 0xC0U) == 0x80U) --column;
    return {line.before + 1, static_cast<std::uint32_t>(column + 1)};
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
