#pragma once
// What frames the board: top bar, rail of stages, rulers, scale bar, legend, status bar, notice.

#include <map>
#include <string>
#include <vector>

#include "app/canvas.hpp"
#include "app/layout.hpp"
#include "app/session.hpp"
#include "app/ui.hpp"
#include "paint/sfml_text.hpp"

namespace padchart::app {

/// A drawing of assets/icons as lines about its centre, in its own units.
using Icon = std::vector<std::vector<geometry::Vec2>>;
[[nodiscard]] std::map<std::string, Icon, std::less<>> load_icons();

void top_bar(Ui& ui, Session& session, const Layout& layout);
void rail(Ui& ui, Session& session, const Layout& layout, const std::map<std::string, Icon, std::less<>>& icons);
void rulers(const Ui& ui, const Session& session, const Layout& layout);
void status_bar(const Ui& ui, const Session& session, const Layout& layout, const Canvas& canvas);
/// What a notice lies over.
struct NoticeGround {
    const scene::Scene& shown;
    double key_height_px = 0.0; ///< scale bar and legend, at the lower edge
    bool view_rests = true;     ///< no fit under way
};
/// The last thing the program has to say, over the board where it hides no name, if there is such a place; goes away by
/// itself unless it is a fault.
void notice(Ui& ui, Session& session, const Layout& layout, const NoticeGround& ground);

/// Long work under way: what is done, for how long, and a button that gives it up.
void work_strip(Ui& ui, Session& session, const Layout& layout);
/// How much of the canvas it takes from its upper edge.
[[nodiscard]] float work_strip_height(const Ui& ui);

/// Lines of the grid in and round the view, scene mm.
[[nodiscard]] scene::Scene grid_scene(const Session& session);
/// Scale bar and legend of what `shown` holds, in px about the canvas' upper left corner.
struct KeyPicture {
    scene::Scene scene;
    double height_px = 0.0;  ///< of the legend with its distance to the edge; what a fitted view keeps free
    bool leaves_out = false; ///< the legend has found no room for some of its entries
};
[[nodiscard]] KeyPicture key_picture(const Session& session, const Layout& layout, const scene::Scene& shown,
                                     const paint::SfmlFonts& fonts);

} // namespace padchart::app
