#include <array>
#include <cmath>

#include <fmt/format.h>

#include "app/actions.hpp"
#include "app/arrange_desk.hpp"
#include "app/panels/edit_panels.hpp"
#include "app/panels/field_round.hpp"
#include "app/panels/heat_widgets.hpp"
#include "app/plain_words.hpp"
#include "app/refusal.hpp"
#include "app/refused_field.hpp"
#include "app/tip.hpp"
#include "app/widgets.hpp"

namespace padchart::app {
namespace {

using document::Axis;

std::function<void(std::string)> refuse_to(Session& s) {
    return [&s](std::string why) {
        s.desks.get<ArrangeDesk>().is_refused = true;
        keep_pen();
        s.editor.tell(Severity::Warning, std::move(why));
    };
}

void number(Ui& ui, Session& s, FieldRound& round, const char* label, double ArrangeDesk::*field, const char* unit) {
    const FieldRound::Field here(ui, round, label);
    number_field(
        ui, label, s.desks.get<ArrangeDesk>().*field, unit,
        [&s, field, label](std::optional<double> typed) {
            put_right(s.editor, label);
            s.desks.get<ArrangeDesk>().*field = typed.value_or(0.0);
        },
        refuse_to(s));
}

void maybe_number(Ui& ui, Session& s, FieldRound& round, const char* label, std::optional<double> ArrangeDesk::*field) {
    const FieldRound::Field here(ui, round, label);
    number_field(
        ui, label, s.desks.get<ArrangeDesk>().*field, "mm",
        [&s, field, label](std::optional<double> typed) {
            put_right(s.editor, label);
            s.desks.get<ArrangeDesk>().*field = typed;
        },
        refuse_to(s));
}

void whole_number(Ui& ui, Session& s, FieldRound& round, const char* label, int ArrangeDesk::*field) {
    const FieldRound::Field here(ui, round, label);
    number_field(
        ui, label, s.desks.get<ArrangeDesk>().*field, "",
        [&s, field, label](std::optional<double> typed) {
            const double wanted = typed.value_or(1.0);
            if (wanted < 1 || wanted > static_cast<double>(document::kMostCopies) || wanted != std::floor(wanted))
                return refuse_to(s)(words_of_refusal(
                    fmt::format("A whole number from 1 to {} is asked for here.", document::kMostCopies), label,
                    fmt::format("{}", s.desks.get<ArrangeDesk>().*field)));
            put_right(s.editor, label);
            s.desks.get<ArrangeDesk>().*field = static_cast<int>(wanted);
        },
        refuse_to(s));
}

bool act(Ui& ui, Session& s, std::string_view id, const char* label, float width) {
    const Action& action = *find_action(id);
    ImGui::PushID(action.id.data(), action.id.data() + action.id.size()); // two of one label are two buttons
    const bool pressed = button(ui, label, ButtonKind::Outlined, width, action.enabled(s), ui.px(30));
    ImGui::PopID();
    if (pressed) run(action, s);
    if (ImGui::IsItemHovered(ImGuiHoveredFlags_AllowWhenDisabled)) tip(ui, action.label);
    return pressed;
}

/// A button below numbers that can be read; Enter in one of them presses it.
void act_on(Ui& ui, Session& s, ArrangeForm form, std::string_view id, const char* label, FieldRound& round) {
    ArrangeDesk& desk = s.desks.get<ArrangeDesk>();
    const bool is_entered = round.is_entered() && !desk.is_refused;
    desk.pressed = form;
    act(ui, s, id, label, -1);
    round.lead(ui);
    desk.pressed = form;
    if (is_entered) run(*find_action(id), s);
    desk.pressed = ArrangeForm::None;
}

FieldRound begin_round(ArrangeDesk& desk) {
    desk.is_refused = false;
    return {};
}

/// Where an action has asked for the numbers, before the first of them. How far there is to scroll is known only when
/// the section has been drawn once.
void take_pen(Ui& ui, ArrangeDesk& desk, ArrangeForm form) {
    if (desk.wants_view == form) {
        desk.wants_view = ArrangeForm::None;
        ImGui::SetScrollHereY(0.2F);
        ui.wants_frame = true;
    }
    if (desk.wants_focus != form) return;
    desk.wants_focus = ArrangeForm::None;
    desk.wants_view = form;
    ImGui::SetKeyboardFocusHere();
    ui.await_focus();
}

struct Labelled {
    std::string_view id;
    const char* label;
};

void act_row(Ui& ui, Session& s, std::span<const Labelled> row) {
    const float share = share_of_line(static_cast<int>(row.size()));
    for (std::size_t i = 0; i < row.size(); ++i) {
        if (i > 0) ImGui::SameLine();
        act(ui, s, row[i].id, row[i].label, share);
    }
}

void in_line(Ui& ui, Session& s, ArrangeDesk& desk) {
    if (!section(ui, "In line", desk.extent == document::Extent::Body ? "by bodies" : "by pads", desk.show_line))
        return;
    constexpr std::array kAcross = {Labelled{"line-left", "Left"}, Labelled{"line-centre", "Centre"},
                                    Labelled{"line-right", "Right"}};
    constexpr std::array kDown = {Labelled{"line-top", "Top"}, Labelled{"line-middle", "Middle"},
                                  Labelled{"line-bottom", "Bottom"}};
    constexpr std::array kSpread = {Labelled{"spread-centres-across", "Centres across"},
                                    Labelled{"spread-centres-down", "Centres down"}};
    constexpr std::array kGaps = {Labelled{"spread-gaps-across", "Gaps across"},
                                  Labelled{"spread-gaps-down", "Gaps down"}};
    act_row(ui, s, kAcross);
    act_row(ui, s, kDown);
    muted(ui, "At even distances, the outer two stay:");
    act_row(ui, s, kSpread);
    act_row(ui, s, kGaps);
    const std::array<std::string, 2> words{"bodies", "pads"};
    choice_field(ui, "Edges of", words, desk.extent == document::Extent::Body ? 0 : 1,
                 [&desk](std::size_t i) { desk.extent = i == 0 ? document::Extent::Body : document::Extent::Pads; });
}

void move_by(Ui& ui, Session& s, ArrangeDesk& desk) {
    if (!section(ui, "Move by",
                 fmt::format("{}, {} {}", plain_number(desk.right_mm), plain_number(desk.down_mm),
                             s.editor.chart().scale ? "mm" : "units"),
                 desk.show_move))
        return;
    take_pen(ui, desk, ArrangeForm::Move);
    FieldRound round = begin_round(desk);
    number(ui, s, round, "To the right", &ArrangeDesk::right_mm, "mm");
    number(ui, s, round, "Down", &ArrangeDesk::down_mm, "mm");
    act_on(ui, s, ArrangeForm::Move, "move-by", "Move", round);
}

void grid(Ui& ui, Session& s, ArrangeDesk& desk) {
    if (!section(ui, "Copies in a grid", fmt::format("{} x {}", desk.columns, desk.rows), desk.show_grid)) return;
    take_pen(ui, desk, ArrangeForm::Grid);
    FieldRound round = begin_round(desk);
    whole_number(ui, s, round, "Columns", &ArrangeDesk::columns);
    number(ui, s, round, "Step to the right", &ArrangeDesk::column_step_mm, "mm");
    whole_number(ui, s, round, "Rows", &ArrangeDesk::rows);
    number(ui, s, round, "Step down", &ArrangeDesk::row_step_mm, "mm");
    act_on(ui, s, ArrangeForm::Grid, "copy-grid", "Make the copies", round);
}

void ring(Ui& ui, Session& s, ArrangeDesk& desk) {
    if (!section(ui, "Copies in a ring", fmt::format("{} places", desk.places), desk.show_ring)) return;
    take_pen(ui, desk, ArrangeForm::Ring);
    FieldRound round = begin_round(desk);
    whole_number(ui, s, round, "Places", &ArrangeDesk::places);
    number(ui, s, round, "Turn to the next", &ArrangeDesk::step_deg, "°");
    maybe_number(ui, s, round, "About x", &ArrangeDesk::about_x_mm);
    maybe_number(ui, s, round, "About y", &ArrangeDesk::about_y_mm);
    if (const geometry::Vec2 about = ring_about(s.editor, desk); !desk.about_x_mm || !desk.about_y_mm)
        muted(ui, fmt::format("Not stated: where the copies find room, now {:.2f}, {:.2f} mm.", about.x, about.y));
    constexpr const char* kTurns = "Parts turn with the ring";
    toggle(ui, kTurns, desk.turns);
    round.add_choice(ImGui::GetID(kTurns));
    act_on(ui, s, ArrangeForm::Ring, "copy-ring", "Make the copies", round);
}

void far_side(Ui& ui, Session& s, ArrangeDesk& desk) {
    if (!section(ui, "Over to the far side", desk.fold_along == Axis::Y ? "about a vertical" : "about a horizontal",
                 desk.show_fold))
        return;
    FieldRound round = begin_round(desk);
    const std::array<std::string, 2> words{"a vertical line", "a horizontal line"};
    constexpr const char* kAbout = "Laid over about";
    choice_field(ui, kAbout, words, desk.fold_along == Axis::Y ? 0 : 1,
                 [&desk](std::size_t i) { desk.fold_along = i == 0 ? Axis::Y : Axis::X; });
    round.add_choice(ImGui::GetID((std::string("##") + kAbout).c_str()));
    take_pen(ui, desk, ArrangeForm::Fold);
    const char* line = desk.fold_along == Axis::Y ? "Line at x" : "Line at y";
    maybe_number(ui, s, round, line, &ArrangeDesk::fold_at_mm);
    muted(ui, "Not stated: through the middle of what is selected.");
    act_on(ui, s, ArrangeForm::Fold, "fold", "Lay them over", round);
}

} // namespace

void arrange_section(Ui& ui, Session& s) {
    ArrangeDesk& desk = s.desks.get<ArrangeDesk>();
    title(ui, "Arrange");
    if (s.editor.selection().size() > 1) in_line(ui, s, desk);
    move_by(ui, s, desk);
    grid(ui, s, desk);
    ring(ui, s, desk);
    far_side(ui, s, desk);
    constexpr std::array kMore = {Labelled{"duplicate", "Duplicate"}, Labelled{"lock", "Lock"},
                                  Labelled{"hide", "Hide"}};
    act_row(ui, s, kMore);
}

} // namespace padchart::app
