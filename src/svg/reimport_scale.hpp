#pragma once
// A chart and its corrected trace in the same millimetres. For svg/reimport alone.

#include "base/diagnostic.hpp"
#include "base/result.hpp"
#include "document/chart.hpp"

namespace padchart::svg {

struct InOneScale {
    document::Chart current;
    document::Chart fresh;
};

/// Both in one scale, the one that counts. How many times as large the trace is is seen where both draw the same
/// things; else its unit is taken to mean what it meant. A guess outranks nothing: it only stands in where nothing
/// else tells. A scale that no trace gave leaves both as they are, each in its own millimetres. Findings
/// "scale-changed", "scale-guessed" where nothing tells how large the trace is.
[[nodiscard]] Result<InOneScale> in_one_scale(const document::Chart& current, const document::Chart& fresh,
                                              Diagnostics& findings);

} // namespace padchart::svg
