#pragma once
// Charts that differ in kind, for layouts/: a dense radio corner with grids and a shield, a long flexible strip with
// parts at odd angles, a cell bay seen from below with heat limits through the board, and a trace nobody has scaled
// yet. All invented.

#include <string>
#include <vector>

#include "base/result.hpp"
#include "document/chart.hpp"

namespace padchart::samples {

struct Layout {
    std::string file_name; ///< below layouts/
    document::Chart chart;
};

[[nodiscard]] Result<std::vector<Layout>> layouts();

} // namespace padchart::samples
