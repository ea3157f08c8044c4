#include "analysis/registration.hpp"

#include <Eigen/Dense>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

#include "analysis/photo_doubts.hpp"
#include "analysis/similarity.hpp"

namespace padchart::analysis {
namespace {

using geometry::Affine;
using geometry::Homography;
using geometry::Vec2;
using Points = std::span<const PointMatch>;

/// Points whose spread across a line is less than this share of their spread along it count as a line: a click of a few
/// pixels would turn the map over. Common practice, no source.
constexpr double kFlat = 0.02;
constexpr double kSteep_deg = 60.0;
constexpr double kUneven = 3.0;
constexpr double kPointOff_mm = 0.2;
constexpr double kPointOffTimes = 3.0;
/// A slip of so many times what is allowed, a wrong pad say, should show. Common practice, no source.
constexpr double kSlipTimes = 8.0;
/// More points than that check each other; each is tried twice, which takes as many fits.
constexpr std::size_t kMostChecked = 12;

std::optional<Error> pair_fault(Points points) {
    for (std::size_t i = 0; i < points.size(); ++i) {
        if (!geometry::is_finite(points[i].pixel) || !geometry::is_finite(points[i].board))
            return Error{fmt::format("point {} is not finite", i + 1), {}};
        for (std::size_t j = 0; j < i; ++j)
            if (points[i].pixel == points[j].pixel || points[i].board == points[j].board)
                return Error{
                    fmt::format("points {} and {} are the same; right would be points far apart", j + 1, i + 1), {}};
    }
    return std::nullopt;
}

/// True where all points but one lie along one line: the spread across it is next to nothing of the spread along it.
bool all_flat(Points points, std::size_t skip, Vec2 PointMatch::*place) {
    const double count = static_cast<double>(points.size() - 1);
    Vec2 mean;
    for (std::size_t i = 0; i < points.size(); ++i)
        if (i != skip) mean += points[i].*place / count;
    double xx = 0.0, yy = 0.0, xy = 0.0;
    for (std::size_t i = 0; i < points.size(); ++i) {
        if (i == skip) continue;
        const Vec2 off = points[i].*place - mean;
        xx += off.x * off.x;
        yy += off.y * off.y;
        xy += off.x * off.y;
    }
    // The eigenvalues of the second moments are the squares of both spreads.
    const double half = (xx + yy) / 2.0;
    const double root = std::hypot((xx - yy) / 2.0, xy);
    return half - root <= kFlat * kFlat * (half + root);
}

/// A homography needs four points of which no three lie in a line: then no single one may be left out and leave a line.
std::optional<Error> line_fault(Points points) {
    for (const auto place : {&PointMatch::pixel, &PointMatch::board})
        for (std::size_t skip = 0; skip < points.size(); ++skip)
            if (all_flat(points, skip, place))
                return Error{
                    fmt::format("all points, or all but point {}, lie nearly in a line {}; right would be four "
                                "near the corners of the region",
                                skip + 1, place == &PointMatch::pixel ? "in the picture" : "on the board"),
                    {}};
    return std::nullopt;
}

// Homography --------------------------------------------------------------------------------------------------------

/// To the middle of the points and to a mean distance of sqrt(2) from it.
Affine normalising(Points points, Vec2 PointMatch::*place) {
    Vec2 mean;
    for (const PointMatch& point : points)
        mean += point.*place / static_cast<double>(points.size());
    double far = 0.0;
    for (const PointMatch& point : points)
        far += geometry::distance(point.*place, mean) / static_cast<double>(points.size());
    const double k = std::numbers::sqrt2 / far;
    return Affine::scaling(k, k) * Affine::translation(-mean);
}

std::vector<PointMatch> normalised(Points points, const Affine& pixel, const Affine& board) {
    std::vector<PointMatch> out;
    for (const PointMatch& point : points)
        out.push_back({pixel(point.pixel), board(point.board)});
    return out;
}

/// The direct linear transform: the unit vector that the 2n x 9 equations send nearest to zero.
Homography direct_transform(Points points) {
    Eigen::MatrixXd a = Eigen::MatrixXd::Zero(static_cast<Eigen::Index>(2 * points.size()), 9);
    for (std::size_t i = 0; i < points.size(); ++i) {
        const auto [p, q] = points[i];
        const auto row = static_cast<Eigen::Index>(2 * i);
        a.row(row) << p.x, p.y, 1, 0, 0, 0, -q.x * p.x, -q.x * p.y, -q.x;
        a.row(row + 1) << 0, 0, 0, p.x, p.y, 1, -q.y * p.x, -q.y * p.y, -q.y;
    }
    const Eigen::JacobiSVD<Eigen::MatrixXd> svd(a, Eigen::ComputeFullV);
    Homography map;
    for (std::size_t k = 0; k < 9; ++k)
        map.h[k] = svd.matrixV()(static_cast<Eigen::Index>(k), 8);
    return map;
}

double squares(const Homography& map, Points points) {
    double sum = 0.0;
    for (const PointMatch& point : points) {
        const Vec2 off = map(point.pixel) - point.board;
        sum += dot(off, off);
    }
    return sum;
}

/// The normal equations of one step; the ninth number is held, since all nine times k are the same map.
Homography step_of(const Homography& map, Points points) {
    Eigen::Matrix<double, 8, 8> normal = Eigen::Matrix<double, 8, 8>::Zero();
    Eigen::Matrix<double, 8, 1> right = Eigen::Matrix<double, 8, 1>::Zero();
    for (const PointMatch& point : points) {
        const Vec2 p = point.pixel;
        const double w = map.weight(p);
        const Vec2 at = map(p);
        Eigen::Matrix<double, 2, 8> j = Eigen::Matrix<double, 2, 8>::Zero();
        j.row(0) << p.x / w, p.y / w, 1 / w, 0, 0, 0, -at.x * p.x / w, -at.x * p.y / w;
        j.row(1) << 0, 0, 0, p.x / w, p.y / w, 1 / w, -at.y * p.x / w, -at.y * p.y / w;
        const Vec2 off = point.board - at;
        normal += j.transpose() * j;
        right += j.transpose() * Eigen::Vector2d(off.x, off.y);
    }
    const Eigen::Matrix<double, 8, 1> step = normal.ldlt().solve(right);
    Homography next = map;
    for (std::size_t k = 0; k < 8; ++k)
        next.h[k] += step(static_cast<Eigen::Index>(k));
    return next;
}

/// Steps are taken as long as they help.
Homography refined(Homography map, Points points) {
    constexpr int kSteps = 20;
    double now = squares(map, points);
    for (int i = 0; i < kSteps; ++i) {
        const Homography next = step_of(map, points);
        const double then = squares(next, points);
        if (!(then < now)) break;
        const bool enough = now - then < 1e-12 * now;
        map = next;
        now = then;
        if (enough) break;
    }
    return map;
}

/// True where every point lies in front of the camera.
bool all_in_front(const Homography& map, Points points) {
    const auto [least, most] =
        std::minmax_element(points.begin(), points.end(), [&](const PointMatch& a, const PointMatch& b) {
            return map.weight(a.pixel) < map.weight(b.pixel);
        });
    const double low = map.weight(least->pixel);
    const double high = map.weight(most->pixel);
    constexpr double kLeastShare = 1e-3;
    return low * high > 0.0 &&
           std::min(std::abs(low), std::abs(high)) > kLeastShare * std::max(std::abs(low), std::abs(high));
}

Result<Homography> homography(Points points) {
    if (auto fault = line_fault(points)) return *fault;
    const Affine pixel = normalising(points, &PointMatch::pixel);
    const Affine board = normalising(points, &PointMatch::board);
    const std::vector<PointMatch> plain = normalised(points, pixel, board);
    Homography map = direct_transform(plain);
    const Error unseen{"no camera could see these points so: two of them are exchanged, or one is far off; right would "
                       "be the same corners in the same order in picture and board",
                       {}};
    if (!all_in_front(map, plain)) return unseen;
    // The ninth number is the weight at the middle of the points: in front of all of them it is not zero.
    const double last = map.h[8];
    for (double& number : map.h)
        number /= last;
    if (points.size() > 4) map = refined(map, plain);
    if (!all_in_front(map, plain)) return unseen;
    Homography out = Homography::of(board.inverse()) * map * Homography::of(pixel);
    const double scale = out.h[8];
    if (std::abs(scale) < 1e-12) return unseen; // the picture's own corner lies on the horizon
    for (double& number : out.h)
        number /= scale;
    return out;
}

// What there is to say of it ------------------------------------------------------------------------------------------

/// Largest and smallest stretch of the map at a point.
std::pair<double, double> stretches(const Homography& map, Vec2 p) {
    const double w = map.weight(p);
    const Vec2 q = map(p);
    const Affine slope{(map.h[0] - q.x * map.h[6]) / w,
                       (map.h[3] - q.y * map.h[6]) / w,
                       (map.h[1] - q.x * map.h[7]) / w,
                       (map.h[4] - q.y * map.h[7]) / w,
                       0.0,
                       0.0};
    const double largest = geometry::largest_stretch(slope);
    return {largest, std::abs(slope.determinant()) / largest};
}

void judge_view(PhotoPlacement& placement, Points points, const PhotoView& view) {
    const Homography& map = placement.board_from_pixel;
    Vec2 middle;
    double least = std::numeric_limits<double>::infinity();
    double most = 0.0;
    for (const PointMatch& point : points) {
        middle += point.pixel / static_cast<double>(points.size());
        const double factor = std::sqrt(std::abs(map.area_factor(point.pixel)));
        least = std::min(least, factor);
        most = std::max(most, factor);
    }
    const auto [largest, smallest] = stretches(map, middle);
    placement.mirrored = map.area_factor(middle) < 0.0;
    if (points.size() < 4) return; // a similarity has no tilt, and the handedness it was asked for
    // A flat thing seen from far at a tilt is shortened one way by the cosine of the tilt.
    const double tilt_deg = std::acos(std::clamp(smallest / largest, 0.0, 1.0)) * 180.0 / std::numbers::pi;
    placement.tilt_deg = tilt_deg;
    if (tilt_deg > kSteep_deg || most > kUneven * least)
        placement.findings.push_back(
            {Severity::Warning,
             "photo-steep",
             fmt::format("the points ask for a photograph taken {:.0f} degrees off straight and {:.1f} times as large "
                         "at one point as at another: take one from above, or look for a wrong point",
                         tilt_deg, most / least),
             {},
             {}});
    const bool expected = (view.side == document::Side::Bottom) != view.mirrored;
    if (placement.mirrored != expected)
        placement.findings.push_back(
            {Severity::Warning,
             "photo-mirrored",
             fmt::format("the points lie the wrong way round for a {} of the {} side: it is {} mirror image, shows the "
                         "other side, or points are exchanged",
                         view.mirrored ? "mirror image" : "photograph", document::to_text(view.side),
                         view.mirrored ? "no" : "a"),
             {},
             {}});
}

void judge_points(PhotoPlacement& placement, Points points) {
    double sum = 0.0;
    for (const PointMatch& point : points) {
        const double off = geometry::distance(placement.board_from_pixel(point.pixel), point.board);
        placement.residual_mm.push_back(off);
        sum += off * off;
    }
    placement.rms_mm = std::sqrt(sum / static_cast<double>(points.size()));
    if (points.size() == 2 || points.size() == 4)
        placement.findings.push_back(
            {Severity::Note,
             "photo-unchecked",
             fmt::format("{} points always fit: give one more, and a wrong one shows", points.size()),
             {},
             {}});
    std::vector<double> sorted = placement.residual_mm;
    std::sort(sorted.begin(), sorted.end());
    const double usual = sorted[(sorted.size() - 1) / 2];
    for (std::size_t i = 0; i < points.size(); ++i)
        if (placement.residual_mm[i] > kPointOff_mm && placement.residual_mm[i] > kPointOffTimes * usual)
            placement.findings.push_back(
                {Severity::Warning,
                 "photo-point-off",
                 fmt::format("point {} lies {:.2f} mm off, the usual one {:.2f} mm: look at it "
                             "again",
                             i + 1, placement.residual_mm[i], usual),
                 {},
                 {}});
}

/// How far off the worst of the points would lie if this one were a slip of so much, in the direction in which that
/// shows least. The points are taken to fit exactly.
double shown_of_slip(std::vector<PointMatch> points, std::size_t one, double slip) {
    double least = std::numeric_limits<double>::infinity();
    const Vec2 right = points[one].board;
    for (const Vec2 by : {Vec2{slip, 0.0}, Vec2{0.0, slip}}) {
        points[one].board = right + by;
        const Result<Homography> map = homography(points);
        if (!map) continue; // no camera sees it so: that would be told
        double worst = 0.0;
        for (const PointMatch& point : points)
            worst = std::max(worst, geometry::distance((*map)(point.pixel), point.board));
        least = std::min(least, worst);
    }
    return least;
}

/// A spare point checks only those that the others can do without: points close together count as one.
void judge_checks(PhotoPlacement& placement, Points points, const PhotoView& view) {
    if (points.size() < 5 || points.size() > kMostChecked) return;
    std::vector<PointMatch> exact(points.begin(), points.end());
    for (PointMatch& point : exact)
        point.board = placement.board_from_pixel(point.pixel);
    const double allowed = allowed_off(points, view.in_mm), slip = kSlipTimes * allowed;
    std::size_t least_checked = 0;
    double shown = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < exact.size(); ++i)
        if (const double here = shown_of_slip(exact, i, slip); here < shown) {
            shown = here;
            least_checked = i;
        }
    if (shown > allowed) return;
    const char* unit = view.in_mm ? "mm" : "units";
    placement.findings.push_back(
        {Severity::Note,
         "photo-unchecked",
         fmt::format("a slip of {:.2g} {} at point {} would show by {:.2g} {} only: give one more point, far from the "
                     "rest",
                     slip, unit, least_checked + 1, shown, unit),
         {},
         {}});
}

} // namespace

Result<PhotoPlacement> place_photo(Points points, const PhotoView& view) {
    if (points.size() < 2) return Error{"a photograph is placed by two points or more", {}};
    if (auto fault = pair_fault(points)) return *fault;
    PhotoPlacement placement;
    if (points.size() < 4) {
        placement.board_from_pixel = similarity(points, (view.side == document::Side::Bottom) != view.mirrored);
    } else {
        Result<Homography> map = homography(points);
        if (!map) return map.error();
        placement.board_from_pixel = *map;
    }
    judge_view(placement, points, view);
    judge_fit(placement, points, view);
    judge_points(placement, points);
    judge_checks(placement, points, view);
    return placement;
}

std::vector<double> numbers_of(const Homography& map) {
    return {map.h.begin(), map.h.end()};
}

std::optional<Homography> placement_of(const document::Photo& photo) {
    Homography map;
    if (photo.board_from_pixel.size() != map.h.size()) return std::nullopt;
    std::copy(photo.board_from_pixel.begin(), photo.board_from_pixel.end(), map.h.begin());
    const double determinant = map.determinant();
    if (!std::isfinite(determinant) || determinant == 0.0) return std::nullopt;
    return map;
}

} // namespace padchart::analysis
