// How long a unit of the chart is: from two points or from a part of known size, with what there is now beside it.

#include <fmt/format.h>

#include "app/actions.hpp"
#include "app/panels/panels.hpp"
#include "app/panels/scale_fields.hpp"
#include "app/refused_field.hpp"
#include "app/tools/scale_tool.hpp"
#include "app/widgets.hpp"
#include "app/word_search.hpp"
#include "patterns/size_class.hpp"

namespace padchart::app {
namespace {

using document::Chart;

void way_buttons(const Ui& ui, ScaleDesk& desk) {
    const float half = share_of_line(2);
    const auto way = [&](const char* label, ScaleWay wanted) {
        if (button(ui, label, desk.way == wanted ? ButtonKind::Filled : ButtonKind::Outlined, half)) {
            desk.way = wanted;
            desk.forget_picks();
        }
    };
    way("Two points", ScaleWay::TwoPoints);
    ImGui::SameLine();
    way("A part of known size", ScaleWay::KnownPart);
}

std::string point_words(const ScalePoint& point) {
    return point.words.empty() ? fmt::format("x {:.2f}  y {:.2f}", point.at.x, point.at.y) : point.words;
}

void number(Ui& ui, Session& s, const char* label, double& value) {
    number_field(
        ui, label, value, "mm",
        [&s, &value](std::optional<double> typed) {
            if (typed && *typed >= 0.0) {
                value = *typed;
                return;
            }
            keep_pen();
            s.editor.tell(Severity::Warning, "How far it may be off is 0 mm or more.");
        },
        [&s](std::string text) { s.editor.tell(Severity::Warning, std::move(text)); });
}

void two_points(Ui& ui, Session& s, ScaleDesk& desk) {
    muted(ui, "Two points far apart whose distance you measured on the board with a calliper.");
    fact(ui, "First point", desk.points.empty() ? "click it" : point_words(desk.points[0]));
    fact(ui, "Second point", desk.points.size() < 2 ? "click it" : point_words(desk.points[1]));
    if (std::exchange(desk.wants_focus, false)) {
        ImGui::SetKeyboardFocusHere();
        ui.await_focus();
    }
    ImGui::BeginGroup();
    number_field(
        ui, "Measured distance", desk.distance_mm, "mm",
        [&desk](std::optional<double> typed) { desk.distance_mm = typed; },
        [&s](std::string text) { s.editor.tell(Severity::Warning, std::move(text)); });
    ImGui::EndGroup();
    // The last thing that was to be said.
    desk.is_entered =
        ImGui::IsItemDeactivated() && !has_kept_pen() && ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Enter), false);
    number(ui, s, "Measured within ±", desk.measuring_mm);
    number(ui, s, "Points within ±", desk.click_mm);
}

void known_part(Ui& ui, Session& s, ScaleDesk& desk, const Chart& chart) {
    muted(ui, "A part whose size you know for certain. The larger the part, the surer the scale.");
    const auto at = document::find_part(chart, desk.part);
    const std::string name = !at                             ? "click it on the board"
                             : chart.parts[*at].name.empty() ? "part without a name"
                                                             : chart.parts[*at].name;
    fact(ui, "Part", name);
    std::vector<std::string> words{"choose its size"};
    for (const patterns::SizeClass& size : patterns::size_classes())
        words.push_back(with_metric_said(patterns::label_of(size)));
    choice_field(ui, "This is a", words, desk.size ? *desk.size + 1 : 0, [&desk](std::size_t i) {
        desk.size = i == 0 ? std::nullopt : std::optional(i - 1);
        desk.insists.reset();
    });
    if (desk.size && *desk.size < patterns::size_classes().size()) {
        const patterns::SizeClass& size = patterns::size_classes()[*desk.size];
        fact(ui, "Its body", fmt::format("{:g} x {:g} mm", size.length_mm, size.width_mm));
    }
    number(ui, s, "Edges within ±", desk.click_mm);
}

} // namespace

void scale_fields(Ui& ui, Session& s, ScaleDesk& desk, const Chart& chart) {
    way_buttons(ui, desk);
    gap(ui, 2);
    desk.is_entered = false;
    if (desk.way == ScaleWay::TwoPoints)
        two_points(ui, s, desk);
    else
        known_part(ui, s, desk, chart);
}

bool scale_outcome(const Ui& ui, const ScaleDesk& desk, const Chart& chart) {
    const auto result = desk.foreseen(chart);
    if (!result) return false;
    if (!*result) {
        verdict(ui, Tone::Danger, "No scale follows from this.", padchart::describe(result->error()));
        return false;
    }
    const Diagnostics& found = (*result)->findings;
    const bool doubt = std::any_of(found.begin(), found.end(), speaks_against);
    const bool warned =
        std::any_of(found.begin(), found.end(), [](const Diagnostic& f) { return f.severity != Severity::Note; });
    verdict(ui,
            doubt    ? Tone::Danger
            : warned ? Tone::Unknown
                     : Tone::Fine,
            fmt::format("Every length times {:.4g}.", (*result)->factor),
            analysis::scale_words(*(*result)->chart.scale));
    for (const Diagnostic& finding : found) {
        dot(ui, finding.severity == Severity::Fault ? Tone::Danger : Tone::Unknown, false);
        ImGui::SameLine(0, ui.px(8));
        wrapped(ui, finding.message);
    }
    return true;
}

void scale_panel(Ui& ui, Session& s) {
    ScaleDesk& desk = s.desks.get<ScaleDesk>();
    const Chart chart = s.editor.chart(); // taking a scale replaces it
    heading(ui, "Scale");
    gap(ui, 2);
    if (!chart.scale)
        verdict(ui, Tone::Danger, "No scale is known.", "Until one is set, nothing on this chart can be read in mm.");
    else if (chart.scale->source == document::ScaleSource::Drawn && chart.scale->relative_uncertainty == 0.0)
        verdict(ui, Tone::Plain, "Lengths are as they were drawn, in mm.", "Nothing on the board was measured yet.");
    else if (!chart.scale->overruled.empty())
        verdict(ui, Tone::Danger, "Two scales on record do not agree.",
                fmt::format("{}. Against it: {}. A third measurement settles it.", analysis::scale_words(*chart.scale),
                            analysis::scale_words(analysis::as_scale(chart.scale->overruled.front()))));
    else
        verdict(ui, Tone::Plain,
                fmt::format("Lengths are right within {:.2g} %.", chart.scale->relative_uncertainty * 100),
                analysis::scale_words(*chart.scale));
    gap(ui, 4);
    scale_fields(ui, s, desk, chart);
    gap(ui, 4);
    const bool ready = scale_outcome(ui, desk, chart);
    gap(ui, 4);
    const float half = share_of_line(2);
    if (button(ui, "Back", ButtonKind::Outlined, half)) {
        s.panel = Panel::Stage;
        s.use_tool(s.resting_tool());
    }
    ImGui::SameLine();
    const char* label = desk.asks_again(s.editor) ? "Take it all the same" : "Take this scale";
    if (button(ui, label, ButtonKind::Filled, half, ready) || (ready && desk.is_entered))
        run(*find_action("take-scale"), s);
}

} // namespace padchart::app
