#pragma once
// Pages of paper with pictures on them, in page mm, y down from the top left corner. What the cairo painter writes.

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

struct Page {
    double width_mm = 210.0;
    double height_mm = 297.0;
    std::string bookmark{};
    std::vector<std::string> sections{}; ///< further bookmarks to this page, below the first
    std::vector<PlacedScene> scenes{};   ///< painted in order
};

struct Document {
    std::string title;
    std::string author;
    std::string subject;
    std::string day; ///< ISO 8601 day written into the file as its date, or empty for a fixed one
    std::vector<Page> pages;
};

} // namespace padchart::scene
