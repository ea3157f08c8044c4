#include "app/board_painter.hpp"

#include <cmath>

#include "geometry/box_overlap.hpp"

namespace padchart::app {
namespace {

/// As much of the view as is in it, mm2.
double share_of(const paint::Ground& ground, const paint::View& view) {
    return geometry::common_area(paint::region_round(view, 1.0), ground.region_mm);
}

double zooms_apart(const paint::View& a, const paint::View& b) {
    return std::abs(std::log(a.px_per_mm / b.px_per_mm));
}

/// A hand that zooms on gets pictures of a moment ago, but none that shows less, or less sharply, than the last.
bool is_better(const paint::Ground& a, const paint::Ground& b, const PictureView& seen) {
    return a.theme != b.theme || (share_of(a, seen.view) >= share_of(b, seen.view) &&
                                  zooms_apart(a.view, seen.view) <= zooms_apart(b.view, seen.view));
}

} // namespace

BoardPainter::BoardPainter(const paint::SfmlFonts& fonts)
    : painter_(fonts), job_(
                           [](const Order& order, const std::stop_token&, const auto& give) {
                               give(paint::ground_of(order.scene, order.seen.view, *order.seen.theme, kAroundLarge));
                           },
                           Urgency::AwaitedByTheHand) {}

void BoardPainter::follow_zoom(const PictureView& seen) {
    const std::shared_ptr<const paint::Ground> given = painter_.given();
    if (!given || painter_.is_at_work()) return;
    if (const auto came = job_.take(); came && (*came)->scene == given->scene && is_better(**came, *given, seen))
        return painter_.begin(*came);
    if (paint::serves(*given, seen.view, *seen.theme, kAroundLarge)) return;
    const bool is_asked = asked_.scene == given->scene && asked_.seen.theme == seen.theme &&
                          paint::serves(asked_.seen.view, seen.view, kAroundLarge);
    if (is_asked) return;
    asked_ = {given->scene, seen};
    job_.ask(asked_);
}

void BoardPainter::take_up(const Canvas& canvas, const PictureView& seen) {
    if (begun_ && !canvas.may_show(begun_)) begun_.reset();
    if (!begun_ && painter_.scene() != canvas.paints()) painter_.set_scene(canvas.paints());
    if (begun_) return;
    begun_ = canvas.next();
    if (begun_)
        painter_.begin(begun_->ground);
    else
        follow_zoom(seen);
}

bool BoardPainter::go_on() {
    using namespace std::chrono_literals;
    if (painter_.is_at_work()) painter_.go_on(40ms);
    return painter_.is_at_work();
}

void BoardPainter::draw(sf::RenderTarget& target, Canvas& canvas, const paint::View& view, const paint::Theme& theme) {
    take_up(canvas, {view, &theme});
    painter_.draw(target, view, theme);
    if (is_whole()) canvas.show(std::exchange(begun_, nullptr));
}

} // namespace padchart::app
