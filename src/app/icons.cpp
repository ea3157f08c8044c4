#include "app/chrome.hpp"
#include "base/embedded.hpp"
#include "svg/drawing.hpp"

namespace padchart::app {
namespace {

Icon icon_of(const svg::Drawing& drawing) {
    const geometry::Vec2 middle{drawing.page_width / 2, drawing.page_height / 2};
    Icon icon;
    for (const svg::DrawnShape& shape : drawing.shapes)
        for (const svg::Subpath& subpath : drawing.subpaths_of(shape)) {
            std::vector<geometry::Vec2> line;
            for (const geometry::Vec2 point : drawing.points_of(subpath))
                line.push_back(point - middle);
            icon.push_back(std::move(line));
        }
    return icon;
}

} // namespace

std::map<std::string, Icon, std::less<>> load_icons() {
    std::map<std::string, Icon, std::less<>> icons;
    for (const embedded::EmbeddedFile& file : embedded::icons())
        if (const Result<svg::Drawing> drawing = svg::read(file.bytes))
            icons.emplace(std::string(file.path), icon_of(*drawing));
    return icons;
}

} // namespace padchart::app
