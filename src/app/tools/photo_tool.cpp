// Lays a photo on the board point by point: first the spot in the photo, then the same spot on the board. Dragging from
// one to the other does both.

#include <algorithm>
#include <cmath>
#include <optional>

#include <fmt/format.h>

#include "app/photo_desk.hpp"
#include "app/photo_edits.hpp"
#include "app/snaps_shown.hpp"
#include "app/tools/tool.hpp"
#include "app/trace_log.hpp"

namespace padchart::app {
namespace {

using geometry::Vec2;

constexpr double kDragStart_px = 6.0;

class PhotoTool final : public Tool {
public:
    explicit PhotoTool(PhotoDesk& desk) : desk_(desk) {
        if (desk_.placing) desk_.placing->tool = token_;
    }

    void press(const ToolContext& context, const Pointer& pointer) override {
        PhotoPlacing* placing = current();
        if (placing == nullptr) return;
        pressed_at_ = pointer.scene;
        picked_now_ = !placing->pixel.has_value() || placing->board_is_empty;
        if (picked_now_)
            pick(context, pointer, *placing);
        else
            put(context, pointer);
    }

    void move(const ToolContext&, const Pointer&) override {}

    void release(const ToolContext& context, const Pointer& pointer) override {
        const PhotoPlacing* placing = current();
        const bool dragged = geometry::distance(pressed_at_, pointer.scene) > pointer.mm(kDragStart_px);
        const bool can_put = placing != nullptr && placing->pixel && !placing->board_is_empty;
        if (can_put && picked_now_ && dragged) put(context, pointer);
        picked_now_ = false;
    }

    bool key(const ToolContext& context, const Chord& chord) override {
        PhotoPlacing* placing = current();
        if (placing == nullptr || !placing->pixel || chord.ctrl || chord.alt) return false;
        const double step = chord.shift ? 10.0 : 1.0;
        switch (chord.key) {
        case Key::Left: return nudge(context, *placing, {-step, 0});
        case Key::Right: return nudge(context, *placing, {step, 0});
        case Key::Up: return nudge(context, *placing, {0, -step});
        case Key::Down: return nudge(context, *placing, {0, step});
        default: return false;
        }
    }

    bool cancel(const ToolContext&) override {
        PhotoPlacing* placing = current();
        if (placing != nullptr && placing->pixel)
            placing->pixel.reset();
        else
            desk_.placing.reset();
        return true;
    }

    void overlay(const ToolContext& context, const Pointer& pointer, scene::Scene& out) const override {
        const PhotoPlacing* placing = current();
        const document::Photo* photo =
            placing == nullptr ? nullptr : find_photo(context.editor.chart(), placing->photo);
        if (photo == nullptr || !placing->map) return;
        for (std::size_t i = 0; i < photo->points.size(); ++i)
            add_point(context, pointer, *placing, photo->points[i], i + 1, out);
        if (!placing->pixel) return;
        const Vec2 from = context.board((*placing->map)(*placing->pixel));
        add_cross(out, from, pointer.mm(9));
        if (placing->board_is_empty) return;
        const Snap snap = snapped(snaps_.now(context), context, pointer);
        out.add(scene::Role::Measure, scene::Line{{from, context.board(snap.at)}, false, scene::Weight::Thin});
        add_snap(out, snap, context.seen_from, pointer);
    }

    [[nodiscard]] std::string hint() const override {
        const PhotoPlacing* placing = current();
        if (placing == nullptr) return "";
        if (placing->board_is_empty)
            return placing->pixel
                       ? "Type where that spot is; a click takes another, arrows move it by a pixel; Esc drops it"
                       : "Click a spot in the photo whose place you know in mm; Esc ends";
        if (!placing->pixel) return "Click a spot in the photo that you know on the board; Esc ends";
        return "Now click where that spot is on the board, or type it; arrows move the spot by a pixel; Esc drops it";
    }
    [[nodiscard]] bool is_done() const override { return !desk_.placing.has_value(); }
    [[nodiscard]] bool awaits_click() const override { return desk_.placing && !desk_.placing->pixel; }

private:
    [[nodiscard]] PhotoPlacing* current() const { return desk_.placing ? &*desk_.placing : nullptr; }

    static void pick(const ToolContext& context, const Pointer& pointer, PhotoPlacing& placing) {
        if (!placing.map || placing.map->determinant() == 0.0)
            return context.editor.tell(Severity::Warning, "The photo is still being read.");
        const geometry::Homography back = placing.map->inverse();
        const Vec2 at = context.board(pointer.scene);
        const Vec2 pixel = back(at);
        const bool inside = placing.map->weight(pixel) > 0.0 && pixel.x >= 0.0 && pixel.y >= 0.0 &&
                            pixel.x <= placing.size.width && pixel.y <= placing.size.height;
        if (!inside) return context.editor.tell(Severity::Warning, "This is beside the photo; click a spot in it.");
        placing.pixel = pixel;
        trace("photo-spot", fmt::format("pixel {:.1f} {:.1f}", pixel.x, pixel.y));
    }

    /// So many pixels of the photo along the screen, however the photo lies there: turned, or mirrored.
    static bool nudge(const ToolContext& context, PhotoPlacing& placing, Vec2 by) {
        if (!placing.map || placing.map->determinant() == 0.0) return false;
        Vec2& pixel = *placing.pixel;
        const double mm_per_px = std::sqrt(std::abs(placing.map->area_factor(pixel)));
        const Vec2 seen = context.board((*placing.map)(pixel)); // the map of the side is its own inverse
        const Vec2 way = placing.map->inverse()(context.board(seen + by * mm_per_px)) - pixel;
        const double length = geometry::length(way);
        if (!(length > 0.0)) return false;
        pixel += way * (geometry::length(by) / length);
        pixel = {std::clamp(pixel.x, 0.0, 1.0 * placing.size.width),
                 std::clamp(pixel.y, 0.0, 1.0 * placing.size.height)};
        trace("photo-spot", fmt::format("pixel {:.1f} {:.1f}", pixel.x, pixel.y));
        return true;
    }

    [[nodiscard]] static Snap snapped(const SnapField& field, const ToolContext& context, const Pointer& pointer) {
        const Vec2 at = context.board(pointer.scene);
        if (pointer.ctrl) return {at, SnapKind::None, "", {}};
        return field.snap(at, {.reach = pointer.mm(kSnapReach_px), .edges = false});
    }

    void put(const ToolContext& context, const Pointer& pointer) const {
        put_photo_point(desk_, context.editor, snapped(snaps_.all(context), context, pointer).at);
    }

    static void add_cross(scene::Scene& out, Vec2 at, double arm) {
        out.add(scene::Role::Snap, scene::Line{{at - Vec2{arm, 0}, at + Vec2{arm, 0}}, false, scene::Weight::Normal});
        out.add(scene::Role::Snap, scene::Line{{at - Vec2{0, arm}, at + Vec2{0, arm}}, false, scene::Weight::Normal});
    }

    /// The place on the board, its number, and the way the photo's spot is off.
    static void add_point(const ToolContext& context, const Pointer& pointer, const PhotoPlacing& placing,
                          const document::PhotoPoint& point, std::size_t number, scene::Scene& out) {
        const Vec2 at = context.board(point.at);
        const Vec2 is = context.board((*placing.map)(point.pixel));
        add_cross(out, at, pointer.mm(7));
        out.add(scene::Role::Measure, scene::Line{{is, at}, false, scene::Weight::Bold});
        out.add(scene::Role::LabelMeasure, scene::Text{.at = at + Vec2{pointer.mm(12), -pointer.mm(11)},
                                                       .text = fmt::format("{}", number),
                                                       .height_px = 12,
                                                       .strong = true,
                                                       .halo = true});
    }

    PhotoDesk& desk_;
    std::shared_ptr<const int> token_ = std::make_shared<const int>(0);
    Vec2 pressed_at_;
    bool picked_now_ = false;
    mutable SnapsShown snaps_;
};

} // namespace

std::unique_ptr<Tool> make_photo_tool(PhotoDesk& desk) {
    return std::make_unique<PhotoTool>(desk);
}

} // namespace padchart::app
