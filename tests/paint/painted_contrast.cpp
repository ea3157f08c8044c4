// Contrast of pixels as they are painted, thin lines and small letters with their softened edges: WCAG 2.1, 1.4.3 (text
// 4.5 to 1) and 1.4.11 (what is needed to understand a picture, 3 to 1).

#include <algorithm>
#include <array>
#include <fstream>
#include <iterator>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include <doctest/doctest.h>

#include "paint/cairo_painter.hpp"
#include "paint/photo_pixels.hpp"
#include "poppler.hpp"

using namespace padchart;
using namespace padchart::paint;
using geometry::Box;
using geometry::Ring;
using scene::Fill;
using scene::Line;
using scene::Role;
using scene::Scene;
using scene::Weight;

namespace {

const std::array kThemes{&paper_theme(), &dark_room_theme(), &grey_print_theme()};
constexpr int kSize = 120; // px of a picture; 1 scene mm is 1 px

Ring ring_of(const Box& box) {
    return {box.min, {box.max.x, box.min.y}, box.max, {box.min.x, box.max.y}};
}
void add_area(Scene& scene, Role role, const Box& box) {
    scene.add(role, Fill{{ring_of(box), {}}});
}
void add_edge(Scene& scene, Role role, const Box& box) {
    scene.add(role, Line{ring_of(box), true, Weight::Normal});
}

Pixels painted(const Scene& scene, const Theme& theme) {
    const test::TempFolder folder;
    const std::string path = folder.file("p.png");
    REQUIRE(write_picture(scene, Camera{}, kSize, kSize, theme, path).has_value());
    std::ifstream file(path, std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(file), {}};
    auto photo = decode_photo(bytes, 1U << 24U);
    REQUIRE(photo.has_value());
    return std::move(photo->pixels);
}

/// The commonest colour of a box, and how the colours that stand out of it do: of the pixels sorted by contrast the one
/// after the best three, which may be specks.
double contrast_in(const Pixels& pixels, const Box& box) {
    std::map<std::array<std::uint8_t, 3>, int> counts;
    for (int y = static_cast<int>(box.min.y); y < static_cast<int>(box.max.y); ++y)
        for (int x = static_cast<int>(box.min.x); x < static_cast<int>(box.max.x); ++x) {
            const std::uint8_t* p = pixels.at(x, y);
            ++counts[{p[0], p[1], p[2]}];
        }
    const auto commonest = std::max_element(counts.begin(), counts.end(),
                                            [](const auto& a, const auto& b) { return a.second < b.second; });
    const auto colour = [](const std::array<std::uint8_t, 3>& c) { return Colour{c[0], c[1], c[2], 255}; };
    std::vector<double> ratios;
    for (const auto& [rgb, count] : counts)
        ratios.insert(ratios.end(), static_cast<std::size_t>(count),
                      contrast_ratio(colour(rgb), colour(commonest->first)));
    std::sort(ratios.rbegin(), ratios.rend());
    return ratios.at(3);
}

Scene on_board() {
    Scene scene;
    add_area(scene, Role::Board, {{0, 0}, {kSize, kSize}});
    return scene;
}

void check_painted(const Scene& scene, const Theme& theme, const Box& box, double least) {
    CAPTURE(theme.name);
    CHECK(contrast_in(painted(scene, theme), box) >= least);
}

} // namespace

TEST_CASE("signs on badges are painted with enough contrast, as small as they are") {
    constexpr double kRadius_px = 9.0;
    for (const Theme* theme : kThemes)
        for (const auto& [role, sign] :
             {std::pair{Role::BadgeUnknown, scene::Sign::Query},
              std::pair{Role::BadgeWarning, scene::Sign::Exclamation}, std::pair{Role::BadgeDone, scene::Sign::Tick}}) {
            CAPTURE(std::string(to_text(role)));
            Scene scene = on_board();
            scene.add(role, scene::Symbol{{60, 60}, sign, kRadius_px});
            const double in = kRadius_px * 0.6; // off the badge's own edge
            check_painted(scene, *theme, Box{{60 - in, 60 - in}, {60 + in, 60 + in}}, 4.5);
        }
}

TEST_CASE("the edge of a land can be told from the body it lies on") {
    for (const Theme* theme : kThemes)
        for (const Role body : {Role::Body, Role::SensitiveBody}) {
            Scene scene = on_board();
            add_area(scene, body, {{10, 10}, {110, 110}});
            add_area(scene, Role::PadCopper, {{55, 20}, {100, 100}});
            add_edge(scene, Role::PadEdge, {{55, 20}, {100, 100}});
            check_painted(scene, *theme, {{40, 40}, {60, 80}}, 3.0);
        }
}

TEST_CASE("marks can be told from the bodies they are on") {
    for (const Theme* theme : kThemes)
        for (const Role body : {Role::Body, Role::SensitiveBody}) {
            Scene scene = on_board();
            add_area(scene, body, {{10, 10}, {110, 110}});
            add_area(scene, Role::Mark, {{58, 58}, {61.5, 61.5}}); // a dot of a small part
            check_painted(scene, *theme, {{40, 40}, {80, 80}}, 3.0);
        }
}

TEST_CASE("hatches of zones can be told from their ground") {
    for (const Theme* theme : kThemes)
        for (const Role zone : {Role::NoAim, Role::Depends, Role::KeepOut, Role::Shield}) {
            CAPTURE(std::string(to_text(zone)));
            Scene scene = on_board();
            add_area(scene, zone, {{10, 10}, {110, 110}});
            check_painted(scene, *theme, {{20, 20}, {100, 100}}, 3.0);
        }
}

TEST_CASE("edges of zones and of what is missing or on the far side are painted with enough contrast") {
    for (const Theme* theme : kThemes)
        for (const Role edge : {Role::NoAimEdge, Role::DependsEdge, Role::KeepOutEdge, Role::ShieldEdge,
                                Role::GoodAimEdge, Role::MissingEdge, Role::UnknownEdge, Role::FarSideEdge}) {
            CAPTURE(std::string(to_text(edge)));
            Scene scene = on_board();
            // Half way between pixels: as soft as a line of that width gets.
            scene.add(edge, Line{ring_of({{20.5, 20.5}, {100.5, 100.5}}), true, Weight::Normal});
            check_painted(scene, *theme, {{30, 10}, {90, 30}}, 3.0);
        }
}

TEST_CASE("names are painted with enough contrast on everything they stand on") {
    for (const Theme* theme : kThemes)
        for (const auto& [text, ground] :
             {std::pair{Role::LabelPart, Role::Body}, std::pair{Role::LabelPart, Role::SensitiveBody},
              std::pair{Role::LabelPart, Role::PadCopper}, std::pair{Role::LabelMuted, Role::SensitiveBody},
              std::pair{Role::LabelDanger, Role::SensitiveBody}, std::pair{Role::LabelDanger, Role::Board}}) {
            CAPTURE(std::string(to_text(text)));
            CAPTURE(std::string(to_text(ground)));
            Scene scene = on_board();
            add_area(scene, ground, {{5, 5}, {115, 115}});
            scene.add(text, scene::Text{.at = {60, 60}, .text = "MK1 U4", .height_px = 11});
            check_painted(scene, *theme, {{20, 40}, {100, 80}}, 4.5);
        }
}
