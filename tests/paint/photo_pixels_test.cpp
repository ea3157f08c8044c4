#include "paint/photo_pixels.hpp"

#include <algorithm>
#include <cmath>
#include <random>

#include <doctest/doctest.h>

#include "support/photo_maker.hpp"

using namespace padchart;
using namespace padchart::paint;
using tests::jpeg_of;
using tests::png_of;

namespace {

constexpr std::size_t kPlenty = std::size_t{64} << 20U;

/// Soft waves, so that a JPEG of it is near to it.
Pixels waves(int width, int height) {
    Pixels pixels{width, height, {}};
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x)
            for (const double k : {0.021, 0.034, 0.013})
                pixels.rgb.push_back(static_cast<std::uint8_t>(128 + 100 * std::sin(k * x) * std::cos(0.7 * k * y)));
    return pixels;
}

Pixels random_pixels(int width, int height) {
    std::mt19937 random(11);
    Pixels pixels{width, height, {}};
    for (int i = 0; i < 3 * width * height; ++i)
        pixels.rgb.push_back(static_cast<std::uint8_t>(random() & 255U));
    return pixels;
}

int worst_difference(const Pixels& a, const Pixels& b) {
    REQUIRE(a.rgb.size() == b.rgb.size());
    int worst = 0;
    for (std::size_t i = 0; i < a.rgb.size(); ++i)
        worst = std::max(worst, std::abs(a.rgb[i] - b.rgb[i]));
    return worst;
}

/// The slow obvious way: every pixel the mean of all it covers.
Pixels reduced_slowly(const Pixels& from, int levels) {
    const int step = 1 << levels;
    Pixels out{(from.width + step - 1) / step, (from.height + step - 1) / step, {}};
    for (int y = 0; y < out.height; ++y)
        for (int x = 0; x < out.width; ++x)
            for (int c = 0; c < 3; ++c) {
                double sum = 0.0;
                int count = 0;
                for (int v = y * step; v < std::min((y + 1) * step, from.height); ++v)
                    for (int u = x * step; u < std::min((x + 1) * step, from.width); ++u, ++count)
                        sum += from.at(u, v)[c];
                out.rgb.push_back(static_cast<std::uint8_t>(std::floor(sum / count + 0.5)));
            }
    return out;
}

std::string trouble_of(const std::string& bytes) {
    const auto photo = decode_photo(bytes, kPlenty);
    return photo ? photo->cut_short : photo.error().message;
}

bool says(const std::string& text, const char* what) {
    return text.find(what) != std::string::npos;
}

} // namespace

TEST_CASE("a PNG comes back pixel by pixel whether interlaced or not") {
    const Pixels pixels = random_pixels(37, 23);
    for (const bool interlaced : {false, true}) {
        const auto photo = decode_photo(png_of(pixels, {interlaced, false}), kPlenty);
        REQUIRE(photo);
        CHECK(photo->full.width == 37);
        CHECK(photo->full.height == 23);
        CHECK(photo->reduced_by == 0);
        CHECK(photo->cut_short.empty());
        CHECK(photo->pixels.rgb == pixels.rgb);
    }
}

TEST_CASE("what is clear in a PNG lies on white") {
    const Pixels pixels = random_pixels(9, 7);
    const auto photo = decode_photo(png_of(pixels, {false, true}), kPlenty);
    REQUIRE(photo);
    for (std::size_t i = 0; i < pixels.rgb.size(); ++i)
        CHECK(std::abs(photo->pixels.rgb[i] - (pixels.rgb[i] * 128 + 255 * 127) / 255) <= 1);
}

TEST_CASE("a JPEG comes back nearly as it was whether progressive or not") {
    const Pixels pixels = waves(161, 97);
    for (const bool progressive : {false, true}) {
        const auto photo = decode_photo(jpeg_of(pixels, 95, progressive), kPlenty);
        REQUIRE(photo);
        CHECK(photo->cut_short.empty());
        CHECK(worst_difference(photo->pixels, pixels) < 14);
    }
}

TEST_CASE("a picture that finds no room is reduced by whole powers of two") {
    const Pixels pixels = waves(1003, 615);
    for (const std::string& bytes : {png_of(pixels), jpeg_of(pixels, 97)}) {
        for (const int levels : {1, 2, 3, 4, 5}) {
            const PhotoSize wanted{((1003 - 1) >> levels) + 1, ((615 - 1) >> levels) + 1};
            const auto photo = decode_photo(bytes, bytes_with_levels(wanted));
            REQUIRE(photo);
            CHECK(photo->full.width == 1003);
            CHECK(photo->reduced_by == levels);
            REQUIRE(photo->pixels.width == wanted.width);
            REQUIRE(photo->pixels.height == wanted.height);
            CHECK(worst_difference(photo->pixels, reduced_slowly(pixels, levels)) <= (bytes[0] == '\x89' ? 0 : 14));
        }
    }
}

TEST_CASE("each level is the mean of the one before at odd sizes too") {
    for (const auto& [width, height] : {std::pair{8, 6}, {7, 5}, {1, 9}, {3, 1}, {1, 1}}) {
        const Pixels pixels = random_pixels(width, height);
        const Pixels half = half_of(pixels);
        CHECK(half.width == (width + 1) / 2);
        CHECK(half.height == (height + 1) / 2);
        CHECK(worst_difference(half, reduced_slowly(pixels, 1)) <= 1);
    }
    const auto levels = levels_of(random_pixels(300, 200), 50);
    REQUIRE(levels.size() == 4);
    CHECK(levels.back().width == 38);
    std::size_t bytes = 0;
    for (const Pixels& level : levels)
        bytes += level.rgb.size();
    CHECK(bytes <= bytes_with_levels({300, 200}));
}

TEST_CASE("a picture that ends too early keeps what came before and says so") {
    const Pixels pixels = waves(400, 300);
    const std::string png = png_of(random_pixels(400, 300)), jpeg = jpeg_of(pixels);
    for (const std::string& whole : {png, jpeg}) {
        const auto photo = decode_photo(std::string_view(whole).substr(0, whole.size() * 2 / 3), kPlenty);
        REQUIRE(photo);
        CHECK(says(photo->cut_short, "ends before its picture does"));
        CHECK(photo->full.height == 300);
        CHECK(photo->pixels.rgb.size() == 3U * 400U * 300U);
    }
    CHECK(worst_difference(Pixels{400, 40, {pixels.rgb.begin(), pixels.rgb.begin() + 3 * 400 * 40}}, [&] {
              auto photo = decode_photo(std::string_view(jpeg).substr(0, jpeg.size() / 2), kPlenty);
              REQUIRE(photo);
              photo->pixels.rgb.resize(3U * 400U * 40U);
              return Pixels{400, 40, photo->pixels.rgb};
          }()) < 20);
}

TEST_CASE("files that are no pictures are refused in words") {
    CHECK(says(trouble_of(""), "neither a JPEG nor a PNG"));
    CHECK(says(trouble_of("GIF89a"), "neither a JPEG nor a PNG"));
    CHECK(says(trouble_of("\xff\xd8\xff\xe0"), "is a JPEG that cannot be read"));
    CHECK(says(trouble_of("\x89PNG\r\n\x1a\n"), "is a PNG that cannot be read"));
    std::string damaged = png_of(random_pixels(20, 20));
    damaged[20] = '\x7f'; // the height: the checksum of the head no longer holds
    CHECK(says(trouble_of(damaged), "is a PNG that cannot be read"));
}

TEST_CASE("a picture that claims to be huge is refused before anything is unpacked") {
    std::string jpeg = jpeg_of(waves(16, 16));
    const std::size_t frame = jpeg.find("\xff\xc0");
    REQUIRE(frame != std::string::npos);
    for (const std::size_t i : {5U, 6U, 7U, 8U})
        jpeg[frame + i] = i % 2 == 1 ? '\xea' : '\x60'; // 60,000 x 60,000
    CHECK(says(trouble_of(jpeg), "60000 x 60000 pixels large; right would be at most 400 million"));
}

TEST_CASE("bytes thrown about at random are answered and never crash") {
    std::mt19937 random(5);
    const std::string originals[] = {png_of(waves(40, 30)), jpeg_of(waves(40, 30)), jpeg_of(waves(40, 30), 80, true)};
    for (int round = 0; round < 600; ++round) {
        std::string bytes = originals[round % 3];
        for (int i = 0; i < 1 + round % 5; ++i)
            bytes[2 + random() % (bytes.size() - 2)] = static_cast<char>(random());
        const auto photo = decode_photo(bytes, std::size_t{4} << 20U);
        if (photo) CHECK(bytes_with_levels({photo->pixels.width, photo->pixels.height}) <= std::size_t{4} << 20U);
    }
}

TEST_CASE("reading stops when it is asked to") {
    std::stop_source stop;
    stop.request_stop();
    const Pixels pixels = waves(60, 50);
    for (const std::string& bytes : {png_of(pixels), png_of(pixels, {true, false}), jpeg_of(pixels, 90, true)}) {
        const auto photo = decode_photo(bytes, kPlenty, stop.get_token());
        REQUIRE_FALSE(photo);
        CHECK(photo.error().message == "stopped");
    }
}
