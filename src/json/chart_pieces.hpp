#pragma once
// The text of a large chart cut into pieces that are read one by one: the values of a whole text take eight times the
// room of the chart that is made of them.

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace padchart::json {

/// Nothing but what JSON allows between its values.
[[nodiscard]] bool is_blank(std::string_view text);

/// A stretch of a long list.
struct ListPiece {
    std::string_view key;
    std::string_view items; ///< with the commas between them

    /// An object with that list alone.
    [[nodiscard]] std::string text() const;
};

struct ChartPieces {
    std::string frame;             ///< the text with the long lists emptied
    std::vector<ListPiece> pieces; ///< in order; they point into the text
};

/// Frame and pieces are JSON if, and only if, the text is, and hold the same values. Nothing where the text is not laid
/// out as a chart is; what is not JSON may come back in pieces that are not.
[[nodiscard]] std::optional<ChartPieces> pieces_of(std::string_view text, std::size_t piece_bytes);

} // namespace padchart::json
