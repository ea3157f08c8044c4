// The layout of ball and land grids. Row A is the upper row, column 1 the left one; places may be empty in the middle,
// alternately (staggered arrays) or one by one.

#include <algorithm>
#include <array>
#include <cmath>

#include "patterns/family.hpp"
#include "patterns/layout_parts.hpp"
#include "patterns/numbering.hpp"

namespace padchart::patterns {
namespace {

constexpr std::array<std::string_view, 2> kShapeChoices{"round", "square"};
constexpr std::array<std::string_view, 2> kFillChoices{"every place", "every other place"};
constexpr std::array<std::string_view, 2> kLetterChoices{"without I O Q S X Z", "no letter left out"};

constexpr std::array kGrid{
    size_spec("body_width_mm", "body left to right"),
    size_spec("body_length_mm", "body top to bottom"),
    size_spec("body_height_mm", "body height"),
    count_spec("columns", "columns", 1, 80),
    count_spec("rows", "rows", 1, 80),
    size_spec("pitch_x_mm", "pitch of columns", 0.01),
    size_spec("pitch_y_mm", "pitch of rows", 0.01),
    size_spec("land_mm", "land", 0.01),
    choice_spec("land_shape", "land shape", kShapeChoices),
    optional_size_spec("a1_longer_mm", "land A1 longer by"),
    count_spec("empty_columns", "empty middle, columns", 0, 80),
    count_spec("empty_rows", "empty middle, rows", 0, 80),
    choice_spec("fill", "places filled", kFillChoices),
    choice_spec("letters", "row letters", kLetterChoices),
};

struct Grid {
    int columns = 0;
    int rows = 0;
    int empty_columns = 0;
    int empty_rows = 0;
    bool staggered = false;
    std::vector<double> omitted; ///< sorted
};

bool in_middle(int at, int empty, int all) {
    const int before = (all - empty) / 2;
    return at > before && at <= before + empty;
}

bool is_filled(const Grid& grid, GridPlace place) {
    if (grid.staggered && (place.row + place.column) % 2 != 0) return false;
    if (in_middle(place.row, grid.empty_rows, grid.rows) && in_middle(place.column, grid.empty_columns, grid.columns))
        return false;
    return !std::binary_search(grid.omitted.begin(), grid.omitted.end(), omitted_place(place.row, place.column));
}

Result<void> check_middle(const Given& given, const Grid& grid) {
    const auto fits = [](int empty, int all) { return empty < all && (empty == 0 || (all - empty) % 2 == 0); };
    if ((grid.empty_columns == 0) != (grid.empty_rows == 0))
        return Error{"An empty middle needs both columns and rows; for none set both to 0.", "empty_columns"};
    if (!fits(grid.empty_columns, grid.columns))
        return Error{"The empty middle must leave as many columns left as right.", "empty_columns"};
    if (!fits(grid.empty_rows, grid.rows))
        return Error{"The empty middle must leave as many rows above as below.", "empty_rows"};
    if (given("a1_longer_mm") > given("pitch_y_mm"))
        return Error{"Land A1 cannot be longer by more than the pitch.", "a1_longer_mm"};
    return {};
}

Result<void> check_omitted(const Grid& grid) {
    for (const double code : grid.omitted) {
        const double row = std::floor(code / 1000.0);
        const double column = code - 1000.0 * row;
        if (row < 1 || row > grid.rows || column < 1 || column > grid.columns || column != std::floor(column))
            return Error{"An omitted place lies outside the grid of " + std::to_string(grid.rows) + " rows and " +
                             std::to_string(grid.columns) + " columns.",
                         "omitted"};
    }
    if (std::adjacent_find(grid.omitted.begin(), grid.omitted.end()) != grid.omitted.end())
        return Error{"The same place is omitted twice.", "omitted"};
    return {};
}

document::Pad grid_pad(const Given& given, std::string name, geometry::Vec2 at, bool is_a1) {
    const double land = given("land_mm");
    const double longer = is_a1 ? given("a1_longer_mm") : 0.0;
    const bool square = given.count("land_shape") == 1;
    if (square) return rectangle_pad(std::move(name), at, land, land + longer);
    document::Pad pad = round_pad(std::move(name), at, land);
    if (longer > 0.0) pad.shape = {document::ShapeKind::Oblong, land, land + longer, {}};
    return pad;
}

std::vector<document::Pad> grid_pads(const Given& given, const Grid& grid) {
    const auto letters = given.count("letters") == 0 ? RowLetters::Standard : RowLetters::Unbroken;
    const double pitch_x = given("pitch_x_mm");
    const double pitch_y = given("pitch_y_mm");
    const double left = -(grid.columns - 1) * pitch_x / 2;
    const double top = -(grid.rows - 1) * pitch_y / 2;
    std::vector<document::Pad> pads;
    for (int row = 1; row <= grid.rows; ++row)
        for (int column = 1; column <= grid.columns; ++column)
            if (is_filled(grid, {row, column}))
                pads.push_back(grid_pad(given, ball_name({row, column}, letters),
                                        {left + (column - 1) * pitch_x, top + (row - 1) * pitch_y},
                                        row == 1 && column == 1));
    return pads;
}

Result<Pattern> build_grid(const Given& given) {
    Grid grid{given.count("columns"),    given.count("rows"),      given.count("empty_columns"),
              given.count("empty_rows"), given.count("fill") == 1, {given.omitted().begin(), given.omitted().end()}};
    std::sort(grid.omitted.begin(), grid.omitted.end());
    if (Result<void> middle = check_middle(given, grid); !middle) return middle.error();
    if (Result<void> omitted = check_omitted(grid); !omitted) return omitted.error();
    return Pattern{grid_pads(given, grid),
                   rectangle_body(given("body_width_mm"), given("body_length_mm"), given("body_height_mm"))};
}

} // namespace

Layout grid_layout() {
    return {"family_grid", kGrid, build_grid, true};
}

} // namespace padchart::patterns
