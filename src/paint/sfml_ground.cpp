#include "paint/sfml_ground.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "paint/sfml_pattern.hpp"

namespace padchart::paint {
namespace {

using geometry::Box;
using geometry::Polygon;
using geometry::Ring;
using geometry::Vec2;
using scene::Item;

constexpr double kRoundDetailPx = 6.0;
constexpr double kEdgeDetailPx = 5.0;

bool is_small_detail(scene::Role role) {
    return role == scene::Role::PadEdge || role == scene::Role::PadMissing;
}

Polygon scaled(const Polygon& polygon, double k) {
    return geometry::transformed(polygon, geometry::Affine::scaling(k, k));
}

class Builder {
public:
    explicit Builder(Ground& made) : made_(made), scene_(*made.scene), theme_(*made.theme) {}

    void build() {
        const std::vector<Item>& items = scene_.scene->items;
        for (std::size_t i = 0; i < items.size(); ++i) {
            if (scene_.is_outlined[i] && build_outlined(items[i], items[i + 1]))
                ++i;
            else if (items[i].kind == Item::Kind::Fill)
                build_fill(items[i]);
            else if (items[i].kind == Item::Kind::Line)
                build_line(items[i]);
        }
    }

private:
    /// An area with its own outline right after it, as one piece. False where their styles do not allow that.
    bool build_outlined(const Item& fill, const Item& line);
    /// The ring in px, with fewer corners the smaller it is, into scratch_.
    void corners_of(const Ring& ring, double size_px);
    void build_fill(const Item& item);
    void build_line(const Item& item);
    void add_area(const Polygon& polygon, const PreparedScene::Area& area, sf::Color colour);
    [[nodiscard]] sf::Vector2f px(Vec2 mm) const {
        const Vec2 v = (mm - made_.view.centre_mm) * made_.view.px_per_mm;
        return {static_cast<float>(v.x), static_cast<float>(v.y)};
    }
    [[nodiscard]] double size_px(const Box& mm) const {
        return std::max(mm.width(), mm.height()) * made_.view.px_per_mm;
    }

    Ground& made_;
    const PreparedScene& scene_;
    const Theme& theme_;
    std::vector<sf::Vector2f> scratch_;
};

void Builder::add_area(const Polygon& polygon, const PreparedScene::Area& area, sf::Color colour) {
    if (!area.convex) {
        for (const Band& b : area.bands)
            made_.quads.quad(px({b.top_left, b.top}), px({b.top_right, b.top}), px({b.bottom_right, b.bottom}),
                             px({b.bottom_left, b.bottom}), colour);
        return;
    }
    corners_of(polygon.outer, size_px(area.box));
    made_.quads.convex(scratch_, colour);
}

void Builder::corners_of(const Ring& ring, double size) {
    const std::size_t most = size < kRoundDetailPx       ? 4
                             : size < 2 * kRoundDetailPx ? 8
                             : size < 5 * kRoundDetailPx ? 16
                                                         : ring.size();
    const std::size_t n = ring.size() <= 4 ? ring.size() : std::min(most, ring.size());
    scratch_.clear();
    for (std::size_t i = 0; i < n; ++i)
        scratch_.push_back(px(ring[i * ring.size() / n]));
}

bool Builder::build_outlined(const Item& fill, const Item& line) {
    const PreparedScene::Area& area = scene_.areas[fill.index];
    if (!area.box.overlaps(made_.region_mm)) return true; // neither of them is seen
    const Style& ground = theme_.style(fill.role);
    const Style& edge = theme_.style(line.role);
    const bool is_plain = ground.fill && ground.fill->a == 255 && ground.hatch.kind == HatchKind::None && edge.stroke &&
                          edge.stroke->a == 255 && edge.dash.on_px <= 0;
    if (!is_plain) return false;
    const scene::Line& outline = scene_.scene->lines[line.index];
    const Ring& ring = scene_.scene->fills[fill.index].area.outer;
    const double width = std::max(theme_.width_px(line.role, outline.weight) * made_.view.ui_scale, 1.0);
    const double size = size_px(area.box);
    corners_of(ring, size);
    if (is_small_detail(line.role) && size < kEdgeDetailPx * made_.view.ui_scale) {
        made_.quads.convex(scratch_, sfml_colour(*ground.fill));
        return true;
    }
    made_.quads.outlined(scratch_, static_cast<float>(width), sfml_colour(*ground.fill), sfml_colour(*edge.stroke));
    return true;
}

void Builder::build_fill(const Item& item) {
    const PreparedScene::Area& area = scene_.areas[item.index];
    const Style& style = theme_.style(item.role);
    if (area.box.is_empty() || !area.box.overlaps(made_.region_mm)) return;
    const Polygon& polygon = scene_.scene->fills[item.index].area;
    if (style.fill) add_area(polygon, area, sfml_colour(*style.fill));
    if (style.hatch.kind == HatchKind::None) return;
    const double k = made_.view.px_per_mm;
    add_hatch(made_.quads, scaled(polygon, k), {made_.region_mm.min * k, made_.region_mm.max * k},
              made_.view.centre_mm * k, style.hatch, made_.view.ui_scale);
}

void Builder::build_line(const Item& item) {
    const Box& box = scene_.line_boxes[item.index];
    const Style& style = theme_.style(item.role);
    if (!style.stroke || box.is_empty() || !box.overlaps(made_.region_mm)) return;
    if (is_small_detail(item.role) && size_px(box) < kEdgeDetailPx * made_.view.ui_scale) return;
    const scene::Line& line = scene_.scene->lines[item.index];
    std::vector<sf::Vector2f>& points = scratch_;
    points.clear();
    for (const Vec2 point : line.points)
        points.push_back(px(point));
    const double width = std::max(theme_.width_px(item.role, line.weight) * made_.view.ui_scale, 1.0);
    const Dash dash{style.dash.on_px * made_.view.ui_scale, style.dash.off_px * made_.view.ui_scale};
    made_.quads.dashed(points, line.closed, static_cast<float>(width), dash, sfml_colour(*style.stroke));
}

} // namespace

std::shared_ptr<const Ground> ground_of(std::shared_ptr<const PreparedScene> scene, const View& view,
                                        const Theme& theme, const Around& around) {
    auto made = std::make_shared<Ground>();
    made->scene = std::move(scene);
    made->view = view;
    made->region_mm = region_round(view, around.made);
    made->theme = &theme;
    Builder(*made).build();
    return made;
}

bool serves(const Ground& ground, const View& view, const Theme& theme, const Around& around) {
    return ground.theme == &theme && serves(ground.view, view, around);
}

} // namespace padchart::paint
