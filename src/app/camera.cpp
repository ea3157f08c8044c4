#include "app/camera.hpp"

#include <algorithm>
#include <cmath>

namespace padchart::app {

using geometry::Box;
using geometry::Vec2;

void Camera::set_viewport(const Box& px) {
    viewport_ = px;
}

Vec2 Camera::screen_from_scene(Vec2 mm) const {
    return viewport_.centre() + (mm - centre_) * px_per_mm_;
}

Vec2 Camera::scene_from_screen(Vec2 px) const {
    return centre_ + (px - viewport_.centre()) / px_per_mm_;
}

Box Camera::visible() const {
    return {scene_from_screen(viewport_.min), scene_from_screen(viewport_.max)};
}

void Camera::zoom_at(Vec2 px, double factor) {
    const Vec2 held = scene_from_screen(px);
    px_per_mm_ = std::clamp(px_per_mm_ * factor, kMinPxPerMm, kMaxPxPerMm);
    centre_ = held - (px - viewport_.centre()) / px_per_mm_;
}

void Camera::pan(Vec2 by_px) {
    centre_ -= by_px / px_per_mm_;
}

void Camera::look_at(Vec2 centre_mm, double px_per_mm) {
    centre_ = centre_mm;
    px_per_mm_ = std::clamp(px_per_mm, kMinPxPerMm, kMaxPxPerMm);
}

void Camera::fit(const Box& mm, double margin_px, double bottom_px, double most_px_per_mm) {
    if (mm.is_empty()) return;
    const double width_px = std::max(viewport_.width() - 2 * margin_px, 20.0);
    const double height_px = std::max(viewport_.height() - bottom_px - 2 * margin_px, 20.0);
    const double zoom_x = mm.width() > 0 ? width_px / mm.width() : kMaxPxPerMm;
    const double zoom_y = mm.height() > 0 ? height_px / mm.height() : kMaxPxPerMm;
    const double zoom = std::min({zoom_x, zoom_y, most_px_per_mm});
    look_at(mm.centre() + Vec2{0, bottom_px / 2 / zoom}, zoom);
}

void Camera::show(const Box& mm, double margin_px) {
    if (mm.is_empty()) return;
    const Box seen = visible().grown(-margin_px / px_per_mm_);
    if (mm.width() > seen.width() || mm.height() > seen.height()) {
        fit(mm, margin_px);
        return;
    }
    const auto shift = [](double low, double high, double seen_low, double seen_high) {
        if (low < seen_low) return low - seen_low;
        return high > seen_high ? high - seen_high : 0.0;
    };
    centre_ += {shift(mm.min.x, mm.max.x, seen.min.x, seen.max.x), shift(mm.min.y, mm.max.y, seen.min.y, seen.max.y)};
}

double round_step_mm(double px_per_mm, double least_px) {
    const double least_mm = least_px / px_per_mm;
    const double decade = std::pow(10.0, std::floor(std::log10(least_mm)));
    for (const double k : {1.0, 2.0, 5.0})
        if (k * decade >= least_mm * (1 - 1e-9)) return k * decade;
    return 10.0 * decade;
}

} // namespace padchart::app
