// Laying a photo down: what to click next, the points so far with how far each is off, and their numbers by hand.

#include <cctype>

#include <fmt/format.h>

#include "app/actions.hpp"
#include "app/panels/photo_panel.hpp"
#include "app/photo_desk.hpp"
#include "app/photo_edits.hpp"
#include "app/refused_field.hpp"
#include "app/tip.hpp"
#include "app/widgets.hpp"

namespace padchart::app {
namespace {

using document::Photo;
using document::PhotoPoint;

void refuse(Session& s, std::string text) {
    s.editor.tell(Severity::Warning, std::move(text));
}

/// The place of the spot under the pen, typed instead of clicked.
void typed_place(Ui& ui, Session& s, PhotoDesk& desk, const Photo& photo) {
    PhotoPlacing& placing = *desk.placing;
    const bool in_mm = s.editor.chart().scale || typed_places_scale(s.editor.chart(), photo);
    const char* unit = in_mm ? "mm" : "units";
    const auto field = [&](const char* label, std::optional<double>& value) {
        number_field(
            ui, label, value, unit, [&value](std::optional<double> typed) { value = typed; },
            [&s](std::string text) { refuse(s, std::move(text)); });
    };
    const bool ends_typing =
        ImGui::GetIO().WantTextInput && ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Enter), false);
    field("On the board, x", placing.typed_x);
    field("On the board, y", placing.typed_y);
    const bool ready = placing.typed_x && placing.typed_y;
    if (button(ui, "Put it there", ButtonKind::Filled, -1, ready) || (ready && ends_typing && !has_kept_pen()))
        put_photo_point(desk, s.editor, {*placing.typed_x, *placing.typed_y});
}

void next_step(Ui& ui, Session& s, PhotoDesk& desk, const Photo& photo) {
    const PhotoPlacing& placing = *desk.placing;
    const std::size_t number = photo.points.size() + 1;
    if (!placing.map) return verdict(ui, Tone::Plain, "The photo is being read.", "");
    if (placing.board_is_empty && !placing.pixel)
        return verdict(ui, Tone::Plain, fmt::format("Point {}: click a spot in the photo.", number),
                       "One whose place on the board you know in mm: nothing is drawn yet that could be clicked.");
    if (!placing.pixel)
        return verdict(ui, Tone::Plain, fmt::format("Point {}: click a spot in the photo.", number),
                       number <= 2 ? "A corner of a pad or of the board, far from the other points."
                                   : "Four near the corners take out the tilt of the camera; a fifth checks them.");
    verdict(ui, Tone::Plain, fmt::format("Point {}: where is that on the board?", number),
            fmt::format("Pixel {:.1f}, {:.1f}. {}", placing.pixel->x, placing.pixel->y,
                        placing.board_is_empty ? "Type it: measured from any corner you like, the same for all points."
                                               : "Click it on the chart, corners and centres catch the pointer (Ctrl: "
                                                 "not so); or type it."));
    typed_place(ui, s, desk, photo);
}

/// True where the point is to go.
bool point_row(const Ui& ui, std::size_t i, const PhotoPoint& point, std::optional<double> off_mm, bool is_locked) {
    ImGui::PushID(static_cast<int>(i));
    ImGui::AlignTextToFramePadding();
    ImGui::PushFont(ui.fonts().strong);
    ImGui::Text("%zu", i + 1);
    ImGui::PopFont();
    ImGui::SameLine(ui.px(44));
    ImGui::TextUnformatted(fmt::format("x {:.2f}  y {:.2f}", point.at.x, point.at.y).c_str());
    const std::string off = off_mm ? fmt::format("{:.3f} mm off", *off_mm) : "-";
    ImGui::SameLine(ui.px(166));
    ImGui::TextUnformatted(off.c_str());
    ImGui::SameLine(ImGui::GetContentRegionMax().x - ui.px(72));
    const bool goes = button(ui, "Drop", ButtonKind::Plain, ui.px(72), !is_locked);
    if (ImGui::IsItemHovered())
        tip(ui, fmt::format("at pixel {:.1f}, {:.1f} of the photo", point.pixel.x, point.pixel.y));
    ImGui::PopID();
    return goes;
}

void drop_point(Session& s, const Photo& photo, std::size_t i) {
    std::vector<PhotoPoint> points = photo.points;
    points.erase(points.begin() + static_cast<std::ptrdiff_t>(i));
    s.editor.commit(with_points(s.editor.chart(), photo.id, std::move(points)),
                    fmt::format("Drop point {} of photo {}", i + 1, photo_name(photo)));
}

void point_list(Ui& ui, Session& s, const Photo& photo) {
    if (photo.points.empty()) return;
    gap(ui, 2);
    title(ui, "Points");
    const std::vector<double> errors = has_spare_point(photo) ? point_errors(photo) : std::vector<double>();
    std::optional<std::size_t> drops;
    for (std::size_t i = 0; i < photo.points.size(); ++i)
        if (point_row(ui, i, photo.points[i], errors.empty() ? std::nullopt : std::optional(errors[i]), photo.locked))
            drops = i;
    if (drops) drop_point(s, photo, *drops);
}

std::string as_sentence(std::string text) {
    if (!text.empty()) text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
    return text + ".";
}

/// What is to be said of the points; what speaks against the whole picture first, and loudly.
void doubts(Ui& ui, Session& s, const Photo& photo) {
    const PhotoPlace place = place_of(photo, s.editor.chart().scale.has_value());
    const auto is_loud = [](const Diagnostic& finding) { return finding.code == "photo-off"; };
    for (const Diagnostic& finding : place.findings)
        if (is_loud(finding))
            verdict(ui, Tone::Danger, "The photo does not lie where its points say.", as_sentence(finding.message));
    for (const Diagnostic& finding : place.findings) {
        if (is_loud(finding)) continue;
        dot(ui, finding.severity == Severity::Note ? Tone::Plain : Tone::Danger, false);
        ImGui::SameLine(ui.px(40));
        wrapped(ui, finding.message);
        if (finding.code != "photo-mirrored" || photo.locked) continue;
        const char* label = photo.mirrored ? "It is no mirror image" : "It is a mirror image";
        if (button(ui, label, ButtonKind::Outlined, -1))
            s.editor.commit(with_mirror(s.editor.chart(), photo.id, !photo.mirrored),
                            "Say whether the photo is a mirror image");
    }
}

} // namespace

void photo_points(Ui& ui, Session& s, const Photo& photo) {
    PhotoDesk& desk = s.desks.get<PhotoDesk>();
    const bool is_placing = desk.placing && desk.placing->photo == photo.id;
    if (is_placing) {
        next_step(ui, s, desk, photo);
        gap(ui, 2);
        if (button(ui, "Done", ButtonKind::Outlined, -1)) {
            desk.placing.reset();
            s.use_tool(s.resting_tool());
        }
    } else {
        if (is_ground(photo) && !s.editor.chart().scale) {
            verdict(ui, Tone::Danger, "No scale is known.",
                    "Two points in the photo and the millimetres between them tell it; what is drawn follows.");
            if (button(ui, "Set the scale", ButtonKind::Filled, -1)) run(*find_action("scale"), s);
        }
        const Action& lay = *find_action("lay-photo");
        const char* label = photo.points.empty() ? "Lay it down by points" : "More points";
        if (button(ui, label, ButtonKind::Filled, -1, lay.enabled(s))) run(lay, s);
        if (photo.locked) muted(ui, "Locked in its place: unlock it to lay it down anew.");
    }
    point_list(ui, s, photo);
    doubts(ui, s, photo);
}

} // namespace padchart::app
