// Two hands, one chart: what each says, both drawn, and which is right.

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "app/actions.hpp"
#include "app/conflict_desk.hpp"
#include "app/panels/body.hpp"
#include "app/panels/side_by_side.hpp"
#include "app/room.hpp"
#include "app/widgets.hpp"
#include "scene/words.hpp"

namespace padchart::app {
namespace {

using document::Conflict;
using json::ConflictKind;

/// "C7 at the ..." of each field that differs: one line a field, as many as fit.
std::vector<std::string> values(const document::Chart& chart, const OpenConflict& open, std::string Conflict::*side) {
    constexpr std::size_t kMost = 4;
    std::vector<std::string> lines;
    for (const std::size_t i : open.fields) {
        const Conflict& conflict = chart.conflicts[i];
        if (lines.size() == kMost) break;
        std::string name = open.fields.size() == 1 ? "" : conflict.field.substr(conflict.field.rfind('/') + 1) + ": ";
        lines.push_back(name + json::value_in_words(conflict.*side));
    }
    return lines;
}

/// In the body of a low window, down to its lower edge: a drawing is of no use cut in half.
float room_left(const Ui& ui) {
    const float room = ImGui::GetWindowHeight() - ImGui::GetCursorPosY() - ui.px(2);
    return std::clamp(room, ui.px(72), ui.px(190));
}

void drawings(Ui& ui, const document::Chart& chart, const OpenConflict& open) {
    Pane ours{open.part[0] ? &*open.part[0] : nullptr, open.ours_label, values(chart, open, &Conflict::ours)};
    Pane theirs{open.part[1] ? &*open.part[1] : nullptr, open.theirs_label, values(chart, open, &Conflict::theirs)};
    const bool has_part = open.part[0] || open.part[1];
    if (has_part && is_low(ui)) return drawn_side_by_side(ui, ours, theirs, room_left(ui));
    if (has_part) return side_by_side(ui, ours, theirs);
    for (const Pane* pane : {&ours, &theirs}) {
        fact(ui, (pane->title + " says").c_str(), "");
        for (const std::string& line : pane->lines)
            wrapped(ui, line);
    }
}

std::string explained(const OpenConflict& open) {
    switch (open.kind) {
    case ConflictKind::Field:
        return open.fields.size() > 1 ? "These fields make one statement and are settled together."
                                      : "Both changed it, each to something else.";
    case ConflictKind::Deleted: return "One took it off, the other changed it or still speaks of it. It is still here.";
    case ConflictKind::Twins: return "Both added something under one name for machines. Both are on the chart.";
    }
    return {};
}

struct Words {
    std::string ours, theirs, as_it_is;
};

Words words_of(const document::Chart& chart, const OpenConflict& open) {
    const Conflict& conflict = chart.conflicts[open.position];
    if (open.kind == ConflictKind::Field)
        return {"As " + open.ours_label + " says", "As " + open.theirs_label + " says", "Keep what is here now"};
    if (open.kind == ConflictKind::Twins)
        return {"Only that of " + open.ours_label, "Only that of " + open.theirs_label, "Keep both"};
    return {conflict.ours.empty() ? "Off, as " + open.ours_label + " says" : "Keep it, as " + open.ours_label + " says",
            conflict.theirs.empty() ? "Off, as " + open.theirs_label + " says"
                                    : "Keep it, as " + open.theirs_label + " says",
            ""};
}

struct Choice {
    const char* action;
    std::string label;
    ButtonKind kind;
};

std::string with_keys(const Choice& one) {
    const Action& found = *find_action(one.action);
    return one.label + (found.keys.empty() ? "" : " (" + to_text(found.keys.front()) + ")");
}

void choice(Ui& ui, Session& s, const Choice& one, float width) {
    const Action& found = *find_action(one.action);
    ImGui::PushID(one.action); // two hands may bear one name
    const float tall = is_low(ui) ? ui.px(30) : 0.0F;
    if (button(ui, with_keys(one).c_str(), one.kind, width, found.enabled(s), tall)) run(found, s);
    ImGui::PopID();
}

/// One below the other; in a low window two in a line where their words have room there.
void buttons_of(Ui& ui, Session& s, const std::vector<Choice>& all) {
    const float half = share_of_line(2);
    const auto is_short = [&](std::size_t i) {
        ImGui::PushFont(ui.fonts().strong);
        const float words = ImGui::CalcTextSize(with_keys(all[i]).c_str()).x;
        ImGui::PopFont();
        return words + 2 * ui.px(6) <= half;
    };
    for (std::size_t i = 0; i < all.size(); ++i) {
        const bool pair = is_low(ui) && i + 1 < all.size() && is_short(i) && is_short(i + 1);
        choice(ui, s, all[i], pair ? half : -1);
        if (!pair) continue;
        ImGui::SameLine();
        choice(ui, s, all[++i], half);
    }
}

void choices(Ui& ui, Session& s, const OpenConflict& open) {
    const std::shared_ptr<const document::Chart> kept = s.editor.snapshot();
    const document::Chart& chart = *kept;
    const Words words = words_of(chart, open);
    const bool has_base = json::knows_base(chart, chart.conflicts[open.position]);
    const std::string base = has_base ? json::value_in_words(chart.conflicts[open.position].base) : "";
    std::vector<Choice> all{{"settle-ours", words.ours, ButtonKind::Filled},
                            {"settle-theirs", words.theirs, ButtonKind::Filled}};
    if (has_base) all.push_back({"settle-base", "As it was before both: " + base, ButtonKind::Outlined});
    if (!words.as_it_is.empty()) all.push_back({"settle-as-it-is", words.as_it_is, ButtonKind::Outlined});
    buttons_of(ui, s, all);
}

void own_value(Ui& ui, Session& s, const OpenConflict& open) {
    const Conflict& conflict = s.editor.chart().conflicts[open.position];
    const std::string& like = conflict.ours.empty() ? conflict.theirs : conflict.ours;
    const bool typed = like.starts_with('"') || json::as_json_like(like, "1").has_value();
    if (open.kind != ConflictKind::Field || open.fields.size() != 1 || !typed)
        return muted(ui, "Or change it where it belongs, then keep what is here now.");
    text_field(ui, "Or write", "", [&s](const std::string& text) {
        if (!text.empty()) settle_conflict_with(s, text);
    });
}

void list_of(Session& s) {
    const std::shared_ptr<const document::Chart> chart = s.editor.snapshot();
    const std::vector<std::size_t> all = ConflictDesk::open(*chart);
    ConflictDesk& desk = s.desks.get<ConflictDesk>();
    for (std::size_t i = 0; i < all.size(); ++i) {
        const Conflict& conflict = chart->conflicts[all[i]];
        const auto at = document::find_part(*chart, conflict.thing);
        std::string text = at ? chart->parts[*at].name : conflict.thing.is_empty() ? "The chart" : conflict.thing.text;
        text += conflict.field.empty() ? "" : ", " + conflict.field.substr(1);
        ImGui::PushID(static_cast<int>(i));
        if (ImGui::Selectable(fitted(text, ImGui::GetContentRegionAvail().x).c_str(), i == desk.number())) {
            desk.stand_at(i);
            show_conflicts(s);
        }
        ImGui::PopID();
    }
}

void back_button(Ui& ui, Session& s) {
    if (button(ui, "Back", ButtonKind::Plain, share_of_line(3))) s.panel = Panel::Stage;
}

std::string left_in_words(const Session& s) {
    const std::size_t count = ConflictDesk::open(s.editor.chart()).size();
    return count == 1 ? "One thing is left to settle." : fmt::format("{} things are left to settle.", count);
}

/// What each says, before the drawings of a low window.
void sayings(Ui& ui, const document::Chart& chart, const OpenConflict& open) {
    const std::pair<std::string, std::string Conflict::*> hands[] = {{open.ours_label, &Conflict::ours},
                                                                     {open.theirs_label, &Conflict::theirs}};
    for (const auto& [hand, side] : hands)
        for (const std::string& line : values(chart, open, side))
            fact(ui, (hand + " says").c_str(), line);
}

void statement(Ui& ui, Session& s, const OpenConflict& open) {
    title(ui, fmt::format("{} of {}: {}", s.desks.get<ConflictDesk>().number() + 1,
                          ConflictDesk::open(s.editor.chart()).size(), open.what));
    if (is_low(ui)) sayings(ui, s.editor.chart(), open);
    if (!is_low(ui)) muted(ui, explained(open));
    drawings(ui, s.editor.chart(), open);
    if (is_low(ui)) muted(ui, explained(open));
}

void others(Ui& ui, Session& s, const OpenConflict& open) {
    own_value(ui, s, open);
    rule(ui);
    list_of(s);
    gap(ui, 2);
    back_button(ui, s);
}

/// How high the panel's footer is, in a low window.
struct ConflictsView {
    float footer_height = 0;
};

/// The answers stay in sight; what is compared is scrolled.
void low_panel(Ui& ui, Session& s, const OpenConflict& open) {
    begin_body(ui, s.desks.get<ConflictsView>().footer_height);
    statement(ui, s, open);
    const std::size_t before = s.editor.chart().conflicts.size();
    others(ui, s, open);
    begin_footer(ui);
    if (s.editor.chart().conflicts.size() == before) choices(ui, s, open);
    end_footer(ui, s.desks.get<ConflictsView>().footer_height);
}

} // namespace

void conflicts_panel(Ui& ui, Session& s) {
    if (!is_low(ui)) {
        heading(ui, "Two hands, one chart");
        gap(ui, 2);
    }
    // A copy: settling replaces it.
    const std::optional<OpenConflict> open = s.desks.get<ConflictDesk>().current(s.editor.snapshot());
    if (!open) {
        verdict(ui, Tone::Fine, "Nothing is left to settle.", "Save the chart; the merge is done.");
        gap(ui, 4);
        return back_button(ui, s);
    }
    if (is_low(ui)) return low_panel(ui, s, *open);
    verdict(ui, Tone::Unknown, left_in_words(s), "Until then the chart holds what the first of the two says.");
    gap(ui, 2);
    statement(ui, s, *open);
    gap(ui, 2);
    const std::size_t before = s.editor.chart().conflicts.size();
    choices(ui, s, *open);
    if (s.editor.chart().conflicts.size() != before) return; // settled: the next frame shows the next one
    others(ui, s, *open);
}

} // namespace padchart::app
