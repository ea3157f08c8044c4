// Any bytes at all: the reader of photographs answers or refuses within the memory it was given; it never crashes.

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "analysis/photo_header.hpp"
#include "paint/photo_pixels.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace padchart;
    constexpr std::size_t kMost = std::size_t{1} << 20U;
    const std::string_view bytes(reinterpret_cast<const char*>(data), size);
    const auto header = analysis::read_photo_header(bytes);
    const auto photo = paint::decode_photo(bytes, kMost);
    if (header && header->orientation != 1 && (header->orientation < 1 || header->orientation > 8)) std::abort();
    if (!photo) return 0;
    if (photo->pixels.rgb.size() > kMost) std::abort();
    return 0;
}
