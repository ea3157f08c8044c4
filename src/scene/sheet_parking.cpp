#include "scene/sheet_parking.hpp"

#include <algorithm>

#include "analysis/check.hpp"
#include "scene/card_picture.hpp"
#include "scene/sheet_blocks.hpp"
#include "scene/sheet_grid.hpp"
#include "scene/words.hpp"

namespace padchart::scene {

using document::Chart;
using document::Footprint;
using document::Side;
using geometry::Box;
using geometry::Vec2;

namespace {

constexpr double kHeading_mm = 17.0;
constexpr double kLeastCell_mm = 42.0;
constexpr double kCellHeight_mm = 36.0;
constexpr double kTick_mm = 3.6;

bool can_be_lifted(const Chart& chart, const Footprint& part) {
    using document::PartClass;
    const bool is_copper_only =
        part.part_class == PartClass::TestPoint || part.part_class == PartClass::MountingHole || part.pads.empty();
    return !is_copper_only && !is_absent(part) && analysis::in_heat_area(chart, part);
}

Vec2 seen_at(const Footprint& part) {
    return scene_from_board(part.placement.at, part.placement.side);
}

void add_tick_box(Scene& scene, Vec2 at, const std::string& text) {
    draw_box(scene, Role::PageInk, {at, at + Vec2{kTick_mm, kTick_mm}}, Weight::Thin);
    write(scene, at + Vec2{kTick_mm + 1.5, kTick_mm / 2.0}, text);
}

/// Left the part as it sat, right the empty place.
void add_cell(Page& page, const Box& cell, const Footprint& part, const analysis::PartFit* fit) {
    const double middle = cell.min.x + cell.width() * 0.45;
    const double top = cell.min.y + 8.0;
    const double foot = cell.max.y - 7.0;
    if (fit != nullptr)
        page.scenes.insert(page.scenes.begin(),
                           part_picture(part, *fit, {{cell.min.x + 1.0, top}, {middle - 1.0, foot}}));
    Scene& scene = page.scenes.back().scene;
    draw_box(scene, Role::PageRule, cell, Weight::Thin);
    const std::string name = part.name.empty() ? "(no name)" : part.name;
    write_fitted(scene, {cell.min.x + 2.0, cell.min.y + 4.2}, name, cell.width() * 0.4,
                 {.role = Role::PageTextStrong, .strong = true});
    write_fitted(scene, {middle, cell.min.y + 4.2}, part.value, cell.max.x - middle - 2.0);
    draw_box(scene, Role::PageTick, {{middle, top}, {cell.max.x - 3.0, foot}}, Weight::Thin);
    add_tick_box(scene, {cell.min.x + 2.0, cell.max.y - 5.6}, "off");
    add_tick_box(scene, {middle, cell.max.y - 5.6}, "back");
}

void add_heading(Page& page, const PageGrid& grid, Side side) {
    const std::string seen = side == Side::Top ? "top side, seen from the top" : "bottom side, seen from the bottom";
    const Vec2 at{grid.area.min.x + 2.0, grid.area.min.y - kHeading_mm};
    Scene& scene = page.scenes.back().scene;
    write(scene, at + Vec2{0, 5.0}, "Parking grid, " + seen,
          {.role = Role::PageHeading, .height_mm = kHeadingHeight_mm});
    write_fitted(scene, at + Vec2{0, 11.8},
                 "Lay each lifted part on its place as it sat; clear tape, sticky side up, holds it.",
                 grid.area.width() - 4.0);
}

const analysis::PartFit* fit_of(const Reports& reports, const document::Id& id) {
    if (reports.fit == nullptr) return nullptr;
    for (const analysis::PartFit& fit : reports.fit->parts)
        if (fit.part == id) return &fit;
    return nullptr;
}

} // namespace

std::vector<const Footprint*> parts_to_park(const Chart& chart, Side side, std::size_t columns) {
    std::vector<const Footprint*> parts;
    for (const Footprint& part : chart.parts)
        if (part.placement.side == side && can_be_lifted(chart, part)) parts.push_back(&part);
    std::stable_sort(parts.begin(), parts.end(),
                     [](const Footprint* a, const Footprint* b) { return seen_at(*a).y < seen_at(*b).y; });
    for (std::size_t i = 0; i < parts.size(); i += columns) {
        const auto from = parts.begin() + static_cast<std::ptrdiff_t>(i);
        const auto to = parts.begin() + static_cast<std::ptrdiff_t>(std::min(i + columns, parts.size()));
        std::stable_sort(from, to,
                         [](const Footprint* a, const Footprint* b) { return seen_at(*a).x < seen_at(*b).x; });
    }
    return parts;
}

std::vector<Page> parking_pages(const Chart& chart, const Reports& reports, const PageFormat& format) {
    PageGrid grid = grid_on(format, kHeading_mm, kLeastCell_mm, kCellHeight_mm);
    grid.cell_height_mm = kCellHeight_mm; // a place as large as a part needs, whatever the page leaves over
    std::vector<Page> pages;
    for (const Side side : {Side::Top, Side::Bottom}) {
        const std::vector<const Footprint*> parts = parts_to_park(chart, side, grid.columns);
        for (std::size_t i = 0; i < parts.size(); ++i) {
            if (i % grid.cells() == 0) {
                const std::string name = side == Side::Top ? "Parking grid, top side" : "Parking grid, bottom side";
                pages.push_back(format.blank(i == 0 ? name : name + ", continued"));
                add_heading(pages.back(), grid, side);
            }
            add_cell(pages.back(), grid.cell(i), *parts[i], fit_of(reports, parts[i]->id));
        }
    }
    return pages;
}

} // namespace padchart::scene
