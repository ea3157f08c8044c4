#pragma once
// Paints a scene on an SFML target under a view and a theme. Areas and lines come first in the scene's order, then
// texts, then signs: a label is never hidden under a body, a badge never under a label.
//
// A scene is prepared once (areas cut into pieces, boxes); for each zoom the quads in and round the view are made once
// and kept, so that a still or panned picture is one draw call plus the texts.
// Level of detail: below 6 px rounded shapes are drawn with four corners, below 30 px with at most sixteen, pads lose
// their edge below 5 px, texts that would be smaller than 6 px are left out.
//
// Requires: a display, and the target active on this thread.

#include <memory>
#include <vector>

#include <SFML/Graphics/RenderTarget.hpp>
#include <SFML/Graphics/VertexBuffer.hpp>

#include "geometry/box.hpp"
#include "paint/prepared_scene.hpp"
#include "paint/sfml_mesh.hpp"
#include "paint/sfml_text.hpp"
#include "paint/theme.hpp"
#include "scene/scene.hpp"

namespace padchart::paint {

struct View {
    geometry::Vec2 centre_mm;
    geometry::Box viewport_px; ///< whole pixels of the target; nothing is painted outside
    double px_per_mm = 1.0;
    double ui_scale = 1.0;

    bool operator==(const View&) const = default;
};

class SfmlPainter {
public:
    /// Requires: `fonts` is loaded and outlives the painter.
    explicit SfmlPainter(const SfmlFonts& fonts);

    /// Forgets what was made of the scene before; null: paints nothing.
    void set_scene(std::shared_ptr<const scene::Scene> scene);
    /// A scene that has been prepared already, perhaps on another thread.
    void set_scene(std::shared_ptr<const PreparedScene> prepared);
    [[nodiscard]] const std::shared_ptr<const PreparedScene>& scene() const { return prepared_; }
    void draw(sf::RenderTarget& target, const View& view, const Theme& theme);

private:
    using Area = PreparedScene::Area;

    [[nodiscard]] bool is_built_for(const View& view, const Theme& theme) const;
    void build(const View& view, const Theme& theme);
    /// An area with its own outline right after it, as one piece. False where their styles do not allow that.
    bool build_outlined(const scene::Item& fill, const scene::Item& line, const Theme& theme);
    /// The ring in px, with fewer corners the smaller it is, into scratch_.
    void corners_of(const geometry::Ring& ring, double size_px);
    void build_fill(const scene::Item& item, const Theme& theme);
    void build_line(const scene::Item& item, const Theme& theme);
    void build_text(const scene::Item& item, const Theme& theme);
    void build_symbol(const scene::Item& item, const Theme& theme);
    void add_area(const geometry::Polygon& polygon, const Area& area, sf::Color colour);
    void add_plate(sf::Vector2f min, sf::Vector2f max, sf::Color colour);
    [[nodiscard]] sf::Vector2f px(geometry::Vec2 mm) const;
    [[nodiscard]] double size_px(const geometry::Box& mm) const;

    const SfmlFonts* fonts_;
    std::shared_ptr<const PreparedScene> prepared_;
    const scene::Scene* scene_ = nullptr; ///< of what is prepared

    // What was made for the last zoom:
    View built_;
    geometry::Box region_mm_; ///< what is in the mesh
    const Theme* theme_ = nullptr;
    Mesh ground_, plates_, signs_;
    sf::VertexBuffer ground_buffer_{sf::Quads, sf::VertexBuffer::Dynamic};
    TextBatches texts_, sign_texts_;
    std::vector<sf::Vector2f> scratch_;
};

} // namespace padchart::paint
