#include "app/widgets.hpp"

#include <algorithm>
#include <cctype>

#include <imgui_internal.h>

#include "app/line_break.hpp"
#include "app/tip.hpp"

namespace padchart::app {
namespace {

void text_of(std::string_view text) {
    ImGui::TextUnformatted(text.data(), text.data() + text.size());
}

struct ToneColours {
    paint::Colour edge, words, plate;
};

ToneColours colours_of(const Ui& ui, Tone tone) {
    const paint::Palette& c = ui.colours();
    switch (tone) {
    case Tone::Fine: return {c.fine, c.fine_text, paint::over(with_alpha(c.fine, 24), c.panel)};
    case Tone::Unknown: return {c.unknown, c.unknown_text, c.unknown_panel};
    case Tone::Danger: return {c.danger, c.danger_text, c.danger_panel};
    case Tone::Plain: break;
    }
    return {c.rule, c.ink, c.paper};
}

ImVec2 size_of(ImFont* font, std::string_view text, float wrap = 0.0F) {
    return font->CalcTextSizeA(font->FontSize, 1e6F, wrap, text.data(), text.data() + text.size());
}

void text_within(std::string_view text) {
    const std::string lines = in_lines(ImGui::GetFont(), text, ImGui::GetContentRegionAvail().x);
    ImGui::PushTextWrapPos(0.0F); // for a word that is wider than the panel
    text_of(lines);
    ImGui::PopTextWrapPos();
}

} // namespace

std::string in_lines(ImFont* font, std::string_view text, float room) {
    const auto width_of = [font](std::string_view word) { return size_of(font, word).x; };
    if (width_of(text) <= room) return std::string(text);
    return broken_at_blanks(text, room, width_of);
}

std::string joined_within(std::span<const std::string> words, float room) {
    std::string text;
    for (const std::string& word : words) {
        const std::string longer = text.empty() ? word : text + "  ·  " + word;
        if (ImGui::CalcTextSize(longer.c_str()).x > room) break;
        text = longer;
    }
    return text;
}

namespace {

/// The label in as many lines as it needs for that room; the button stays the same one.
std::string label_within(ImFont* font, std::string_view label, float room) {
    const std::string_view words = label.substr(0, label.find("##"));
    if (size_of(font, words).x <= room) return std::string(label);
    const auto width_of = [font](std::string_view word) { return size_of(font, word).x; };
    return centred_lines(words, room, width_of) + "###" + std::string(label);
}

} // namespace

bool button(const Ui& ui, const char* label, ButtonKind kind, float width, bool enabled, float height) {
    const paint::Palette& c = ui.colours();
    const bool filled = kind == ButtonKind::Filled;
    ImGui::BeginDisabled(!enabled);
    ImGui::PushStyleColor(ImGuiCol_Button, packed(filled ? c.ink : c.panel));
    ImGui::PushStyleColor(ImGuiCol_ButtonHovered, packed(filled ? paint::over(with_alpha(c.panel, 30), c.ink)
                                                                : paint::over(with_alpha(c.rule, 90), c.panel)));
    ImGui::PushStyleColor(ImGuiCol_ButtonActive, packed(filled ? paint::over(with_alpha(c.panel, 60), c.ink) : c.rule));
    ImGui::PushStyleColor(ImGuiCol_Text, packed(filled ? c.panel : c.ink));
    ImGui::PushStyleColor(ImGuiCol_Border, packed(kind == ButtonKind::Plain ? c.rule : c.ink));
    ImGui::PushStyleVar(ImGuiStyleVar_FrameRounding, ui.px(kind == ButtonKind::Plain ? 6 : 8));
    ImGui::PushFont(ui.fonts().strong);
    const ImGuiStyle& style = ImGui::GetStyle();
    const float wide = width < 0 ? ImGui::GetContentRegionAvail().x : width, margin = ui.px(6);
    const std::string shown = wide > 0 ? label_within(ui.fonts().strong, label, wide - 2 * margin) : std::string(label);
    const float usual = height > 0 ? height : ui.px(kind == ButtonKind::Plain ? 30 : 38);
    const float words = ImGui::CalcTextSize(shown.c_str(), nullptr, true).y;
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {wide > 0 ? margin : style.FramePadding.x, style.FramePadding.y});
    const bool pressed = ImGui::Button(shown.c_str(), {wide, std::max(usual, words + 2 * style.FramePadding.y)});
    keep_clear_here();
    ImGui::PopStyleVar();
    ImGui::PopFont();
    ImGui::PopStyleVar();
    ImGui::PopStyleColor(5);
    ImGui::EndDisabled();
    return pressed;
}

float share_of_line(int count) {
    const float gaps = ImGui::GetStyle().ItemSpacing.x * static_cast<float>(count - 1);
    return (ImGui::GetContentRegionAvail().x - gaps) / static_cast<float>(count);
}

void heading(const Ui& ui, std::string_view text) {
    ImGui::PushFont(ui.fonts().heading);
    text_within(text);
    ImGui::PopFont();
}

void title(const Ui& ui, std::string_view text) {
    ImGui::PushFont(ui.fonts().title);
    text_of(text);
    ImGui::PopFont();
}

void muted(const Ui& ui, std::string_view text) {
    ImGui::PushStyleColor(ImGuiCol_Text, packed(ui.colours().muted));
    text_within(text);
    ImGui::PopStyleColor();
}

void wrapped(const Ui&, std::string_view text) {
    text_within(text);
}

void gap(const Ui& ui, double design_px) {
    ImGui::Dummy({0, ui.px(design_px)});
}

void rule(const Ui& ui) {
    gap(ui, 4);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::GetWindowDrawList()->AddLine(at, {at.x + ImGui::GetContentRegionAvail().x, at.y}, packed(ui.colours().rule));
    gap(ui, 6);
}

void fact(const Ui& ui, const char* label, std::string_view value) {
    text_of(label);
    const float room = ImGui::GetContentRegionMax().x;
    const float width = size_of(ui.fonts().strong, value).x;
    const bool same_line = ImGui::CalcTextSize(label).x + ui.px(12) + width < room;
    ImGui::PushFont(ui.fonts().strong);
    if (same_line) {
        ImGui::SameLine(room - width);
        text_of(value);
    } else {
        wrapped(ui, value);
    }
    ImGui::PopFont();
}

void verdict(const Ui& ui, Tone tone, std::string_view sentence, std::string_view reason) {
    const ToneColours c = colours_of(ui, tone);
    const float margin = ui.px(14);
    const float width = ImGui::GetContentRegionAvail().x;
    const float wrap = width - 2 * margin;
    ImFont* title_font = ui.fonts().title;
    ImFont* text_font = ui.fonts().regular;
    const std::string first_lines = in_lines(title_font, sentence, wrap),
                      second_lines = in_lines(text_font, reason, wrap);
    const ImVec2 first = size_of(title_font, first_lines, wrap);
    const ImVec2 second = reason.empty() ? ImVec2() : size_of(text_font, second_lines, wrap);
    const float space = reason.empty() ? 0.0F : ui.px(4);
    const float height = first.y + space + second.y + 2 * ui.px(10);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImDrawList* list = ImGui::GetWindowDrawList();
    const ImVec2 end{at.x + width, at.y + height};
    list->AddRectFilled(at, end, packed(c.plate), ui.px(8));
    list->AddRect(at, end, packed(c.edge), ui.px(8));
    ImVec2 pen{at.x + margin, at.y + ui.px(10)};
    list->AddText(title_font, title_font->FontSize, pen, packed(c.words), first_lines.data(),
                  first_lines.data() + first_lines.size(), wrap);
    pen.y += first.y + space;
    list->AddText(text_font, text_font->FontSize, pen, packed(ui.colours().ink), second_lines.data(),
                  second_lines.data() + second_lines.size(), wrap);
    ImGui::Dummy({width, height});
    keep_clear_here();
}

void progress(const Ui& ui, double fraction) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x;
    const float height = ui.px(8);
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->AddRectFilled(at, {at.x + width, at.y + height}, packed(ui.colours().body), height / 2);
    const float done = width * static_cast<float>(std::clamp(fraction, 0.0, 1.0));
    if (done >= height) list->AddRectFilled(at, {at.x + done, at.y + height}, packed(ui.colours().fine), height / 2);
    ImGui::Dummy({width, height});
}

void dot(const Ui& ui, Tone tone, bool filled) {
    const float r = ui.px(5);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const ImVec2 centre{at.x + r + ui.px(2), at.y + ImGui::GetTextLineHeight() / 2};
    const ImU32 colour = packed(tone == Tone::Plain ? ui.colours().muted : colours_of(ui, tone).edge);
    if (filled)
        ImGui::GetWindowDrawList()->AddCircleFilled(centre, r, colour);
    else
        ImGui::GetWindowDrawList()->AddCircle(centre, r, colour, 0, ui.px(1.5));
    ImGui::Dummy({2 * r + ui.px(4), ImGui::GetTextLineHeight()});
}

std::string fitted(const std::string& text, float room) {
    if (ImGui::CalcTextSize(text.c_str()).x <= room) return text;
    std::string cut = text;
    while (!cut.empty() && ImGui::CalcTextSize((cut + "…").c_str()).x > room) {
        cut.pop_back();
        while (!cut.empty() && (static_cast<unsigned char>(cut.back()) & 0xC0U) == 0x80U)
            cut.pop_back(); // the rest of a letter of several bytes
        if (!cut.empty() && static_cast<unsigned char>(cut.back()) >= 0xC0U) cut.pop_back();
    }
    return cut + "…";
}

bool fitted_with_tip(const Ui& ui, const std::string& text, bool hovered) {
    const std::string shown = fitted(text, ImGui::GetContentRegionAvail().x);
    ImGui::TextUnformatted(shown.c_str());
    const bool tells = hovered && shown != text;
    if (tells) tip(ui, text);
    return tells;
}

std::string spoken(std::string_view word) {
    std::string text(word);
    std::replace(text.begin(), text.end(), '-', ' ');
    return text;
}

bool matches(std::string_view text, std::string_view filter) {
    const auto lower = [](std::string_view from) {
        std::string to(from);
        std::transform(to.begin(), to.end(), to.begin(),
                       [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
        return to;
    };
    const std::string in = lower(text);
    const std::string wanted = lower(filter);
    std::size_t from = 0;
    while (from < wanted.size()) {
        const std::size_t end = std::min(wanted.find(' ', from), wanted.size());
        if (in.find(wanted.substr(from, end - from)) == std::string::npos) return false;
        from = end + 1;
    }
    return true;
}

} // namespace padchart::app
