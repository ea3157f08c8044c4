#include "paint/photo_pixels.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "paint/photo_rows.hpp"

namespace padchart::paint {
namespace {

int halved(int side, int times) {
    return ((side - 1) >> times) + 1;
}

std::size_t index(int i) {
    return static_cast<std::size_t>(i);
}

} // namespace

RowReducer::RowReducer(PhotoSize rows, int levels) : size_(rows), levels_(levels) {
    out_.width = halved(rows.width, levels);
    out_.height = halved(rows.height, levels);
    out_.rgb.assign(3 * index(out_.width) * index(out_.height), 255);
    if (levels > 0) sums_.assign(3 * index(out_.width), 0);
}

void RowReducer::add_rgb(const std::uint8_t* row) {
    const std::size_t wide = 3 * index(out_.width);
    if (levels_ == 0) {
        std::copy(row, row + wide, out_.rgb.begin() + static_cast<std::ptrdiff_t>(index(row_) * wide));
        ++row_;
        return;
    }
    for (int x = 0; x < size_.width; ++x)
        for (std::size_t c = 0; c < 3; ++c)
            sums_[3 * index(x >> levels_) + c] += row[3 * index(x) + c];
    ++row_;
    ++rows_in_block_;
    if (rows_in_block_ == 1 << levels_) flush();
}

void RowReducer::add_rgba(const std::uint8_t* row) {
    opaque_row_.resize(3 * index(size_.width));
    for (std::size_t x = 0; x < index(size_.width); ++x)
        for (std::size_t c = 0; c < 3; ++c) {
            const unsigned alpha = row[4 * x + 3];
            opaque_row_[3 * x + c] = static_cast<std::uint8_t>((row[4 * x + c] * alpha + 255U * (255U - alpha)) / 255U);
        }
    add_rgb(opaque_row_.data());
}

void RowReducer::flush() {
    if (rows_in_block_ == 0) return;
    const int full = 1 << levels_;
    std::uint8_t* to = out_.rgb.data() + 3 * index(out_.width) * index((row_ - 1) >> levels_);
    for (int x = 0; x < out_.width; ++x) {
        const int columns = std::min(full, size_.width - x * full);
        const auto count = static_cast<std::uint32_t>(columns * rows_in_block_);
        for (std::size_t c = 0; c < 3; ++c)
            to[3 * index(x) + c] = static_cast<std::uint8_t>((sums_[3 * index(x) + c] + count / 2) / count);
    }
    std::fill(sums_.begin(), sums_.end(), 0U);
    rows_in_block_ = 0;
}

Pixels RowReducer::finish() {
    flush();
    return std::move(out_);
}

std::size_t bytes_with_levels(PhotoSize size) {
    std::size_t bytes = 0;
    for (int level = 0;; ++level) {
        const int width = halved(size.width, level), height = halved(size.height, level);
        bytes += 3 * index(width) * index(height);
        if (width == 1 && height == 1) return bytes;
    }
}

int levels_to_fit(PhotoSize size, std::size_t most_bytes) {
    int levels = 0;
    while ((size.width > 1 || size.height > 1) && bytes_with_levels(size) > most_bytes) {
        size = {halved(size.width, 1), halved(size.height, 1)};
        ++levels;
    }
    return levels;
}

std::string refusal_of(double width, double height) {
    if (width <= kLongestSide && height <= kLongestSide && width * height <= kMostPixels) return {};
    return fmt::format("is {:.0f} x {:.0f} pixels large; right would be at most {:.0f} million pixels, {} on a side",
                       width, height, kMostPixels / 1e6, kLongestSide);
}

Result<DecodedPhoto> decode_photo(std::string_view bytes, std::size_t most_bytes, const std::stop_token& stop) {
    using namespace std::string_view_literals;
    if (bytes.starts_with("\xff\xd8"sv)) return decode_jpeg(bytes, most_bytes, stop);
    if (bytes.starts_with("\x89PNG\r\n\x1a\n"sv)) return decode_png(bytes, most_bytes, stop);
    return Error{"is neither a JPEG nor a PNG picture", {}};
}

Pixels half_of(const Pixels& pixels) {
    Pixels out{halved(pixels.width, 1), halved(pixels.height, 1), {}};
    out.rgb.resize(3 * index(out.width) * index(out.height));
    std::uint8_t* to = out.rgb.data();
    for (int y = 0; y < out.height; ++y) {
        const std::uint8_t* upper = pixels.at(0, 2 * y);
        const std::uint8_t* lower = pixels.at(0, std::min(2 * y + 1, pixels.height - 1));
        for (int x = 0; x < out.width; ++x) {
            const std::size_t left = 6 * index(x);
            const std::size_t right = 2 * x + 1 < pixels.width ? left + 3 : left;
            for (std::size_t c = 0; c < 3; ++c)
                *to++ = static_cast<std::uint8_t>(
                    (upper[left + c] + upper[right + c] + lower[left + c] + lower[right + c] + 2) / 4);
        }
    }
    return out;
}

std::vector<Pixels> levels_of(Pixels first, int smallest_side) {
    std::vector<Pixels> levels;
    levels.push_back(std::move(first));
    while (levels.back().width > smallest_side || levels.back().height > smallest_side)
        levels.push_back(half_of(levels.back()));
    return levels;
}

} // namespace padchart::paint
