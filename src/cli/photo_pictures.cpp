#include "cli/photo_pictures.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>

#include "analysis/photo_doubts.hpp"
#include "analysis/photo_file.hpp"
#include "analysis/registration.hpp"
#include "cli/photo_files.hpp"
#include "paint/photo_pixels.hpp"
#include "scene/chart_scene.hpp"

namespace padchart::cli {
namespace {

namespace fs = std::filesystem;
using document::Chart;
using document::Photo;
using document::Side;
using geometry::Box;
using geometry::Homography;
using geometry::Vec2;

constexpr std::size_t kMostBytes = std::size_t{256} << 20U;
constexpr int kEvidence_px = 240;
constexpr int kBoard_px = 1400;

struct Decoded {
    paint::Pixels pixels;
    double step = 1.0; ///< pixels of the file that one of these is wide

    void halve() { *this = {paint::half_of(pixels), 2.0 * step}; }
};

std::optional<Decoded> decoded(const Photo& photo, const fs::path& chart_file) {
    // A chart from a stranger must not bring pictures of this disk into what is handed on.
    if (analysis::lies_elsewhere(photo)) return std::nullopt;
    std::error_code ignored;
    const fs::path path = fs::absolute(chart_file, ignored).parent_path() / photo.path;
    const PhotoFile file = read_photo_file(path);
    if (!trouble_of(file.facts).empty()) return std::nullopt;
    Result<paint::DecodedPhoto> photo_read = paint::decode_photo(file.bytes, kMostBytes);
    if (!photo_read) return std::nullopt;
    return Decoded{std::move(photo_read->pixels), std::ldexp(1.0, photo_read->reduced_by)};
}

/// Empty where the piece lies outside of the photo.
scene::Picture piece_of(Decoded photo, const std::vector<double>& crop_px, bool mirrored) {
    const double longest = std::max(crop_px[2], crop_px[3]);
    while (longest / photo.step > 2.0 * kEvidence_px && std::min(photo.pixels.width, photo.pixels.height) > 1)
        photo.halve();
    const auto begin = [&](double at, int side) {
        return std::clamp(static_cast<int>(std::floor(at / photo.step)), 0, side);
    };
    const auto end = [&](double at, int side) {
        return std::clamp(static_cast<int>(std::ceil(at / photo.step)), 0, side);
    };
    const int left = begin(crop_px[0], photo.pixels.width), right = end(crop_px[0] + crop_px[2], photo.pixels.width);
    const int top = begin(crop_px[1], photo.pixels.height), bottom = end(crop_px[1] + crop_px[3], photo.pixels.height);
    paint::Pixels piece{right - left, bottom - top, {}};
    if (piece.width <= 0 || piece.height <= 0) return {};
    for (int y = top; y < bottom; ++y)
        for (int x = left; x < right; ++x) {
            const std::uint8_t* from = photo.pixels.at(mirrored ? right - 1 - (x - left) : x, y);
            piece.rgb.insert(piece.rgb.end(), from, from + 3);
        }
    while (std::max(piece.width, piece.height) > kEvidence_px)
        piece = paint::half_of(piece);
    return {piece.width, piece.height, std::move(piece.rgb)};
}

const Photo* photo_with(const Chart& chart, const document::Id& id) {
    for (const Photo& photo : chart.photos)
        if (photo.id == id) return &photo;
    return nullptr;
}

// Laid flat on the board -----------------------------------------------------------------------------------------

const Photo* last_photo_of(const Chart& chart, Side side) {
    const Photo* last = nullptr;
    for (const Photo& photo : chart.photos)
        if (photo.side == side && photo.board == document::WhichBoard::ThisBoard && !photo.hidden &&
            analysis::is_readable(photo, chart.scale.has_value()))
            last = &photo;
    return last;
}

Box board_box(const Chart& chart, Side side) {
    Box board;
    if (chart.board.outline) board.add(geometry::bounds(*chart.board.outline));
    for (const document::Footprint& part : chart.parts)
        if (part.placement.side == side) board.add(geometry::bounds(document::extent_on_board(part)));
    if (board.is_empty()) return board;
    board = board.grown(0.03 * std::max(board.width(), board.height()));
    Box seen;
    seen.add(scene::scene_from_board(board.min, side));
    seen.add(scene::scene_from_board(board.max, side));
    return seen;
}

/// Between the four pixels round the place; white outside.
void add_pixel(std::vector<std::uint8_t>& rgb, const paint::Pixels& from, Vec2 at) {
    const bool is_inside = at.x >= 0 && at.y >= 0 && at.x <= from.width && at.y <= from.height;
    if (!is_inside) {
        rgb.insert(rgb.end(), 3, 255);
        return;
    }
    const double x = std::clamp(at.x - 0.5, 0.0, from.width - 1.0), y = std::clamp(at.y - 0.5, 0.0, from.height - 1.0);
    const int left = static_cast<int>(x), top = static_cast<int>(y);
    const int right = std::min(left + 1, from.width - 1), bottom = std::min(top + 1, from.height - 1);
    const double u = x - left, v = y - top;
    for (int channel = 0; channel < 3; ++channel) {
        const double upper = from.at(left, top)[channel] * (1 - u) + from.at(right, top)[channel] * u;
        const double lower = from.at(left, bottom)[channel] * (1 - u) + from.at(right, bottom)[channel] * u;
        rgb.push_back(static_cast<std::uint8_t>(std::lround(upper * (1 - v) + lower * v)));
    }
}

scene::Picture flat_picture(Decoded photo, const Homography& pixel_from_scene, const Box& box) {
    const double middle = std::abs(pixel_from_scene.area_factor(box.centre()));
    const double file_px_per_mm = std::sqrt(middle);
    const double longest = std::max(box.width(), box.height());
    const double px_per_mm = std::min(file_px_per_mm / photo.step, kBoard_px / longest);
    while (file_px_per_mm / photo.step > 1.5 * px_per_mm && std::min(photo.pixels.width, photo.pixels.height) > 1)
        photo.halve();
    scene::Picture out;
    out.width = std::max(1, static_cast<int>(std::floor(box.width() * px_per_mm)));
    out.height = std::max(1, static_cast<int>(std::floor(box.height() * px_per_mm)));
    for (int y = 0; y < out.height; ++y)
        for (int x = 0; x < out.width; ++x) {
            const Vec2 at = box.min + Vec2{(x + 0.5) / out.width * box.width(), (y + 0.5) / out.height * box.height()};
            const bool is_seen = pixel_from_scene.weight(at) > 0.0;
            add_pixel(out.rgb, photo.pixels, is_seen ? pixel_from_scene(at) / photo.step : Vec2{-1, -1});
        }
    return out;
}

/// With a positive weight where the board is seen.
Homography oriented(Homography map, Vec2 at) {
    if (map.weight(at) < 0.0)
        for (double& h : map.h)
            h = -h;
    return map;
}

} // namespace

std::vector<scene::EvidencePicture> evidence_pictures(const Chart& chart, const fs::path& chart_file) {
    std::vector<scene::EvidencePicture> out;
    std::map<std::string, std::optional<Decoded>> known;
    for (const document::Footprint& part : chart.parts) {
        const document::Evidence& evidence = part.orientation.evidence;
        const Photo* photo = photo_with(chart, evidence.photo);
        if (photo == nullptr || evidence.crop_px.size() != 4) continue;
        auto found = known.find(photo->id.text);
        if (found == known.end()) found = known.emplace(photo->id.text, decoded(*photo, chart_file)).first;
        if (!found->second) continue;
        scene::Picture picture = piece_of(*found->second, evidence.crop_px, photo->mirrored);
        if (!picture.is_empty()) out.push_back({part.id, std::move(picture)});
    }
    return out;
}

std::vector<BoardPhoto> board_photos(const Chart& chart, const fs::path& chart_file) {
    std::vector<BoardPhoto> out;
    for (const Side side : {Side::Top, Side::Bottom}) {
        const Photo* photo = last_photo_of(chart, side);
        const Box box = board_box(chart, side);
        if (photo == nullptr || box.is_empty()) continue;
        std::optional<Decoded> pixels = decoded(*photo, chart_file);
        if (!pixels) continue;
        const Homography board_from_scene = Homography::of(scene::scene_from_board(side)); // its own inverse
        const Homography map = analysis::placement_of(*photo)->inverse() * board_from_scene;
        out.push_back({side, box, flat_picture(std::move(*pixels), oriented(map, box.centre()), box),
                       fs::path(photo->path).filename().string()});
    }
    return out;
}

} // namespace padchart::cli
