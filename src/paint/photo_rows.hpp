#pragma once
// Rows of a picture as a decoder gives them, averaged on the way into a smaller picture. Shared by the decoders only.

#include <cstdint>
#include <stop_token>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "paint/photo_pixels.hpp"

namespace padchart::paint {

/// Memory that a file may ask for beside the answer because its rows do not come in order, bytes.
inline constexpr std::size_t kMostBeside = std::size_t{320} << 20U;

class RowReducer {
public:
    /// Rows of `rows` size come in; the answer is smaller by 2^levels.
    RowReducer(PhotoSize rows, int levels);
    /// Requires: fewer rows than its height so far; 3 bytes a pixel.
    void add_rgb(const std::uint8_t* row);
    /// As above with 4 bytes a pixel, the last one how opaque it is; laid on white.
    void add_rgba(const std::uint8_t* row);
    [[nodiscard]] int rows_so_far() const { return row_; }
    /// What has come so far; rows that have not are white.
    [[nodiscard]] Pixels finish();

private:
    void flush();

    PhotoSize size_;
    int levels_;
    int row_ = 0;
    int rows_in_block_ = 0;
    Pixels out_;
    std::vector<std::uint32_t> sums_;
    std::vector<std::uint8_t> opaque_row_;
};

/// Levels to reduce a picture of that size by so that it takes at most so many bytes with its smaller levels.
[[nodiscard]] int levels_to_fit(PhotoSize size, std::size_t most_bytes);
/// Why a picture of that size is not decoded, or nothing.
[[nodiscard]] std::string refusal_of(double width, double height);

[[nodiscard]] Result<DecodedPhoto> decode_jpeg(std::string_view bytes, std::size_t most_bytes,
                                               const std::stop_token& stop);
[[nodiscard]] Result<DecodedPhoto> decode_png(std::string_view bytes, std::size_t most_bytes,
                                              const std::stop_token& stop);

} // namespace padchart::paint
