#pragma once
// Photographs on an SFML target, seen through a map as a camera makes it. The map goes to the graphics system as it is,
// so that perspective is exact in every pixel, without a mesh.
//
// A photo is cut into tiles at every level; what is seen is drawn from the level whose pixels are at most as large as
// the screen's. Tiles go to the graphics memory a few a frame; until then coarser ones stand in. At most kMostTiles
// are kept there, 1 MB each.
//
// Requires: a display, and the target active on this thread.

#include <compare>
#include <cstdint>
#include <map>
#include <span>
#include <vector>

#include <SFML/Graphics/RenderTarget.hpp>
#include <SFML/Graphics/Texture.hpp>

#include "geometry/homography.hpp"
#include "paint/photo_pixels.hpp"
#include "paint/sfml_painter.hpp"

namespace padchart::paint {

inline constexpr std::size_t kMostTiles = 192;

struct PhotoSource {
    std::uint64_t serial = 0; ///< another number for other pixels
    PhotoSize full;
    int reduced_by = 0;
    std::span<const Pixels> levels; ///< as levels_of() gives them; not empty
};

/// How a photo lies on what is there already.
enum class PhotoBlend {
    Over,    ///< as a sheet of that opacity
    Add,     ///< its light times the opacity is added
    Subtract ///< and taken away
};

class SfmlPhotoPainter {
public:
    /// Begins a frame: tiles may be made again for a while.
    void begin_frame();
    /// `scene_from_pixel`: pixels of the full picture to scene mm. Opacity from 0 to 1.
    void draw(sf::RenderTarget& target, const View& view, const PhotoSource& photo,
              const geometry::Homography& scene_from_pixel, double opacity, PhotoBlend blend = PhotoBlend::Over);
    /// Grey where both photos show the same, lighter where the second is lighter, darker where it is darker: half of
    /// (second - first) about the middle grey.
    struct Placed {
        PhotoSource photo;
        geometry::Homography scene_from_pixel;
    };
    void draw_difference(sf::RenderTarget& target, const View& view, const Placed& first, const Placed& second);
    /// Finer tiles are still to come: draw another frame.
    [[nodiscard]] bool wants_frame() const { return wants_frame_; }
    /// From now on no frame waits for its tiles. For pictures, where nobody waits for the next frame.
    void hurry() { is_in_a_hurry_ = true; }

private:
    struct Key {
        std::uint64_t serial;
        int level, x, y;
        auto operator<=>(const Key&) const = default;
    };
    struct Tile {
        sf::Texture texture;
        std::uint64_t used = 0; ///< frame
    };
    struct Job;

    void draw_tile(const Job& job, const Key& key);
    void put(const Job& job, const Key& key, const Tile& tile);
    /// Null where it is not there and there is no time to make it.
    const Tile* tile(const Job& job, const Key& key, bool must);
    void forget_oldest();

    std::map<Key, Tile> tiles_;
    std::vector<std::uint8_t> rgba_;
    std::uint64_t frame_ = 0;
    int made_ = 0;
    bool wants_frame_ = false, is_in_a_hurry_ = false;
};

/// A texture of the pixels, smoothed; for pictures in panels.
[[nodiscard]] bool load(sf::Texture& texture, const Pixels& pixels);

} // namespace padchart::paint
