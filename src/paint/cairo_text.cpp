#include "paint/cairo_text.hpp"

#include <array>
#include <map>
#include <memory>
#include <string_view>
#include <vector>

#include <cairo-ft.h>
#include <fontconfig/fontconfig.h>

#include "paint/font.hpp"

namespace padchart::paint {
namespace {

/// A stretch of text that one face can draw.
struct Run {
    std::string text;
    cairo_font_face_t* face = nullptr;
    double width_factor = 1.0;
};

cairo_font_face_t* load(const FontFile& file) {
    FcPattern* pattern = FcPatternCreate();
    FcPatternAddString(pattern, FC_FILE, reinterpret_cast<const FcChar8*>(file.path.c_str()));
    FcPatternAddInteger(pattern, FC_INDEX, file.index);
    cairo_font_face_t* face = cairo_ft_font_face_create_for_pattern(pattern);
    FcPatternDestroy(pattern);
    return face;
}

/// Faces live as long as the program: cairo shares what it loads from them between documents.
cairo_font_face_t* face_of(const FontFile& file) {
    static std::map<std::pair<std::string, int>, cairo_font_face_t*> faces;
    cairo_font_face_t*& face = faces[{file.path, file.index}];
    if (face == nullptr) face = load(file);
    return face;
}

void choose(cairo_t* context, cairo_font_face_t* face, double height, double width_factor) {
    cairo_set_font_face(context, face);
    cairo_matrix_t size;
    cairo_matrix_init_scale(&size, height * width_factor, height);
    cairo_set_font_matrix(context, &size);
    cairo_font_options_t* options = cairo_font_options_create();
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
    cairo_set_font_options(context, options);
    cairo_font_options_destroy(options);
}

/// Glyph 0 is the box that stands for "not in this font".
bool has_all(cairo_t* context, std::string_view text) {
    cairo_glyph_t* glyphs = nullptr;
    int count = 0;
    const cairo_status_t status =
        cairo_scaled_font_text_to_glyphs(cairo_get_scaled_font(context), 0, 0, text.data(),
                                         static_cast<int>(text.size()), &glyphs, &count, nullptr, nullptr, nullptr);
    bool all = status == CAIRO_STATUS_SUCCESS;
    for (int i = 0; i < count && all; ++i)
        all = glyphs[i].index != 0;
    cairo_glyph_free(glyphs);
    return all;
}

std::size_t length_of_character(char lead) {
    const auto byte = static_cast<unsigned char>(lead);
    return byte >= 0xF0 ? 4 : byte >= 0xE0 ? 3 : byte >= 0xC0 ? 2 : 1;
}

char32_t code_point(std::string_view character) {
    if (character.size() == 1) return static_cast<unsigned char>(character.front());
    char32_t c = static_cast<unsigned char>(character.front()) & (0xFFU >> (character.size() + 1));
    for (const char byte : character.substr(1))
        c = (c << 6) | (static_cast<unsigned char>(byte) & 0x3FU);
    return c;
}

bool is_utf8(std::string_view text) {
    for (std::size_t i = 0; i < text.size();) {
        const auto lead = static_cast<unsigned char>(text[i]);
        const std::size_t length = length_of_character(text[i]);
        if ((lead >= 0x80 && lead < 0xC2) || lead > 0xF4 || i + length > text.size()) return false;
        for (std::size_t k = 1; k < length; ++k)
            if ((static_cast<unsigned char>(text[i + k]) & 0xC0U) != 0x80) return false;
        i += length;
    }
    return true;
}

/// What cairo can take: an error in a context is for ever, so bad bytes must not reach it.
std::string clean(const std::string& text) {
    if (is_utf8(text)) return text;
    std::string ascii;
    for (const char c : text)
        ascii += static_cast<unsigned char>(c) < 0x80 ? c : '?';
    return ascii;
}

std::vector<Run> split_by_face(cairo_t* context, const std::string& text, const FontFile& own, FontWeight weight,
                               double height) {
    std::vector<Run> runs;
    for (std::size_t i = 0; i < text.size();) {
        const std::string character = text.substr(i, length_of_character(text[i]));
        i += character.size();
        choose(context, face_of(own), height, own.width_factor);
        Run run{character, face_of(own), own.width_factor};
        if (!has_all(context, character))
            if (const Result<FontFile> other = find_font_with(code_point(character), weight))
                run = {character, face_of(*other), 1.0};
        if (!runs.empty() && runs.back().face == run.face)
            runs.back().text += run.text;
        else
            runs.push_back(std::move(run));
    }
    return runs;
}

std::vector<Run> runs_of(cairo_t* context, const std::string& raw, FontWeight weight, double height) {
    const FontFile& own = *find_font(weight);
    const std::string text = clean(raw);
    choose(context, face_of(own), height, own.width_factor);
    if (has_all(context, text)) return {{text, face_of(own), own.width_factor}};
    return split_by_face(context, text, own, weight, height);
}

double advance(cairo_t* context, const Run& run, double height) {
    choose(context, run.face, height, run.width_factor);
    cairo_text_extents_t extents;
    cairo_text_extents(context, run.text.c_str(), &extents);
    return extents.x_advance;
}

} // namespace

Result<void> fonts_are_there() {
    for (const FontWeight weight : {FontWeight::Regular, FontWeight::SemiBold, FontWeight::Bold})
        if (const Result<FontFile>& font = find_font(weight); !font) return font.error();
    return {};
}

double text_width(cairo_t* context, const std::string& text, FontWeight weight, double height) {
    double width = 0.0;
    for (const Run& run : runs_of(context, text, weight, height))
        width += advance(context, run, height);
    return width;
}

void show_text(cairo_t* context, const std::string& text, FontWeight weight, double height, double x, double baseline) {
    for (const Run& run : runs_of(context, text, weight, height)) {
        const double width = advance(context, run, height); // leaves the run's face chosen
        cairo_move_to(context, x, baseline);
        cairo_show_text(context, run.text.c_str());
        x += width;
    }
}

} // namespace padchart::paint
