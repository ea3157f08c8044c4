#include "paint/sfml_painter.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "paint/sfml_pattern.hpp"
#include "paint/sfml_symbol.hpp"

namespace padchart::paint {
namespace {

using geometry::Box;
using geometry::Polygon;
using geometry::Ring;
using geometry::Vec2;
using scene::Item;

constexpr double kRoundDetailPx = 6.0;
constexpr double kEdgeDetailPx = 5.0;
// How far round the view the quads reach, in halves of the view: as far as a hand pans in a few frames.
constexpr double kAround = 1.25;
constexpr unsigned kReadablePx = 6;
constexpr unsigned kLargestTextPx = 160;

bool is_small_detail(scene::Role role) {
    return role == scene::Role::PadEdge || role == scene::Role::PadMissing;
}

Vec2 rounded(Vec2 v) {
    return {std::round(v.x), std::round(v.y)};
}

Polygon scaled(const Polygon& polygon, double k) {
    return geometry::transformed(polygon, geometry::Affine::scaling(k, k));
}

} // namespace

SfmlPainter::SfmlPainter(const SfmlFonts& fonts) : fonts_(&fonts), texts_(fonts), sign_texts_(fonts) {}

void SfmlPainter::set_scene(std::shared_ptr<const scene::Scene> scene) {
    set_scene(scene ? prepared(std::move(scene)) : nullptr);
}

void SfmlPainter::set_scene(std::shared_ptr<const PreparedScene> prepared) {
    prepared_ = std::move(prepared);
    scene_ = prepared_ ? prepared_->scene.get() : nullptr;
    theme_ = nullptr;
}

sf::Vector2f SfmlPainter::px(Vec2 mm) const {
    const Vec2 v = (mm - built_.centre_mm) * built_.px_per_mm;
    return {static_cast<float>(v.x), static_cast<float>(v.y)};
}

double SfmlPainter::size_px(const Box& mm) const {
    return std::max(mm.width(), mm.height()) * built_.px_per_mm;
}

bool SfmlPainter::is_built_for(const View& view, const Theme& theme) const {
    if (theme_ != &theme || built_.px_per_mm != view.px_per_mm || built_.ui_scale != view.ui_scale) return false;
    const Vec2 half = Vec2{view.viewport_px.width(), view.viewport_px.height()} / (2 * view.px_per_mm);
    return region_mm_.contains(view.centre_mm - half) && region_mm_.contains(view.centre_mm + half);
}

void SfmlPainter::build(const View& view, const Theme& theme) {
    built_ = view;
    theme_ = &theme;
    const Vec2 half = Vec2{view.viewport_px.width(), view.viewport_px.height()} / (2 * view.px_per_mm);
    region_mm_ = {view.centre_mm - half * kAround, view.centre_mm + half * kAround};
    for (Mesh* mesh : {&ground_, &plates_, &signs_})
        mesh->clear();
    texts_.clear();
    sign_texts_.clear();
    for (std::size_t i = 0; i < scene_->items.size(); ++i) {
        const Item& item = scene_->items[i];
        if (prepared_->is_outlined[i] && build_outlined(item, scene_->items[i + 1], theme)) {
            ++i;
            continue;
        }
        switch (item.kind) {
        case Item::Kind::Fill: build_fill(item, theme); break;
        case Item::Kind::Line: build_line(item, theme); break;
        case Item::Kind::Text: build_text(item, theme); break;
        case Item::Kind::Symbol: build_symbol(item, theme); break;
        }
    }
    if (!sf::VertexBuffer::isAvailable()) return;
    const std::size_t count = ground_.vertices().size();
    if (count > ground_buffer_.getVertexCount()) (void)ground_buffer_.create(count + count / 4);
    if (count > 0) (void)ground_buffer_.update(ground_.vertices().data(), count, 0);
}

void SfmlPainter::add_area(const Polygon& polygon, const Area& area, sf::Color colour) {
    if (!area.convex) {
        for (const Band& b : area.bands)
            ground_.quad(px({b.top_left, b.top}), px({b.top_right, b.top}), px({b.bottom_right, b.bottom}),
                         px({b.bottom_left, b.bottom}), colour);
        return;
    }
    corners_of(polygon.outer, size_px(area.box));
    ground_.convex(scratch_, colour);
}

void SfmlPainter::corners_of(const Ring& ring, double size) {
    const std::size_t most = size < kRoundDetailPx       ? 4
                             : size < 2 * kRoundDetailPx ? 8
                             : size < 5 * kRoundDetailPx ? 16
                                                         : ring.size();
    const std::size_t n = ring.size() <= 4 ? ring.size() : std::min(most, ring.size());
    scratch_.clear();
    for (std::size_t i = 0; i < n; ++i)
        scratch_.push_back(px(ring[i * ring.size() / n]));
}

bool SfmlPainter::build_outlined(const Item& fill, const Item& line, const Theme& theme) {
    const Area& area = prepared_->areas[fill.index];
    if (!area.box.overlaps(region_mm_)) return true; // neither of them is seen
    const Style& ground = theme.style(fill.role);
    const Style& edge = theme.style(line.role);
    const bool is_plain = ground.fill && ground.fill->a == 255 && ground.hatch.kind == HatchKind::None && edge.stroke &&
                          edge.stroke->a == 255 && edge.dash.on_px <= 0;
    if (!is_plain) return false;
    const scene::Line& outline = scene_->lines[line.index];
    const Ring& ring = scene_->fills[fill.index].area.outer;
    const double width = std::max(theme.width_px(line.role, outline.weight) * built_.ui_scale, 1.0);
    const double size = size_px(area.box);
    corners_of(ring, size);
    if (is_small_detail(line.role) && size < kEdgeDetailPx * built_.ui_scale) {
        ground_.convex(scratch_, sfml_colour(*ground.fill));
        return true;
    }
    ground_.outlined(scratch_, static_cast<float>(width), sfml_colour(*ground.fill), sfml_colour(*edge.stroke));
    return true;
}

void SfmlPainter::build_fill(const Item& item, const Theme& theme) {
    const Area& area = prepared_->areas[item.index];
    const Style& style = theme.style(item.role);
    if (area.box.is_empty() || !area.box.overlaps(region_mm_)) return;
    const Polygon& polygon = scene_->fills[item.index].area;
    if (style.fill) add_area(polygon, area, sfml_colour(*style.fill));
    if (style.hatch.kind == HatchKind::None) return;
    const double k = built_.px_per_mm;
    add_hatch(ground_, scaled(polygon, k), {region_mm_.min * k, region_mm_.max * k}, built_.centre_mm * k, style.hatch,
              built_.ui_scale);
}

void SfmlPainter::build_line(const Item& item, const Theme& theme) {
    const Box& box = prepared_->line_boxes[item.index];
    const Style& style = theme.style(item.role);
    if (!style.stroke || box.is_empty() || !box.overlaps(region_mm_)) return;
    if (is_small_detail(item.role) && size_px(box) < kEdgeDetailPx * built_.ui_scale) return;
    const scene::Line& line = scene_->lines[item.index];
    std::vector<sf::Vector2f>& points = scratch_;
    points.clear();
    for (const Vec2 point : line.points)
        points.push_back(px(point));
    const double width = std::max(theme.width_px(item.role, line.weight) * built_.ui_scale, 1.0);
    const Dash dash{style.dash.on_px * built_.ui_scale, style.dash.off_px * built_.ui_scale};
    ground_.dashed(points, line.closed, static_cast<float>(width), dash, sfml_colour(*style.stroke));
}

void SfmlPainter::build_text(const Item& item, const Theme& theme) {
    const scene::Text& text = scene_->texts[item.index];
    const Style& style = theme.style(item.role);
    const double wanted = text.height_mm > 0 ? text.height_mm * built_.px_per_mm : text.height_px * built_.ui_scale;
    const unsigned size = static_cast<unsigned>(std::lround(std::clamp(wanted, 0.0, 1.0 * kLargestTextPx)));
    if (size < kReadablePx || !region_mm_.contains(text.at)) return;
    const FontWeight weight = text.strong ? std::max(style.weight, FontWeight::SemiBold) : style.weight;
    const float width = fonts_->width(text.text, weight, size);
    if (text.fit_width_mm > 0 && static_cast<double>(width) > text.fit_width_mm * built_.px_per_mm) return;
    const float capital = fonts_->capital_height(weight, size);
    const float left = text.align == scene::Align::Left     ? 0.0F
                       : text.align == scene::Align::Centre ? -width / 2
                                                            : -width;
    const sf::Vector2f at = px(text.at) + sf::Vector2f(left, capital / 2);
    if (text.halo) add_plate({at.x, at.y - capital}, {at.x + width, at.y}, sfml_colour(theme.palette.paper));
    texts_.add(text.text, at, weight, size, sfml_colour(style.text));
}

void SfmlPainter::add_plate(sf::Vector2f min, sf::Vector2f max, sf::Color colour) {
    const float margin = std::round(3.0F * static_cast<float>(built_.ui_scale));
    plates_.rounded_box({std::round(min.x) - margin, std::round(min.y) - margin},
                        {std::round(max.x) + margin, std::round(max.y) + margin}, margin, colour);
}

void SfmlPainter::build_symbol(const Item& item, const Theme& theme) {
    const scene::Symbol& symbol = scene_->symbols[item.index];
    if (!region_mm_.contains(symbol.at)) return;
    add_symbol(signs_, sign_texts_, *fonts_, px(symbol.at), symbol, theme.style(item.role), built_.ui_scale);
}

void SfmlPainter::draw(sf::RenderTarget& target, const View& view, const Theme& theme) {
    if (scene_ == nullptr) return;
    if (!is_built_for(view, theme)) build(view, theme);
    const sf::View before = target.getView();
    const Box& port = view.viewport_px;
    const sf::Vector2f size(target.getSize());
    sf::View canvas(sf::FloatRect(0, 0, static_cast<float>(port.width()), static_cast<float>(port.height())));
    canvas.setViewport({static_cast<float>(port.min.x) / size.x, static_cast<float>(port.min.y) / size.y,
                        static_cast<float>(port.width()) / size.x, static_cast<float>(port.height()) / size.y});
    target.setView(canvas);
    // Whole pixels, so that letters and level lines stay crisp wherever the picture is panned to.
    const Vec2 shift =
        rounded((built_.centre_mm - view.centre_mm) * view.px_per_mm + Vec2{port.width(), port.height()} / 2.0);
    sf::RenderStates states;
    states.transform.translate(static_cast<float>(shift.x), static_cast<float>(shift.y));
    if (sf::VertexBuffer::isAvailable())
        target.draw(ground_buffer_, 0, ground_.vertices().size(), states);
    else
        target.draw(ground_.vertices().data(), ground_.vertices().size(), sf::Quads, states);
    target.draw(plates_.vertices().data(), plates_.vertices().size(), sf::Quads, states);
    texts_.draw(target, states);
    target.draw(signs_.vertices().data(), signs_.vertices().size(), sf::Quads, states);
    sign_texts_.draw(target, states);
    target.setView(before);
}

} // namespace padchart::paint
