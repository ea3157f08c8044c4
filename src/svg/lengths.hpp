#pragma once
// Lengths as SVG and CSS write them, in user units (CSS px). Absolute units by CSS Values 3, section 5.2: 1in = 96px.

#include <optional>
#include <string_view>

namespace padchart::svg {

inline constexpr double kPxPerInch = 96.0;
inline constexpr double kMmPerPx = 25.4 / kPxPerInch;
inline constexpr double kDefaultFontSize = 16.0;

/// What relative lengths are relative to.
struct LengthContext {
    double viewport_width = 0.0;
    double viewport_height = 0.0;
    double font_size = kDefaultFontSize;
    double root_font_size = kDefaultFontSize;
};

/// What a percentage is taken of: the viewport's width, its height, or its diagonal by the square root of two.
enum class Axis { Horizontal, Vertical, Diagonal };

/// A plain number is a length in an attribute (and, as browsers take it, in a `style` attribute), not in a style sheet.
enum class Unitless { Allowed, Refused };

enum class UnitClass { Number, Px, Physical, Font, Percent };

/// User units, or nothing when the text is no length. Understands calc() with + - * / and nesting.
[[nodiscard]] std::optional<double> length_of(std::string_view text, const LengthContext& context, Axis axis,
                                              Unitless unitless = Unitless::Allowed);

/// What kind of unit a single length is written in; nothing for calc() and what is no length.
[[nodiscard]] std::optional<UnitClass> unit_class_of(std::string_view text);

/// Units that only a browser's window or its fonts give a size: vw, vh, vmin, vmax, lh, cap, ic and their kin. No
/// length here. (ex and ch are read as half the font size, which CSS tells to assume.)
[[nodiscard]] bool hangs_on_window(std::string_view text);
/// True for lengths in ex and ch.
[[nodiscard]] bool hangs_on_font(std::string_view text);

/// The used font size of an element whose parent has `context.font_size`.
[[nodiscard]] std::optional<double> font_size_of(std::string_view text, const LengthContext& context,
                                                 Unitless unitless = Unitless::Allowed);

/// An angle in degrees, clockwise as CSS counts it; a plain number only where allowed (0 always).
[[nodiscard]] std::optional<double> angle_degrees_of(std::string_view text, Unitless unitless);

} // namespace padchart::svg
