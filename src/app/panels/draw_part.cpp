#include <algorithm>
#include <cmath>

#include "app/edge_colour.hpp"
#include "app/panels/survey_parts.hpp"
#include "paint/bands.hpp"
#include "scene/marks.hpp"

namespace padchart::app {
namespace {

using geometry::Affine;
using geometry::Box;
using geometry::Ring;
using geometry::Vec2;
using scene::Role;

/// Paints a small scene through the panels' own drawing list.
class PanelPainter {
public:
    PanelPainter(const Ui& ui, Affine px_from_scene, double alpha)
        : ui_(ui), map_(px_from_scene), alpha_(alpha), list_(ImGui::GetWindowDrawList()) {}

    void paint(const scene::Scene& picture) const {
        for (const scene::Item& item : picture.items) {
            if (item.kind == scene::Item::Kind::Fill) fill(picture.fills[item.index], item.role);
            if (item.kind == scene::Item::Kind::Line) line(picture.lines[item.index], item.role);
        }
    }

private:
    [[nodiscard]] ImU32 colour(paint::Colour c) const {
        return packed(with_alpha(c, static_cast<std::uint8_t>(std::lround(c.a * alpha_))));
    }
    [[nodiscard]] std::vector<ImVec2> points_of(std::span<const Vec2> points) const {
        std::vector<ImVec2> px;
        for (const Vec2 point : points) {
            const Vec2 p = map_(point);
            px.push_back({static_cast<float>(p.x), static_cast<float>(p.y)});
        }
        return px;
    }

    void fill(const scene::Fill& area, Role role) const {
        const auto& wanted = ui_.theme().style(role).fill;
        if (!wanted) return;
        if (area.area.holes.empty() && geometry::is_convex_ring(area.area.outer)) {
            const auto px = points_of(area.area.outer);
            list_->AddConvexPolyFilled(px.data(), static_cast<int>(px.size()), colour(*wanted));
            return;
        }
        for (const paint::Band& b : paint::bands_of(area.area)) {
            const Vec2 corners[] = {
                {b.top_left, b.top}, {b.top_right, b.top}, {b.bottom_right, b.bottom}, {b.bottom_left, b.bottom}};
            const auto px = points_of(corners);
            list_->AddQuadFilled(px[0], px[1], px[2], px[3], colour(*wanted));
        }
    }

    void line(const scene::Line& line, Role role) const {
        const paint::Style& style = ui_.theme().style(role);
        if (!style.stroke) return;
        auto px = points_of(line.points);
        const float width = static_cast<float>(std::max(ui_.theme().width_px(role, line.weight) * ui_.scale(), 1.0));
        if (style.dash.on_px > 0)
            dashes(px, line.closed, width, style.dash, colour(*style.stroke));
        else
            list_->AddPolyline(px.data(), static_cast<int>(px.size()), colour(*style.stroke),
                               line.closed ? ImDrawFlags_Closed : 0, width);
    }

    void dashes(std::vector<ImVec2> px, bool closed, float width, paint::Dash dash, ImU32 ink) const {
        if (closed && !px.empty()) px.push_back(px.front());
        const auto on = static_cast<float>(dash.on_px * ui_.scale());
        const auto period = on + static_cast<float>(dash.off_px * ui_.scale());
        for (std::size_t i = 0; i + 1 < px.size(); ++i) {
            const ImVec2 d{px[i + 1].x - px[i].x, px[i + 1].y - px[i].y};
            const float length = std::hypot(d.x, d.y);
            for (float at = 0; at < length; at += period) {
                const float from = at / length;
                const float to = std::min(at + on, length) / length;
                list_->AddLine({px[i].x + d.x * from, px[i].y + d.y * from}, {px[i].x + d.x * to, px[i].y + d.y * to},
                               ink, width);
            }
        }
    }

    const Ui& ui_;
    Affine map_;
    double alpha_;
    ImDrawList* list_;
};

scene::Scene picture_of(const document::Footprint& part, const Affine& turn, const Drawing& how) {
    scene::Scene picture;
    const Ring body = geometry::transformed(document::extent_in_part(part), turn);
    if (body.size() >= 3) {
        picture.add(Role::Body, scene::Fill{{body, {}}});
        picture.add(how.ghost ? Role::UnknownEdge : Role::BodyEdge, scene::Line{body, true, scene::Weight::Normal});
    }
    for (const document::Pad& pad : part.pads) {
        const Ring ring = geometry::transformed(document::outline_in_part(pad), turn);
        picture.add(Role::PadCopper, scene::Fill{{ring, {}}});
        picture.add(Role::PadEdge, scene::Line{ring, true, scene::Weight::Thin});
    }
    if (how.show_mark) scene::add_mark(picture, part, turn, -1);
    return picture;
}

void pad_numbers(const Ui& ui, const document::Footprint& part, const Affine& px_from_part, double px_per_mm) {
    ImFont* font = ui.fonts().small;
    for (const document::Pad& pad : part.pads) {
        const ImVec2 size = font->CalcTextSizeA(font->FontSize, 1e6F, 0, pad.number.c_str());
        const Box box = geometry::bounds(document::outline_in_part(pad));
        const bool fits = static_cast<double>(size.x) < box.width() * px_per_mm &&
                          static_cast<double>(size.y) * 0.8 < box.height() * px_per_mm;
        if (pad.number.empty() || !fits) continue;
        const Vec2 at = px_from_part(pad.at);
        ImGui::GetWindowDrawList()->AddText(
            font, font->FontSize,
            {std::round(static_cast<float>(at.x) - size.x / 2), std::round(static_cast<float>(at.y) - size.y / 2)},
            packed(ink_on(ui.colours().copper, ui.colours())), pad.number.c_str());
    }
}

} // namespace

Affine draw_part_framed(const Ui& ui, const document::Footprint& part, const Box& box_px, const Drawing& how) {
    const Affine turn = Affine::rotation(part.placement.turn + how.turn);
    // One size for every turn, so that the pictures side by side can be compared.
    const scene::Scene picture = picture_of(part, turn, how);
    if (picture.bounds.is_empty()) return {};
    const scene::Scene upright = picture_of(part, Affine::rotation(part.placement.turn), how);
    const double size_x = std::max(picture.bounds.width(), upright.bounds.width());
    const double size_y = std::max(picture.bounds.height(), upright.bounds.height());
    const double k = std::min(box_px.width() / std::max(size_x, 1e-6), box_px.height() / std::max(size_y, 1e-6));
    const Affine px =
        Affine::translation(box_px.centre()) * Affine::scaling(k, k) * Affine::translation(-picture.bounds.centre());
    PanelPainter(ui, px, how.ghost ? 0.55 : 1.0).paint(picture);
    if (how.show_numbers) pad_numbers(ui, part, px * turn, k);
    return px * turn;
}

void draw_part(const Ui& ui, const document::Footprint& part, const Box& box_px, const Drawing& how) {
    draw_part_framed(ui, part, box_px, how);
}

} // namespace padchart::app
