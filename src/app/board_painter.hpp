#pragma once
// The chart's picture on the screen. A small one is painted in the frame in which it comes; of a large one the quads
// are made on a thread of their own, for every zoom, and drawn over several frames, while the last picture stays.

#include <memory>

#include "app/canvas.hpp"
#include "app/latest_job.hpp"
#include "paint/sfml_painter.hpp"

namespace padchart::app {

class BoardPainter {
public:
    explicit BoardPainter(const paint::SfmlFonts& fonts);

    /// So many samples a pixel smooth the edges of large pictures.
    void smooth(unsigned samples) { painter_.smooth(samples); }
    /// Tells the canvas which of its pictures is on show.
    void draw(sf::RenderTarget& target, Canvas& canvas, const paint::View& view, const paint::Theme& theme);
    [[nodiscard]] bool is_at_work() const { return painter_.is_at_work(); }
    /// Goes on with a large picture while no frame is wanted. True while there is more to be done.
    bool go_on();
    /// There is something to be shown or begun.
    [[nodiscard]] bool wants_frame() const { return is_whole() || (job_.has_answer() && !is_at_work()); }

private:
    struct Order {
        std::shared_ptr<const paint::PreparedScene> scene;
        PictureView seen;
    };
    [[nodiscard]] bool is_whole() const { return begun_ && painter_.scene() == begun_->paints; }
    void take_up(const Canvas& canvas, const PictureView& seen);
    void follow_zoom(const PictureView& seen);

    paint::SfmlPainter painter_;
    std::shared_ptr<const Picture> begun_; ///< of the canvas, not on show yet
    Order asked_;
    LatestJob<Order, std::shared_ptr<const paint::Ground>> job_;
};

} // namespace padchart::app
