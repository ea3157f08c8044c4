#pragma once
// Pages of paper with pictures on them, in page mm, y down from the top left corner. What the cairo painter writes.

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "scene/scene.hpp"

namespace padchart::scene {

/// One px of a theme on paper, mm: 1/96 in.
inline constexpr double kPaperPx_mm = 25.4 / 96.0;

/// A scene laid on a page: page = at + scale * scene, without turn or mirror, so that lengths stay true.
struct PlacedScene {
    Scene scene;
    double scale = 1.0;
    geometry::Vec2 at{};
    double px_mm = kPaperPx_mm;
    std::optional<geometry::Box> clip{}; ///< page mm
};

/// Pixels to be put on a page as they are: red, green, blue, row by row from the top left.
struct Picture {
    int width = 0, height = 0;
    std::vector<std::uint8_t> rgb{};

    [[nodiscard]] bool is_empty() const { return width <= 0 || height <= 0; }
};

struct PlacedPicture {
    Picture picture;
    geometry::Box box; ///< page mm; the picture fills it
};

/// The piece of a photo on which somebody saw how a part lies.
struct EvidencePicture {
    document::Id part;
    Picture picture;
};

struct Page {
    double width_mm = 210.0;
    double height_mm = 297.0;
    std::string bookmark{};
    std::vector<std::string> sections{};   ///< further bookmarks to this page, below the first
    std::vector<PlacedPicture> pictures{}; ///< painted first
    std::vector<PlacedScene> scenes{};     ///< painted in order
};

struct Document {
    std::string title;
    std::string author;
    std::string subject;
    std::string day; ///< ISO 8601 day written into the file as its date, or empty for a fixed one
    std::vector<Page> pages;
};

} // namespace padchart::scene
