#include "svg/text_position.hpp"

#include <algorithm>
#include <cstring>

namespace padchart::svg {

TextPositions::TextPositions(std::string_view text) : text_(text), line_starts_{0} {
    const char* const begin = text.data();
    const char* const end = begin + text.size();
    for (const char* at = begin; at != end;) {
        at = static_cast<const char*>(std::memchr(at, '\n', static_cast<std::size_t>(end - at)));
        if (at == nullptr) break;
        ++at;
        line_starts_.push_back(static_cast<std::size_t>(at - begin));
    }
}

TextPosition TextPositions::at(std::size_t offset) const {
    offset = std::min(offset, text_.size());
    const auto after = std::upper_bound(line_starts_.begin(), line_starts_.end(), offset);
    const std::size_t start = *(after - 1);
    // A file that is one long line would make this quadratic: beyond this the column counts bytes.
    constexpr std::size_t kCountedCharacters = 4096;
    std::size_t column = offset - start;
    if (column <= kCountedCharacters)
        for (std::size_t i = start; i < offset; ++i)
            if ((static_cast<unsigned char>(text_[i]) & 0xC0U) == 0x80U) --column;
    return {static_cast<std::uint32_t>(after - line_starts_.begin()), static_cast<std::uint32_t>(column + 1)};
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
