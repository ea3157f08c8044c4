#include <algorithm>
#include <cmath>
#include <optional>
#include <span>
#include <utility>

#include <fmt/format.h>
#include <imgui.h>
#include <imgui_stdlib.h>

#include "app/actions.hpp"
#include "app/own_families.hpp"
#include "app/panels/body.hpp"
#include "app/panels/panels.hpp"
#include "app/room.hpp"
#include "app/tip.hpp"
#include "app/tools/part_tools.hpp"
#include "app/widgets.hpp"
#include "app/word_search.hpp"
#include "base/typed_number.hpp"
#include "patterns/family.hpp"
#include "patterns/numbering.hpp"

namespace padchart::app {
namespace {

using patterns::Family;
using patterns::Parameter;

void choose(Session& s, const Family& family) {
    s.add_part.family = std::string(family.key);
    s.add_part.parameters = patterns::default_parameters(family);
}

/// The families that are searched for, the best first.
std::vector<Found> found_families(const Session& s) {
    std::vector<std::string> texts;
    for (const Family& family : patterns::families())
        texts.push_back(std::string(family.name) + " " + std::string(family.key) + " " + std::string(family.group));
    return found_in(texts, s.add_part.filter);
}

/// It is chosen and nothing fits better what is searched for.
bool is_meant(const std::vector<Found>& found, const Family* chosen) {
    return std::any_of(found.begin(), found.end(), [&](const Found& one) {
        return one.match == found.front().match && &patterns::families()[one.at] == chosen;
    });
}

void put_on_board(Session& s, const document::Footprint& part) {
    s.use_tool(make_place_tool(part, s.desks.get<SnapDesk>()));
    s.panel = Panel::Stage;
    ImGui::SetWindowFocus(nullptr); // the arrows lead the part now
}

constexpr std::string_view kOwn = "own:"; // before the path, as the key of a family of one's own

const OwnFamily* find_own(Session& s, std::string_view key) {
    if (!key.starts_with(kOwn)) return nullptr;
    for (const OwnFamily& own : s.desks.get<OwnFamilies>().all())
        if (own.path.string() == key.substr(kOwn.size())) return &own;
    return nullptr;
}

/// What the user has kept comes first. True where any matches.
bool own_rows(Ui& ui, Session& s) {
    auto& own_families = s.desks.get<OwnFamilies>();
    bool any = false;
    for (const OwnFamily& own : own_families.all()) {
        if (!matches(own.name + " own " + own.note, s.add_part.filter)) continue;
        if (!any) ImGui::TextColored(floats(ui.colours().muted), "Your own");
        any = true;
        const std::string key = std::string(kOwn) + own.path.string();
        ImGui::PushID(key.c_str());
        if (ImGui::Selectable(own.name.c_str(), key == s.add_part.family)) s.add_part.family = key;
        ImGui::PopID();
    }
    for (const Diagnostic& finding : own_families.findings())
        muted(ui, finding.message);
    return any;
}

void family_list(Ui& ui, Session& s) {
    ImGui::SetNextItemWidth(-1);
    if (std::exchange(s.add_part.wants_focus, false)) {
        ImGui::SetKeyboardFocusHere();
        ui.await_focus();
    }
    if (ImGui::InputTextWithHint("##family", "search: 1608M, sot, qfn 16 ...", &s.add_part.filter,
                                 ImGuiInputTextFlags_EnterReturnsTrue))
        take_first_family(s);
    ImGui::PushStyleColor(ImGuiCol_ChildBg, packed(ui.colours().paper));
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {ui.px(8), ui.px(6)});
    ImGui::BeginChild("families", {0, ui.px(is_low(ui) ? 112 : 232)}, true, ImGuiWindowFlags_AlwaysUseWindowPadding);
    const bool any_own = own_rows(ui, s);
    std::string_view group;
    for (const Found& one : found_families(s)) {
        const Family& family = patterns::families()[one.at];
        if (family.group != group) {
            group = family.group;
            ImGui::TextColored(floats(ui.colours().muted), "%s", std::string(group).c_str());
        }
        ImGui::PushID(family.key.data());
        const std::string name = with_metric_said(family.name);
        const std::string shown = fitted(name, ImGui::GetContentRegionAvail().x);
        if (ImGui::Selectable(shown.c_str(), family.key == s.add_part.family)) choose(s, family);
        keep_clear_here();
        if (shown != name && ImGui::IsItemHovered()) tip(ui, name);
        ImGui::PopID();
    }
    if (group.empty() && !any_own) muted(ui, nothing_found(s.add_part.filter) + " Draw the part by hand instead.");
    ImGui::EndChild();
    ImGui::PopStyleVar();
    ImGui::PopStyleColor();
}

/// The number as it stands in the field while it is being typed; nothing where it is none yet.
std::optional<double> as_typed(Ui& ui, const Parameter& parameter) {
    const std::string id = "##" + std::string(parameter.label);
    const std::string* text = ui.draft(ImGui::GetID(id.c_str()));
    if (text == nullptr) return std::nullopt;
    const Result<double> number = typed_number(*text, parameter.unit);
    if (!number) return std::nullopt;
    return *number;
}

/// A step up or down beside the field, so that the picture can be watched.
void step_buttons(Ui& ui, const Parameter& parameter, double& value) {
    if (parameter.step <= 0) return;
    ImGui::PushID(parameter.key.data());
    const float width = share_of_line(2);
    const auto step = [&](const char* label, double by) {
        if (button(ui, label, ButtonKind::Plain, width, true, ui.px(26)))
            value = std::clamp(std::round((value + by) * 1e6) / 1e6, parameter.min, parameter.max);
    };
    step("−", -parameter.step);
    ImGui::SameLine();
    step("+", parameter.step);
    ImGui::PopID();
}

void parameter_field(Ui& ui, Session& s, const Parameter& parameter, double& value) {
    const std::string label(parameter.label);
    if (!parameter.choices.empty()) {
        const std::vector<std::string> words(parameter.choices.begin(), parameter.choices.end());
        const auto chosen = static_cast<std::size_t>(std::clamp(value, 0.0, static_cast<double>(words.size() - 1)));
        choice_field(ui, label.c_str(), words, chosen, [&value](std::size_t i) { value = static_cast<double>(i); });
        return;
    }
    number_field(
        ui, label.c_str(), value, std::string(parameter.unit).c_str(),
        [&s, key = s.add_part.family, &parameter](std::optional<double> typed) {
            if (key != s.add_part.family) return; // another family was chosen meanwhile
            const Family* family = patterns::find_family(key);
            const auto at = static_cast<std::size_t>(&parameter - family->parameters.data());
            s.add_part.parameters[at] = typed.value_or(parameter.default_value);
        },
        [&s](std::string text) { s.editor.tell(Severity::Warning, std::move(text)); });
    step_buttons(ui, parameter, value);
}

/// Places a grid leaves empty, by name.
std::string omitted_names(const Family& family, std::span<const double> parameters) {
    const auto letters_at = std::find_if(family.parameters.begin(), family.parameters.end(),
                                         [](const Parameter& parameter) { return parameter.key == "letters"; });
    const auto letters = static_cast<std::size_t>(letters_at - family.parameters.begin());
    const bool is_unbroken = letters < parameters.size() && parameters[letters] != 0.0;
    std::string names;
    for (std::size_t i = family.parameters.size(); i < parameters.size(); ++i) {
        const auto code = static_cast<int>(parameters[i]); // see patterns::omitted_place
        names += (names.empty() ? "" : " ") +
                 patterns::ball_name({code / 1000, code % 1000},
                                     is_unbroken ? patterns::RowLetters::Unbroken : patterns::RowLetters::Standard);
    }
    return names;
}

/// Balls a grid lacks.
void omitted_field(Ui& ui, Session& s, const Family& family) {
    if (!family.takes_omitted) return;
    text_field(
        ui, "Places left out", omitted_names(family, s.add_part.parameters),
        [&s, key = s.add_part.family](const std::string& names) {
            const Family* chosen = patterns::find_family(key);
            if (key != s.add_part.family || chosen == nullptr) return; // another family was chosen meanwhile
            const auto with = patterns::with_omitted(*chosen, s.add_part.parameters, names);
            if (with)
                s.add_part.parameters = *with;
            else
                s.editor.tell(Severity::Warning, describe(with.error()));
        },
        "A1 C3");
}

void preview(const Ui& ui, const document::Footprint& part) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x, height = ui.px(170), margin = ui.px(16);
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->AddRectFilled(at, {at.x + width, at.y + height}, packed(ui.colours().paper), ui.px(8));
    list->AddRect(at, {at.x + width, at.y + height}, packed(ui.colours().rule), ui.px(8));
    const geometry::Box box{{static_cast<double>(at.x + margin), static_cast<double>(at.y + margin)},
                            {static_cast<double>(at.x + width - margin), static_cast<double>(at.y + height - margin)}};
    Drawing how;
    how.show_numbers = true;
    draw_part(ui, part, box, how);
    ImGui::Dummy({width, height});
}

std::string size_in_words(const document::Footprint& part) {
    const geometry::Box box = geometry::bounds(document::extent_in_part(part));
    std::string text = fmt::format("{} pads", part.pads.size());
    if (part.body) text += fmt::format(", body {:.2f} x {:.2f} mm", box.width(), box.height());
    return text;
}

/// The part as it would be put down; nothing where the numbers give none.
std::optional<document::Footprint> chosen_family(Ui& ui, Session& s, const Family& family) {
    title(ui, family.name);
    omitted_field(ui, s, family);
    std::vector<double> live = s.add_part.parameters;
    for (std::size_t i = 0; i < family.parameters.size() && i < s.add_part.parameters.size(); ++i) {
        parameter_field(ui, s, family.parameters[i], s.add_part.parameters[i]);
        live[i] = as_typed(ui, family.parameters[i]).value_or(s.add_part.parameters[i]);
    }
    const Result<document::Footprint> part = patterns::generate(family, live);
    if (!part) {
        verdict(ui, Tone::Danger, "These numbers do not fit together.", describe(part.error()));
        return std::nullopt;
    }
    preview(ui, *part);
    muted(ui, size_in_words(*part) + ". Lands differ by maker: measure and correct.");
    return *part;
}

document::Footprint chosen_own(Ui& ui, const OwnFamily& own) {
    title(ui, own.name);
    if (!own.note.empty()) muted(ui, own.note);
    preview(ui, own.pattern);
    muted(ui, size_in_words(own.pattern) + ". Kept in " + own.path.filename().string() + "; the file can be shared.");
    return own.pattern;
}

std::optional<document::Footprint> chosen(Ui& ui, Session& s) {
    if (const OwnFamily* own = find_own(s, s.add_part.family)) return chosen_own(ui, *own);
    if (const Family* family = patterns::find_family(s.add_part.family)) return chosen_family(ui, s, *family);
    return std::nullopt;
}

void put_button(Ui& ui, Session& s, const std::optional<document::Footprint>& part) {
    if (!part) return;
    gap(ui, 2);
    if (button(ui, "Put it on the board", ButtonKind::Filled, -1)) put_on_board(s, *part);
}

void other_ways(Ui& ui, Session& s) {
    const float half = share_of_line(2), tall = is_low(ui) ? ui.px(30) : 0.0F;
    if (button(ui, "Draw it by hand", ButtonKind::Outlined, half, true, tall)) {
        s.use_tool(make_draw_tool());
        s.editor.select({});
        s.panel = Panel::Stage;
    }
    ImGui::SameLine();
    if (button(ui, "Back", ButtonKind::Outlined, half, true, tall)) s.panel = Panel::Stage;
}

/// How high the panel's footer is, in a low window.
struct AddPartView {
    float footer_height = 0;
};

} // namespace

void take_first_family(Session& s) {
    s.add_part.wants_focus = true;
    if (const OwnFamily* own = find_own(s, s.add_part.family))
        return put_on_board(s, document::Footprint(own->pattern));
    const Family* chosen = patterns::find_family(s.add_part.family);
    const std::vector<Found> found = found_families(s);
    if (is_meant(found, chosen)) {
        if (const auto part = patterns::generate(*chosen, s.add_part.parameters)) put_on_board(s, *part);
        return;
    }
    if (!found.empty()) choose(s, patterns::families()[found.front().at]);
}

void add_part_panel(Ui& ui, Session& s) {
    const bool has_footer = is_low(ui);
    if (has_footer) begin_body(ui, s.desks.get<AddPartView>().footer_height);
    heading_with(ui, "Add a part", "Choose the family that looks like it.");
    gap(ui, has_footer ? 0 : 4);
    family_list(ui, s);
    rule(ui);
    const std::optional<document::Footprint> part = chosen(ui, s);
    if (!has_footer) put_button(ui, s, part);
    gap(ui, 2);
    if (button(ui, "From a pattern file ...", ButtonKind::Outlined, -1)) run(*find_action("load-pattern"), s);
    if (!has_footer) return other_ways(ui, s);
    begin_footer(ui);
    put_button(ui, s, part);
    other_ways(ui, s);
    end_footer(ui, s.desks.get<AddPartView>().footer_height);
}

} // namespace padchart::app
