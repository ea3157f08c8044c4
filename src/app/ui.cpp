#include "app/ui.hpp"

#include <cmath>
#include <utility>

#include <imgui_freetype.h>

#include "app/edge_colour.hpp"
#include "paint/font.hpp"

namespace padchart::app {
namespace {

// Latin, Greek (ohm, micro), punctuation (dashes, dots, quotes), arrows, comparison signs.
constexpr ImWchar kLetters[] = {0x0020, 0x024F, 0x0370, 0x03FF, 0x2010, 0x2044, 0x2070, 0x209F,
                                0x2190, 0x21FF, 0x2200, 0x22FF, 0x25A0, 0x25FF, 0};

Result<ImFont*> add_font(paint::FontWeight weight, float size) {
    const Result<paint::FontFile>& file = paint::find_font(weight);
    if (!file) return file.error();
    ImFontConfig config;
    config.FontNo = file->index;
    config.GlyphExtraSpacing.x = 0.0F;
    ImFont* font = ImGui::GetIO().Fonts->AddFontFromFileTTF(file->path.c_str(), size, &config, kLetters);
    if (font == nullptr) return Error{"The font file cannot be read; install Inter or DejaVu Sans anew.", file->path};
    return font;
}

/// The font reader rounds every advance up, which spreads the text; rounded to the nearest pixel it reads as drawn.
void mend_advances(ImFont& font, paint::FontWeight weight, const paint::SfmlFonts& fonts, double full_height) {
    const float em = font.FontSize / static_cast<float>(full_height);
    for (ImFontGlyph& glyph : font.Glyphs) {
        glyph.AdvanceX = std::round(fonts.advance_em(glyph.Codepoint, weight) * em);
        if (glyph.Codepoint < static_cast<unsigned>(font.IndexAdvanceX.Size))
            font.IndexAdvanceX[static_cast<int>(glyph.Codepoint)] = glyph.AdvanceX;
    }
}

void set_sizes(ImGuiStyle& style, const Ui& ui) {
    style.WindowPadding = {ui.px(24), ui.px(18)};
    style.WindowRounding = 0;
    style.WindowBorderSize = 0;
    style.PopupRounding = ui.px(8);
    style.PopupBorderSize = 1;
    style.ChildRounding = ui.px(8);
    style.FrameRounding = ui.px(6);
    style.FrameBorderSize = 1;
    style.FramePadding = {ui.px(10), ui.px(6)};
    style.ItemSpacing = {ui.px(10), ui.px(7)};
    style.ItemInnerSpacing = {ui.px(8), ui.px(4)};
    style.ScrollbarSize = ui.px(10);
    style.ScrollbarRounding = ui.px(5);
    style.GrabRounding = ui.px(6);
    style.GrabMinSize = ui.px(14);
    style.CellPadding = {ui.px(6), ui.px(4)};
    style.DisplaySafeAreaPadding = {0, 0};
    style.WindowMenuButtonPosition = ImGuiDir_None;
}

void set_colours(ImGuiStyle& style, const paint::Palette& c) {
    const auto set = [&](ImGuiCol which, paint::Colour colour) { style.Colors[which] = floats(colour); };
    constexpr paint::Colour kNothing{0, 0, 0, 0};
    for (const ImGuiCol which : {ImGuiCol_ChildBg, ImGuiCol_ScrollbarBg, ImGuiCol_BorderShadow, ImGuiCol_TableRowBg,
                                 ImGuiCol_TableRowBgAlt, ImGuiCol_TitleBg})
        set(which, kNothing);
    set(ImGuiCol_Text, c.ink);
    set(ImGuiCol_TextDisabled, c.muted);
    set(ImGuiCol_WindowBg, c.panel);
    set(ImGuiCol_PopupBg, c.panel);
    set(ImGuiCol_Border, edge_colour(c));
    set(ImGuiCol_FrameBg, with_alpha(c.paper, 255));
    set(ImGuiCol_FrameBgHovered, paint::over(with_alpha(c.selection, 18), c.paper));
    set(ImGuiCol_FrameBgActive, c.panel);
    set(ImGuiCol_Button, c.panel);
    set(ImGuiCol_ButtonHovered, paint::over(with_alpha(c.rule, 90), c.panel));
    set(ImGuiCol_ButtonActive, c.rule);
    set(ImGuiCol_Header, with_alpha(c.selection, 36));
    set(ImGuiCol_HeaderHovered, with_alpha(c.rule, 110));
    set(ImGuiCol_HeaderActive, with_alpha(c.selection, 60));
    set(ImGuiCol_CheckMark, c.selection);
    set(ImGuiCol_SliderGrab, c.ink);
    set(ImGuiCol_SliderGrabActive, c.selection);
    set(ImGuiCol_ScrollbarGrab, c.rule);
    set(ImGuiCol_ScrollbarGrabHovered, c.far);
    set(ImGuiCol_ScrollbarGrabActive, c.muted);
    set(ImGuiCol_Separator, c.rule);
    set(ImGuiCol_TableHeaderBg, c.panel);
    set(ImGuiCol_TableBorderLight, c.rule);
    set(ImGuiCol_TableBorderStrong, c.rule);
    set(ImGuiCol_TextSelectedBg, with_alpha(c.selection, 70));
    set(ImGuiCol_NavHighlight, c.selection);
    set(ImGuiCol_ModalWindowDimBg, with_alpha(c.ink, 90));
}

} // namespace

float Ui::px(double design) const {
    return static_cast<float>(std::round(design * scale_));
}

void Ui::set_theme(const paint::Theme& theme) {
    theme_ = &theme;
    set_colours(ImGui::GetStyle(), theme.palette);
}

Result<void> Ui::set_up(const paint::Theme& theme, double scale, const paint::SfmlFonts& canvas_fonts) {
    scale_ = scale;
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;
    io.ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
    io.ConfigInputTextCursorBlink = false; // a blinking cursor would wake an idle window
    io.Fonts->FontBuilderIO = ImGuiFreeType::GetBuilderForFreeType();
    io.Fonts->FontBuilderFlags = ImGuiFreeTypeBuilderFlags_LightHinting;
    struct Wanted {
        ImFont** font;
        paint::FontWeight weight;
        double size;
    };
    // The first font is the default one. The panels measure a font by its full height, about 1.21 of the design size.
    constexpr double kFullHeight = 1.21;
    const Wanted kWanted[] = {{&fonts_.regular, paint::FontWeight::Regular, 13},
                              {&fonts_.strong, paint::FontWeight::SemiBold, 13},
                              {&fonts_.small, paint::FontWeight::Regular, 11},
                              {&fonts_.title, paint::FontWeight::Bold, 14},
                              {&fonts_.heading, paint::FontWeight::Bold, 17}};
    for (const Wanted& w : kWanted) {
        const Result<ImFont*> font = add_font(w.weight, static_cast<float>(std::round(w.size * scale * kFullHeight)));
        if (!font) return font.error();
        *w.font = *font;
    }
    io.Fonts->Build();
    for (const Wanted& w : kWanted)
        mend_advances(**w.font, w.weight, canvas_fonts, kFullHeight);
    set_sizes(ImGui::GetStyle(), *this);
    set_theme(theme);
    return {};
}

void Ui::await_focus() {
    frames_to_focus_ = 4;
    wants_frame = true;
}

bool Ui::holds_input() {
    if (frames_to_focus_ == 0) return false;
    --frames_to_focus_;
    if (ImGui::GetIO().WantTextInput) frames_to_focus_ = 0;
    return frames_to_focus_ > 0;
}

void Ui::begin_draft(ImGuiID field, std::string text, std::function<void(const std::string&)> commit) {
    commit_draft();
    draft_field_ = field;
    draft_ = std::move(text);
    draft_commit_ = std::move(commit);
    draft_seen_ = true;
}

std::string* Ui::draft(ImGuiID field) {
    if (field != draft_field_) return nullptr;
    draft_seen_ = true;
    return &draft_;
}

void Ui::commit_draft() {
    if (draft_field_ == 0) return;
    draft_field_ = 0;
    const auto commit = std::exchange(draft_commit_, nullptr);
    commit(draft_);
}

void Ui::end_frame() {
    if (draft_field_ != 0 && !draft_seen_) commit_draft();
    draft_seen_ = false;
}

} // namespace padchart::app
