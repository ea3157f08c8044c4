#pragma once
// How wide a text will be, without a font at hand, so that labels and tables are laid out the same on every machine.
// Advance widths of Inter 4 as its font files state them; the painters draw without kerning and narrow a wider
// stand-in (paint/font.hpp), so that this holds for what is drawn.

#include <string>
#include <string_view>
#include <vector>

namespace padchart::scene {

/// In multiples of the font's height. `text` is UTF-8; characters not in the table count as wide ones.
[[nodiscard]] double text_width_em(std::string_view text, bool strong);

/// Height of capitals in multiples of the font's height, for Inter and DejaVu Sans alike.
inline constexpr double kCapHeight_em = 0.727;

/// Broken at spaces so that no line is wider than `width_em`; a single word that is, is broken after a hyphen or a
/// slash of its own, and only where it has none within. Where not even one character fits each has a line.
[[nodiscard]] std::vector<std::string> wrapped(std::string_view text, double width_em, bool strong);

/// The narrowest width at which `wrapped` breaks no word: that of the widest piece between blanks, hyphens, slashes.
[[nodiscard]] double widest_word_em(std::string_view text, bool strong);

/// The text, or its beginning and "…" so that it fits.
[[nodiscard]] std::string shortened(std::string_view text, double width_em, bool strong);

} // namespace padchart::scene
