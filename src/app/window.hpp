#pragma once
// The window of the program, or one picture of it.

#include <optional>
#include <string>

#include "base/result.hpp"
#include "document/vocabulary.hpp"
#include "scene/chart_scene.hpp"

namespace padchart::app {

struct WindowOptions {
    std::string chart; ///< path, or empty for a new chart
    std::optional<scene::Stage> stage;
    std::string select;   ///< name of a part
    std::string snapshot; ///< PNG to write instead of staying open
    unsigned width_px = 1600, height_px = 1000;
    double scale = 1.0;
    std::string theme; ///< empty: as left at the last start, at first "paper"
    document::Side side = document::Side::Top;
    unsigned smoothing = 4; ///< samples a pixel: 0, 2, 4 or 8
};

/// Until the window is closed, or until the snapshot is written.
/// Errors: no display, no font, a chart that cannot be opened, a name no part bears, a picture that cannot be written.
[[nodiscard]] Result<void> show_window(const WindowOptions& options);

} // namespace padchart::app
