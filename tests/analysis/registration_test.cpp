#include "analysis/registration.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>
#include <vector>

#include "analysis/photo_doubts.hpp"

using namespace padchart;
using analysis::PhotoView;
using analysis::place_photo;
using analysis::PointMatch;
using document::Side;
using geometry::Homography;
using geometry::Vec2;

namespace {

/// A pinhole camera over a flat board: the truth, by its own arithmetic and not by a homography. The camera looks at
/// `aim`, `distance` mm away, tilted off straight and turned round.
struct Camera {
    Vec2 aim{20, 15};
    double distance_mm = 150.0;
    double tilt_deg = 0.0;
    double turn_deg = 0.0;
    double focal_px = 3500.0;
    Vec2 middle_px{2000, 1500};
    bool mirrored = false;

    [[nodiscard]] Vec2 operator()(Vec2 board) const {
        const double turn = turn_deg * std::numbers::pi / 180.0;
        const double tilt = tilt_deg * std::numbers::pi / 180.0;
        Vec2 p = board - aim;
        if (mirrored) p.x = -p.x;
        const Vec2 q{std::cos(turn) * p.x - std::sin(turn) * p.y, std::sin(turn) * p.x + std::cos(turn) * p.y};
        const double y = q.y * std::cos(tilt);
        const double depth = distance_mm + q.y * std::sin(tilt);
        return middle_px + Vec2{focal_px * q.x / depth, focal_px * y / depth};
    }
};

std::vector<PointMatch> seen(const Camera& camera, const std::vector<Vec2>& board) {
    std::vector<PointMatch> points;
    for (const Vec2 p : board)
        points.push_back({camera(p), p});
    return points;
}

const std::vector<Vec2> kCorners{{2, 2}, {38, 2}, {38, 28}, {2, 28}};

std::vector<Vec2> lattice(int columns, int rows) {
    std::vector<Vec2> points;
    for (int i = 0; i < columns; ++i)
        for (int j = 0; j < rows; ++j)
            points.push_back({2 + 36.0 * i / (columns - 1), 2 + 26.0 * j / (rows - 1)});
    return points;
}

double worst_error(const Homography& map, const Camera& camera) {
    double worst = 0.0;
    for (const Vec2 p : lattice(13, 11))
        worst = std::max(worst, geometry::distance(map(camera(p)), p));
    return worst;
}

bool has(const Diagnostics& findings, std::string_view code) {
    return std::any_of(findings.begin(), findings.end(), [&](const Diagnostic& f) { return f.code == code; });
}

std::string message_of(const Diagnostics& findings, std::string_view code) {
    for (const Diagnostic& finding : findings)
        if (finding.code == code) return finding.message;
    return {};
}

/// The board's diagonal, against which errors are held: sqrt(36^2 + 26^2) mm, own arithmetic.
const double kDiagonal_mm = std::hypot(36.0, 26.0);

} // namespace

TEST_CASE("two points place a picture taken straight from above") {
    for (const double turn : {0.0, 17.0, 90.0, 200.0}) {
        const Camera camera{.turn_deg = turn};
        const auto placed = place_photo(seen(camera, {{3, 4}, {35, 25}}));
        REQUIRE(placed);
        CHECK(worst_error(placed->board_from_pixel, camera) < 1e-9);
        CHECK(placed->rms_mm < 1e-12);
        CHECK_FALSE(placed->mirrored);
        CHECK_FALSE(placed->tilt_deg); // two points cannot tell
        CHECK(has(placed->findings, "photo-unchecked"));
    }
}

TEST_CASE("two points place a mirrored picture and one of the bottom side") {
    const Camera camera{.turn_deg = 33.0, .mirrored = true};
    for (const PhotoView view : {PhotoView{Side::Top, true}, PhotoView{Side::Bottom, false}}) {
        const auto placed = place_photo(seen(camera, {{3, 4}, {35, 25}}), view);
        REQUIRE(placed);
        CHECK(worst_error(placed->board_from_pixel, camera) < 1e-9);
        CHECK(placed->mirrored);
        CHECK_FALSE(has(placed->findings, "photo-mirrored"));
    }
}

TEST_CASE("four points take out any angle a hand would photograph at") {
    for (const double tilt : {0.0, 10.0, 25.0, 45.0})
        for (const double turn : {0.0, 70.0, 180.0}) {
            CAPTURE(tilt);
            CAPTURE(turn);
            const Camera camera{.tilt_deg = tilt, .turn_deg = turn};
            const auto placed = place_photo(seen(camera, kCorners));
            REQUIRE(placed);
            CHECK(worst_error(placed->board_from_pixel, camera) < 1e-7);
            // The middle of the points is not quite where the camera looks, so the tilt is told within two degrees.
            REQUIRE(placed->tilt_deg);
            CHECK(*placed->tilt_deg == doctest::Approx(tilt).epsilon(0.1).scale(20.0));
            CHECK_FALSE(has(placed->findings, "photo-steep"));
            CHECK_FALSE(has(placed->findings, "photo-mirrored"));
        }
}

TEST_CASE("with clicks off by two pixels twelve points stay within half a percent") {
    std::mt19937 random(20260314);
    std::normal_distribution<double> click(0.0, 2.0);
    for (int trial = 0; trial < 40; ++trial) {
        const Camera camera{.tilt_deg = 5.0 + trial, .turn_deg = 9.0 * trial};
        std::vector<PointMatch> points = seen(camera, lattice(4, 3));
        for (PointMatch& point : points)
            point.pixel += Vec2{click(random), click(random)};
        const auto placed = place_photo(points);
        REQUIRE(placed);
        CHECK(worst_error(placed->board_from_pixel, camera) < 0.005 * kDiagonal_mm);
        // A pixel is about 0.05 mm here; 2 pixels in each of two directions, own arithmetic.
        CHECK(placed->rms_mm < 0.2);
        CHECK(placed->rms_mm > 0.02);
    }
}

TEST_CASE("the least squares answer is no worse than any small change of it") {
    // A slow twin of the refinement: no number of the map can be nudged to lessen what is left over.
    std::mt19937 random(7);
    std::normal_distribution<double> click(0.0, 5.0);
    const Camera camera{.tilt_deg = 30.0, .turn_deg = 20.0};
    std::vector<PointMatch> points = seen(camera, lattice(3, 3));
    for (PointMatch& point : points)
        point.pixel += Vec2{click(random), click(random)};
    const auto placed = place_photo(points);
    REQUIRE(placed);
    const auto left_over = [&](const Homography& map) {
        double sum = 0.0;
        for (const PointMatch& point : points)
            sum += std::pow(geometry::distance(map(point.pixel), point.board), 2);
        return sum;
    };
    const double best = left_over(placed->board_from_pixel);
    for (std::size_t k = 0; k < 8; ++k)
        for (const double nudge : {-1e-5, 1e-5}) {
            Homography other = placed->board_from_pixel;
            other.h[k] *= 1.0 + nudge;
            CHECK(left_over(other) >= best * (1.0 - 1e-9));
        }
    CHECK(placed->rms_mm == doctest::Approx(std::sqrt(best / 9.0)));
}

TEST_CASE("points of which two lie together do not check the others and say so") {
    const Camera camera{.tilt_deg = 12.0};
    std::vector<PointMatch> points = seen(camera, {{2, 2}, {38, 2}, {38, 28}, {37, 27}, {5, 29}});
    points[4].board.x += 4.0;
    const auto placed = place_photo(points);
    REQUIRE(placed);
    CHECK_FALSE(has(placed->findings, "photo-off")); // that is why
    CHECK(message_of(placed->findings, "photo-unchecked").find("mm at point ") != std::string::npos);
    // Right points of a click's accuracy, spread over the board, check each other.
    std::vector<PointMatch> spread = seen(camera, {{2, 2}, {38, 2}, {38, 28}, {2, 28}, {20, 15}});
    for (std::size_t i = 0; i < spread.size(); ++i)
        spread[i].board += Vec2{i % 2 == 0 ? 0.08 : -0.06, i % 3 == 0 ? -0.08 : 0.07};
    CHECK_FALSE(has(place_photo(spread)->findings, "photo-unchecked"));
}

TEST_CASE("three points nearly in a line fit the mirror image as well and say so") {
    const auto placed = place_photo(seen(Camera{.turn_deg = 10.0}, {{2, 2}, {20, 2.3}, {38, 2}}), {Side::Top, true});
    REQUIRE(placed);
    CHECK(message_of(placed->findings, "photo-unchecked").find("in a line") != std::string::npos);
    CHECK_FALSE(
        has(place_photo(seen(Camera{.turn_deg = 10.0}, {{2, 2}, {20, 20}, {38, 2}}))->findings, "photo-unchecked"));
}

TEST_CASE("four points of a mirrored picture are placed and told") {
    const Camera camera{.tilt_deg = 15.0, .mirrored = true};
    const auto top = place_photo(seen(camera, kCorners));
    REQUIRE(top);
    CHECK(top->mirrored);
    CHECK(has(top->findings, "photo-mirrored"));
    CHECK(worst_error(top->board_from_pixel, camera) < 1e-7);
    CHECK_FALSE(has(place_photo(seen(camera, kCorners), {Side::Bottom, false})->findings, "photo-mirrored"));
    // Said to be mirrored where it is not: the words say that it is none.
    const auto straight = place_photo(seen(Camera{.tilt_deg = 15.0}, kCorners), {Side::Top, true});
    REQUIRE(straight);
    CHECK(message_of(straight->findings, "photo-mirrored").find("it is no mirror image") != std::string::npos);
}

TEST_CASE("an outline that crosses itself is refused") {
    std::vector<PointMatch> points = seen(Camera{.tilt_deg = 10.0}, kCorners);
    std::swap(points[1].pixel, points[2].pixel);
    const auto placed = place_photo(points);
    REQUIRE_FALSE(placed);
    CHECK(placed.error().message.find("exchanged") != std::string::npos);
}

TEST_CASE("points in a line or on top of each other are refused") {
    const Camera camera{.tilt_deg = 20.0};
    CHECK_FALSE(place_photo(seen(camera, {{2, 2}})));
    CHECK_FALSE(place_photo(seen(camera, {{2, 2}, {2, 2}})));
    CHECK_FALSE(place_photo(seen(camera, {{2, 2}, {10, 6}, {20, 11}, {38, 20}})));
    // Three in a line and one beside it leave a whole family of maps.
    CHECK_FALSE(place_photo(seen(camera, {{2, 2}, {20, 2}, {38, 2}, {20, 28}})));
    CHECK_FALSE(place_photo(seen(camera, {{2, 2}, {38, 2}, {38, 28}, {2, 28}, {2, 2}})));
    std::vector<PointMatch> wild = seen(camera, kCorners);
    wild[2].board.x = std::nan("");
    CHECK_FALSE(place_photo(wild));
}

TEST_CASE("a picture taken almost along the board is called steep") {
    const auto placed = place_photo(seen(Camera{.tilt_deg = 72.0}, kCorners));
    REQUIRE(placed);
    CHECK(has(placed->findings, "photo-steep"));
}

TEST_CASE("three points of a picture taken at an angle tell no tilt and four do") {
    const Camera camera{.tilt_deg = 12.0};
    CHECK_FALSE(place_photo(seen(camera, {{2, 2}, {38, 2}, {38, 28}}))->tilt_deg);
    REQUIRE(place_photo(seen(camera, kCorners))->tilt_deg);
    CHECK(*place_photo(seen(camera, kCorners))->tilt_deg == doctest::Approx(12.0).epsilon(0.1));
}

TEST_CASE("three points of which two are exchanged are far off and the two are named") {
    std::vector<PointMatch> points = seen(Camera{.turn_deg = 30.0}, {{2, 2}, {38, 2}, {30, 28}});
    CHECK(place_photo(points)->findings.empty());
    std::swap(points[0].pixel, points[2].pixel);
    const auto placed = place_photo(points);
    REQUIRE(placed);
    REQUIRE(has(placed->findings, "photo-off"));
    CHECK_FALSE(has(placed->findings, "photo-mirrored"));
    const auto found = std::find_if(placed->findings.begin(), placed->findings.end(),
                                    [](const Diagnostic& f) { return f.code == "photo-exchanged"; });
    REQUIRE(found != placed->findings.end());
    CHECK(found->message.find("points 1 and 3 change places") != std::string::npos);
}

TEST_CASE("three points of a mirrored picture are far off and the mirror is proposed") {
    const std::vector<PointMatch> points =
        seen(Camera{.turn_deg = 10.0, .mirrored = true}, {{2, 2}, {38, 2}, {30, 28}});
    const auto placed = place_photo(points);
    REQUIRE(placed);
    CHECK(has(placed->findings, "photo-off"));
    CHECK(has(placed->findings, "photo-mirrored"));
    CHECK_FALSE(has(placed->findings, "photo-exchanged"));
    CHECK(place_photo(points, {Side::Top, true})->findings.empty());
    CHECK(place_photo(points, {Side::Bottom, false})->findings.empty());
    const std::vector<PointMatch> straight = seen(Camera{.turn_deg = 10.0}, {{2, 2}, {38, 2}, {30, 28}});
    CHECK(message_of(place_photo(straight, {Side::Top, true})->findings, "photo-mirrored").find("it is none") !=
          std::string::npos);
}

TEST_CASE("how far off a point may lie follows the span between a fifth and half a millimetre") {
    // 2 % of the span, own arithmetic: 5 mm apart 0.1, 20 mm apart 0.4, 100 mm apart 2.
    const auto allowed = [](double mm, bool in_mm) {
        const std::vector<PointMatch> points{{{0, 0}, {0, 0}}, {{9, 0}, {mm, 0}}};
        return analysis::allowed_off(points, in_mm);
    };
    CHECK(allowed(5, true) == doctest::Approx(0.2));
    CHECK(allowed(20, true) == doctest::Approx(0.4));
    CHECK(allowed(100, true) == doctest::Approx(0.5));
    CHECK(allowed(100, false) == doctest::Approx(2.0));
    // Within the bound nothing is said, beyond it there is.
    for (const double off : {0.3, 4.0}) {
        std::vector<PointMatch> points = seen(Camera{}, {{2, 2}, {38, 2}, {30, 28}});
        points[2].board.x += off;
        CHECK(has(place_photo(points)->findings, "photo-off") == (off > 1.0));
    }
}

TEST_CASE("a photo that lies elsewhere than its points say is doubted") {
    document::Photo photo;
    for (const PointMatch& point : seen(Camera{}, kCorners))
        photo.points.push_back({point.pixel, point.board, {}});
    CHECK(analysis::placement_doubts(photo, true).empty()); // not placed
    const Homography right = place_photo(seen(Camera{}, kCorners))->board_from_pixel;
    photo.board_from_pixel = analysis::numbers_of(right);
    CHECK(analysis::placement_doubts(photo, true).empty());
    photo.board_from_pixel[2] += 3.0;
    const Diagnostics doubts = analysis::placement_doubts(photo, true);
    REQUIRE(doubts.size() == 1);
    CHECK(analysis::speaks_against_place(doubts[0]));
}

TEST_CASE("of many points the one that is wrong is named") {
    std::vector<PointMatch> points = seen(Camera{.tilt_deg = 20.0}, lattice(4, 3));
    points[5].board += Vec2{2.0, 0.0};
    const auto placed = place_photo(points);
    REQUIRE(placed);
    const auto found = std::find_if(placed->findings.begin(), placed->findings.end(),
                                    [](const Diagnostic& f) { return f.code == "photo-point-off"; });
    REQUIRE(found != placed->findings.end());
    CHECK(found->message.find("point 6 ") == 0);
}

TEST_CASE("a map and its way back undo each other and areas grow as the map says") {
    const auto placed = place_photo(seen(Camera{.tilt_deg = 35.0, .turn_deg = 40.0}, kCorners));
    REQUIRE(placed);
    const Homography map = placed->board_from_pixel;
    for (const Vec2 p : lattice(4, 4)) {
        const Vec2 pixel = map.inverse()(p);
        CHECK(geometry::distance(map(pixel), p) < 1e-9);
        // A small square, own arithmetic.
        const double d = 0.01;
        const Vec2 u = map(pixel + Vec2{d, 0}) - map(pixel - Vec2{d, 0});
        const Vec2 v = map(pixel + Vec2{0, d}) - map(pixel - Vec2{0, d});
        CHECK(cross(u, v) / (4 * d * d) == doctest::Approx(map.area_factor(pixel)).epsilon(1e-5));
    }
    document::Photo photo;
    CHECK_FALSE(analysis::placement_of(photo));
    photo.board_from_pixel = analysis::numbers_of(map);
    REQUIRE(analysis::placement_of(photo));
    CHECK(*analysis::placement_of(photo) == map);
}
