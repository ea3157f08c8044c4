#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "app/actions.hpp"
#include "app/bar_plan.hpp"
#include "app/chrome.hpp"
#include "app/drafts.hpp"
#include "app/tip.hpp"
#include "app/widgets.hpp"

namespace padchart::app {
namespace {

constexpr ImGuiWindowFlags kFixed = ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                                    ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoNav |
                                    ImGuiWindowFlags_NoBringToFrontOnFocus;

ImVec2 vec(geometry::Vec2 v) {
    return {static_cast<float>(v.x), static_cast<float>(v.y)};
}

void begin_fixed(const char* name, const geometry::Box& box, paint::Colour ground) {
    ImGui::SetNextWindowPos(vec(box.min));
    ImGui::SetNextWindowSize({static_cast<float>(box.width()), static_cast<float>(box.height())});
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {0, 0});
    ImGui::PushStyleVar(ImGuiStyleVar_WindowMinSize, {1, 1});
    ImGui::PushStyleColor(ImGuiCol_WindowBg, packed(ground));
    ImGui::Begin(name, nullptr, kFixed);
}

void end_fixed() {
    ImGui::End();
    ImGui::PopStyleColor();
    ImGui::PopStyleVar(2);
}

std::string title_of(const Session& s) {
    const document::Title& t = s.editor.chart().title;
    if (t.board.empty() && t.title.empty())
        return s.editor.path().empty() ? "New chart" : s.editor.path().stem().stem().string();
    return t.board.empty() || t.title.empty() ? t.board + t.title : t.board + " · " + t.title;
}

/// Side and "saved" must always be seen; they come first.
constexpr std::size_t kAlwaysSeen = 2;

std::vector<std::string> state_of(const Session& s) {
    std::vector<std::string> words{s.seen_from == document::Side::Top ? "top side" : "bottom side"};
    const std::vector<Draft> drafts = drafts_in_hand(s);
    if (!s.editor.is_saved()) words.emplace_back("not saved");
    if (s.editor.is_saved() && !drafts.empty()) words.push_back(drafts.front().state);
    if (is_all_kept(s) && !s.editor.path().empty()) words.emplace_back("saved");
    const std::string& revision = s.editor.chart().title.chart_revision;
    if (!revision.empty()) words.push_back("rev " + revision);
    return words;
}

std::string state_that_must_be_seen(const Session& s) {
    std::vector<std::string> words = state_of(s);
    words.resize(std::min(words.size(), kAlwaysSeen));
    return joined_within(words, 1e6F);
}

void titles(const Ui& ui, const Session& s, const BarPlan& plan) {
    const float left = ui.px(24), high = ImGui::GetWindowHeight();
    ImGui::PushFont(ui.fonts().heading);
    const std::string name = fitted(title_of(s), plan.words);
    const ImVec2 size = ImGui::CalcTextSize(name.c_str());
    const float below = ImGui::GetTextLineHeight();
    const float top = plan.is_stacked ? (high - size.y - ui.fonts().regular->FontSize) / 2 : (high - size.y) / 2;
    ImGui::SetCursorPos({left, std::round(top)});
    ImGui::TextUnformatted(name.c_str());
    ImGui::PopFont();
    const ImVec2 at = plan.is_stacked ? ImVec2{left, std::round(top + below)}
                                      : ImVec2{left + size.x + ui.px(18), (high - ImGui::GetFontSize()) / 2 + ui.px(1)};
    const std::string state = joined_within(state_of(s), left + plan.words - at.x);
    ImGui::SetCursorPos(at);
    ImGui::PushStyleColor(ImGuiCol_Text, packed(ui.colours().muted));
    ImGui::TextUnformatted(state.c_str());
    ImGui::PopStyleColor();
}

struct BarButton {
    std::string_view id;
    int worth; ///< the least goes first where room is short; 0 stays
};

// From the right; what finds no room is still in the list of actions.
constexpr std::array<BarButton, 7> kButtons{
    {{"actions", 0}, {"save", 6}, {"undo", 3}, {"measure", 2}, {"photos", 1}, {"flip-side", 5}, {"add-part", 4}}};

std::string label_of(const Action& action) {
    return std::string(action.id == "actions" ? "Actions" : action.label);
}

std::vector<std::size_t> drop_order() {
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < kButtons.size(); ++i)
        if (kButtons[i].worth > 0) order.push_back(i);
    std::sort(order.begin(), order.end(),
              [](std::size_t a, std::size_t b) { return kButtons[a].worth < kButtons[b].worth; });
    return order;
}

BarPlan plan_of(const Ui& ui, const Session& s, float full) {
    BarNeeds needs;
    needs.room = full - ui.px(24) - ui.px(16);
    needs.gap = ui.px(8);
    needs.least_gap = ui.px(4);
    needs.spare = ui.px(8);
    needs.apart = ui.px(18);
    needs.least_title = ui.px(90);
    needs.usual_button = ui.px(86);
    needs.drop_order = drop_order();
    needs.state = ImGui::CalcTextSize(state_that_must_be_seen(s).c_str()).x;
    ImGui::PushFont(ui.fonts().heading);
    needs.title = ImGui::CalcTextSize(title_of(s).c_str()).x;
    ImGui::PopFont();
    ImGui::PushFont(ui.fonts().strong);
    for (const BarButton& shown : kButtons)
        needs.labels.push_back(ImGui::CalcTextSize(label_of(*find_action(shown.id)).c_str()).x + ui.px(20));
    ImGui::PopFont();
    return bar_plan(needs);
}

} // namespace

void top_bar(Ui& ui, Session& s, const Layout& layout) {
    begin_fixed("top", layout.top, ui.colours().panel);
    const float full = static_cast<float>(layout.top.width());
    const BarPlan plan = plan_of(ui, s, full);
    float left = full - ui.px(16);
    for (std::size_t i = 0; i < kButtons.size(); ++i) {
        const float width = plan.buttons[i];
        if (width <= 0.0F) continue;
        left -= width;
        const Action& action = *find_action(kButtons[i].id);
        ImGui::SetCursorPos({left, std::round((ImGui::GetWindowHeight() - ui.px(30)) / 2)});
        if (button(ui, label_of(action).c_str(), ButtonKind::Plain, width, action.enabled(s))) run(action, s);
        if (ImGui::IsItemHovered(ImGuiHoveredFlags_AllowWhenDisabled) && !action.keys.empty())
            tip(ui, to_text(action.keys.front()));
        left -= plan.gap;
    }
    titles(ui, s, plan);
    const float line = static_cast<float>(layout.top.max.y) - 1;
    ImGui::GetWindowDrawList()->AddLine({0, line}, {full, line}, packed(ui.colours().rule));
    end_fixed();
}

namespace {

void draw_icon(const Icon& icon, ImVec2 centre, float scale, ImU32 colour, float width) {
    for (const auto& line : icon) {
        std::vector<ImVec2> points;
        points.reserve(line.size());
        for (const geometry::Vec2 p : line)
            points.push_back({centre.x + static_cast<float>(p.x) * scale, centre.y + static_cast<float>(p.y) * scale});
        ImGui::GetWindowDrawList()->AddPolyline(points.data(), static_cast<int>(points.size()), colour, 0, width);
    }
}

/// One stage of the rail. True when it is pressed.
bool stage_button(const Ui& ui, const StageInfo& info, bool is_current, const Icon* icon, float height) {
    const paint::Palette& c = ui.colours();
    const float width = ui.px(80), squeeze = height / ui.px(84);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const bool pressed = ImGui::InvisibleButton(info.word.data(), {width, height});
    ImDrawList* list = ImGui::GetWindowDrawList();
    const ImVec2 end{at.x + width, at.y + height};
    if (is_current) {
        list->AddRectFilled(at, end, packed(c.paper));
        list->AddRectFilled(at, {at.x + ui.px(5), end.y}, packed(c.danger));
    } else if (ImGui::IsItemHovered()) {
        list->AddRectFilled(at, end, packed(with_alpha(c.rail_text, 28)));
    }
    const ImU32 ink = packed(is_current ? c.ink : paint::over(with_alpha(c.rail_text, 215), c.rail));
    const float middle = at.x + width / 2;
    if (icon != nullptr)
        draw_icon(*icon, {middle, at.y + ui.px(squeeze < 0.8F ? 28 : 32) * squeeze},
                  ui.px(10) / 10.0F * std::max(squeeze, 0.6F), ink, ui.px(2));
    ImFont* font = is_current ? ui.fonts().strong : ui.fonts().regular;
    const float size = font->FontSize * 12.0F / 13.0F;
    const ImVec2 text = font->CalcTextSizeA(size, 1e6F, 0, info.name.data(), info.name.data() + info.name.size());
    const float words_y = std::min(at.y + ui.px(56) * squeeze, end.y - text.y - ui.px(2));
    list->AddText(font, size, {std::round(middle - text.x / 2), std::round(words_y)}, ink, info.name.data(),
                  info.name.data() + info.name.size());
    return pressed;
}

} // namespace

void rail(Ui& ui, Session& s, const Layout& layout, const std::map<std::string, Icon, std::less<>>& icons) {
    begin_fixed("rail", layout.rail, ui.colours().rail);
    // Every stage stays in sight: where the window is low they move together.
    const float count = static_cast<float>(stages().size());
    const float room = static_cast<float>(layout.rail.height()) - ui.px(14);
    const float step = std::min(ui.px(92), std::floor(room / count)), height = step - ui.px(8) * step / ui.px(92);
    float y = ui.px(14) * step / ui.px(92);
    for (const StageInfo& info : stages()) {
        ImGui::SetCursorPos({0, y});
        const auto icon = icons.find(info.icon);
        if (stage_button(ui, info, info.stage == s.stage, icon == icons.end() ? nullptr : &icon->second, height))
            s.show_stage(info.stage);
        y += step;
    }
    end_fixed();
}

} // namespace padchart::app
