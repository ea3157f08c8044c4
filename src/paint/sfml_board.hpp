#pragma once
// The areas and lines of a large scene, drawn into a picture of their own piece by piece, so that no frame waits for
// all of them. Until the next one is whole the last one stays on show, larger or smaller where the zoom has changed.
//
// Requires: a graphics context is active on this thread; drawing pieces makes another target the active one.

#include <chrono>
#include <memory>

#include <SFML/Graphics/RenderTexture.hpp>

#include "paint/sfml_ground.hpp"

namespace padchart::paint {

/// From px about the centre of `made` to px of the viewport. Whole pixels where the zoom is the same, so that letters
/// and level lines stay crisp wherever the picture is panned to.
[[nodiscard]] sf::RenderStates states_between(const View& made, const View& view);

class BoardPicture {
public:
    /// So many samples a pixel smooth its edges, of as many as the driver has; for pictures begun after this.
    void smooth(unsigned samples) { samples_ = samples; }

    /// Gives up what is under way. False where the driver has no room for a picture of this size.
    [[nodiscard]] bool begin(std::shared_ptr<const Ground> ground);
    /// Draws pieces for about as long as that. True once all is drawn and on show.
    bool go_on(std::chrono::milliseconds budget);
    [[nodiscard]] bool is_at_work() const { return next_ != nullptr; }
    /// On show; null before the first.
    [[nodiscard]] const std::shared_ptr<const Ground>& shown() const { return shown_; }
    void draw(sf::RenderTarget& target, const View& view) const;
    void clear();

private:
    struct Side {
        std::unique_ptr<sf::RenderTexture> picture;
        sf::Vector2u size;
    };
    [[nodiscard]] bool make_room(Side& side, sf::Vector2u size) const;

    unsigned samples_ = 4;
    Side front_, back_;
    std::shared_ptr<const Ground> shown_, next_;
    std::size_t drawn_ = 0; ///< vertices of the next one
};

} // namespace padchart::paint
