#pragma once
// The photos of a side under the chart, and the loupe at the pointer while one is laid down.

#include <memory>

#include <SFML/Graphics/RenderTarget.hpp>

#include "app/inspect_photos.hpp"
#include "app/session.hpp"
#include "paint/sfml_painter.hpp"
#include "paint/sfml_photo.hpp"
#include "paint/theme.hpp"

namespace padchart::app {

/// The theme with parts and board one can see photos through, as the photo desk wants it; the theme itself where no
/// photo is on show.
[[nodiscard]] const paint::Theme& theme_over_photos(const Session& session, const paint::Theme& theme);

class PhotoView {
public:
    /// Requires: `fonts` outlives it.
    explicit PhotoView(const paint::SfmlFonts& fonts)
        : loupe_chart_(fonts), loupe_overlay_(fonts), loupe_frame_(fonts) {}

    /// Requires: the target is active.
    void draw(sf::RenderTarget& target, const paint::View& view, Session& session);
    /// Nothing where no photo is being laid down.
    void draw_loupe(sf::RenderTarget& target, const paint::View& view, geometry::Vec2 at_scene, Session& session,
                    const paint::Theme& theme, const std::shared_ptr<const paint::PreparedScene>& chart,
                    const std::shared_ptr<const scene::Scene>& overlay);
    [[nodiscard]] bool wants_frame() const { return painter_.wants_frame(); }
    /// The next frame is drawn with all its tiles, however long that takes; from then on every one.
    void hurry() { painter_.hurry(); }

private:
    /// Both photos of the inspect stage in the place of those on show; false where there are no two to be seen.
    bool draw_inspected(sf::RenderTarget& target, const paint::View& view, Session& session);
    void draw_photos(sf::RenderTarget& target, const paint::View& view, Session& session, bool clear);

    paint::SfmlPhotoPainter painter_;
    paint::SfmlPainter loupe_chart_, loupe_overlay_, loupe_frame_;
    PhotosShown inspected_ = PhotosShown::AsUsual; ///< told last
};

} // namespace padchart::app
