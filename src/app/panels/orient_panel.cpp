#include <algorithm>

#include <fmt/format.h>

#include "app/actions.hpp"
#include "app/orientation.hpp"
#include "app/panels/panels.hpp"
#include "app/widgets.hpp"
#include "document/edits.hpp"
#include "patterns/labels.hpp"
#include "patterns/marks.hpp"
#include "scene/words.hpp"

namespace padchart::app {
namespace {

using analysis::PartFit;
using document::Footprint;
using document::MarkKind;
using document::Meaning;
using document::RecordState;
using geometry::Vec2;

Tone tone_of(FitTone tone) {
    switch (tone) {
    case FitTone::Open: return Tone::Unknown;
    case FitTone::Recorded: return Tone::Fine;
    case FitTone::OneWay:
    case FitTone::NoDirection: break;
    }
    return Tone::Plain;
}

/// What is under the pen for the part; taken from the chart when another part is selected.
OrientDraft& draft_of(Session& s, const Footprint& part) {
    if (s.orient.part != part.id)
        s.orient = {part.id, part.orientation, part.orientation.state == RecordState::Recorded};
    return s.orient;
}

ImVec2 vec(Vec2 v) {
    return {static_cast<float>(v.x), static_cast<float>(v.y)};
}

void caption(const Ui& ui, const geometry::Box& box, const std::string& text, paint::Colour colour) {
    ImFont* font = ui.fonts().strong;
    const ImVec2 size = font->CalcTextSizeA(font->FontSize, 1e6F, 0, text.c_str());
    const float x = static_cast<float>(box.centre().x) - size.x / 2;
    ImGui::GetWindowDrawList()->AddText(font, font->FontSize, {std::round(x), static_cast<float>(box.max.y) + ui.px(8)},
                                        packed(colour), text.c_str());
}

/// The part as it sits beside the wrong ways it could be put back.
void turn_drawings(const Ui& ui, const Footprint& part, const PartFit& fit) {
    const std::size_t ghosts = std::min<std::size_t>(fit.risky_turns.size(), 3);
    const float width = ImGui::GetContentRegionAvail().x, height = ui.px(188);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->AddRectFilled(at, {at.x + width, at.y + height}, packed(ui.colours().panel), ui.px(8));
    list->AddRect(at, {at.x + width, at.y + height}, packed(ui.colours().rule), ui.px(8));
    const double each = static_cast<double>(width) / static_cast<double>(ghosts + 1),
                 margin = static_cast<double>(ui.px(18));
    for (std::size_t i = 0; i <= ghosts; ++i) {
        const double left = static_cast<double>(at.x) + each * static_cast<double>(i);
        const geometry::Box box{{left + margin, static_cast<double>(at.y) + margin},
                                {left + each - margin, static_cast<double>(at.y + height - ui.px(44))}};
        Drawing how;
        how.ghost = i > 0;
        if (i > 0) how.turn = Angle::degrees(fit.risky_turns[i - 1]);
        draw_part(ui, part, box, how);
        const std::string words = i == 0        ? "as it sits"
                                  : ghosts == 1 ? fmt::format("turned {:g}, seats too", fit.risky_turns[i - 1])
                                                : fmt::format("turned {:g}", fit.risky_turns[i - 1]);
        caption(ui, box, words, i == 0 ? ui.colours().ink : ui.colours().unknown_text);
    }
    ImGui::Dummy({width, height});
}

template <class Enum>
void word_choice(Ui& ui, const char* label, std::span<const Enum> values, Enum now,
                 const std::function<void(Enum)>& set) {
    std::vector<std::string> words;
    std::size_t chosen = values.size();
    for (const Enum value : values) {
        if (value == now) chosen = words.size();
        words.emplace_back(patterns::label_of(value));
    }
    if (chosen == values.size()) { // an older record may hold what the list does not offer
        words.emplace_back(patterns::label_of(now));
    }
    choice_field(ui, label, words, chosen, [values, set](std::size_t i) {
        if (i < values.size()) set(values[i]);
    });
}

std::vector<MarkKind> all_marks() {
    std::vector<MarkKind> marks;
    for (const auto& word : document::words<MarkKind>())
        marks.push_back(word.value);
    return marks;
}

std::vector<document::EvidenceKind> all_evidence() {
    std::vector<document::EvidenceKind> kinds;
    for (const auto& word : document::words<document::EvidenceKind>())
        kinds.push_back(word.value);
    return kinds;
}

void mark_fields(Ui& ui, Session& s, const Footprint& part, const PartFit& fit) {
    static const std::vector<MarkKind> kMarks = all_marks();
    static const std::vector<document::EvidenceKind> kEvidence = all_evidence();
    document::Orientation& o = draft_of(s, part).orientation;
    word_choice<MarkKind>(ui, "Mark", kMarks, o.mark, [&](MarkKind mark) {
        o.mark = mark;
        // A form may begin with what the trade agrees on; where marks mislead it begins with "unknown".
        o.meaning = patterns::suggested_meaning(part.part_class, mark);
    });
    word_choice<Meaning>(ui, "What it means here", patterns::possible_meanings(part.part_class), o.meaning,
                         [&](Meaning meaning) { o.meaning = meaning; });
    if (const auto usual = patterns::usual_meaning(part.part_class, o.mark); usual && !usual->remark.empty())
        muted(ui, usual->remark);
    word_choice<document::EvidenceKind>(ui, "Evidence", kEvidence, o.evidence.kind,
                                        [&](document::EvidenceKind kind) { o.evidence.kind = kind; });
    const document::Id id = part.id;
    const auto set_text = [&s, id](std::string document::Evidence::*field) {
        return [&s, id, field](const std::string& text) {
            if (s.orient.part == id) s.orient.orientation.evidence.*field = text;
        };
    };
    text_field(ui, "Where seen", o.evidence.note, set_text(&document::Evidence::note), "photo 2, upper left");
    text_field(ui, "Who says so", o.evidence.by, set_text(&document::Evidence::by));
    fact(ui, "If fitted wrong", patterns::consequence_text(static_cast<int>(fit.consequence)));
}

/// The eight places; a click between them sets the bearing as it is.
void place_picker(Ui& ui, Session& s, const Footprint& part) {
    OrientDraft& draft = draft_of(s, part);
    const std::vector<MarkPlace> places = mark_places(part);
    if (places.empty()) return muted(ui, "Draw its pads or body first.");
    const float r = ui.px(13);
    const Vec2 size = turned_size(part);
    const double room_x = static_cast<double>(ui.px(144)), room_y = static_cast<double>(ui.px(108));
    const double k = std::min(room_x / std::max(size.x, 1e-6), room_y / std::max(size.y, 1e-6));
    // A long thin part still needs room for three places on its short side.
    const double least = static_cast<double>(ui.px(72));
    const Vec2 half{std::max(size.x * k, least) / 2, std::max(size.y * k, least) / 2};
    const float width = ImGui::GetContentRegionAvail().x;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float height = static_cast<float>(2 * half.y) + 2 * r + ui.px(10);
    const Vec2 centre{static_cast<double>(std::round(at.x + width / 2)),
                      static_cast<double>(std::round(at.y + height / 2))};
    const paint::Palette& c = ui.colours();
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->AddRectFilled(vec(centre - half), vec(centre + half), packed(c.body), ui.px(6));
    list->AddRect(vec(centre - half), vec(centre + half), packed(c.ink), ui.px(6), 0, ui.px(1.6));
    ImFont* font = ui.fonts().title;
    const ImVec2 text = font->CalcTextSizeA(font->FontSize, 1e6F, 0, part.name.c_str());
    list->AddText(
        font, font->FontSize,
        {std::round(static_cast<float>(centre.x) - text.x / 2), std::round(static_cast<float>(centre.y) - text.y / 2)},
        packed(c.ink), part.name.c_str());
    const auto chosen = draft.has_place ? nearest_place(places, draft.orientation.bearing) : std::nullopt;
    for (std::size_t i = 0; i < places.size(); ++i) {
        const Vec2 spot = centre + Vec2{places[i].x * half.x, places[i].y * half.y};
        ImGui::PushID(static_cast<int>(i));
        ImGui::SetCursorScreenPos({vec(spot).x - r, vec(spot).y - r});
        if (ImGui::InvisibleButton("##place", {2 * r, 2 * r})) {
            draft.orientation.bearing = places[i].bearing;
            draft.has_place = true;
        }
        const bool hovered = ImGui::IsItemHovered() || ImGui::IsItemFocused();
        ImGui::PopID();
        list->AddCircleFilled(vec(spot), r,
                              packed(hovered ? paint::over(with_alpha(c.selection, 40), c.panel) : c.panel));
        list->AddCircle(vec(spot), r, packed(c.ink), 0, ui.px(1.4));
        if (chosen == i) list->AddCircleFilled(vec(spot), r - ui.px(5), packed(c.selection));
    }
    ImGui::SetCursorScreenPos(at);
    ImGui::Dummy({width, height});
}

void record(Session& s, const Footprint& part, RecordState state) {
    document::Orientation o = s.orient.orientation;
    o.state = state;
    if (state == RecordState::NoMark) {
        o.mark = MarkKind::Unknown;
        o.meaning = Meaning::Unknown;
        o.bearing = Angle();
    }
    const std::string label =
        (state == RecordState::Recorded ? "Record the mark of " : "Record that no mark is on ") + part.name;
    if (!s.editor.commit(document::set_orientation(s.editor.chart(), part.id, o), label)) return;
    s.orient = {};
    s.background.update(s.editor.snapshot());
    if (s.computed() == nullptr) return;
    if (const auto next = next_unrecorded(s.computed()->fit, part.id)) s.go_to(*next);
}

void record_buttons(Ui& ui, Session& s, const Footprint& part) {
    const OrientDraft& draft = draft_of(s, part);
    const float half = share_of_line(2);
    if (button(ui, "No mark to be seen", ButtonKind::Outlined, half)) record(s, part, RecordState::NoMark);
    ImGui::SameLine();
    if (button(ui, "Record, next part", ButtonKind::Filled, half, draft.has_place))
        record(s, part, RecordState::Recorded);
    if (!draft.has_place) muted(ui, "Choose the place of the mark first.");
}

void conflicts(Ui& ui, const Session& s, const Footprint& part) {
    Footprint as_drafted = part;
    as_drafted.orientation = s.orient.orientation;
    as_drafted.orientation.state = RecordState::Recorded;
    if (!s.orient.has_place) return;
    for (const Diagnostic& finding : patterns::orientation_conflicts(as_drafted))
        verdict(ui, Tone::Danger, finding.message, "");
}

void progress_list(Ui& ui, Session& s) {
    if (s.computed() == nullptr) return muted(ui, "Working out which parts could go back wrong ...");
    const analysis::FitReport& report = s.computed()->fit;
    const std::vector<document::Id> list = record_list(report);
    std::size_t recorded = 0;
    for (const PartFit& fit : report.parts)
        if (fit.needs_record && fit.has_record) ++recorded;
    title(ui, list.empty() ? "No part can go back wrong" : fmt::format("{} of {} recorded", recorded, list.size()));
    if (list.empty()) return;
    progress(ui, static_cast<double>(recorded) / static_cast<double>(list.size()));
    gap(ui, 2);
    for (const document::Id& id : list) {
        const auto at = document::find_part(s.editor.chart(), id);
        const PartFit* fit = s.fit_of(id);
        if (!at || fit == nullptr) continue;
        const Footprint& part = s.editor.chart().parts[*at];
        ImGui::PushID(id.text.c_str());
        const ImVec2 pen = ImGui::GetCursorPos();
        const bool clicked = ImGui::Selectable("##part", s.editor.is_selected(id), 0, {0, ui.px(20)});
        const ImVec2 after = ImGui::GetCursorPos();
        ImGui::SetCursorPos(pen);
        dot(ui, fit->has_record ? Tone::Fine : Tone::Unknown, fit->has_record);
        ImGui::SameLine(ui.px(48));
        ImGui::PushFont(ui.fonts().strong);
        ImGui::TextUnformatted(part.name.c_str());
        ImGui::PopFont();
        ImGui::SameLine(ui.px(98));
        ImGui::TextColored(floats(ui.colours().muted), "%s", list_remark(part, *fit).c_str());
        ImGui::SetCursorPos(after);
        ImGui::PopID();
        if (clicked) s.go_to(id);
    }
}

void one_part(Ui& ui, Session& s, const Footprint& part, const PartFit& fit) {
    draft_of(s, part);
    heading(ui, part.name + "   " + short_description(part));
    gap(ui, 4);
    const FitVerdict says = verdict_of(part, fit);
    verdict(ui, tone_of(says.tone), says.sentence, says.reason);
    gap(ui, 4);
    Footprint as_drafted = part;
    as_drafted.orientation = s.orient.orientation;
    as_drafted.orientation.state = s.orient.has_place ? RecordState::Recorded : RecordState::NotRecorded;
    turn_drawings(ui, as_drafted, fit);
    gap(ui, 2);
    mark_fields(ui, s, part, fit);
    rule(ui);
    title(ui, "Where is the mark on this board?");
    place_picker(ui, s, part);
    conflicts(ui, s, part);
    record_buttons(ui, s, part);
    const float half = share_of_line(2);
    if (button(ui, "Take from donor ...", ButtonKind::Outlined, half)) run(*find_action("donor"), s);
    ImGui::SameLine();
    if (button(ui, "Write card ...", ButtonKind::Outlined, half)) run(*find_action("write-card"), s);
    rule(ui);
    progress_list(ui, s);
}

void overview(Ui& ui, Session& s) {
    heading(ui, "What could go back wrong?");
    gap(ui, 4);
    std::optional<document::Id> next;
    if (s.computed() != nullptr) next = next_unrecorded(s.computed()->fit, {});
    if (s.editor.chart().parts.empty())
        verdict(ui, Tone::Plain, "Nothing is charted yet.", "Survey comes first.");
    else if (next)
        verdict(ui, Tone::Unknown, "Some parts fit more than one way.",
                "Write down each mark before the heat goes on.");
    else if (s.computed() != nullptr)
        verdict(ui, Tone::Fine, "Nothing is left to record.", "Every part that could go back wrong has its answer.");
    gap(ui, 4);
    if (next && button(ui, "Begin with the first", ButtonKind::Filled, -1)) s.go_to(*next);
    rule(ui);
    progress_list(ui, s);
}

} // namespace

void orient_panel(Ui& ui, Session& s) {
    const Footprint* selected = s.editor.selected_part();
    const PartFit* fit = selected != nullptr ? s.fit_of(selected->id) : nullptr;
    if (selected == nullptr || fit == nullptr) return overview(ui, s);
    // Recording in the middle of the panel replaces chart and reports.
    const Footprint part = *selected;
    const PartFit of_part = *fit;
    one_part(ui, s, part, of_part);
}

} // namespace padchart::app
