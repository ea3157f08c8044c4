#include "app/panels/heat_widgets.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <imgui_stdlib.h>

#include "app/refused_field.hpp"
#include "app/room.hpp"
#include "app/tip.hpp"
#include "base/typed_number.hpp"

namespace padchart::app {
namespace {

/// `down`: what stands left of it on the line is taller by that much above its words.
void typed_value(Ui& ui, const char* label, double value, const SliderRange& range, const SliderAnswer& answer,
                 float down = 0.0F) {
    const std::string id = std::string("##typed ") + label;
    const ImGuiID field = ImGui::GetID(id.c_str());
    const std::string now = fmt::format("{:.{}f}", value, range.decimals);
    const std::string* refused = refused_text(field);
    std::string shown = refused != nullptr ? *refused : now;
    std::string* draft = ui.draft(field);
    ImGui::PushFont(ui.fonts().strong);
    const float pad = ui.px(4), unit = ImGui::CalcTextSize(range.unit).x;
    // As wide as the number, so that number and unit read as one; wider once it is typed into.
    const float width = draft != nullptr ? ui.px(72) : ImGui::CalcTextSize(shown.c_str()).x + 2 * pad + 1;
    ImGui::SameLine(ImGui::GetContentRegionMax().x - unit - ui.px(4) - width + pad);
    ImGui::SetCursorPosY(ImGui::GetCursorPosY() + down);
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {pad, ui.px(1)});
    ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, draft != nullptr ? 1.0F : 0.0F);
    if (draft == nullptr) ImGui::PushStyleColor(ImGuiCol_FrameBg, packed(ui.colours().panel));
    ImGui::SetNextItemWidth(width - pad);
    {
        const RefusedMark mark(ui, field, draft != nullptr ? *draft : shown);
        ImGui::InputText(id.c_str(), draft != nullptr ? draft : &shown, ImGuiInputTextFlags_AutoSelectAll);
    }
    if (draft == nullptr) ImGui::PopStyleColor();
    ImGui::PopStyleVar(2);
    if (draft == nullptr && ImGui::IsItemActive())
        ui.begin_draft(field, shown, [now, answer, unit = std::string(range.unit)](const std::string& text) {
            if (text == now) return;
            const Result<double> number = typed_number(text, unit);
            if (number) return answer.change(*number, false);
            keep_pen();
            answer.refuse(fmt::format("{} It stays {} {}.", number.error().message, now, unit));
        });
    if (draft != nullptr && !ImGui::IsItemActive()) leave_field(ui, field, now);
    ImGui::SameLine(0, ui.px(4));
    ImGui::TextUnformatted(range.unit);
    ImGui::PopFont();
}

void draw_slider(const Ui& ui, double share) {
    const ImVec2 min = ImGui::GetItemRectMin(), max = ImGui::GetItemRectMax();
    const float r = ui.px(7.5), y = std::round((min.y + max.y) / 2), half = ui.px(2);
    // As the panel library maps the pointer: two pixels and half a knob from either end.
    const float left = min.x + 2 + r, right = max.x - 2 - r;
    const float x = left + (right - left) * static_cast<float>(std::clamp(share, 0.0, 1.0));
    const bool held = ImGui::IsItemActive() || ImGui::IsItemFocused();
    const paint::Palette& c = ui.colours();
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->AddRectFilled({min.x, y - half}, {max.x, y + half}, packed(c.rule), half);
    list->AddRectFilled({min.x, y - half}, {x, y + half}, packed(held ? c.selection : c.ink), half);
    list->AddCircleFilled({x, y}, r, packed(c.panel), 24);
    list->AddCircle({x, y}, r, packed(held ? c.selection : c.ink), 24, ui.px(2));
}

void slide(Ui& ui, double value, const SliderRange& range, const SliderAnswer& answer) {
    for (const ImGuiCol colour : {ImGuiCol_FrameBg, ImGuiCol_FrameBgHovered, ImGuiCol_FrameBgActive,
                                  ImGuiCol_SliderGrab, ImGuiCol_SliderGrabActive})
        ImGui::PushStyleColor(colour, IM_COL32(0, 0, 0, 0));
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {0, ui.px(1)});
    ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, 0.0F);
    ImGui::PushStyleVar(ImGuiStyleVar_GrabMinSize, 2 * ui.px(7.5));
    float slid = static_cast<float>(value);
    ImGui::SetNextItemWidth(ImGui::GetContentRegionAvail().x);
    const bool changed =
        ImGui::SliderFloat("##slider", &slid, static_cast<float>(range.low), static_cast<float>(range.high), "");
    const bool held = ImGui::IsItemActive(), let_go = ImGui::IsItemDeactivated();
    draw_slider(ui, (value - range.low) / (range.high - range.low));
    ImGui::PopStyleVar(3);
    ImGui::PopStyleColor(5);
    const double stepped = std::round(static_cast<double>(slid) / range.step) * range.step;
    if (changed && std::abs(stepped - value) > range.step * 1e-6) answer.change(stepped, held);
    if (let_go) answer.rest();
}

ImVec2 text_size(ImFont* font, float size, const std::string& text) {
    return font->CalcTextSizeA(size, 1e6F, 0, text.c_str());
}

struct ToneColours {
    paint::Colour bar, words;
};

ToneColours colours_of(const Ui& ui, Tone tone) {
    const paint::Palette& c = ui.colours();
    switch (tone) {
    case Tone::Fine: return {c.fine, c.fine_text};
    case Tone::Unknown: return {c.depends, c.depends_text};
    case Tone::Danger: return {c.danger, c.danger_text};
    case Tone::Plain: break;
    }
    return {c.muted, c.muted};
}

class BandDrawer {
public:
    BandDrawer(const Ui& ui, const BandScale& scale, ImVec2 at, float width)
        : ui_(ui), scale_(scale), at_(at), width_(width), list_(ImGui::GetWindowDrawList()) {}

    void draw(const BandRow& row) const {
        const ToneColours tone =
            scale_.pale ? ToneColours{ui_.colours().far, ui_.colours().muted} : colours_of(ui_, row.tone);
        line_of_words(row, tone);
        const float top = at_.y + ui_.px(22), high = ui_.px(8);
        list_->AddRectFilled({at_.x, top}, {at_.x + width_, top + high}, packed(ui_.colours().body), high / 2);
        bar(row.band, top, high, tone.bar);
        if (row.second) bar(*row.second, top + high + ui_.px(2), ui_.px(4), ui_.colours().selection);
        foot(row, tone, top, high);
    }

private:
    [[nodiscard]] float x_of(double celsius) const {
        const double share = (celsius - scale_.low_c) / (scale_.high_c - scale_.low_c);
        return at_.x + width_ * static_cast<float>(std::clamp(share, 0.0, 1.0));
    }

    void line_of_words(const BandRow& row, const ToneColours& tone) const {
        ImFont* font = ui_.fonts().strong;
        std::string value = scale_.sign + band_words(row.band);
        if (row.second) value += "  (" + band_words(*row.second) + ")";
        const float wide = text_size(font, font->FontSize, value).x;
        const std::string name = fitted(row.name, width_ - wide - ui_.px(12));
        list_->AddText(font, font->FontSize, at_, packed(scale_.pale ? ui_.colours().muted : ui_.colours().ink),
                       name.c_str());
        const bool plain = row.tone == Tone::Plain || row.tone == Tone::Fine;
        list_->AddText(font, font->FontSize, {at_.x + width_ - wide, at_.y},
                       packed(scale_.pale ? ui_.colours().muted
                              : plain     ? ui_.colours().ink
                                          : tone.words),
                       value.c_str());
    }

    void bar(const analysis::Band& band, float top, float high, paint::Colour colour) const {
        const float left = x_of(band.low), right = std::max(x_of(band.high), left + high);
        list_->AddRectFilled({left, top}, {right, top + high}, packed(colour), high / 2);
        // No fill alone stands out from the track by 3:1 in every theme.
        list_->AddRect({left, top}, {right, top + high}, packed(scale_.pale ? ui_.colours().muted : ui_.colours().ink),
                       high / 2, 0, ui_.px(1));
        const float middle = x_of(band.nominal);
        list_->AddLine({middle, top}, {middle, top + high}, packed(ui_.colours().panel), ui_.px(1.5));
    }

    void foot(const BandRow& row, const ToneColours& tone, float top, float high) const {
        ImFont* font = ui_.fonts().small;
        const float y = top + high + ui_.px(row.second ? 8 : 3);
        float left = at_.x;
        if (!row.verdict.empty()) {
            list_->AddText(font, font->FontSize, {left, y}, packed(tone.words), row.verdict.c_str());
            left += text_size(font, font->FontSize, row.verdict).x + ui_.px(12);
        }
        if (!row.tick_c) return;
        const float x = std::round(x_of(*row.tick_c));
        list_->AddLine({x, top - ui_.px(4)}, {x, top + high + ui_.px(4)}, packed(ui_.colours().ink), ui_.px(2));
        const float wide = text_size(font, font->FontSize, row.tick_words).x;
        const float most = at_.x + width_ - wide;
        const float words = std::max(std::min(x - wide / 2, most), std::min(left, most));
        list_->AddText(font, font->FontSize, {std::round(words), y}, packed(ui_.colours().muted),
                       row.tick_words.c_str());
    }

    const Ui& ui_;
    const BandScale& scale_;
    ImVec2 at_;
    float width_;
    ImDrawList* list_;
};

} // namespace

void slider_field(Ui& ui, const char* label, double value, const SliderRange& range, const SliderAnswer& answer) {
    ImGui::PushID(label);
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {ui.px(10), 0});
    ImGui::TextUnformatted(label);
    typed_value(ui, label, value, range, answer);
    slide(ui, value, range, answer);
    gap(ui, 5);
    ImGui::PopStyleVar();
    ImGui::PopID();
}

void optional_slider_field(Ui& ui, const char* label, std::optional<double> value, const SliderRange& range,
                           const SliderAnswer& answer, const std::function<void(bool on)>& change) {
    ImGui::PushID(label);
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {ui.px(10), 0});
    bool on = value.has_value();
    const bool switched = toggle(ui, label, on);
    if (value) {
        typed_value(ui, label, *value, range, answer, ui.px(2));
        slide(ui, *value, range, answer);
    }
    gap(ui, 5);
    ImGui::PopStyleVar();
    ImGui::PopID();
    if (switched) change(on);
}

namespace {

/// Leaves out what stands last, clause by clause, before it cuts a word.
std::string clauses_fitted(std::string text, float room) {
    for (auto end = text.rfind("; "); end != std::string::npos; end = text.rfind("; ")) {
        if (ImGui::CalcTextSize(text.c_str()).x <= room) break;
        text.resize(end);
    }
    return fitted(text, room);
}

} // namespace

bool section(const Ui& ui, const char* label, const std::string& summary, bool& open) {
    ImGui::PushID(label);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x, height = ui.px(28);
    ImFont* font = ui.fonts().strong;
    const float left = ui.px(18) + text_size(font, font->FontSize, label).x + ui.px(14);
    const bool is_cut = ImGui::CalcTextSize(summary.c_str()).x > width - left;
    // In a low window the panel is narrow for its letters: what finds no room beside goes below.
    const bool is_below = is_cut && is_low(ui);
    const float more = is_below ? ImGui::GetTextLineHeight() : 0.0F;
    ImGui::PushStyleColor(ImGuiCol_Header, IM_COL32(0, 0, 0, 0));
    if (ImGui::Selectable("##fold", false, 0, {width, height + more})) open = !open;
    keep_clear_here();
    ImGui::PopStyleColor();
    if (is_cut && ImGui::IsItemHovered()) tip(ui, summary);
    ImDrawList* list = ImGui::GetWindowDrawList();
    const float x = at.x + ui.px(5), y = std::round(at.y + height / 2), d = ui.px(4), h = ui.px(2);
    const ImVec2 down[] = {{x - d, y - h}, {x, y + h}, {x + d, y - h}};
    const ImVec2 right[] = {{x - h, y - d}, {x + h, y}, {x - h, y + d}};
    list->AddPolyline(open ? down : right, 3, packed(ui.colours().ink), 0, ui.px(1.6));
    const float text_y = std::round(at.y + (height - font->FontSize) / 2);
    list->AddText(font, font->FontSize, {at.x + ui.px(18), text_y}, packed(ui.colours().ink), label);
    const std::string rest = clauses_fitted(summary, width - (is_below ? ui.px(18) : left));
    const float wide = ImGui::CalcTextSize(rest.c_str()).x;
    const ImVec2 pen =
        is_below ? ImVec2{at.x + ui.px(18), text_y + font->FontSize + ui.px(1)} : ImVec2{at.x + width - wide, text_y};
    list->AddText(pen, packed(ui.colours().muted), rest.c_str());
    ImGui::PopID();
    return open;
}

bool toggle(const Ui& ui, const char* label, bool& on) {
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {ui.px(3), ui.px(3)});
    const bool changed = ImGui::Checkbox(label, &on);
    keep_clear_here();
    ImGui::PopStyleVar();
    return changed;
}

bool band_row(const Ui& ui, const BandRow& row, const BandScale& scale) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x, height = ui.px(row.second ? 50 : 46);
    ImGui::PushID(row.name.c_str());
    const bool pressed = ImGui::InvisibleButton("##band", {width, height});
    const bool hovered = ImGui::IsItemHovered();
    ImGui::PopID();
    if (hovered)
        ImGui::GetWindowDrawList()->AddRectFilled({at.x - ui.px(6), at.y - ui.px(3)},
                                                  {at.x + width + ui.px(6), at.y + height},
                                                  packed(with_alpha(ui.colours().rule, 70)), ui.px(6));
    BandDrawer(ui, scale, at, width).draw(row);
    return pressed;
}

std::string band_words(const analysis::Band& band) {
    return fmt::format("{:.0f} – {:.0f} °C", band.low, band.high);
}

} // namespace padchart::app
