#include "paint/sfml_board.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include <SFML/Graphics/Sprite.hpp>
#include <SFML/OpenGL.hpp>

namespace padchart::paint {
namespace {

using geometry::Vec2;

// A piece that even a machine without a graphics card draws in some 10 ms.
constexpr std::size_t kPiece = 4 * 1500;

Vec2 rounded(Vec2 v) {
    return {std::round(v.x), std::round(v.y)};
}

sf::Vector2f floats(Vec2 v) {
    return {static_cast<float>(v.x), static_cast<float>(v.y)};
}

/// Whole pixels.
sf::Vector2u size_of(const Ground& ground) {
    const double k = ground.view.px_per_mm;
    return {static_cast<unsigned>(std::ceil(ground.region_mm.width() * k)),
            static_cast<unsigned>(std::ceil(ground.region_mm.height() * k))};
}

/// Where the centre of its view lies in a picture of this size, px.
Vec2 middle_of(sf::Vector2u size) {
    return rounded(Vec2{size.x / 2.0, size.y / 2.0});
}

} // namespace

sf::RenderStates states_between(const View& made, const View& view) {
    const Vec2 middle = Vec2{view.viewport_px.width(), view.viewport_px.height()} / 2.0;
    sf::RenderStates states;
    states.transform.translate(floats(rounded((made.centre_mm - view.centre_mm) * view.px_per_mm + middle)));
    const float k = static_cast<float>(view.px_per_mm / made.px_per_mm);
    if (made.px_per_mm != view.px_per_mm) states.transform.scale(k, k);
    return states;
}

bool BoardPicture::make_room(Side& side, sf::Vector2u size) const {
    if (side.picture && side.size == size) return true;
    side.picture = std::make_unique<sf::RenderTexture>();
    side.size = size;
    const unsigned samples = std::min(samples_, sf::RenderTexture::getMaximumAntialiasingLevel());
    const unsigned most = sf::Texture::getMaximumSize();
    const bool made = size.x > 0 && size.y > 0 && size.x <= most && size.y <= most &&
                      side.picture->create(size.x, size.y, sf::ContextSettings(0, 0, samples));
    if (!made) side.picture.reset();
    return made;
}

bool BoardPicture::begin(std::shared_ptr<const Ground> ground) {
    next_.reset();
    drawn_ = 0;
    if (!make_room(back_, size_of(*ground))) return false;
    next_ = std::move(ground);
    return true;
}

bool BoardPicture::go_on(std::chrono::milliseconds budget) {
    if (!next_) return false;
    using Clock = std::chrono::steady_clock;
    const Clock::time_point end = Clock::now() + budget;
    sf::RenderTexture& picture = *back_.picture;
    if (drawn_ == 0) picture.clear(sf::Color::Transparent);
    const std::vector<sf::Vertex>& vertices = next_->quads.vertices();
    sf::RenderStates states;
    states.transform.translate(floats(middle_of(back_.size)));
    while (drawn_ < vertices.size() && Clock::now() < end) {
        const std::size_t piece = std::min(kPiece, vertices.size() - drawn_);
        picture.draw(vertices.data() + drawn_, piece, sf::Quads, states);
        drawn_ += piece;
        glFinish(); // else the driver would only take note, and the time tell nothing
    }
    if (drawn_ < vertices.size()) return false;
    picture.display();
    std::swap(front_, back_);
    shown_ = std::exchange(next_, nullptr);
    return true;
}

void BoardPicture::draw(sf::RenderTarget& target, const View& view) const {
    if (!shown_) return;
    sf::RenderStates states = states_between(shown_->view, view);
    states.transform.translate(-floats(middle_of(front_.size)));
    // What was drawn onto nothing bears its own share of every colour already.
    states.blendMode = sf::BlendMode(sf::BlendMode::One, sf::BlendMode::OneMinusSrcAlpha);
    front_.picture->setSmooth(shown_->view.px_per_mm != view.px_per_mm);
    target.draw(sf::Sprite(front_.picture->getTexture()), states);
}

void BoardPicture::clear() {
    shown_.reset();
    next_.reset();
}

} // namespace padchart::paint
