// One part in the photo as it was taken: the board under the microscope looks like this, the canvas may not.

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numbers>

#include <SFML/Graphics/Texture.hpp>

#include "app/panels/photo_panel.hpp"
#include "app/photo_desk.hpp"
#include "app/photo_place.hpp"
#include "app/widgets.hpp"
#include "paint/sfml_photo.hpp"

namespace padchart::app {
namespace {

using geometry::Box;
using geometry::Homography;
using geometry::Ring;
using geometry::Vec2;

/// Of the part's own size, kept free round it.
constexpr double kAround = 0.6;
constexpr float kHeight_px = 200;

/// The piece of the photo that is in graphics memory.
struct Closeup {
    std::uint64_t serial = 0;
    Box wanted, px;
    sf::Texture texture;
};

Ring on_photo(const Ring& board, const Homography& pixel_from_board) {
    Ring out;
    for (const Vec2 p : board)
        if (pixel_from_board.weight(p) != 0.0) out.push_back(pixel_from_board(p));
    return out;
}

/// As wide as the panel is to its height, about the part.
Box wanted_box(const Ring& outline, double width_to_height) {
    const Box box = geometry::bounds(outline);
    const double height = std::max(box.height(), box.width() / width_to_height) * (1.0 + 2.0 * kAround);
    const Vec2 half{height * width_to_height / 2.0, height / 2.0};
    return {box.centre() - half, box.centre() + half};
}

class Drawer {
public:
    Drawer(const Ui& ui, ImVec2 at, ImVec2 size, const Box& shown) : ui_(ui), at_(at), size_(size), shown_(shown) {}

    [[nodiscard]] ImVec2 px(Vec2 pixel) const {
        const double x = (pixel.x - shown_.min.x) / shown_.width(), y = (pixel.y - shown_.min.y) / shown_.height();
        return {at_.x + size_.x * static_cast<float>(x), at_.y + size_.y * static_cast<float>(y)};
    }
    /// A light line on a dark one, to be seen on any ground.
    void outline(const Ring& ring, paint::Colour colour, float width) const {
        std::vector<ImVec2> points;
        for (const Vec2 p : ring)
            points.push_back(px(p));
        ImDrawList* list = ImGui::GetWindowDrawList();
        const int count = static_cast<int>(points.size());
        list->AddPolyline(points.data(), count, IM_COL32(0, 0, 0, 150), ImDrawFlags_Closed, width + ui_.px(2));
        list->AddPolyline(points.data(), count, packed(colour), ImDrawFlags_Closed, width);
    }
    void spot(Vec2 pixel, paint::Colour colour) const {
        ImDrawList* list = ImGui::GetWindowDrawList();
        list->AddCircleFilled(px(pixel), ui_.px(6), IM_COL32(0, 0, 0, 170), 20);
        list->AddCircleFilled(px(pixel), ui_.px(4), packed(colour), 20);
    }

private:
    const Ui& ui_;
    ImVec2 at_, size_;
    Box shown_;
};

/// Where the mark on record lies: on the outline, at its bearing.
std::optional<Vec2> mark_on_board(const document::Footprint& part) {
    if (part.orientation.state != document::RecordState::Recorded) return std::nullopt;
    const Ring extent = document::extent_in_part(part);
    const Vec2 centre = document::centre_in_part(part);
    const CosSin turn = cos_sin(part.orientation.bearing);
    const Vec2 way{turn.cos, -turn.sin}; // counter-clockwise on a page whose y goes down
    double reach = 0.0;
    for (const Vec2 corner : extent)
        reach = std::max(reach, geometry::dot(corner - centre, way));
    return document::board_from_part(part.placement)(centre + way * (reach * 0.75));
}

bool refresh(Session& s, const document::Photo& photo, Closeup& closeup, const Box& wanted, int longest_side) {
    const auto loaded = ask_for_photo(s, photo);
    if (!loaded) return false;
    if (closeup.serial == loaded->serial && closeup.wanted == wanted) return true;
    const auto crop = photo_crop(*loaded, wanted, longest_side);
    if (!crop || !paint::load(closeup.texture, crop->pixels)) return false;
    closeup.serial = loaded->serial;
    closeup.wanted = wanted;
    closeup.px = crop->px;
    return true;
}

} // namespace

void photo_closeup(Ui& ui, Session& s, const document::Photo& photo, const document::Footprint& part) {
    const auto map = pixel_from_board(photo);
    if (!map) return;
    Ring outline = on_photo(document::extent_on_board(part), *map);
    for (const document::Pad& pad : part.pads)
        for (const Vec2 p : on_photo(document::outline_on_board(part, pad), *map))
            outline.push_back(p);
    if (outline.size() < 3) return;
    const ImVec2 size{ImGui::GetContentRegionAvail().x, ui.px(static_cast<double>(kHeight_px))};
    const Box wanted = wanted_box(outline, static_cast<double>(size.x) / static_cast<double>(size.y));
    Closeup& closeup = s.desks.get<Closeup>();
    if (!refresh(s, photo, closeup, wanted, static_cast<int>(size.x))) return;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const Drawer draw(ui, at, size, wanted);
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->PushClipRect(at, {at.x + size.x, at.y + size.y}, true);
    const auto texture = static_cast<std::uintptr_t>(closeup.texture.getNativeHandle());
    list->AddRectFilled(at, {at.x + size.x, at.y + size.y}, packed(ui.colours().paper));
    list->AddImage(reinterpret_cast<ImTextureID>(texture), draw.px(closeup.px.min), draw.px(closeup.px.max)); // NOLINT
    for (const document::Pad& pad : part.pads)
        draw.outline(on_photo(document::outline_on_board(part, pad), *map), ui.colours().copper, ui.px(1));
    draw.outline(on_photo(document::extent_on_board(part), *map), ui.colours().selection, ui.px(2));
    if (const auto mark = mark_on_board(part)) draw.spot((*map)(*mark), ui.colours().selection);
    list->PopClipRect();
    list->AddRect(at, {at.x + size.x, at.y + size.y}, packed(ui.colours().rule));
    ImGui::Dummy(size);
}

} // namespace padchart::app
