#pragma once
// Where the canvas looks. Scene mm (y down) to window pixels (y down): one zoom, one shift, no mirror, since the scene
// of the bottom side is mirrored already.

#include "geometry/box.hpp"
#include "geometry/vec2.hpp"

namespace padchart::app {

/// Smallest and largest zoom: a 1 m board fits a small window; 1 um is a pixel.
inline constexpr double kMinPxPerMm = 0.5;
inline constexpr double kMaxPxPerMm = 1000.0;
/// One lone pad does not fill the window: a 1 mm part is shown at the size of a hand.
inline constexpr double kMostFittedPxPerMm = 200.0;

class Camera {
public:
    /// The part of the window the scene is seen in, px. Keeps the centre of the view.
    void set_viewport(const geometry::Box& px);
    [[nodiscard]] const geometry::Box& viewport() const { return viewport_; }
    [[nodiscard]] double px_per_mm() const { return px_per_mm_; }
    [[nodiscard]] geometry::Vec2 centre() const { return centre_; }

    [[nodiscard]] geometry::Vec2 screen_from_scene(geometry::Vec2 mm) const;
    [[nodiscard]] geometry::Vec2 scene_from_screen(geometry::Vec2 px) const;
    /// What is to be seen, scene mm.
    [[nodiscard]] geometry::Box visible() const;

    /// The scene point under `px` stays where it is.
    void zoom_at(geometry::Vec2 px, double factor);
    void pan(geometry::Vec2 by_px);
    void look_at(geometry::Vec2 centre_mm, double px_per_mm);
    /// All of the box with `margin_px` on each side; an empty box leaves the camera alone.
    /// `bottom_px` more at the lower edge.
    void fit(const geometry::Box& mm, double margin_px, double bottom_px = 0.0,
             double most_px_per_mm = kMostFittedPxPerMm);
    /// Pans just enough that the box is seen; zooms out where it is too large for that.
    void show(const geometry::Box& mm, double margin_px);

private:
    geometry::Box viewport_{{0, 0}, {800, 600}};
    geometry::Vec2 centre_;
    double px_per_mm_ = 40.0;
};

/// The step of 1, 2 or 5 times a power of ten whose length on the screen is at least `least_px`, mm.
[[nodiscard]] double round_step_mm(double px_per_mm, double least_px);

} // namespace padchart::app
