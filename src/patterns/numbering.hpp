#pragma once
// Pin numbers: how the places of a part are called, which pin is where after a turn, and whether a picture is mirrored.
// Sources: row letters, IPC-7351 clause 14.2.5; counter-clockwise from pin 1 seen from above, IPC-7351 and JEDEC
// practice. Frames as in patterns/family.hpp: y down, seen from the side the part sits on.

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "geometry/vec2.hpp"

namespace padchart::patterns {

// Grids ---------------------------------------------------------------------------------------------------------------

/// Which letters name the rows of a grid. A few makers leave none out.
enum class RowLetters {
    Standard, ///< without I O Q S X Z: A..H J..N P R T U V W Y, then AA, AB, ...
    Unbroken  ///< A..Z, then AA, AB, ...
};

/// "A" for row 1. Requires: 1 <= row <= 400.
[[nodiscard]] std::string row_name(int row, RowLetters letters = RowLetters::Standard);
/// The row with that name; nothing where no row is called so ("I" in the standard letters).
[[nodiscard]] std::optional<int> row_of(std::string_view name, RowLetters letters = RowLetters::Standard);

struct GridPlace {
    int row = 1; ///< 1 is A
    int column = 1;

    bool operator==(const GridPlace&) const = default;
};

/// "B7". Requires: row as in row_name, column >= 1.
[[nodiscard]] std::string ball_name(GridPlace place, RowLetters letters = RowLetters::Standard);
/// Letters and digits, either case. Nothing when the name is none, or its row letter is left out of the list.
[[nodiscard]] std::optional<GridPlace> ball_place(std::string_view name, RowLetters letters = RowLetters::Standard);

/// The place where a ball of a grid with `rows` x `columns` comes to lie when the part is turned counter-clockwise by
/// `quarter_turns` x 90 degrees, named as the unturned land under it. The grid of lands under an odd turn of an oblong
/// array has rows and columns exchanged. Requires: the place lies in the grid.
[[nodiscard]] GridPlace turned_place(GridPlace place, int rows, int columns, int quarter_turns);

// Perimeters ----------------------------------------------------------------------------------------------------------

/// The pin across from `pin` in two rows of together `pins`: N + 1 - k. Requires: 1 <= pin <= pins, pins even.
[[nodiscard]] int opposite_pin(int pin, int pins);
/// The land on which `pin` lies after a counter-clockwise turn by `quarter_turns` x 90 degrees: k + N/4 for each.
/// Errors: pins not a multiple of 4 and the turn odd, pins odd: no land would be met.
/// Requires: 1 <= pin <= pins.
[[nodiscard]] Result<int> turned_pin(int pin, int pins, int quarter_turns);

/// Numbers for traced lands round a perimeter: result[i] is the pin number, from 1, of lands[i], counter-clockwise as
/// seen from above, beginning with lands[first]. The lands are sorted by their bearing from the middle of their box,
/// which holds for two rows, four rows and corners; lands of one straight row by their distance from the first. Lands
/// inside the ring do not belong in the list.
/// Requires: first < lands.size(), all finite.
[[nodiscard]] std::vector<int> perimeter_numbers(std::span<const geometry::Vec2> lands, std::size_t first);

/// Area inside the closed line through the lands in pin order, mm2, as trade drawings count it: positive for
/// counter-clockwise as seen, that is with y upwards.
[[nodiscard]] double numbering_area(std::span<const geometry::Vec2> lands_in_pin_order);

/// How the numbers of a perimeter part run on the picture. Clockwise means that the picture was taken mirrored, or that
/// it shows the part from below.
enum class NumberingSense {
    CounterClockwise, ///< as seen from above: as it should be
    Clockwise,        ///< mirrored
    Unclear           ///< fewer than three lands, all in a line, or zigzag: nothing follows
};
[[nodiscard]] NumberingSense numbering_sense(std::span<const geometry::Vec2> lands_in_pin_order);
/// numbering_sense is Clockwise.
[[nodiscard]] bool is_mirrored(std::span<const geometry::Vec2> lands_in_pin_order);

// Connectors ----------------------------------------------------------------------------------------------------------

/// The three ways in which makers number two rows of contacts. Pin 1 is always the first of the left row.
enum class ConnectorScheme {
    Zigzag,           ///< odd numbers left, even ones right
    CounterClockwise, ///< down the left row, up the right one
    SameDirection     ///< down the left row, then down the right one
};

/// Row 0 is left, 1 right; place counts down from 0 at the end with pin 1. Requires: place < per_row.
[[nodiscard]] int connector_pin(ConnectorScheme scheme, int row, int place, int per_row);

} // namespace padchart::patterns
