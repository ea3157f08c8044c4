#pragma once
// Pieces the layouts are put together from; for this module only. Frame as in patterns/family.hpp.

#include <string>

#include "patterns/layouts.hpp"

namespace padchart::patterns {

// Parameters ----------------------------------------------------------------------------------------------------------

/// A length above 0.
[[nodiscard]] constexpr ParameterSpec size_spec(std::string_view key, std::string_view label, double step = 0.05) {
    return {key, label, "mm", 0.01, 200.0, step, false, {}};
}
/// A length that may be 0.
[[nodiscard]] constexpr ParameterSpec optional_size_spec(std::string_view key, std::string_view label) {
    return {key, label, "mm", 0.0, 200.0, 0.05, false, {}};
}
/// A coordinate or shift.
[[nodiscard]] constexpr ParameterSpec place_spec(std::string_view key, std::string_view label) {
    return {key, label, "mm", -200.0, 200.0, 0.05, false, {}};
}
[[nodiscard]] constexpr ParameterSpec count_spec(std::string_view key, std::string_view label, int min, int max,
                                                 int step = 1) {
    return {key, label, "", static_cast<double>(min), static_cast<double>(max), static_cast<double>(step), true, {}};
}
[[nodiscard]] constexpr ParameterSpec choice_spec(std::string_view key, std::string_view label,
                                                  std::span<const std::string_view> choices) {
    return {key, label, "", 0.0, static_cast<double>(choices.size()) - 1.0, 1.0, true, choices};
}

// Lands ---------------------------------------------------------------------------------------------------------------

[[nodiscard]] document::Pad rectangle_pad(std::string number, geometry::Vec2 at, double width_mm, double height_mm);
[[nodiscard]] document::Pad round_pad(std::string number, geometry::Vec2 at, double diameter_mm);
/// Points given in the part's frame; the pad's own centre becomes the middle of their box.
[[nodiscard]] document::Pad polygon_pad(std::string number, const geometry::Ring& points_in_part);
/// A ring land round a hole. A pad has one outline, so the ring is cut open by a slit of 0.05 mm towards +x, far below
/// what a land can be measured to; the slit lets the outline stay a proper one that does not touch itself.
/// Requires: 0 < inner < outer.
[[nodiscard]] document::Pad ring_pad(std::string number, geometry::Vec2 at, double outer_mm, double inner_mm);

/// `count` equal lands from `first`, each `step` after the one before, numbered on from `number`.
void add_row(std::vector<document::Pad>& pads, int number, int count, geometry::Vec2 first, geometry::Vec2 step,
             double width_mm, double height_mm, const std::string& prefix = "");

[[nodiscard]] document::Body rectangle_body(double width_mm, double length_mm, double height_mm);

// The land in the middle ----------------------------------------------------------------------------------------------

/// How the land in the middle is called: N+1, EP, 0, or not at all.
[[nodiscard]] std::span<const std::string_view> centre_name_choices();
[[nodiscard]] std::string centre_name(int choice, int perimeter_pins);

/// The six parameters of a land in the middle, for the layouts that may have one.
inline constexpr std::string_view kCentreNameKey = "centre_name";
[[nodiscard]] constexpr ParameterSpec centre_width_spec() {
    return optional_size_spec("centre_width_mm", "centre land across");
}
[[nodiscard]] constexpr ParameterSpec centre_length_spec() {
    return optional_size_spec("centre_length_mm", "centre land along");
}
[[nodiscard]] constexpr ParameterSpec centre_x_spec() {
    return place_spec("centre_x_mm", "centre land moved right");
}
[[nodiscard]] constexpr ParameterSpec centre_y_spec() {
    return place_spec("centre_y_mm", "centre land moved down");
}
[[nodiscard]] constexpr ParameterSpec centre_chamfer_spec() {
    return optional_size_spec("centre_chamfer_mm", "chamfer of its pin 1 corner");
}
[[nodiscard]] ParameterSpec centre_name_spec();

/// Adds the land in the middle where both its sizes are above 0. Errors: one size without the other, a chamfer larger
/// than the land.
[[nodiscard]] Result<void> add_centre(std::vector<document::Pad>& pads, const Given& given);

} // namespace padchart::patterns
