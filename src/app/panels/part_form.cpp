#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "app/actions.hpp"
#include "app/name_walk.hpp"
#include "app/panels/survey_parts.hpp"
#include "app/refit.hpp"
#include "app/refused_field.hpp"
#include "app/widgets.hpp"
#include "document/edits.hpp"
#include "patterns/family.hpp"
#include "patterns/material.hpp"
#include "patterns/naming.hpp"

namespace padchart::app {
namespace {

using document::Chart;
using document::Footprint;
using document::HeatSensitivity;
using document::Id;

/// Commits an edit of one part. The id is kept by value: when the pen leaves a field, another part may be selected.
class PartEdit {
public:
    PartEdit(Session& session, const Footprint& part) : s_(&session), id_(part.id) {}

    [[nodiscard]] const Id& id() const { return id_; }
    [[nodiscard]] const Chart& chart() const { return s_->editor.chart(); }
    void commit(Result<Chart> edited, std::string_view what) const {
        // The name of now: the field before this one may just have changed it.
        const std::string name = name_of(chart(), std::span(&id_, 1));
        if (!edited) keep_pen();
        s_->editor.commit(std::move(edited), fmt::format("{} of {}", what, name));
    }
    void change(std::string_view what, const std::function<void(Footprint&)>& by) const {
        commit(document::change_part(chart(), id_, by), what);
    }
    void refuse(std::string text) const {
        keep_pen();
        s_->editor.tell(Severity::Warning, std::move(text));
    }

private:
    Session* s_;
    Id id_;
};

/// The keys belong to the words: an empty one to "none".
void family_field(Ui& ui, const PartEdit& edit, const Footprint& part) {
    std::vector<std::string> words{"none: traced or drawn"}, keys{""};
    for (const patterns::Family& family : patterns::families()) {
        words.emplace_back(family.name);
        keys.emplace_back(family.key);
    }
    const auto now = std::find(keys.begin(), keys.end(), part.family);
    if (now == keys.end()) { // of a newer program
        words.push_back(part.family);
        keys.push_back(part.family);
    }
    const auto chosen = static_cast<std::size_t>(std::find(keys.begin(), keys.end(), part.family) - keys.begin());
    choice_field(ui, "Family", words, chosen, [edit, keys, chosen](std::size_t i) {
        if (i != chosen) edit.commit(with_family(edit.chart(), edit.id(), keys[i]), "Family");
    });
}

void name_field(Ui& ui, Session& s, const PartEdit& edit, const Footprint& part) {
    NameWalk& walk = s.desks.get<NameWalk>();
    if (std::exchange(walk.wants_focus, false)) {
        ImGui::SetKeyboardFocusHere();
        ui.await_focus();
    }
    text_field(ui, "Name", part.name, [edit](const std::string& text) {
        edit.commit(document::rename_part(edit.chart(), edit.id(), text), "Name");
    });
    if (ImGui::IsItemDeactivated() && !has_kept_pen())
        name_left(s, ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Enter)));
}

/// What cannot be right stands below the field it was typed into.
void findings_below(const Ui& ui, const Footprint& part, bool is_value) {
    for (const Diagnostic& finding : patterns::naming_findings(part))
        if ((finding.code == "value-not-read") == is_value) verdict(ui, Tone::Unknown, finding.message, "");
}

void identity_fields(Ui& ui, Session& s, const PartEdit& edit, const Footprint& part) {
    name_field(ui, s, edit, part);
    findings_below(ui, part, false);
    text_field(ui, "What it does", part.role,
               [edit](const std::string& text) { edit.change("What it does", [&](Footprint& p) { p.role = text; }); });
    word_field<document::PartClass>(ui, "What it is", part.part_class, [edit](document::PartClass value) {
        edit.change("Class", [&](Footprint& p) { p.part_class = value; });
    });
    text_field(ui, "Value", part.value, [edit](const std::string& text) {
        edit.commit(document::set_value(edit.chart(), edit.id(), text), "Value");
    });
    if (!part.value.empty() && patterns::has_value_code(part.part_class))
        if (const auto value = patterns::read_value(part.value, part.part_class))
            fact(ui, "Reads as", patterns::in_words(*value));
    findings_below(ui, part, true);
    const auto count = static_cast<double>(document::pad_count(part));
    number_field(
        ui, "Pads", count, "",
        [edit, drawn = static_cast<double>(part.pads.size())](std::optional<double> value) {
            const double wanted = value.value_or(drawn);
            if (wanted < 0 || wanted > 10000 || wanted != std::floor(wanted))
                return edit.refuse("A part has a whole number of pads, at most 10,000.");
            edit.commit(with_pad_count(edit.chart(), edit.id(), static_cast<int>(wanted)), "Pad count");
        },
        [edit](std::string text) { edit.refuse(std::move(text)); });
    if (part.stated_pad_count) muted(ui, fmt::format("{} of them are drawn.", part.pads.size()));
    family_field(ui, edit, part);
}

/// A micrometre is finer than anything that was traced. The field hands over what is typed alone, so that the place
/// itself is not rounded.
double as_shown(double mm) {
    return std::round(mm * 1000.0) / 1000.0;
}

/// What is typed for x or y; empty where the place is one.
template <class Set>
std::string why_too_far(const char* label, double typed, document::Placement placement, const Set& set) {
    constexpr double kFarthest_mm = 10'000.0;
    set(placement, typed);
    if (std::abs(placement.at.x) <= kFarthest_mm && std::abs(placement.at.y) <= kFarthest_mm) return {};
    return fmt::format("{} = {:.10g} mm is too far out: a place lies from -10,000 to 10,000 mm.", label, typed);
}

void place_fields(Ui& ui, const PartEdit& edit, const Footprint& part) {
    const auto number = [&](const char* label, double value, const char* unit, auto set) {
        number_field(
            ui, label, value, unit,
            [edit, set, label, at = part.placement](std::optional<double> typed) {
                if (!typed) return edit.refuse("A placed part needs a number here.");
                if (const std::string why = why_too_far(label, *typed, at, set); !why.empty()) return edit.refuse(why);
                document::Placement placement = at;
                set(placement, *typed);
                edit.commit(document::place_part(edit.chart(), edit.id(), placement), label);
            },
            [edit](std::string text) { edit.refuse(std::move(text)); });
    };
    using document::Placement;
    const char* unit = edit.chart().scale ? "mm" : "units";
    if (part.locked) {
        fact(ui, "x, y",
             fmt::format("{:g}, {:g} {}", as_shown(part.placement.at.x), as_shown(part.placement.at.y), unit));
        fact(ui, "Turn", fmt::format("{:g}°", part.placement.turn.degrees()));
        fact(ui, "Side", document::to_text(part.placement.side));
        return muted(ui, "Locked: its place stays until it is unlocked.");
    }
    number("x", as_shown(part.placement.at.x), unit, [](Placement& p, double v) { p.at.x = v; });
    number("y", as_shown(part.placement.at.y), unit, [](Placement& p, double v) { p.at.y = v; });
    number("Turn", part.placement.turn.degrees(), "°", [](Placement& p, double v) { p.turn = Angle::degrees(v); });
    word_field<document::Side>(ui, "Side", part.placement.side, [edit, now = part.placement.side](document::Side side) {
        if (side == now) return;
        edit.commit(document::change_side(edit.chart(), std::array{edit.id()}), "Side");
    });
}

std::string limits_in_words(const Footprint& part) {
    const auto limits = patterns::limits_of(part);
    if (!limits) return "nothing to hurt";
    return fmt::format("worry at {:g} °C, stop at {:g} °C", limits->warn_c, limits->limit_c);
}

void heat_fields(Ui& ui, const PartEdit& edit, const Footprint& part) {
    std::vector<std::string> words{"as its class says"};
    std::size_t chosen = 0;
    for (const patterns::Material& material : patterns::materials()) {
        if (part.heat && part.heat->material == material.key) chosen = words.size();
        words.emplace_back(material.name);
    }
    const HeatSensitivity now = part.heat.value_or(HeatSensitivity{});
    const auto put = [edit](HeatSensitivity heat) {
        const bool says_nothing = heat.material.empty() && !heat.warn_c && !heat.limit_c && heat.note.empty();
        edit.commit(document::set_heat_sensitivity(edit.chart(), edit.id(),
                                                   says_nothing ? std::nullopt : std::optional(std::move(heat))),
                    "Heat limits");
    };
    choice_field(ui, "Material", words, chosen, [put, now](std::size_t i) {
        HeatSensitivity heat = now;
        heat.material = i == 0 ? std::string() : std::string(patterns::materials()[i - 1].key);
        put(heat);
    });
    const auto refuse = [edit](std::string text) { edit.refuse(std::move(text)); };
    number_field(
        ui, "Worry at", now.warn_c, "°C",
        [put, now](std::optional<double> value) {
            HeatSensitivity heat = now;
            heat.warn_c = value;
            put(heat);
        },
        refuse);
    number_field(
        ui, "Stop at", now.limit_c, "°C",
        [put, now](std::optional<double> value) {
            HeatSensitivity heat = now;
            heat.limit_c = value;
            put(heat);
        },
        refuse);
    fact(ui, "Counts as", limits_in_words(part));
}

/// Notes and readings.
void said_of_it(Ui& ui, Session& s, const Footprint& part) {
    title(ui, "Notes and readings");
    note_rows(ui, s, part.id);
    reading_rows(ui, s, part.id);
    const float half = share_of_line(2);
    if (button(ui, "Note on it", ButtonKind::Outlined, half)) begin_note_on_part(s);
    ImGui::SameLine();
    if (button(ui, "Reading at it", ButtonKind::Outlined, half)) begin_reading_at_part(s);
}

} // namespace

void part_form(Ui& ui, Session& s, const Footprint& part) {
    const PartEdit edit(s, part);
    ImGui::PushID(part.id.text.c_str());
    identity_fields(ui, s, edit, part);
    rule(ui);
    state_section(ui, s, part);
    rule(ui);
    pad_section(ui, s, part);
    rule(ui);
    said_of_it(ui, s, part);
    rule(ui);
    refit_section(ui, s, part);
    rule(ui);
    title(ui, "Place");
    place_fields(ui, edit, part);
    rule(ui);
    title(ui, "Heat");
    heat_fields(ui, edit, part);
    rule(ui);
    note_field(ui, "Comment", part.comment,
               [edit](const std::string& text) { edit.change("Comment", [&](Footprint& p) { p.comment = text; }); });
    gap(ui, 2);
    const float half = share_of_line(2);
    if (button(ui, "Keep as family", ButtonKind::Outlined, half)) run(*find_action("keep-pattern"), s);
    ImGui::SameLine();
    if (button(ui, "Save as pattern ...", ButtonKind::Outlined, half)) run(*find_action("save-pattern"), s);
    ImGui::PopID();
}

} // namespace padchart::app
