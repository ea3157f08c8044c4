#include "paint/sfml_photo.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include <SFML/Graphics/RectangleShape.hpp>

namespace padchart::paint {
namespace {

using geometry::Box;
using geometry::Homography;
using geometry::Vec2;

/// Pixels of a tile without its border; one pixel of the neighbours round it, so that no seam shows.
constexpr int kInner = 510;
constexpr int kBorder = 1;
constexpr int kSide = kInner + 2 * kBorder;
/// About 8 ms of copying on a slow machine.
constexpr int kTilesPerFrame = 8;
/// A level's pixel may be this much larger than the screen's before a finer level is taken.
constexpr double kCoarsest = 1.1;

/// Window px about the viewport's corner.
Homography screen_from_scene(const View& view) {
    const double k = view.px_per_mm;
    const Vec2 shift = Vec2{view.viewport_px.width(), view.viewport_px.height()} / 2.0 - view.centre_mm * k;
    return {{k, 0, shift.x, 0, k, shift.y, 0, 0, 1}};
}

sf::Transform floats_of(const Homography& map) {
    std::array<float, 9> f{};
    for (std::size_t i = 0; i < 9; ++i)
        f[i] = static_cast<float>(map.h[i]);
    return {f[0], f[1], f[2], f[3], f[4], f[5], f[6], f[7], f[8]};
}

/// The same map with the weight 1 at a point, so that single precision suffices. Requires: weight(at) != 0.
Homography weighed_at(const Homography& map, Vec2 at) {
    Homography out = map;
    const double weight = map.weight(at);
    for (double& h : out.h)
        h /= weight;
    return out;
}

} // namespace

struct SfmlPhotoPainter::Job {
    sf::RenderTarget& target;
    const PhotoSource& photo;
    Homography screen_from_pixel;
    Box screen;
    sf::Color colour;
    sf::BlendMode blend;

    [[nodiscard]] int coarsest() const { return static_cast<int>(photo.levels.size()) - 1; }
    /// Pixels of the full picture that one of the level is wide.
    [[nodiscard]] double step(int level) const { return std::ldexp(1.0, level + photo.reduced_by); }
    [[nodiscard]] Box box_of(const Key& key) const {
        const double side = kInner * step(key.level);
        return {{key.x * side, key.y * side},
                {std::min((key.x + 1) * side, static_cast<double>(photo.full.width)),
                 std::min((key.y + 1) * side, static_cast<double>(photo.full.height))}};
    }
    [[nodiscard]] bool is_there(const Key& key) const {
        const Pixels& level = photo.levels[static_cast<std::size_t>(key.level)];
        return key.x * kInner < level.width && key.y * kInner < level.height;
    }
};

namespace {

std::array<Vec2, 4> corners_of(const Box& box) {
    return {box.min, Vec2{box.max.x, box.min.y}, box.max, Vec2{box.min.x, box.max.y}};
}

/// False only where it is certain that nothing of it is seen.
bool may_be_seen(const Homography& map, const Box& box, const Box& screen) {
    Box seen;
    for (const Vec2 corner : corners_of(box)) {
        if (map.weight(corner) <= 1e-9) return true; // crosses the horizon
        seen.add(map(corner));
    }
    return seen.overlaps(screen);
}

/// The most that one pixel of the picture grows to on the screen within the box.
double growth(const Homography& map, const Box& box) {
    double most = 0.0;
    for (const Vec2 corner : corners_of(box)) {
        if (map.weight(corner) <= 1e-9) return 1e9;
        most = std::max(most, std::abs(map.area_factor(corner)));
    }
    return std::sqrt(most);
}

bool is_beyond(const Homography& map, const Box& box) {
    const auto corners = corners_of(box);
    return std::all_of(corners.begin(), corners.end(), [&](Vec2 c) { return map.weight(c) <= 1e-9; });
}

/// The tile's pixels with border, four bytes each; outside of the level its edge is repeated.
void copy_tile(std::vector<std::uint8_t>& rgba, const Pixels& level, int left, int top) {
    rgba.resize(static_cast<std::size_t>(kSide) * kSide * 4);
    std::uint8_t* to = rgba.data();
    for (int y = 0; y < kSide; ++y)
        for (int x = 0; x < kSide; ++x) {
            const std::uint8_t* from = level.at(std::clamp(left + x - kBorder, 0, level.width - 1),
                                                std::clamp(top + y - kBorder, 0, level.height - 1));
            *to++ = from[0];
            *to++ = from[1];
            *to++ = from[2];
            *to++ = 255;
        }
}

} // namespace

void SfmlPhotoPainter::begin_frame() {
    ++frame_;
    made_ = 0;
    wants_frame_ = false;
}

void SfmlPhotoPainter::forget_oldest() {
    const auto oldest = std::min_element(tiles_.begin(), tiles_.end(),
                                         [](const auto& a, const auto& b) { return a.second.used < b.second.used; });
    tiles_.erase(oldest);
}

const SfmlPhotoPainter::Tile* SfmlPhotoPainter::tile(const Job& job, const Key& key, bool must) {
    const auto found = tiles_.find(key);
    if (found != tiles_.end()) {
        found->second.used = frame_;
        return &found->second;
    }
    if (made_ >= kTilesPerFrame && !must && !is_in_a_hurry_) {
        wants_frame_ = true;
        return nullptr;
    }
    ++made_;
    if (tiles_.size() >= kMostTiles) forget_oldest();
    Tile made;
    if (!made.texture.create(kSide, kSide)) return nullptr;
    copy_tile(rgba_, job.photo.levels[static_cast<std::size_t>(key.level)], key.x * kInner, key.y * kInner);
    made.texture.update(rgba_.data());
    made.texture.setSmooth(true);
    made.used = frame_;
    return &tiles_.emplace(key, std::move(made)).first->second;
}

void SfmlPhotoPainter::draw_tile(const Job& job, const Key& key) {
    const Box box = job.box_of(key);
    if (!may_be_seen(job.screen_from_pixel, box, job.screen) || is_beyond(job.screen_from_pixel, box)) return;
    const bool wants_finer = key.level > 0 && growth(job.screen_from_pixel, box) * job.step(key.level) > kCoarsest;
    if (wants_finer) {
        std::vector<Key> finer;
        bool all_there = true;
        for (const int dy : {0, 1})
            for (const int dx : {0, 1}) {
                const Key part{key.serial, key.level - 1, 2 * key.x + dx, 2 * key.y + dy};
                if (!job.is_there(part) || !may_be_seen(job.screen_from_pixel, job.box_of(part), job.screen)) continue;
                all_there = tile(job, part, false) != nullptr && all_there;
                finer.push_back(part);
            }
        if (all_there) {
            for (const Key& part : finer)
                draw_tile(job, part);
            return;
        }
    }
    if (const Tile* here = tile(job, key, true)) put(job, key, *here);
}

void SfmlPhotoPainter::put(const Job& job, const Key& key, const Tile& tile) {
    const Box box = job.box_of(key);
    const double step = job.step(key.level);
    const auto corner = [&](double x, double y) {
        const auto texel = [&](double at, double from) { return static_cast<float>((at - from) / step + kBorder); };
        return sf::Vertex({static_cast<float>(x - box.min.x), static_cast<float>(y - box.min.y)}, job.colour,
                          {texel(x, box.min.x), texel(y, box.min.y)});
    };
    const sf::Vertex a = corner(box.min.x, box.min.y), b = corner(box.max.x, box.min.y);
    const sf::Vertex c = corner(box.max.x, box.max.y), d = corner(box.min.x, box.max.y);
    // Six corners, not four: SFML maps fewer than five itself, and would lose the perspective.
    const std::array<sf::Vertex, 6> triangles{a, b, c, a, c, d};
    const Homography map = job.screen_from_pixel * Homography::of(geometry::Affine::translation(box.min));
    Vec2 anchor = (box.max - box.min) / 2.0;
    for (const Vec2 other : corners_of({{0, 0}, box.max - box.min}))
        if (map.weight(anchor) <= 1e-9) anchor = other;
    if (map.weight(anchor) <= 1e-9) return;
    sf::RenderStates states(job.blend);
    states.texture = &tile.texture;
    states.transform = floats_of(weighed_at(map, anchor));
    job.target.draw(triangles.data(), triangles.size(), sf::Triangles, states);
}

namespace {

/// Window px about the viewport's corner, cut to it.
sf::View canvas_of(const sf::RenderTarget& target, const Box& port) {
    const sf::Vector2f size(target.getSize());
    sf::View canvas(sf::FloatRect(0, 0, static_cast<float>(port.width()), static_cast<float>(port.height())));
    canvas.setViewport({static_cast<float>(port.min.x) / size.x, static_cast<float>(port.min.y) / size.y,
                        static_cast<float>(port.width()) / size.x, static_cast<float>(port.height()) / size.y});
    return canvas;
}

/// The target's own opacity stays whole.
sf::BlendMode mode_of(PhotoBlend blend) {
    using Mode = sf::BlendMode;
    if (blend == PhotoBlend::Over) return sf::BlendAlpha;
    const Mode::Equation equation = blend == PhotoBlend::Add ? Mode::Add : Mode::ReverseSubtract;
    return {Mode::SrcAlpha, Mode::One, equation, Mode::Zero, Mode::One, Mode::Add};
}

} // namespace

void SfmlPhotoPainter::draw_difference(sf::RenderTarget& target, const View& view, const Placed& first,
                                       const Placed& second) {
    const Box& port = view.viewport_px;
    const sf::View before = target.getView();
    target.setView(canvas_of(target, port));
    sf::RectangleShape ground({static_cast<float>(port.width()), static_cast<float>(port.height())});
    ground.setFillColor({128, 128, 128});
    target.draw(ground);
    target.setView(before);
    draw(target, view, second.photo, second.scene_from_pixel, 0.5, PhotoBlend::Add);
    draw(target, view, first.photo, first.scene_from_pixel, 0.5, PhotoBlend::Subtract);
}

void SfmlPhotoPainter::draw(sf::RenderTarget& target, const View& view, const PhotoSource& photo,
                            const Homography& scene_from_pixel, double opacity, PhotoBlend blend) {
    if (photo.levels.empty() || opacity <= 0.0) return;
    const Box& port = view.viewport_px;
    const Job job{target,
                  photo,
                  screen_from_scene(view) * scene_from_pixel,
                  {{0, 0}, {port.width(), port.height()}},
                  {255, 255, 255, static_cast<sf::Uint8>(std::lround(std::clamp(opacity, 0.0, 1.0) * 255))},
                  mode_of(blend)};
    const sf::View before = target.getView();
    target.setView(canvas_of(target, port));
    const Pixels& coarsest = photo.levels.back();
    for (int y = 0; y * kInner < coarsest.height; ++y)
        for (int x = 0; x * kInner < coarsest.width; ++x)
            draw_tile(job, {photo.serial, job.coarsest(), x, y});
    target.setView(before);
}

bool load(sf::Texture& texture, const Pixels& pixels) {
    if (pixels.is_empty() || !texture.create(static_cast<unsigned>(pixels.width), static_cast<unsigned>(pixels.height)))
        return false;
    std::vector<std::uint8_t> rgba;
    rgba.reserve(pixels.rgb.size() / 3 * 4);
    for (std::size_t i = 0; i + 2 < pixels.rgb.size(); i += 3)
        rgba.insert(rgba.end(), {pixels.rgb[i], pixels.rgb[i + 1], pixels.rgb[i + 2], 255});
    texture.update(rgba.data());
    texture.setSmooth(true);
    return true;
}

} // namespace padchart::paint
