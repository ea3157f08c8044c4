#include "app/board_painter.hpp"

namespace padchart::app {

BoardPainter::BoardPainter(const paint::SfmlFonts& fonts)
    : painter_(fonts), job_(
                           [](const Order& order, const std::stop_token&, const auto& give) {
                               give(paint::ground_of(order.scene, order.seen.view, *order.seen.theme, kAroundLarge));
                           },
                           Urgency::AwaitedByTheHand) {}

void BoardPainter::follow_zoom(const PictureView& seen) {
    const std::shared_ptr<const paint::Ground> given = painter_.given();
    if (!given || painter_.is_at_work()) return;
    if (const auto came = job_.take(); came && (*came)->scene == given->scene) return painter_.begin(*came);
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
