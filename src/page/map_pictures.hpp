#pragma once
// The map of the page: both sides of the board, each with all its stages. Private to the page.

#include <string>
#include <vector>

#include "page/page.hpp"
#include "page/stage_pictures.hpp"

namespace padchart::page {

struct MapPictures {
    std::vector<double> levels; ///< px a mm from which a level of names is shown, rising
    std::string markup;         ///< a <figure> a side that has anything on it
    std::size_t sides = 1;
    double mm_per_px = 0.03; ///< at the level shown first
    std::size_t first_level = 0;
};

[[nodiscard]] MapPictures map_pictures(const PageInput& input, const std::vector<StagePicture>& stages);

} // namespace padchart::page
