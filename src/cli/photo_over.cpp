#include "cli/photo_over.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <ostream>

#include "analysis/registration.hpp"
#include "cli/photo_files.hpp"
#include "cli/shared.hpp"
#include "paint/photo_picture.hpp"
#include "scene/chart_scene.hpp"
#include "scene/through.hpp"

namespace padchart::cli {
namespace {

constexpr int kLongestSide_px = 3000;
constexpr std::size_t kMostBytes = std::size_t{256} << 20U;
/// As wide as the theme's sizes were made for.
constexpr double kThemeWidth_px = 1200.0;

Result<document::Photo> photo_called(const document::Chart& chart, const std::string& name) {
    for (const document::Photo& photo : chart.photos)
        if (photo.id.text == name || photo.path == name ||
            std::filesystem::path(photo.path).filename().string() == name)
            return photo;
    std::string known;
    for (const document::Photo& photo : chart.photos)
        known += (known.empty() ? "" : ", ") + photo.path;
    return Error{fmt::format("no photo is called \"{}\"; the chart has {}", name, known.empty() ? "none" : known), {}};
}

struct Reduced {
    paint::Pixels pixels;
    double step = 1.0; ///< pixels of the file that one of these is wide
};

Result<Reduced> reduced_photo(const std::filesystem::path& path) {
    const PhotoFile file = read_photo_file(path);
    if (const std::string trouble = trouble_of(file.facts); !trouble.empty()) return Error{trouble, path.string()};
    Result<paint::DecodedPhoto> decoded = paint::decode_photo(file.bytes, kMostBytes);
    if (!decoded) return Error{decoded.error().message, path.string()};
    Reduced out{std::move(decoded->pixels), std::ldexp(1.0, decoded->reduced_by)};
    while (std::max(out.pixels.width, out.pixels.height) > kLongestSide_px)
        out = {paint::half_of(out.pixels), out.step * 2.0};
    return out;
}

scene::Scene chart_in_pixels(const document::Chart& chart, const document::Photo& photo,
                             const geometry::Homography& pixel_from_board, double px_per_mm,
                             std::vector<document::Id> selection) {
    scene::ViewOptions options;
    options.seen_from = photo.side;
    options.selection = std::move(selection);
    options.show_zones = options.show_far_side = options.show_plans = false;
    options.px_per_mm = px_per_mm;
    const auto board_from_scene = geometry::Homography::of(scene::scene_from_board(photo.side)); // its own inverse
    scene::Scene seen = scene::through(scene::chart_scene(chart, {}, options), pixel_from_board * board_from_scene);
    for (scene::Text& text : seen.texts)
        text.halo = true; // to be read on any ground
    return seen;
}

} // namespace

int write_chart_over_photo(const document::Chart& chart, const Arguments& arguments, Streams streams) {
    const std::string output = arguments.text("output");
    if (!output.ends_with(".png")) return fail(streams, {"right would be -o FILE.png", "--over"});
    if (const auto fault = would_overwrite(arguments.text("output"), {}, arguments.has("force")))
        return fail(streams, *fault);
    const Result<document::Photo> photo = photo_called(chart, arguments.text("over"));
    if (!photo) return fail(streams, photo.error());
    const auto placed = analysis::placement_of(*photo);
    if (!placed || placed->determinant() == 0.0)
        return fail(streams, {photo->path + " is not placed on the board yet; right would be --add with --points", {}});
    std::vector<document::Id> selection;
    if (arguments.has("select")) {
        const Result<document::Id> part = part_by_name(chart, arguments.text("select"));
        if (!part) return fail(streams, part.error());
        selection.push_back(*part);
    }
    const auto folder = std::filesystem::absolute(arguments.text("CHART")).parent_path();
    const Result<Reduced> reduced = reduced_photo(folder / photo->path);
    if (!reduced) return fail(streams, reduced.error());
    const auto smaller = geometry::Homography::of(geometry::Affine::scaling(1.0 / reduced->step, 1.0 / reduced->step));
    const geometry::Homography map = smaller * placed->inverse();
    const geometry::Vec2 middle{reduced->pixels.width * reduced->step / 2.0,
                                reduced->pixels.height * reduced->step / 2.0};
    const double px = std::max(1.0, reduced->pixels.width / kThemeWidth_px);
    const double px_per_mm = 1.0 / std::sqrt(std::abs(placed->area_factor(middle))) / reduced->step / px;
    const scene::Scene scene = chart_in_pixels(chart, *photo, map, px_per_mm, selection);
    if (const auto written = paint::write_over_photo(reduced->pixels, scene, px, paint::paper_theme(), output);
        !written)
        return fail(streams, written.error());
    streams.out << fmt::format("{}: the chart over {}, {} x {} pixels\n", output, photo->path, reduced->pixels.width,
                               reduced->pixels.height);
    return kFine;
}

} // namespace padchart::cli
