#pragma once
// What is remembered of a found trace, and what of it is told. A layer with a name of its own is remembered by that
// name, for whatever trace comes next. Anything else is remembered by what is drawn there: kind, place, size and layer
// of each shape. Neither the file's name nor ids count, since another board's drawing may bear the same; only where a
// person says that it is the same board's, corrected, a single shape that moved is found again by its id, else by its
// form and the nearest place. No window, no panel.

#include <cstdint>
#include <set>
#include <vector>

#include "app/found_trace.hpp"

namespace padchart::app {

/// One number a shape of the drawing, by what is drawn; shapes that lie on one another in one layer are counted.
[[nodiscard]] std::vector<std::uint64_t> shape_prints(const svg::Drawing& drawing);

/// Says what the memory knows of the trace's entries, as remembered.
void recall(FoundTrace& found, const MeaningMemory& memory);

/// Of a corrected drawing of the same file: shapes of which something was said by itself and that were moved since,
/// each the one of its form and id, else the one of its form that lies nearest, no farther off than it is long.
void recall_moved(FoundTrace& found);

/// Puts what stands of these entries into the memory; what stands no longer is forgotten.
void remember(const FoundTrace& found, const std::set<std::size_t>& entries, MeaningMemory& memory);

struct MemoryAccount {
    std::size_t shapes = 0;   ///< taken as was said of another trace
    std::size_t left_out = 0; ///< of these
    Diagnostics findings;     ///< one for each layer, and for each meaning of single shapes: code "remembered-meaning"
};
[[nodiscard]] MemoryAccount account_of_memory(const FoundTrace& found);

} // namespace padchart::app
