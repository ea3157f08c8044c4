#pragma once
// Paints a scene on an SFML target under a view and a theme. Areas and lines come first in the scene's order, then
// texts, then signs: a label is never hidden under a body, a badge never under a label.
//
// A scene is prepared once (areas cut into pieces, boxes); for each zoom the quads in and round the view are made once
// and kept (sfml_ground.hpp), so that a still or panned picture is one draw call plus the texts. The quads of a large
// scene may be made on another thread and are then drawn over several frames (sfml_board.hpp).
// Level of detail: texts that would be smaller than 6 px are left out; that of the quads stands with them.
//
// Requires: a display, and the target active on this thread.

#include <memory>

#include <SFML/Graphics/RenderTarget.hpp>
#include <SFML/Graphics/VertexBuffer.hpp>

#include "paint/prepared_scene.hpp"
#include "paint/sfml_board.hpp"
#include "paint/sfml_ground.hpp"
#include "paint/sfml_mesh.hpp"
#include "paint/sfml_text.hpp"
#include "paint/theme.hpp"
#include "paint/view.hpp"
#include "scene/scene.hpp"

namespace padchart::paint {

class SfmlPainter {
public:
    /// Requires: `fonts` is loaded and outlives the painter.
    explicit SfmlPainter(const SfmlFonts& fonts);

    /// Forgets what was made of the scene before; null: paints nothing.
    void set_scene(std::shared_ptr<const scene::Scene> scene);
    /// A scene that has been prepared already, perhaps on another thread.
    void set_scene(std::shared_ptr<const PreparedScene> prepared);
    [[nodiscard]] const std::shared_ptr<const PreparedScene>& scene() const { return prepared_; }
    /// From now on this scene's quads, made on another thread, are drawn piece by piece, a few in each draw(); what
    /// was on show stays until they are whole, and under every view after that until others are begun.
    void begin(std::shared_ptr<const Ground> ground);
    [[nodiscard]] bool is_at_work() const { return board_.is_at_work(); }
    /// So many samples a pixel for what begin() draws.
    void smooth(unsigned samples) { board_.smooth(samples); }
    /// Draws pieces for about as long as that, and nothing on the target.
    void go_on(std::chrono::milliseconds budget) {
        if (board_.go_on(budget)) take(board_.shown());
    }
    /// What begin() was given last and is whole; null: this painter makes its quads itself.
    [[nodiscard]] std::shared_ptr<const Ground> given() const { return is_given_ ? ground_ : nullptr; }
    void draw(sf::RenderTarget& target, const View& view, const Theme& theme);

private:
    [[nodiscard]] bool is_labelled_for(const View& view, const Theme& theme) const;
    void build_labels(const View& view, const Theme& theme);
    void build_text(const scene::Item& item, const Theme& theme);
    void build_symbol(const scene::Item& item, const Theme& theme);
    void add_plate(sf::Vector2f min, sf::Vector2f max, sf::Color colour);
    [[nodiscard]] sf::Vector2f px(geometry::Vec2 mm) const;
    void take(std::shared_ptr<const Ground> ground);
    void load_ground();
    void draw_ground(sf::RenderTarget& target, const View& view) const;

    const SfmlFonts* fonts_;
    std::shared_ptr<const PreparedScene> prepared_;
    const scene::Scene* scene_ = nullptr; ///< of what is prepared

    std::shared_ptr<const Ground> ground_;
    bool is_given_ = false;  ///< the quads come from elsewhere
    BoardPicture board_;     ///< of such
    bool is_loaded_ = false; ///< they lie in the buffer
    sf::VertexBuffer ground_buffer_{sf::Quads, sf::VertexBuffer::Dynamic};

    // Labels and signs, made for the last zoom:
    View built_;
    geometry::Box region_mm_;
    const Theme* theme_ = nullptr;
    Mesh plates_, signs_;
    TextBatches texts_, sign_texts_;
};

} // namespace padchart::paint
