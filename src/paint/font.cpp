#include "paint/font.hpp"

#include <array>
#include <memory>

#include <fontconfig/fontconfig.h>

namespace padchart::paint {
namespace {

struct Destroy {
    void operator()(FcPattern* pattern) const { FcPatternDestroy(pattern); }
    void operator()(FcCharSet* set) const { FcCharSetDestroy(set); }
};
using Pattern = std::unique_ptr<FcPattern, Destroy>;
using CharSet = std::unique_ptr<FcCharSet, Destroy>;

int fontconfig_weight(FontWeight weight) {
    switch (weight) {
    case FontWeight::Regular: return FC_WEIGHT_REGULAR;
    case FontWeight::SemiBold: return FC_WEIGHT_DEMIBOLD;
    case FontWeight::Bold: return FC_WEIGHT_BOLD;
    }
    return FC_WEIGHT_REGULAR;
}

const FcChar8* fc_text(const char* text) {
    return reinterpret_cast<const FcChar8*>(text);
}

std::string text_of(FcPattern* pattern, const char* object) {
    FcChar8* value = nullptr;
    if (FcPatternGetString(pattern, object, 0, &value) != FcResultMatch || value == nullptr) return {};
    return reinterpret_cast<const char*>(value);
}

/// fontconfig always answers with something: a family that is not there gives its nearest stand-in.
Result<FontFile> best_match(Pattern wanted) {
    FcConfigSubstitute(nullptr, wanted.get(), FcMatchPattern);
    FcDefaultSubstitute(wanted.get());
    FcResult result = FcResultNoMatch;
    const Pattern found(FcFontMatch(nullptr, wanted.get(), &result));
    if (!found) return Error{"No font is installed; install Inter or DejaVu Sans.", ""};
    FontFile file;
    file.path = text_of(found.get(), FC_FILE);
    file.family = text_of(found.get(), FC_FAMILY);
    FcPatternGetInteger(found.get(), FC_INDEX, 0, &file.index);
    if (file.path.empty()) return Error{"The font " + file.family + " has no file.", ""};
    return file;
}

Pattern upright(FontWeight weight) {
    Pattern pattern(FcPatternCreate());
    FcPatternAddInteger(pattern.get(), FC_WEIGHT, fontconfig_weight(weight));
    FcPatternAddInteger(pattern.get(), FC_SLANT, FC_SLANT_ROMAN);
    FcPatternAddBool(pattern.get(), FC_SCALABLE, FcTrue);
    return pattern;
}

Result<FontFile> search(FontWeight weight) {
    struct Wanted {
        const char* family;
        double width_factor;
    };
    // DejaVu Sans runs about an eighth wider than Inter.
    for (const auto& [family, width_factor] : {Wanted{"Inter", 1.0}, Wanted{"DejaVu Sans", 0.87}}) {
        Pattern pattern = upright(weight);
        FcPatternAddString(pattern.get(), FC_FAMILY, fc_text(family));
        Result<FontFile> found = best_match(std::move(pattern));
        if (!found || found->family != family) continue;
        found.value().width_factor = width_factor;
        return found;
    }
    return Error{"Neither of the fonts Inter and DejaVu Sans is installed; install one of them.", ""};
}

} // namespace

const Result<FontFile>& find_font(FontWeight weight) {
    static const std::array<Result<FontFile>, 3> kFonts{search(FontWeight::Regular), search(FontWeight::SemiBold),
                                                        search(FontWeight::Bold)};
    return kFonts[static_cast<std::size_t>(weight)];
}

Result<FontFile> find_font_with(char32_t character, FontWeight weight) {
    Pattern pattern = upright(weight);
    const CharSet set(FcCharSetCreate());
    FcCharSetAddChar(set.get(), character);
    FcPatternAddCharSet(pattern.get(), FC_CHARSET, set.get());
    FcConfigSubstitute(nullptr, pattern.get(), FcMatchPattern);
    FcDefaultSubstitute(pattern.get());
    FcResult result = FcResultNoMatch;
    const Pattern found(FcFontMatch(nullptr, pattern.get(), &result));
    FcCharSet* has = nullptr;
    if (!found || FcPatternGetCharSet(found.get(), FC_CHARSET, 0, &has) != FcResultMatch ||
        FcCharSetHasChar(has, character) == FcFalse)
        return Error{"No installed font has the character.", ""};
    FontFile file{.path = text_of(found.get(), FC_FILE), .family = text_of(found.get(), FC_FAMILY)};
    FcPatternGetInteger(found.get(), FC_INDEX, 0, &file.index);
    return file;
}

} // namespace padchart::paint
