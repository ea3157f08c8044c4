#include "app/tip_place.hpp"

#include <algorithm>
#include <limits>
#include <vector>

#include "geometry/box_overlap.hpp"

namespace padchart::app {
namespace {

using geometry::Box;
using geometry::Vec2;

class Places {
public:
    Places(const Box& item, Vec2 size, const TipRoom& room, std::span<const Box> buttons)
        : item_(item), size_(size), room_(room), buttons_(buttons) {}

    /// The earlier one stays where both cover as much.
    void offer(double x, double y) {
        const Vec2 at{std::clamp(x, 0.0, std::max(0.0, room_.screen.x - size_.x)),
                      std::clamp(y, 0.0, std::max(0.0, room_.screen.y - size_.y))};
        const Box tip{at, {at.x + size_.x, at.y + size_.y}};
        double covered = geometry::common_area(tip, item_) * 10.0; // a hint must not cover the words it explains
        for (const Box& button : buttons_)
            covered += geometry::common_area(tip, button);
        if (covered >= least_) return;
        least_ = covered;
        best_ = at;
    }

    [[nodiscard]] bool is_settled() const { return least_ <= 0.0; }
    [[nodiscard]] Vec2 best() const { return best_; }

private:
    const Box& item_;
    Vec2 size_;
    const TipRoom& room_;
    std::span<const Box> buttons_;
    double least_ = std::numeric_limits<double>::max();
    Vec2 best_{};
};

} // namespace

Vec2 tip_place(const Box& item, double x, Vec2 size, const TipRoom& room, std::span<const Box> buttons) {
    Places places(item, size, room, buttons);
    places.offer(x, item.max.y + room.gap);
    if (places.is_settled()) return places.best();
    places.offer(x, item.min.y - room.gap - size.y);
    if (places.is_settled()) return places.best();
    const double middle = (item.min.y + item.max.y - size.y) / 2.0;
    places.offer(room.panel.min.x - room.gap - size.x, middle);
    if (places.is_settled()) return places.best();
    places.offer(room.panel.max.x + room.gap, middle);
    // Below or above one of the buttons, the nearest first.
    std::vector<double> free;
    for (const Box& button : buttons) {
        free.push_back(button.max.y + room.gap);
        free.push_back(button.min.y - room.gap - size.y);
    }
    std::sort(free.begin(), free.end(),
              [middle](double a, double b) { return std::abs(a - middle) < std::abs(b - middle); });
    for (const double y : free) {
        if (places.is_settled()) break;
        places.offer(x, y);
    }
    return places.best();
}

} // namespace padchart::app
