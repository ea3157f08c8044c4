#include "app/panels/trace_panel.hpp"

#include <iterator>

#include <fmt/format.h>

#include "app/actions.hpp"
#include "app/panels/heat_widgets.hpp"
#include "app/photo_desk.hpp"
#include "app/photo_edits.hpp"
#include "app/tools/reshape_tool.hpp"
#include "app/tools/trace_tool.hpp"
#include "app/widgets.hpp"

namespace padchart::app {
namespace {

void draw_anew(Session& s) {
    s.use_tool(make_trace_tool(s.desks.get<TraceDesk>()));
}

void what_buttons(const Ui& ui, Session& s, TraceDesk& desk) {
    constexpr std::pair<const char*, TraceWhat> kWhat[] = {
        {"1 Outline", TraceWhat::Outline}, {"2 Cut-out", TraceWhat::CutOut},   {"3 Body", TraceWhat::Body},
        {"4 Pad", TraceWhat::Pad},         {"5 Keep-out", TraceWhat::KeepOut}, {"6 Shield", TraceWhat::Shield},
        {"7 Hole", TraceWhat::Hole}};
    const float third = share_of_line(3);
    for (std::size_t i = 0; i < std::size(kWhat); ++i) {
        if (i % 3 != 0) ImGui::SameLine();
        const bool chosen = desk.what == kWhat[i].second;
        if (!button(ui, kWhat[i].first, chosen ? ButtonKind::Filled : ButtonKind::Outlined, third, true, ui.px(34)))
            continue;
        desk.what = kWhat[i].second;
        draw_anew(s);
    }
}

void how_buttons(const Ui& ui, Session& s, TraceDesk& desk) {
    constexpr std::pair<const char*, TraceHow> kHow[] = {{"P Polygon", TraceHow::Polygon},
                                                         {"R Rectangle", TraceHow::Rectangle},
                                                         {"T Turned rectangle", TraceHow::Turned},
                                                         {"O Round", TraceHow::Round}};
    const float half = share_of_line(2);
    for (std::size_t i = 0; i < std::size(kHow); ++i) {
        if (i % 2 != 0) ImGui::SameLine();
        const bool chosen = desk.how == kHow[i].second;
        if (!button(ui, kHow[i].first, chosen ? ButtonKind::Filled : ButtonKind::Outlined, half, true, ui.px(34)))
            continue;
        desk.how = kHow[i].second;
        draw_anew(s);
    }
}

void snapping(Ui& ui, Session& s, TraceDesk& desk) {
    toggle(ui, "Snap to corners, edges and centres", desk.snaps);
    number_field(
        ui, "Grid", desk.grid, s.editor.chart().scale ? "mm" : "units",
        [&](std::optional<double> typed) { desk.grid = typed && *typed > 0.0 ? *typed : 0.0; },
        [&s](std::string text) { s.editor.tell(Severity::Warning, std::move(text)); });
    muted(ui, "0 is no grid. Ctrl held down snaps to nothing.");
}

std::string where_pads_go(const Session& s) {
    const document::Footprint* part = s.editor.selected_part();
    if (part == nullptr) return "A pad goes to the part whose body it lies in; else it stays loose.";
    const std::string words =
        "Pads go to " + (part->name.empty() ? "the selected part" : part->name) + ", which is selected";
    return part->body ? words + "; not those farther off than its body is long." : words + ".";
}

std::string size_of(const OutlineView& view, bool in_mm) {
    const geometry::Box box = geometry::bounds(view.ring);
    const char* unit = in_mm ? "mm" : "units";
    if (view.kind == document::ShapeKind::Round) return fmt::format("diameter {:.2f} {}", box.width(), unit);
    return fmt::format("{:.2f} x {:.2f} {}", box.width(), box.height(), unit);
}

void meaning_field(Ui& ui, Session& s, ReshapeDesk& desk) {
    static const std::vector<std::string> kWords{"board outline", "cut-out", "body", "pad", "keep-out", "shield"};
    const OutlineRef ref = *desk.chosen;
    choice_field(ui, "It is", kWords, static_cast<std::size_t>(ref.what), [&](std::size_t i) {
        const auto what = static_cast<TraceWhat>(i);
        if (what == ref.what) return;
        Result<MeaningChange> change = change_meaning(s.editor.chart(), ref, what);
        if (!change) return s.editor.tell(Severity::Warning, padchart::describe(change.error()));
        if (s.editor.commit(std::move(change->chart), change->label)) desk.chosen = change->made;
    });
}

void outline_in_hand(Ui& ui, Session& s, ReshapeDesk& desk) {
    const document::Chart& chart = s.editor.shown();
    const auto view = desk.chosen ? view_of(chart, *desk.chosen) : std::nullopt;
    if (!view) {
        muted(ui, "Click an outline on the board: its corners and sides can then be dragged.");
        return;
    }
    fact(ui, "In hand", words_of(chart, *desk.chosen));
    fact(ui, "Size", size_of(*view, chart.scale.has_value()));
    if (view->kind == document::ShapeKind::Polygon) fact(ui, "Corners", fmt::format("{}", view->ring.size()));
    if (is_hole(*desk.chosen)) return muted(ui, "Delete, with no corner chosen, closes this hole.");
    meaning_field(ui, s, desk);
    const document::Footprint* part = nullptr;
    if (const auto at = document::find_part(chart, desk.chosen->id)) part = &chart.parts[*at];
    if (part != nullptr && !part->family.empty())
        muted(ui, "This part comes from a family; when its shape is changed it leaves it.");
}

} // namespace

void trace_panel(Ui& ui, Session& s) {
    TraceDesk& desk = s.desks.get<TraceDesk>();
    ReshapeDesk& reshape = s.desks.get<ReshapeDesk>();
    heading(ui, "Trace by hand");
    muted(ui, "Over a photo or over nothing. Each shape is one step; Ctrl+Z takes it back.");
    gap(ui, 4);
    if (!s.editor.chart().scale)
        verdict(ui, Tone::Danger, "No scale is known.",
                "Draw first, then set the scale (G): every length and the photo follow.");
    for (const document::Photo* photo : photos_on_show(s))
        if (!analysis::placement_of(*photo)) {
            verdict(ui, Tone::Danger, photo_name(*photo) + " is not placed.",
                    "What is drawn over it is not in true mm: lay it down by points first (Photos), or hide it.");
            gap(ui, 2);
        }
    title(ui, "Draw");
    what_buttons(ui, s, desk);
    gap(ui, 2);
    how_buttons(ui, s, desk);
    if (desk.what == TraceWhat::Pad) muted(ui, where_pads_go(s));
    if (desk.what == TraceWhat::Hole) muted(ui, "A hole goes to the smallest keep-out or shield it lies in.");
    if (desk.what == TraceWhat::Body) muted(ui, "A body makes a part; loose pads in it become its pads.");
    rule(ui);
    title(ui, "Change what is there");
    if (button(ui, "Move, add and take corners", ButtonKind::Outlined, -1)) run(*find_action("reshape"), s);
    outline_in_hand(ui, s, reshape);
    rule(ui);
    snapping(ui, s, desk);
    gap(ui, 4);
    const float third = share_of_line(3);
    if (button(ui, "Back", ButtonKind::Plain, third)) {
        s.panel = Panel::Stage;
        s.use_tool(s.resting_tool());
    }
}

} // namespace padchart::app
