#pragma once
// Where the fonts lie. Both painters use the same files, so that a text is as wide on the screen as on the sheet.

#include <string>

#include "base/result.hpp"
#include "paint/theme.hpp"

namespace padchart::paint {

struct FontFile {
    std::string path{};
    int index = 0;      ///< of the face in the file
    std::string family; ///< the family found
    /// Draw the letters this much narrower, so that a wider stand-in keeps to the layout; 1 for Inter.
    double width_factor = 1.0;
};

/// Inter at the weight, else DejaVu Sans at the nearest weight it has. Found once, kept.
/// Errors: neither is installed.
[[nodiscard]] const Result<FontFile>& find_font(FontWeight weight);

/// Any installed font that has the character, for names in other scripts. Errors: none has it.
[[nodiscard]] Result<FontFile> find_font_with(char32_t character, FontWeight weight);

} // namespace padchart::paint
