#include "analysis/photo_doubts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <utility>
#include <vector>

#include "analysis/similarity.hpp"

namespace padchart::analysis {
namespace {

using geometry::Homography;
using Points = std::span<const PointMatch>;

constexpr double kOffShare = 0.02;
constexpr double kOffLeast_mm = 0.2;
constexpr double kOffMost_mm = 0.5;

double worst_of(const Homography& map, Points points) {
    double worst = 0.0;
    for (const PointMatch& point : points)
        worst = std::max(worst, geometry::distance(map(point.pixel), point.board));
    return worst;
}

Diagnostic off_finding(double worst, double allowed, bool in_mm) {
    const char* unit = in_mm ? "mm" : "units";
    return {Severity::Warning,
            "photo-off",
            fmt::format("the points lie up to {:.2f} {} off, {:.2f} {} are allowed: a spot is not where it was said to "
                        "be, or the picture is not flat and from above; nothing may be read off it so",
                        worst, unit, allowed, unit),
            {},
            {}};
}

/// Three points that do not fit as they were given: do they fit the mirror image, or with two of them exchanged?
void explain_three(PhotoPlacement& placement, Points points, const PhotoView& view, double allowed) {
    const bool mirrors = (view.side == document::Side::Bottom) != view.mirrored;
    const double as_mirror = worst_of(similarity(points, !mirrors), points);
    double best = as_mirror;
    std::optional<std::size_t> spared; // the two others are exchanged
    for (std::size_t spare = 0; spare < 3; ++spare) {
        std::vector<PointMatch> other(points.begin(), points.end());
        std::swap(other[(spare + 1) % 3].pixel, other[(spare + 2) % 3].pixel);
        const double off = worst_of(similarity(other, mirrors), other);
        if (off >= best) continue;
        best = off;
        spared = spare;
    }
    if (best > allowed) return;
    if (!spared)
        placement.findings.push_back(
            {Severity::Warning,
             "photo-mirrored",
             fmt::format("the points fit within {:.2f} {} when the picture is taken as {}, or it shows the other side",
                         best, view.in_mm ? "mm" : "units",
                         view.mirrored ? "it lies, not as the mirror image it was said to be: it is none"
                                       : "a mirror image: it is one"),
             {},
             {}});
    else
        placement.findings.push_back(
            {Severity::Warning,
             "photo-exchanged",
             fmt::format("the points fit within {:.2f} {} when points {} and {} change places: look at them again",
                         best, view.in_mm ? "mm" : "units", std::min((*spared + 1) % 3, (*spared + 2) % 3) + 1,
                         std::max((*spared + 1) % 3, (*spared + 2) % 3) + 1),
             {},
             {}});
}

/// Three points in a line fit the picture and its mirror image alike.
void doubt_line(PhotoPlacement& placement, Points points, const PhotoView& view, double allowed) {
    const bool mirrors = (view.side == document::Side::Bottom) != view.mirrored;
    if (worst_of(similarity(points, !mirrors), points) > allowed) return;
    placement.findings.push_back({Severity::Note,
                                  "photo-unchecked",
                                  "the three points lie nearly in a line and fit the mirror image as well: give one "
                                  "more beside the line",
                                  {},
                                  {}});
}

} // namespace

bool speaks_against_place(const Diagnostic& finding) {
    return finding.code == "photo-off" || finding.code == "photo-mirrored" || finding.code == "photo-exchanged";
}

void judge_fit(PhotoPlacement& placement, Points points, const PhotoView& view) {
    const double worst = worst_of(placement.board_from_pixel, points);
    const double allowed = allowed_off(points, view.in_mm);
    if (worst <= allowed) {
        if (points.size() == 3) doubt_line(placement, points, view, allowed);
        return;
    }
    placement.findings.push_back(off_finding(worst, allowed, view.in_mm));
    if (points.size() == 3) explain_three(placement, points, view, allowed);
}

double allowed_off(Points points, bool in_mm) {
    double span = 0.0;
    for (const PointMatch& a : points)
        for (const PointMatch& b : points)
            span = std::max(span, geometry::distance(a.board, b.board));
    const double share = kOffShare * span;
    return in_mm ? std::clamp(share, kOffLeast_mm, kOffMost_mm) : share;
}

namespace {

/// A picture seen straight lies on the board as it is, seen from the bottom it lies turned over.
std::optional<Diagnostic> contradicts_mirror(const document::Photo& photo, const geometry::Homography& map) {
    const geometry::Vec2 pixel = photo.points.empty() ? geometry::Vec2{} : photo.points.front().pixel;
    const bool lies_mirrored = (map.area_factor(pixel) < 0.0) != (photo.side == document::Side::Bottom);
    if (lies_mirrored == photo.mirrored) return std::nullopt;
    return Diagnostic{Severity::Warning,
                      "photo-mirrored",
                      photo.mirrored ? "the picture is said to be a mirror image and does not lie on the board as one"
                                     : "the picture lies on the board as a mirror image and is not said to be one",
                      {},
                      {}};
}

} // namespace

Diagnostics placement_doubts(const document::Photo& photo, bool in_mm) {
    Diagnostics doubts;
    const auto map = placement_of(photo);
    if (!map) return doubts;
    if (auto doubt = contradicts_mirror(photo, *map)) doubts.push_back(std::move(*doubt));
    if (photo.points.size() < 2) return doubts;
    std::vector<PointMatch> points;
    for (const document::PhotoPoint& point : photo.points)
        points.push_back({point.pixel, point.at});
    const double worst = worst_of(*map, points), allowed = allowed_off(points, in_mm);
    if (!(worst <= allowed)) doubts.push_back(off_finding(worst, allowed, in_mm));
    const Result<PhotoPlacement> again = place_photo(points, {photo.side, photo.mirrored, in_mm});
    if (!again) return doubts;
    for (const Diagnostic& finding : again->findings)
        if (finding.severity != Severity::Note && finding.code != "photo-off" &&
            (finding.code != "photo-mirrored" || doubts.empty() || doubts.front().code != "photo-mirrored"))
            doubts.push_back(finding);
    return doubts;
}

bool is_readable(const document::Photo& photo, bool in_mm) {
    const Diagnostics doubts = placement_doubts(photo, in_mm);
    return placement_of(photo) && std::none_of(doubts.begin(), doubts.end(), speaks_against_place);
}

const document::Photo* doubtful_evidence(const document::Chart& chart, const document::Footprint& part) {
    const document::Orientation& record = part.orientation;
    if (record.state == document::RecordState::NotRecorded || record.evidence.photo.is_empty()) return nullptr;
    for (const document::Photo& photo : chart.photos)
        if (photo.id == record.evidence.photo)
            return placement_of(photo) && !is_readable(photo, chart.scale.has_value()) ? &photo : nullptr;
    return nullptr;
}

} // namespace padchart::analysis
