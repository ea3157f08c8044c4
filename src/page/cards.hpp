#pragma once
// What is known of one thing of the chart, as a card of the page: parts with their orientation card, keep-outs,
// shields, readings, notes and heat plans.

#include <string>

#include "page/page.hpp"

namespace padchart::page {

/// One <article class="card"> a thing, parts first; its id as data-id, its side as data-side, its place as data-at
/// ("x y", mm of the board), what a search may find as data-words.
[[nodiscard]] std::string cards_markup(const PageInput& input);

} // namespace padchart::page
