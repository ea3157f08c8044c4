// Layouts of two rows, four rows and two rings of lands, with or without a land in the middle. Numbered
// counter-clockwise from the upper left, as seen from above.

#include <algorithm>
#include <array>

#include "patterns/layout_parts.hpp"

namespace padchart::patterns {
namespace {

constexpr ParameterSpec kBodyWidth = size_spec("body_width_mm", "body left to right");
constexpr ParameterSpec kBodyLength = size_spec("body_length_mm", "body top to bottom");
constexpr ParameterSpec kBodyHeight = size_spec("body_height_mm", "body height");
constexpr ParameterSpec kPitch = size_spec("pitch_mm", "pitch", 0.01);
constexpr ParameterSpec kLandLength = size_spec("land_length_mm", "land along the lead");
constexpr ParameterSpec kLandWidth = size_spec("land_width_mm", "land across the lead");

/// `specs` with those of the land in the middle after them.
template <std::size_t N>
std::array<ParameterSpec, N + 6> with_centre(const std::array<ParameterSpec, N>& specs) {
    std::array<ParameterSpec, N + 6> all{};
    auto end = std::copy(specs.begin(), specs.end(), all.begin());
    for (const ParameterSpec& spec : {centre_width_spec(), centre_length_spec(), centre_x_spec(), centre_y_spec(),
                                      centre_chamfer_spec(), centre_name_spec()})
        *end++ = spec;
    return all;
}

std::span<const ParameterSpec> two_row_specs() {
    static const auto kSpecs =
        with_centre(std::array{kBodyWidth, kBodyLength, kBodyHeight, count_spec("pins", "pins in both rows", 2, 200, 2),
                               kPitch, size_spec("row_spacing_mm", "rows, centre to centre"), kLandLength, kLandWidth});
    return kSpecs;
}

Result<Pattern> finished(std::vector<document::Pad> pads, const Given& given) {
    Result<void> centre = add_centre(pads, given);
    if (!centre) return centre.error();
    return Pattern{std::move(pads),
                   rectangle_body(given("body_width_mm"), given("body_length_mm"), given("body_height_mm"))};
}

Result<Pattern> build_two_row(const Given& given) {
    const int pins = given.count("pins");
    if (pins % 2 != 0) return Error{"Two equal rows need an even number of pins.", "pins"};
    const int per_row = pins / 2;
    const double pitch = given("pitch_mm");
    const double x = given("row_spacing_mm") / 2;
    const double y = (per_row - 1) * pitch / 2;
    std::vector<document::Pad> pads;
    add_row(pads, 1, per_row, {-x, -y}, {0, pitch}, given("land_length_mm"), given("land_width_mm"));
    add_row(pads, per_row + 1, per_row, {x, y}, {0, -pitch}, given("land_length_mm"), given("land_width_mm"));
    return finished(std::move(pads), given);
}

/// One closed ring of lands; the spacings are between the centre lines of facing rows.
struct RingOfLands {
    int side_pins = 0;
    int end_pins = 0;
    double pitch = 0.0;
    double spacing_x = 0.0;
    double spacing_y = 0.0;
    double land_length = 0.0;
    double land_width = 0.0;
};

/// Errors: a row that reaches out beyond the rows at its ends.
Result<void> add_ring(std::vector<document::Pad>& pads, const RingOfLands& ring, const std::string& prefix = "") {
    const auto reaches_out = [&](int pins, double spacing) {
        return (pins - 1) * ring.pitch + ring.land_width > spacing + ring.land_length;
    };
    if (reaches_out(ring.side_pins, ring.spacing_y) || reaches_out(ring.end_pins, ring.spacing_x))
        return Error{"A row is longer than the part: use fewer pins, a smaller pitch or a larger row spacing.",
                     "pitch_mm"};
    const double x = ring.spacing_x / 2;
    const double y = ring.spacing_y / 2;
    const double side = (ring.side_pins - 1) * ring.pitch / 2;
    const double end = (ring.end_pins - 1) * ring.pitch / 2;
    const double l = ring.land_length;
    const double w = ring.land_width;
    const double p = ring.pitch;
    const int s = ring.side_pins;
    const int e = ring.end_pins;
    add_row(pads, 1, s, {-x, -side}, {0, p}, l, w, prefix);
    add_row(pads, s + 1, e, {-end, y}, {p, 0}, w, l, prefix);
    add_row(pads, s + e + 1, s, {x, side}, {0, -p}, l, w, prefix);
    add_row(pads, 2 * s + e + 1, e, {end, -y}, {-p, 0}, w, l, prefix);
    return {};
}

std::span<const ParameterSpec> quad_specs() {
    static const auto kSpecs = with_centre(
        std::array{kBodyWidth, kBodyLength, kBodyHeight, count_spec("side_pins", "pins left and right, each", 1, 100),
                   count_spec("end_pins", "pins top and bottom, each", 1, 100), kPitch,
                   size_spec("spacing_x_mm", "left to right row, centres"),
                   size_spec("spacing_y_mm", "top to bottom row, centres"), kLandLength, kLandWidth});
    return kSpecs;
}

Result<Pattern> build_quad(const Given& given) {
    std::vector<document::Pad> pads;
    Result<void> ring =
        add_ring(pads, {given.count("side_pins"), given.count("end_pins"), given("pitch_mm"), given("spacing_x_mm"),
                        given("spacing_y_mm"), given("land_length_mm"), given("land_width_mm")});
    if (!ring) return ring.error();
    return finished(std::move(pads), given);
}

std::span<const ParameterSpec> two_ring_specs() {
    static const auto kSpecs = with_centre(
        std::array{kBodyWidth, kBodyLength, kBodyHeight, count_spec("outer_pins", "outer pins on each side", 2, 60),
                   count_spec("inner_pins", "inner pins on each side", 1, 60), kPitch,
                   size_spec("outer_spacing_mm", "outer rows, centre to centre"),
                   size_spec("inner_spacing_mm", "inner rows, centre to centre"), kLandLength, kLandWidth});
    return kSpecs;
}

Result<Pattern> build_two_ring(const Given& given) {
    const double outer = given("outer_spacing_mm");
    const double inner = given("inner_spacing_mm");
    const int outer_pins = given.count("outer_pins");
    const int inner_pins = given.count("inner_pins");
    const double l = given("land_length_mm");
    const double w = given("land_width_mm");
    std::vector<document::Pad> pads;
    Result<void> ring = add_ring(pads, {outer_pins, outer_pins, given("pitch_mm"), outer, outer, l, w}, "A");
    if (ring) ring = add_ring(pads, {inner_pins, inner_pins, given("pitch_mm"), inner, inner, l, w}, "B");
    if (!ring) return ring.error();
    return finished(std::move(pads), given);
}

} // namespace

Layout two_row_layout() {
    return {"family_two_row", two_row_specs(), build_two_row, false};
}
Layout quad_layout() {
    return {"family_quad", quad_specs(), build_quad, false};
}
Layout two_ring_layout() {
    return {"family_two_ring", two_ring_specs(), build_two_ring, false};
}

} // namespace padchart::patterns
