#include "support/photo_maker.hpp"

#include <algorithm>
#include <cmath>
#include <csetjmp>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <numbers>
#include <random>

#include <jpeglib.h>
#include <png.h>
#include <unistd.h>

#include "paint/cairo_painter.hpp"
#include "scene/chart_scene.hpp"

namespace padchart::tests {
namespace {

using geometry::Box;
using geometry::Homography;
using geometry::Vec2;
using paint::Pixels;
using scene::Role;

constexpr double kRaster_px_per_mm = 40.0;

/// Solder mask, copper, plastic: what a board looks like instead of a chart.
paint::Theme board_theme() {
    paint::Theme theme = paint::paper_theme();
    const auto fill = [&](Role role, std::uint32_t colour) {
        theme.styles[static_cast<std::size_t>(role)].fill = paint::rgb(colour);
        theme.styles[static_cast<std::size_t>(role)].hatch = {};
    };
    theme.palette.paper = paint::rgb(0x8d8780);
    fill(Role::Paper, 0x8d8780);
    fill(Role::Board, 0x1f5a3c);
    fill(Role::CutOut, 0x8d8780);
    fill(Role::PadCopper, 0xd9c27a);
    fill(Role::Body, 0x2b2b2e);
    fill(Role::SensitiveBody, 0xe8e4d8);
    fill(Role::Mark, 0xf2efe6);
    for (const Role edge : {Role::BoardEdge, Role::BodyEdge, Role::SensitiveEdge, Role::PadEdge})
        theme.styles[static_cast<std::size_t>(edge)].stroke.reset();
    return theme;
}

struct Raster {
    Pixels pixels;
    Vec2 origin; ///< scene mm of its corner
};

/// Signs are the chart's, not the board's.
document::Chart bare(document::Chart chart) {
    chart.notes = {};
    chart.readings = {};
    chart.keep_outs = {};
    chart.shields = {};
    return chart;
}

Raster rasterised(const document::Chart& chart, document::Side side) {
    scene::ViewOptions options;
    options.seen_from = side;
    options.show_zones = options.show_far_side = options.show_labels = options.show_plans = false;
    const scene::Scene scene = scene::chart_scene(bare(chart), {}, options);
    const Box box = scene.bounds.grown(1.0);
    const int width = static_cast<int>(std::ceil(box.width() * kRaster_px_per_mm));
    const int height = static_cast<int>(std::ceil(box.height() * kRaster_px_per_mm));
    std::string name = (std::filesystem::temp_directory_path() / "padchart-photo-XXXXXX").string();
    const int file = mkstemp(name.data());
    if (file < 0) std::abort();
    close(file);
    const paint::Camera camera{kRaster_px_per_mm, -box.min * kRaster_px_per_mm, 1.0, {}};
    if (!paint::write_picture(scene, camera, width, height, board_theme(), name)) std::abort();
    std::ifstream in(name, std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(in), {}};
    std::filesystem::remove(name);
    return {std::move(paint::decode_photo(bytes, std::size_t{1} << 30U).value().pixels), box.min};
}

double sample(const Pixels& pixels, Vec2 at, int channel) {
    const double x = at.x - 0.5, y = at.y - 0.5;
    const int left = static_cast<int>(std::floor(x)), top = static_cast<int>(std::floor(y));
    double sum = 0.0;
    for (const int dy : {0, 1})
        for (const int dx : {0, 1}) {
            const std::uint8_t* p =
                pixels.at(std::clamp(left + dx, 0, pixels.width - 1), std::clamp(top + dy, 0, pixels.height - 1));
            const double wx = dx == 0 ? 1.0 - (x - left) : x - left, wy = dy == 0 ? 1.0 - (y - top) : y - top;
            sum += wx * wy * p[channel];
        }
    return sum;
}

void append(png_structp png, png_bytep data, std::size_t size) {
    static_cast<std::string*>(png_get_io_ptr(png))->append(reinterpret_cast<const char*>(data), size);
}

} // namespace

Homography camera_over(const Box& board, int width, int height, double tilt_deg, double turn_deg, bool mirrored) {
    const double tilt = tilt_deg * std::numbers::pi / 180.0, turn = turn_deg * std::numbers::pi / 180.0;
    const double far = 3.0 * std::max(board.width(), board.height());
    const double ct = std::cos(turn), st = std::sin(turn), m = mirrored ? -1.0 : 1.0;
    const Vec2 c = board.centre();
    // Board about its middle, turned, then tilted about the x axis: depth grows with y.
    const Homography turned{{m * ct, -st, -(m * ct * c.x - st * c.y), m * st, ct, -(m * st * c.x + ct * c.y), 0, 0, 1}};
    const Homography seen{{1, 0, 0, 0, std::cos(tilt), 0, 0, std::sin(tilt) / far, 1}};
    const double scale = 0.8 * std::min(width / board.width(), height / board.height());
    const Homography film{{scale, 0, width / 2.0, 0, scale, height / 2.0, 0, 0, 1}};
    return film * seen * turned;
}

Pixels photograph(const document::Chart& chart, const Shot& shot) {
    const Raster raster = rasterised(chart, shot.side);
    const Homography board_from_pixel = shot.pixel_from_board.inverse();
    std::mt19937 random(shot.seed);
    std::uniform_real_distribution<double> noise(-shot.noise, shot.noise);
    Pixels out{shot.width, shot.height, {}};
    out.rgb.reserve(3 * static_cast<std::size_t>(shot.width) * static_cast<std::size_t>(shot.height));
    for (int y = 0; y < shot.height; ++y)
        for (int x = 0; x < shot.width; ++x) {
            const Vec2 board = board_from_pixel({x + 0.5, y + 0.5});
            const Vec2 from = (scene::scene_from_board(board, shot.side) - raster.origin) * kRaster_px_per_mm;
            for (int channel = 0; channel < 3; ++channel)
                out.rgb.push_back(static_cast<std::uint8_t>(
                    std::clamp(sample(raster.pixels, from, channel) + noise(random), 0.0, 255.0)));
        }
    return out;
}

std::string png_of(const Pixels& pixels, PngKind kind) {
    std::string bytes;
    png_structp png = png_create_write_struct(PNG_LIBPNG_VER_STRING, nullptr, nullptr, nullptr);
    png_infop info = png_create_info_struct(png);
    png_set_write_fn(png, &bytes, append, nullptr);
    png_set_compression_level(png, 1);
    png_set_IHDR(png, info, static_cast<png_uint_32>(pixels.width), static_cast<png_uint_32>(pixels.height), 8,
                 kind.with_alpha ? PNG_COLOR_TYPE_RGB_ALPHA : PNG_COLOR_TYPE_RGB,
                 kind.interlaced ? PNG_INTERLACE_ADAM7 : PNG_INTERLACE_NONE, PNG_COMPRESSION_TYPE_DEFAULT,
                 PNG_FILTER_TYPE_DEFAULT);
    png_write_info(png, info);
    std::vector<std::vector<std::uint8_t>> rows;
    std::vector<png_bytep> pointers;
    for (int y = 0; y < pixels.height; ++y) {
        std::vector<std::uint8_t>& row = rows.emplace_back();
        for (int x = 0; x < pixels.width; ++x) {
            row.insert(row.end(), pixels.at(x, y), pixels.at(x, y) + 3);
            if (kind.with_alpha) row.push_back(128);
        }
    }
    for (auto& row : rows)
        pointers.push_back(row.data());
    png_write_image(png, pointers.data());
    png_write_end(png, info);
    png_destroy_write_struct(&png, &info);
    return bytes;
}

std::string jpeg_of(const Pixels& pixels, int quality, bool progressive) {
    jpeg_compress_struct jpeg{};
    jpeg_error_mgr errors{};
    jpeg.err = jpeg_std_error(&errors);
    jpeg_create_compress(&jpeg);
    unsigned char* memory = nullptr;
    unsigned long size = 0;
    jpeg_mem_dest(&jpeg, &memory, &size);
    jpeg.image_width = static_cast<JDIMENSION>(pixels.width);
    jpeg.image_height = static_cast<JDIMENSION>(pixels.height);
    jpeg.input_components = 3;
    jpeg.in_color_space = JCS_RGB;
    jpeg_set_defaults(&jpeg);
    jpeg_set_quality(&jpeg, quality, TRUE);
    if (progressive) jpeg_simple_progression(&jpeg);
    jpeg_start_compress(&jpeg, TRUE);
    std::vector<std::uint8_t> row(3 * static_cast<std::size_t>(pixels.width));
    for (int y = 0; y < pixels.height; ++y) {
        std::copy(pixels.at(0, y), pixels.at(0, y) + row.size(), row.begin());
        std::uint8_t* data = row.data();
        jpeg_write_scanlines(&jpeg, &data, 1);
    }
    jpeg_finish_compress(&jpeg);
    std::string bytes(reinterpret_cast<const char*>(memory), size);
    jpeg_destroy_compress(&jpeg);
    std::free(memory); // the library's malloc
    return bytes;
}

std::string with_orientation(const std::string& jpeg, int orientation) {
    using namespace std::string_literals;
    // One directory of one entry, big end first: tag 274, short, one of it (Exif 2.3, from memory).
    const std::string tiff =
        "MM\0\x2a\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0"s + static_cast<char>(orientation) + "\0\0\0\0\0\0"s;
    const std::string body = "Exif\0\0"s + tiff;
    const std::size_t length = body.size() + 2;
    const std::string segment =
        "\xff\xe1"s + static_cast<char>(length >> 8U) + static_cast<char>(length & 0xffU) + body;
    return jpeg.substr(0, 2) + segment + jpeg.substr(2);
}

} // namespace padchart::tests
