#pragma once
// Things made of things: duplicates, rows, grids, rings, and what is brought from another chart. A copy of a part is
// another part: it has the copper, body, kind, value and heat limits of the first one, a fresh id and a free name, and
// nothing that somebody saw of the first one is said of it. Keep-outs, shields and notes are copied as they are.

#include <span>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "document/chart.hpp"
#include "document/fragment.hpp"

namespace padchart::document {

/// Without state of part, lands and joints, without the orientation's evidence (the mark's kind, bearing and meaning
/// stay), without trace key and lock. Id, name and place as they were.
[[nodiscard]] Footprint unseen(const Footprint& part);

/// The first free name after it: "R77" gives "R78", or "R79" where that is taken; "X" gives "X2". Empty stays empty.
[[nodiscard]] std::string next_name(const Chart& chart, const std::string& name);

struct Copies {
    Chart chart;
    std::vector<Id> ids; ///< of what was added, in order
};

/// Adds them at the places they have, parts unseen. A name is kept where it is free and not empty. A note that speaks
/// of a copied part speaks of the copy; of a part that is not in the chart it speaks no more.
/// Errors: as add_part and put; more than kMostCopies.
[[nodiscard]] Result<Copies> add_copies(const Chart& chart, const Fragment& things);
[[nodiscard]] Result<Copies> add_copies(const Chart& chart, std::span<const Footprint> parts);
inline constexpr std::size_t kMostCopies = 2000;

/// Each once more, moved by `by_mm` (board frame). Errors: an id of nothing; nothing among them that can be copied.
[[nodiscard]] Result<Copies> duplicate(const Chart& chart, std::span<const Id> ids, geometry::Vec2 by_mm);

/// The things themselves are the first of the columns and rows. Steps in the board frame, mm.
struct GridArray {
    int columns = 2;
    int rows = 1;
    geometry::Vec2 column_step{1.0, 0.0};
    geometry::Vec2 row_step{0.0, 1.0};
};
/// Errors: a count below 1, only one place in all, a step of 0 between places, more than kMostCopies copies.
[[nodiscard]] Result<Copies> copy_to_grid(const Chart& chart, std::span<const Id> ids, const GridArray& grid);

/// The things themselves are the first of the ring. Areas and the places of notes always turn with it.
struct RingArray {
    int count = 4;
    Angle step = Angle::degrees(90); ///< from one to the next, counter-clockwise as seen from `seen_from`
    geometry::Vec2 about;            ///< board frame
    bool turns = true;               ///< the copies turn with the ring; else they keep the turn they have
    Side seen_from = Side::Top;
};
/// Errors: a count below 2, a step of 0, more than kMostCopies copies.
[[nodiscard]] Result<Copies> copy_to_ring(const Chart& chart, std::span<const Id> ids, const RingArray& ring);

} // namespace padchart::document
