#pragma once
// `padchart sheet --all FOLDER -o index.html`: a page for every chart below the folder and an index of them.

#include "cli/command.hpp"

namespace padchart::cli {

/// Requires: --all was given.
int run_sheet_index(const Arguments& arguments, Streams streams);

} // namespace padchart::cli
