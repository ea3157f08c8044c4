#include "app/photo_edits.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>

#include "cli/shared.hpp"

namespace padchart::app {
namespace {

using analysis::PointMatch;
using document::Photo;
using document::PhotoPoint;
using geometry::Affine;
using geometry::Homography;
using geometry::Vec2;

std::vector<PointMatch> matches_of(const std::vector<PhotoPoint>& points) {
    std::vector<PointMatch> matches;
    for (const PhotoPoint& point : points)
        matches.push_back({point.pixel, point.at});
    return matches;
}

Result<analysis::PhotoPlacement> placed_by(const Photo& photo) {
    return analysis::place_photo(matches_of(photo.points), {photo.side, photo.mirrored});
}

/// Moved so that the point comes to lie where it belongs.
std::vector<double> moved_onto(const Homography& map, const PhotoPoint& point) {
    const Vec2 by = point.at - map(point.pixel);
    return analysis::numbers_of(Homography::of(Affine::translation(by)) * map);
}

Vec2 middle_of(const std::vector<PhotoPoint>& points) {
    Vec2 sum;
    for (const PhotoPoint& point : points)
        sum += point.pixel;
    return points.empty() ? sum : sum / static_cast<double>(points.size());
}

} // namespace

Result<document::Chart> with_points(const document::Chart& chart, const document::Id& id,
                                    std::vector<PhotoPoint> points) {
    for (const Photo& photo : chart.photos) {
        if (photo.id != id) continue;
        if (photo.locked) return Error{photo_name(photo) + " is locked in its place", {}};
        Photo next = photo;
        next.points = std::move(points);
        if (next.points.size() == 1) {
            if (const auto map = analysis::placement_of(photo))
                next.board_from_pixel = moved_onto(*map, next.points[0]);
        } else if (next.points.size() > 1) {
            const Result<analysis::PhotoPlacement> placed = placed_by(next);
            if (!placed) return placed.error();
            next.board_from_pixel = analysis::numbers_of(placed->board_from_pixel);
        }
        return document::put(chart, std::move(next));
    }
    return Error{"no photo of the chart bears this id", id.text};
}

std::vector<double> point_errors(const Photo& photo) {
    std::vector<double> errors;
    if (const auto map = analysis::placement_of(photo))
        for (const PhotoPoint& point : photo.points)
            errors.push_back(geometry::distance((*map)(point.pixel), point.at));
    return errors;
}

PhotoPlace place_of(const Photo& photo) {
    PhotoPlace place;
    const auto map = analysis::placement_of(photo);
    if (!map) {
        place.words = photo.points.empty() ? "not placed yet" : "one point so far, a second one is needed";
        return place;
    }
    const Vec2 middle = middle_of(photo.points);
    if (map->weight(middle) > 0.0) place.px_per_mm = 1.0 / std::sqrt(std::abs(map->area_factor(middle)));
    const std::vector<double> errors = point_errors(photo);
    if (!errors.empty()) place.worst_mm = *std::max_element(errors.begin(), errors.end());
    if (photo.points.size() >= 2)
        if (const auto placed = placed_by(photo)) {
            place.tilt_deg = placed->tilt_deg;
            place.findings = placed->findings;
        }
    if (photo.points.empty())
        place.words = "placed";
    else if (photo.points.size() == 1)
        place.words = "placed by one point: its turn and size are as before";
    else if (photo.points.size() == 2 || photo.points.size() == 4)
        place.words = fmt::format("placed by {} points, no spare one to check them", photo.points.size());
    else
        place.words = fmt::format("placed by {} points, worst {:.3f} mm off", photo.points.size(), *place.worst_mm);
    return place;
}

std::string photo_name(const Photo& photo) {
    return std::filesystem::path(photo.path).filename().string();
}

document::Chart with_photos_seen_from(const document::Chart& chart, const std::string& old_folder,
                                      const std::string& new_folder) {
    const std::filesystem::path old_file = std::filesystem::path(old_folder) / "chart";
    return cli::seen_from(chart, old_file, std::filesystem::path(new_folder) / "chart");
}

} // namespace padchart::app
