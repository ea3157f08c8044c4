#include "paint/sfml_painter.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <utility>

#include "paint/sfml_symbol.hpp"

namespace padchart::paint {
namespace {

using geometry::Box;
using geometry::Vec2;
using scene::Item;

// Of a frame, for the pieces of a large picture.
constexpr std::chrono::milliseconds kBudget(20);
constexpr unsigned kReadablePx = 6;
constexpr unsigned kLargestTextPx = 160;

} // namespace

SfmlPainter::SfmlPainter(const SfmlFonts& fonts) : fonts_(&fonts), texts_(fonts), sign_texts_(fonts) {}

void SfmlPainter::set_scene(std::shared_ptr<const scene::Scene> scene) {
    set_scene(scene ? prepared(std::move(scene)) : nullptr);
}

void SfmlPainter::set_scene(std::shared_ptr<const PreparedScene> prepared) {
    prepared_ = std::move(prepared);
    scene_ = prepared_ ? prepared_->scene.get() : nullptr;
    theme_ = nullptr;
    ground_.reset();
    board_.clear();
    is_given_ = is_loaded_ = false;
}

void SfmlPainter::take(std::shared_ptr<const Ground> ground) {
    if (ground->scene != prepared_) theme_ = nullptr;
    prepared_ = ground->scene;
    scene_ = prepared_->scene.get();
    ground_ = std::move(ground);
    is_given_ = true;
    is_loaded_ = false;
}

void SfmlPainter::begin(std::shared_ptr<const Ground> ground) {
    if (!board_.begin(ground)) take(std::move(ground)); // drawn whole in every frame
}

sf::Vector2f SfmlPainter::px(Vec2 mm) const {
    const Vec2 v = (mm - built_.centre_mm) * built_.px_per_mm;
    return {static_cast<float>(v.x), static_cast<float>(v.y)};
}

bool SfmlPainter::is_labelled_for(const View& view, const Theme& theme) const {
    return theme_ == &theme && serves(built_, view);
}

void SfmlPainter::build_labels(const View& view, const Theme& theme) {
    built_ = view;
    theme_ = &theme;
    region_mm_ = region_round(view, Around().made);
    plates_.clear();
    signs_.clear();
    texts_.clear();
    sign_texts_.clear();
    for (const Item& item : scene_->items) {
        if (item.kind == Item::Kind::Text) build_text(item, theme);
        if (item.kind == Item::Kind::Symbol) build_symbol(item, theme);
    }
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

void SfmlPainter::load_ground() {
    is_loaded_ = true;
    if (!sf::VertexBuffer::isAvailable()) return;
    const std::vector<sf::Vertex>& vertices = ground_->quads.vertices();
    if (vertices.size() > ground_buffer_.getVertexCount())
        (void)ground_buffer_.create(vertices.size() + vertices.size() / 4);
    if (!vertices.empty()) (void)ground_buffer_.update(vertices.data(), vertices.size(), 0);
}

void SfmlPainter::draw_ground(sf::RenderTarget& target, const View& view) const {
    if (ground_ == board_.shown()) return board_.draw(target, view);
    const sf::RenderStates states = states_between(ground_->view, view);
    const std::vector<sf::Vertex>& vertices = ground_->quads.vertices();
    if (sf::VertexBuffer::isAvailable())
        target.draw(ground_buffer_, 0, vertices.size(), states);
    else
        target.draw(vertices.data(), vertices.size(), sf::Quads, states);
}

void SfmlPainter::draw(sf::RenderTarget& target, const View& view, const Theme& theme) {
    go_on(kBudget);
    (void)target.setActive(true);
    if (scene_ == nullptr) return;
    if (!is_given_ && (!ground_ || !serves(*ground_, view, theme))) {
        ground_ = ground_of(prepared_, view, theme);
        is_loaded_ = false;
    }
    if (!is_loaded_ && ground_ != board_.shown()) load_ground();
    if (!is_labelled_for(view, theme)) build_labels(view, theme);
    const sf::View before = target.getView();
    const Box& port = view.viewport_px;
    const sf::Vector2f size(target.getSize());
    sf::View canvas(sf::FloatRect(0, 0, static_cast<float>(port.width()), static_cast<float>(port.height())));
    canvas.setViewport({static_cast<float>(port.min.x) / size.x, static_cast<float>(port.min.y) / size.y,
                        static_cast<float>(port.width()) / size.x, static_cast<float>(port.height()) / size.y});
    target.setView(canvas);
    draw_ground(target, view);
    const sf::RenderStates states = states_between(built_, view);
    target.draw(plates_.vertices().data(), plates_.vertices().size(), sf::Quads, states);
    texts_.draw(target, states);
    target.draw(signs_.vertices().data(), signs_.vertices().size(), sf::Quads, states);
    sign_texts_.draw(target, states);
    target.setView(before);
}

} // namespace padchart::paint
