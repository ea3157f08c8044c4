#include "app/photo_view.hpp"

#include <map>
#include <tuple>

#include "app/inspect_photos.hpp"
#include "app/photo_desk.hpp"
#include "app/photo_place.hpp"
#include "app/trace_log.hpp"
#include "paint/photo_picture.hpp"

namespace padchart::app {
namespace {

using geometry::Box;
using geometry::Homography;
using geometry::Vec2;
using scene::Role;

constexpr double kLoupeSide_px = 190.0;
constexpr double kLoupeOff_px = 26.0; ///< from the pointer
constexpr double kLoupeTimes = 5.0;

paint::Theme see_through(const paint::Theme& theme, PartsOver parts) {
    constexpr std::uint8_t kSeeThrough = 70;
    return paint::over_photo(theme, parts == PartsOver::Solid ? 255 : parts == PartsOver::SeeThrough ? kSeeThrough : 0);
}

const document::Photo* photo_in_hand(const Session& s) {
    const PhotoDesk* desk = s.desks.find<PhotoDesk>();
    return desk == nullptr || !desk->placing ? nullptr : find_photo(s.editor.shown(), desk->placing->photo);
}

/// The box of the loupe beside the pointer, on the side where there is room, px of the window.
Box loupe_box(const Box& canvas, Vec2 pointer, double scale) {
    const double side = kLoupeSide_px * scale, off = kLoupeOff_px * scale;
    const auto place = [&](double at, double low, double high) {
        const double after = at + off;
        return std::round(after + side <= high ? after : std::max(at - off - side, low));
    };
    const Vec2 min{place(pointer.x, canvas.min.x, canvas.max.x), place(pointer.y, canvas.min.y, canvas.max.y)};
    return {min, min + Vec2{side, side}};
}

} // namespace

const paint::Theme& theme_over_photos(const Session& s, const paint::Theme& theme) {
    const auto on_show = photos_on_show(s);
    const PhotoDesk* desk = s.desks.find<PhotoDesk>();
    if (desk == nullptr || on_show.empty()) return theme;
    static std::map<std::tuple<const paint::Theme*, PartsOver>, paint::Theme> made;
    const auto key = std::tuple(&theme, desk->parts);
    const auto found = made.find(key);
    return found != made.end() ? found->second : made.emplace(key, see_through(theme, desk->parts)).first->second;
}

void PhotoView::draw_photos(sf::RenderTarget& target, const paint::View& view, Session& s, bool clear) {
    const document::Photo* in_hand = photo_in_hand(s);
    for (const document::Photo* photo : photos_on_show(s)) {
        const std::shared_ptr<const LoadedPhoto> loaded = loaded_photo(s, *photo);
        if (!loaded || !loaded->has_picture()) continue;
        // The loupe is for finding a spot: only the photo in hand, and all of it.
        if (clear && in_hand != nullptr && photo != in_hand) continue;
        const Homography map = board_from_pixel(s, *photo, *loaded);
        const Homography seen = Homography::of(scene::scene_from_board(s.seen_from)) * map;
        painter_.draw(target, view, {loaded->serial, loaded->full, loaded->reduced_by, loaded->levels}, seen,
                      clear ? 1.0 : photo->opacity);
    }
}

namespace {

bool is_readable(const std::shared_ptr<const LoadedPhoto>& photo) {
    return photo && photo->has_picture();
}

paint::PhotoSource source_of(const LoadedPhoto& photo) {
    return {photo.serial, photo.full, photo.reduced_by, photo.levels};
}

} // namespace

bool PhotoView::draw_inspected(sf::RenderTarget& target, const paint::View& view, Session& s) {
    const PhotosShown shown = photos_shown(s);
    if (shown == PhotosShown::AsUsual) return false;
    const std::optional<PhotosInspected> pair = inspected_photos(s);
    const PhotoStore& store = s.desks.get<PhotoDesk>().store;
    const auto before = store.find(pair->before_file), after = store.find(pair->after_file);
    if (!is_readable(before) || !is_readable(after)) return false;
    if (shown != inspected_) {
        static constexpr const char* kWords[] = {"as usual", "before", "now", "difference"};
        trace("inspect photos", kWords[static_cast<std::size_t>(shown)]);
        inspected_ = shown;
    }
    if (shown == PhotosShown::Difference)
        painter_.draw_difference(target, view, {source_of(*before), pair->scene_from_before},
                                 {source_of(*after), pair->scene_from_after});
    else if (shown == PhotosShown::Before)
        painter_.draw(target, view, source_of(*before), pair->scene_from_before, 1.0);
    else
        painter_.draw(target, view, source_of(*after), pair->scene_from_after, 1.0);
    return true;
}

void PhotoView::draw(sf::RenderTarget& target, const paint::View& view, Session& s) {
    painter_.begin_frame();
    if (!draw_inspected(target, view, s)) draw_photos(target, view, s, false);
}

void PhotoView::draw_loupe(sf::RenderTarget& target, const paint::View& view, Vec2 at, Session& s,
                           const paint::Theme& theme, const std::shared_ptr<const paint::PreparedScene>& chart,
                           const std::shared_ptr<const scene::Scene>& overlay) {
    const PhotoDesk* desk = s.desks.find<PhotoDesk>();
    if (photo_in_hand(s) == nullptr || !desk->placing->map) return;
    const Vec2 pointer = s.camera.screen_from_scene(at);
    const Box box = loupe_box(view.viewport_px, pointer, s.ui_scale);
    paint::View near = view;
    near.viewport_px = box;
    near.centre_mm = at;
    near.px_per_mm = view.px_per_mm * kLoupeTimes;
    const paint::View flat{{box.width() / 2, box.height() / 2}, box, 1.0, s.ui_scale};
    auto paper = std::make_shared<scene::Scene>();
    const geometry::Ring edge{{0, 0}, {box.width(), 0}, {box.width(), box.height()}, {0, box.height()}};
    paper->add(Role::Board, scene::Fill{{edge, {}}});
    loupe_frame_.set_scene(paper);
    loupe_frame_.draw(target, flat, theme);
    draw_photos(target, near, s, true);
    if (desk->placing->pixel) {
        if (loupe_chart_.scene() != chart) loupe_chart_.set_scene(chart);
        loupe_chart_.draw(target, near, theme_over_photos(s, theme));
        loupe_overlay_.set_scene(overlay);
        loupe_overlay_.draw(target, near, theme);
    }
    auto frame = std::make_shared<scene::Scene>();
    const Vec2 c{box.width() / 2, box.height() / 2};
    const double arm = box.width() / 2, hole = 4 * s.ui_scale;
    for (const Vec2 d : {Vec2{1, 0}, Vec2{-1, 0}, Vec2{0, 1}, Vec2{0, -1}})
        frame->add(Role::Snap, scene::Line{{c + d * hole, c + d * arm}, false, scene::Weight::Thin});
    frame->add(Role::Selection, scene::Line{edge, true, scene::Weight::Bold});
    loupe_frame_.set_scene(frame);
    loupe_frame_.draw(target, flat, theme);
}

} // namespace padchart::app
