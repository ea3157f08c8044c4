#pragma once
// The written part of the sheet as sections and tables of a page.

#include <string>

#include "scene/sheet_tables.hpp"

namespace padchart::page {

[[nodiscard]] std::string blocks_markup(const scene::Blocks& blocks);

} // namespace padchart::page
