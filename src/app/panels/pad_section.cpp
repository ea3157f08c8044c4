#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "app/actions.hpp"
#include "app/pad_numbering.hpp"
#include "app/panels/survey_parts.hpp"
#include "app/widgets.hpp"
#include "document/edits.hpp"
#include "scene/words.hpp"

namespace padchart::app {
namespace {

using document::Footprint;
using document::Id;
using document::JointState;
using document::LandState;
using document::Pad;
using geometry::Affine;
using geometry::Box;
using geometry::Ring;
using geometry::Vec2;

ImVec2 vec(Vec2 v) {
    return {static_cast<float>(v.x), static_cast<float>(v.y)};
}

void outline(const Ring& ring, ImU32 colour, float width) {
    std::vector<ImVec2> points;
    for (const Vec2 p : ring)
        points.push_back(vec(p));
    ImGui::GetWindowDrawList()->AddPolyline(points.data(), static_cast<int>(points.size()), colour, ImDrawFlags_Closed,
                                            width);
}

/// A cross, so that it reads without colour.
void cross(const Ui& ui, const Box& box) {
    const Vec2 c = box.centre();
    const double r = std::min(box.width(), box.height()) * 0.4;
    ImDrawList* list = ImGui::GetWindowDrawList();
    for (const double way : {1.0, -1.0})
        list->AddLine(vec({c.x - r, c.y - r * way}), vec({c.x + r, c.y + r * way}), packed(ui.colours().ink), ui.px(2));
}

void take_pad(Session& s, const Id& part, std::size_t pad) {
    s.desks.get<SurveyDesk>().pad = {part, pad};
    if (!awaits_lifted_land(s, part)) return;
    put_down_lifted_land(s, part, pad);
    s.use_tool(s.resting_tool());
}

/// The drawing; a click takes the pad under the pointer.
void pick_pad(const Ui& ui, Session& s, const Footprint& part) {
    const float width = ImGui::GetContentRegionAvail().x, height = ui.px(150), margin = ui.px(14);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->AddRectFilled(at, {at.x + width, at.y + height}, packed(ui.colours().panel), ui.px(8));
    list->AddRect(at, {at.x + width, at.y + height}, packed(ui.colours().rule), ui.px(8));
    const Box box = Box{{static_cast<double>(at.x), static_cast<double>(at.y)},
                        {static_cast<double>(at.x + width), static_cast<double>(at.y + height)}}
                        .grown(-static_cast<double>(margin));
    Drawing how;
    how.show_numbers = true;
    const Affine px_from_part = draw_part_framed(ui, part, box, how);
    ImGui::InvisibleButton("##pads", {width, height});
    const bool hovered = ImGui::IsItemHovered(), clicked = ImGui::IsItemClicked();
    const Vec2 mouse{static_cast<double>(ImGui::GetMousePos().x), static_cast<double>(ImGui::GetMousePos().y)};
    const ChosenPad chosen = s.desks.get<SurveyDesk>().pad;
    for (std::size_t i = 0; i < part.pads.size(); ++i) {
        const Ring ring = geometry::transformed(document::outline_in_part(part.pads[i]), px_from_part);
        const bool is_chosen = chosen.part == part.id && chosen.pad == i;
        const bool is_under = hovered && geometry::contains(ring, mouse);
        if (scene::has_fault(part.pads[i])) cross(ui, geometry::bounds(ring));
        if (is_chosen || is_under) outline(ring, packed(ui.colours().selection), ui.px(is_chosen ? 3 : 2));
        if (is_under && clicked) take_pad(s, part.id, i);
    }
}

void pad_fields(Ui& ui, Session& s, const Footprint& part, std::size_t index) {
    const Pad& pad = part.pads[index];
    const Id id = part.id;
    const auto change = [&s, id, index, name = part.name](const char* what, const std::function<void(Pad&)>& by) {
        s.editor.commit(document::change_part(s.editor.chart(), id,
                                              [&](Footprint& changed) {
                                                  if (index < changed.pads.size()) by(changed.pads[index]);
                                              }),
                        fmt::format("{} of pad {} of {}", what, index + 1, name));
    };
    ImGui::PushID(static_cast<int>(index));
    text_field(ui, "Pad number", pad.number,
               [change](const std::string& text) { change("Number", [&](Pad& p) { p.number = text; }); });
    text_field(
        ui, "Net", pad.net, [change](const std::string& text) { change("Net", [&](Pad& p) { p.net = text; }); },
        "GND, VBAT ...");
    word_field<LandState>(ui, "Its land", pad.land,
                          [change](LandState land) { change("Land", [&](Pad& p) { p.land = land; }); });
    word_field<JointState>(ui, "Its joint", pad.joint,
                           [change](JointState joint) { change("Joint", [&](Pad& p) { p.joint = joint; }); });
    if (button(ui, "Reading at this pad", ButtonKind::Outlined, -1))
        begin_reading(s, document::board_from_part(part.placement)(pad.at), part.placement.side, id, pad.number);
    ImGui::PopID();
}

/// Where pads without numbers are looked at.
void numbers_by_rule(Ui& ui, Session& s, const Footprint& part) {
    if (!lacks_numbers(part)) return;
    const Action& action = *find_action("number-pads");
    if (button(ui, std::string(action.label).c_str(), ButtonKind::Outlined, -1, action.enabled(s))) run(action, s);
}

} // namespace

void pad_section(Ui& ui, Session& s, const Footprint& part) {
    if (std::exchange(s.desks.get<SurveyDesk>().wants_pads, false)) {
        ImGui::SetScrollHereY(0.0F);
        ui.wants_frame = true;
    }
    title(ui, awaits_lifted_land(s, part.id) ? "Pads: click the one whose land is lifted" : "Pads");
    if (part.pads.empty()) return muted(ui, "None is drawn.");
    pick_pad(ui, s, part);
    numbers_by_rule(ui, s, part);
    const std::string faults = scene::pad_faults_in_words(part);
    if (!faults.empty()) wrapped(ui, faults + ".");
    const ChosenPad& chosen = s.desks.get<SurveyDesk>().pad;
    if (chosen.part == part.id && chosen.pad < part.pads.size())
        pad_fields(ui, s, part, chosen.pad);
    else
        muted(ui, "Click a pad to say its number, its net, or what is wrong with it.");
}

} // namespace padchart::app
