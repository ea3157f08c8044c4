#include "app/photo_edits.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <filesystem>

#include "analysis/photo_doubts.hpp"
#include "analysis/scale.hpp"
#include "app/new_chart.hpp"
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

Result<analysis::PhotoPlacement> placed_by(const Photo& photo, bool in_mm = true) {
    return analysis::place_photo(matches_of(photo.points), {photo.side, photo.mirrored, in_mm});
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

bool lies_elsewhere_than(const Photo& other, const Photo& photo) {
    return other.id != photo.id && other.side == photo.side && analysis::placement_of(other).has_value();
}

} // namespace

bool is_empty(const document::Chart& chart) {
    return !chart.board.outline && chart.parts.empty() && chart.keep_outs.empty() && chart.shields.empty() &&
           chart.copper_areas.empty() && chart.notes.empty() && chart.readings.empty() && chart.heat_plans.empty();
}

bool is_bare(const document::Chart& chart) {
    const bool has_measure = chart.scale && chart.scale->source != document::ScaleSource::Drawn;
    return is_empty(chart) && chart.photos.empty() && !has_measure;
}

bool is_ground(const Photo& photo) {
    return photo.points.empty() && analysis::placement_of(photo).has_value();
}

bool has_place_to_click(const document::Chart& chart, const Photo& photo) {
    return !is_empty(chart) || std::any_of(chart.photos.begin(), chart.photos.end(), [&](const Photo& other) {
        return other.board == photo.board && lies_elsewhere_than(other, photo);
    });
}

Result<document::Chart> with_new_photo(const document::Chart& chart, Photo photo) {
    assert(analysis::placement_of(photo));
    document::Chart next = chart;
    if (is_bare(chart))
        next.scale.reset();
    else
        photo.board_from_pixel.clear();
    return document::put(next, std::move(photo));
}

Result<document::Chart> without_photo(const document::Chart& chart, const document::Id& id) {
    Result<document::Chart> next = document::remove(chart, std::span(&id, 1));
    if (next && !next->scale && is_bare(*next)) next->scale = new_chart().scale;
    return next;
}

bool typed_places_scale(const document::Chart& chart, const Photo& photo) {
    return !chart.scale && is_empty(chart) && chart.photos.size() == 1 && chart.photos[0].id == photo.id;
}

Result<document::Chart> scaled_by_typed_points(const document::Chart& chart, const document::Id& id) {
    if (chart.photos.size() != 1 || chart.photos[0].id != id) return chart;
    const std::vector<PhotoPoint>& points = chart.photos[0].points;
    if (points.size() < 2 || !typed_places_scale(chart, chart.photos[0])) return chart;
    std::pair<Vec2, Vec2> far{points[0].at, points[1].at};
    for (const PhotoPoint& a : points)
        for (const PhotoPoint& b : points)
            if (geometry::distance(a.at, b.at) > geometry::distance(far.first, far.second)) far = {a.at, b.at};
    const double mm = geometry::distance(far.first, far.second);
    const Result<analysis::ScaleReading> reading = analysis::scale_from_points(far.first, far.second, mm);
    if (!reading) return reading.error();
    return document::set_scale(chart, reading->scale);
}

Result<document::Chart> with_points(const document::Chart& chart, const document::Id& id,
                                    std::vector<PhotoPoint> points) {
    for (const Photo& photo : chart.photos) {
        if (photo.id != id) continue;
        if (photo.locked) return Error{photo_name(photo) + " is locked in its place", {}};
        Photo next = photo;
        next.points = std::move(points);
        // Its place came of points that are taken back now.
        if (photo.points.size() >= 2 && next.points.size() < 2) {
            next.board_from_pixel.clear();
        } else if (next.points.size() == 1) {
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

Result<document::Chart> with_mirror(const document::Chart& chart, const document::Id& id, bool is_mirrored) {
    for (const Photo& photo : chart.photos)
        if (photo.id == id && photo.locked && photo.mirrored != is_mirrored)
            return Error{photo_name(photo) + " is locked in its place; unlock it before it is turned over", {}};
    Result<document::Chart> next = with_photo(chart, id, [&](Photo& photo) { photo.mirrored = is_mirrored; });
    if (!next) return next;
    for (const Photo& photo : next->photos)
        if (photo.id == id && photo.points.size() >= 2) return with_points(*next, id, photo.points);
    return next;
}

std::vector<document::Id> parts_shown_on(const document::Chart& chart, const document::Id& photo) {
    std::vector<document::Id> shown;
    for (const document::Footprint& part : chart.parts)
        if (part.orientation.evidence.photo == photo) shown.push_back(part.id);
    return shown;
}

Result<document::Chart> with_other_picture(const document::Chart& chart, Photo photo) {
    if (photo.locked)
        return Error{photo_name(photo) + " would be another picture in a locked place; unlock it first", {}};
    const document::Id id = photo.id;
    photo.points.clear();
    if (!is_ground(photo) || !is_empty(chart)) photo.board_from_pixel.clear();
    const std::vector<document::Id> shown = parts_shown_on(chart, id);
    const Result<document::Chart> next = document::put(chart, std::move(photo));
    if (!next) return next;
    return document::change_parts(*next, shown, [](document::Footprint& part) {
        part.orientation.evidence.photo = {};
        part.orientation.evidence.crop_px.clear();
    });
}

bool has_spare_point(const Photo& photo) {
    return photo.points.size() == 3 || photo.points.size() > 4;
}

std::vector<double> point_errors(const Photo& photo) {
    std::vector<double> errors;
    if (const auto map = analysis::placement_of(photo))
        for (const PhotoPoint& point : photo.points)
            errors.push_back(geometry::distance((*map)(point.pixel), point.at));
    return errors;
}

PhotoPlace place_of(const Photo& photo, bool in_mm) {
    PhotoPlace place;
    const auto map = analysis::placement_of(photo);
    if (!map) {
        place.words = photo.points.empty() ? "not placed yet" : "one point so far, a second one is needed";
        return place;
    }
    const Vec2 middle = middle_of(photo.points);
    if (map->weight(middle) > 0.0) place.px_per_mm = 1.0 / std::sqrt(std::abs(map->area_factor(middle)));
    const std::vector<double> errors = point_errors(photo);
    place.is_doubtful = !analysis::is_readable(photo, in_mm);
    if (!errors.empty() && has_spare_point(photo)) place.worst_mm = *std::max_element(errors.begin(), errors.end());
    if (photo.points.size() >= 2)
        if (const auto placed = placed_by(photo, in_mm)) {
            place.tilt_deg = placed->tilt_deg;
            place.findings = placed->findings;
        }
    if (photo.points.empty())
        place.words = "the chart is drawn over it, as it was taken";
    else if (photo.points.size() == 1)
        place.words = "placed by one point: its turn and size are as before";
    else if (photo.points.size() == 2 || photo.points.size() == 4)
        place.words = fmt::format("placed by {} points, no spare one to check them", photo.points.size());
    else
        place.words = fmt::format("placed by {} points, worst {:.3f} {} off", photo.points.size(), *place.worst_mm,
                                  in_mm ? "mm" : "units");
    return place;
}

std::string tilt_words(const Photo& photo, const PhotoPlace& place) {
    if (!place.tilt_deg || place.is_doubtful) return {};
    if (has_spare_point(photo)) return fmt::format("about {:.0f}° off straight above", *place.tilt_deg);
    return fmt::format("about {:.0f}° off, if the points are right", *place.tilt_deg);
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
