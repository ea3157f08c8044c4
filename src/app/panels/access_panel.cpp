#include "app/panels/access_panel.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "app/access_desk.hpp"
#include "app/panels/heat_widgets.hpp"
#include "app/panels/panels.hpp"
#include "app/refusal.hpp"
#include "app/refused_field.hpp"
#include "document/edits.hpp"

namespace padchart::app {
namespace {

using analysis::AccessNeighbour;
using analysis::AccessQuery;
using analysis::AccessReport;
using analysis::AccessTool;
using analysis::Passage;
using analysis::ToolKind;
using document::Footprint;

constexpr std::size_t kMostRows = 8;
constexpr std::size_t kMostHeights = 4;

const Footprint& target_of(const Session& s, const AccessDesk& desk) {
    return s.editor.shown().parts[*document::find_part(s.editor.shown(), desk.query.target)];
}

void no_target(Ui& ui, const Session& s) {
    heading(ui, "From which side?");
    gap(ui, 4);
    if (s.editor.chart().parts.empty())
        return verdict(ui, Tone::Plain, "Nothing is charted yet.", "Survey comes first.");
    verdict(ui, Tone::Plain, "Which part is to be held?",
            "Click it on the board: the rose shows from where the tool comes to it.");
}

Tone tone_of(const AccessReport& report) {
    if (report.is_good()) return Tone::Fine;
    return report.best() != nullptr && report.best()->sector.works ? Tone::Unknown : Tone::Danger;
}

/// "Come from the south, 260 to 280 degrees: 0.4 mm free beside C12." as a headline and its reason.
void say_verdict(const Ui& ui, const AccessReport& report) {
    const std::string& text = report.sentences.front();
    const std::size_t colon = text.find(": ");
    std::string reason = colon == std::string::npos ? "" : text.substr(colon + 2);
    if (!reason.empty()) reason[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(reason[0])));
    verdict(ui, tone_of(report), text.substr(0, colon), reason);
}

/// Bearings are the picture's; the hand and the turn are the bench's.
void frames(Ui& ui, const AccessDesk& desk) {
    if (desk.report() != nullptr && !desk.report()->turn_sentence.empty()) wrapped(ui, desk.report()->turn_sentence);
    muted(ui, "Winds and degrees are the picture's: 0 is east, to the right, 90 is north, up.");
    const std::string lies = analysis::turn_in_words(desk.query.board_turn_deg);
    if (!lies.empty()) muted(ui, "On the bench the board lies turned by " + lies + "; the picture stays as charted.");
}

void answer(Ui& ui, const AccessDesk& desk) {
    if (const AccessReport* report = desk.report()) return say_verdict(ui, *report);
    if (desk.is_working()) return verdict(ui, Tone::Plain, "Working it out ...", "On a large chart it takes a moment.");
    if (desk.answer()) verdict(ui, Tone::Danger, "No answer.", desk.answer()->error().message + ".");
}

// Tool
// -----------------------------------------------------------------------------------------------------------------

/// Every name whole beside its label; in a narrow panel the choice stands below it.
bool fits_beside(const Ui& ui, const std::vector<std::string>& words) {
    float longest = 0.0F;
    for (const std::string& word : words)
        longest = std::max(longest, ImGui::CalcTextSize(word.c_str()).x);
    return longest < ImGui::GetContentRegionAvail().x - ui.px(138 + 36 + 8);
}

void choose_tool(Ui& ui, Session& s, const AccessDesk& desk) {
    std::vector<std::string> words;
    std::size_t chosen = 0;
    for (const AccessTool& tool : analysis::access_tools()) {
        if (tool.key == desk.query.tool.key) chosen = words.size();
        words.push_back(tool.name);
    }
    const auto take = [&s](std::size_t i) {
        change_access(s, [i](AccessQuery& query) { query.tool = analysis::access_tools()[i]; });
    };
    if (fits_beside(ui, words)) return choice_field(ui, "Tool", words, chosen, take);
    ImGui::TextUnformatted("Tool");
    ImGui::SetNextItemWidth(-1);
    if (!ImGui::BeginCombo("##Tool below", words[chosen].c_str())) return;
    for (std::size_t i = 0; i < words.size(); ++i)
        if (ImGui::Selectable(words[i].c_str(), i == chosen)) take(i);
    ImGui::EndCombo();
}

void choose_pad(Ui& ui, Session& s, AccessDesk& desk) {
    if (desk.query.tool.kind != ToolKind::Iron) return;
    std::vector<std::string> words;
    std::size_t chosen = 0;
    const Footprint& part = target_of(s, desk);
    for (std::size_t i = 0; i < part.pads.size(); ++i) {
        words.push_back(part.pads[i].number.empty() ? fmt::format("#{}", i + 1) : part.pads[i].number);
        if (words.back() == desk.pad) chosen = i;
    }
    if (!words.empty()) choice_field(ui, "Pad", words, chosen, [&desk, words](std::size_t i) { desk.pad = words[i]; });
}

SliderAnswer change_of(Session& s, const std::function<void(AccessQuery&, double)>& change) {
    return {[&s, change](double value, bool) {
                put_right(s.editor, "It"); // as sliders say it: "It stays 30 °."
                change_access(s, [&](AccessQuery& query) { change(query, value); });
            },
            [] {}, [&s](std::string why) { s.editor.tell(Severity::Warning, std::move(why)); }};
}

void tool_sliders(Ui& ui, Session& s, const AccessDesk& desk) {
    const AccessQuery& query = desk.query;
    const bool grips = query.tool.kind == ToolKind::Tweezers;
    slider_field(ui, "Above the board", query.tool.rise_deg, {10, 90, 1, 0, "°"},
                 change_of(s, [](AccessQuery& q, double v) { q.tool.rise_deg = v; }));
    slider_field(ui, grips ? "Tip width" : "Width of the end", query.tool.tip_width_mm, {0.05, 5, 0.05, 2, "mm"},
                 change_of(s, [](AccessQuery& q, double v) { q.tool.tip_width_mm = v; }));
    if (!grips) return;
    slider_field(ui, "Tip thickness", query.tool.tip_thickness_mm, {0.05, 1, 0.05, 2, "mm"},
                 change_of(s, [](AccessQuery& q, double v) { q.tool.tip_thickness_mm = v; }));
    const AccessReport* report = desk.report();
    const double usual = report != nullptr ? std::round(analysis::usual_opening_mm(*report, query) * 20) / 20 : 1.0;
    optional_slider_field(ui, "Fixed opening", query.opening_mm, {0.1, 8, 0.05, 2, "mm"},
                          change_of(s, [](AccessQuery& q, double v) { q.opening_mm = v; }), [&s, usual](bool on) {
                              change_access(
                                  s, [&](AccessQuery& q) { q.opening_mm = on ? std::optional(usual) : std::nullopt; });
                          });
}

void setup(Ui& ui, Session& s, AccessDesk& desk) {
    const AccessQuery& query = desk.query;
    const std::string summary = fmt::format("{:.2f} mm room", query.play_mm);
    if (!section(ui, "Room, slip and hand", summary, desk.shows_setup)) return;
    slider_field(ui, "Least room", query.play_mm, {0, 1, 0.05, 2, "mm"},
                 change_of(s, [](AccessQuery& q, double v) { q.play_mm = v; }));
    slider_field(ui, "A slip goes", query.slip_mm, {0, 10, 0.5, 1, "mm"},
                 change_of(s, [](AccessQuery& q, double v) { q.slip_mm = v; }));
    slider_field(ui, "Widens a side by", query.tool.flare_deg, {0, 30, 1, 0, "°"},
                 change_of(s, [](AccessQuery& q, double v) { q.tool.flare_deg = v; }));
    muted(ui, "On the bench:");
    slider_field(ui, "Your hand comes from", query.hand_deg, {0, 360, 5, 0, "°"},
                 change_of(s, [](AccessQuery& q, double v) { q.hand_deg = v; }));
    slider_field(ui, "The board lies turned by", query.board_turn_deg, {0, 360, 5, 0, "°"},
                 change_of(s, [](AccessQuery& q, double v) { q.board_turn_deg = v; }));
}

// Answer
// ---------------------------------------------------------------------------------------------------------------

void sentences(Ui& ui, const AccessReport& report, AccessDesk& desk) {
    if (report.sentences.size() < 2) return;
    if (!section(ui, "How, and what to mind", "", desk.shows_ways)) return;
    for (std::size_t i = 1; i < report.sentences.size(); ++i) {
        if (report.sentences[i] == report.turn_sentence) continue; // stands above
        wrapped(ui, report.sentences[i]);
        gap(ui, 1);
    }
}

std::string standing_words(const AccessNeighbour& near) {
    if (!near.height_mm) return "height not measured";
    if (near.least_gap_mm < 0.0) return fmt::format("{:.2f} mm in the way", std::ceil(-near.least_gap_mm * 100) / 100);
    return fmt::format("leaves {:.2f} mm", std::floor(near.least_gap_mm * 100) / 100);
}

void in_the_way(Ui& ui, const AccessReport& report, AccessDesk& desk) {
    std::vector<const AccessNeighbour*> standing;
    for (const AccessNeighbour& near : report.neighbours)
        if (!near.takes.empty()) standing.push_back(&near);
    const std::string summary = standing.empty() ? "nobody" : fmt::format("{}", standing.size());
    if (!section(ui, "Stand in the way", summary, desk.shows_neighbours)) return;
    std::stable_sort(standing.begin(), standing.end(), [](const AccessNeighbour* a, const AccessNeighbour* b) {
        return a->least_gap_mm < b->least_gap_mm;
    });
    for (std::size_t i = 0; i < std::min(standing.size(), kMostRows); ++i) {
        const AccessNeighbour& near = *standing[i];
        const std::string name =
            near.height_mm ? fmt::format("{}, {:g} mm tall", near.name, *near.height_mm) : near.name;
        fact(ui, name.c_str(), standing_words(near));
    }
    if (standing.size() > kMostRows) muted(ui, fmt::format("and {} more", standing.size() - kMostRows));
}

void set_height(Session& s, const document::Id& id, double height_mm) {
    s.editor.commit(
        document::change_part(s.editor.chart(), id, [&](Footprint& part) { part.body->height_mm = height_mm; }),
        "Measure the height of " + name_of(s.editor.chart(), std::span(&id, 1)));
}

/// What is not measured can be typed in at once.
void heights(Ui& ui, Session& s, const AccessReport& report) {
    std::size_t shown = 0;
    for (const AccessNeighbour& near : report.neighbours) {
        const auto at = document::find_part(s.editor.chart(), near.source);
        const bool can_ask = !near.height_mm && !near.takes.empty() && at && s.editor.chart().parts[*at].body;
        if (!can_ask || shown == kMostHeights) continue;
        if (shown++ == 0) title(ui, "How tall are they?");
        const std::string label = near.name + "##height " + near.source.text;
        number_field(
            ui, label.c_str(), std::nullopt, "mm",
            [&s, id = near.source](std::optional<double> value) {
                if (!value) return;
                if (*value >= 0.0) return set_height(s, id, *value);
                keep_pen();
                s.editor.tell(Severity::Warning, "A height is 0 mm or more.");
            },
            [&s](std::string why) { s.editor.tell(Severity::Warning, std::move(why)); });
    }
}

void do_not_touch(Ui& ui, const AccessReport& report) {
    if (report.do_not_touch.empty()) return;
    gap(ui, 3);
    title(ui, "Do not touch");
    for (const std::size_t i : report.do_not_touch) {
        const AccessNeighbour& near = report.neighbours[i];
        const char* why = near.is_molten && near.is_small ? "joints may melt, small"
                          : near.is_molten                ? "joints may melt"
                                                          : "small";
        const ImVec2 line = ImGui::GetCursorPos();
        dot(ui, near.is_molten ? Tone::Danger : Tone::Unknown, near.is_molten);
        ImGui::SetCursorPos({line.x + ui.px(18), line.y});
        fact(ui, near.name.c_str(), fmt::format("{}, {:.1f} mm away", why, near.gap.mm));
    }
}

void about_heat(Ui& ui, Session& s, const AccessDesk& desk) {
    if (desk.query.knows_molten) return;
    if (desk.is_asking_heat()) return muted(ui, "Asking the heat plan who floats ...");
    muted(ui, "No heat plan for this part: which neighbours' joints melt is not known.");
    if (button(ui, "Plan the heat", ButtonKind::Outlined, -1, true, ui.px(30))) s.show_stage(scene::Stage::Heat);
}

/// The part is on the other side, or too small to see what stands round it.
void detours(Ui& ui, Session& s, const std::string& waits) {
    if (!waits.empty() && button(ui, "Look at the part's side", ButtonKind::Outlined, -1, true, ui.px(30)))
        s.flip_side();
    if (is_far_off(s) && button(ui, "Look at it from near by", ButtonKind::Outlined, -1, true, ui.px(30))) look_near(s);
}

} // namespace

void access_panel(Ui& ui, Session& s) {
    update_access(s);
    AccessDesk& desk = s.desks.get<AccessDesk>();
    if (!desk.has_target()) return no_target(ui, s);
    // A slider may replace the answer; it must live until the end of the panel.
    const std::shared_ptr<const Result<AccessReport>> kept = desk.answer();
    const AccessReport* report = kept && *kept ? &**kept : nullptr;
    const Footprint& part = target_of(s, desk);
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {ui.px(10), ui.px(5)});
    heading(ui, "Access to " + (part.name.empty() ? std::string("the part") : part.name));
    muted(ui, desk.query.tool.name);
    gap(ui, 2);
    if (const std::string why = why_not_to_be_held(part); !why.empty()) wrapped(ui, why);
    // In a mirrored picture every direction would be read the wrong way round.
    const std::string waits = why_directions_wait(s, part);
    if (waits.empty()) {
        answer(ui, desk);
        frames(ui, desk);
    } else
        verdict(ui, Tone::Unknown, "The other side is shown.", waits);
    detours(ui, s, waits);
    gap(ui, 1);
    choose_tool(ui, s, desk);
    choose_pad(ui, s, desk);
    gap(ui, 2);
    tool_sliders(ui, s, desk);
    setup(ui, s, desk);
    rule(ui);
    if (report != nullptr) {
        if (waits.empty()) sentences(ui, *report, desk);
        in_the_way(ui, *report, desk);
        heights(ui, s, *report);
        do_not_touch(ui, *report);
        about_heat(ui, s, desk);
    }
    ImGui::PopStyleVar();
}

} // namespace padchart::app
