#pragma once
// Package families: from a few numbers to the copper, the body and the pin numbers of a part. What a family gives is a
// pattern: a footprint at zero turn without id, name, place or anything the technician has to say.
//
// Frame: the part's own, mm, origin at the body's centre, x right, y DOWN, seen from the side the part sits on. Zero
// turn is level A of IPC-7351: pin 1 upper left, two-terminal parts with pin 1 left (cathode of a diode, positive of a
// polarised capacitor). Perimeter parts are numbered counter-clockwise as seen from above.
//
// The numbers lie in assets/tables/family_*.tsv, one row for each family with its standing and source. Lands differ by
// maker: a family is a start to be corrected by measuring, and a match by size never identifies a part.

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "document/footprint.hpp"

namespace padchart::patterns {

struct Parameter {
    std::string_view key;   ///< stable, with its unit: "pitch_mm", "pins"
    std::string_view label; ///< for panels: "pitch"
    std::string_view unit;  ///< "mm", or empty for counts and choices
    double default_value = 0.0;
    double min = 0.0;
    double max = 0.0;
    double step = 0.0;                         ///< what one click of a spin box adds
    bool is_integer = false;                   ///< a count, or a position in `choices`
    std::span<const std::string_view> choices; ///< words for 0, 1, 2, ...; empty for plain numbers and counts
};

struct Family {
    std::string_view key;                                          ///< "chip-1608M": stable, kept in chart files
    std::string_view name;                                         ///< for panels: "Chip 1608M (inch 0603)"
    std::string_view group;                                        ///< for menus: "Chips"
    document::PartClass part_class = document::PartClass::Unknown; ///< what it is unless somebody says otherwise
    std::vector<Parameter> parameters;
    bool takes_omitted = false; ///< a grid: after its own parameters may follow places left empty, see omitted_place()
    std::string_view standing;  ///< of the default values: "published", "from memory" or "common practice"
    std::string_view source;
    std::size_t layout = 0; ///< which generator makes it; for this module only
};

/// Every family, ordered as a menu shows them: by group, small before large.
[[nodiscard]] std::span<const Family> families();

/// Nothing when no family bears the key.
[[nodiscard]] const Family* find_family(std::string_view key);

/// The family's own default values, in its own order.
[[nodiscard]] std::vector<double> default_parameters(const Family& family);

/// The pattern: pads, body with height, part class, family key and the full list of parameters used. Parameters not
/// given take their defaults.
/// Errors: a number not finite or outside its limits, a fraction where a count belongs, more numbers than the family
/// has, a combination whose pads would overlap or that leaves no pads, an omitted place outside the grid.
[[nodiscard]] Result<document::Footprint> generate(const Family& family, std::span<const double> parameters = {});

/// As above by key. Errors: also an unknown key.
[[nodiscard]] Result<document::Footprint> generate(std::string_view key, std::span<const double> parameters = {});

/// One empty place of a grid as a parameter: row * 1000 + column, both counted from 1.
/// Requires: 1 <= row, 1 <= column <= 999.
[[nodiscard]] double omitted_place(int row, int column);

/// Parameters of a grid family with the balls named in `names` left out ("A1 C3, C4"); replaces earlier omissions.
/// Errors: the family is no grid, a name that is none, a place outside the grid, the same place twice.
[[nodiscard]] Result<std::vector<double>> with_omitted(const Family& family, std::span<const double> parameters,
                                                       std::string_view names);

} // namespace padchart::patterns
