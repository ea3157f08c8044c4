#pragma once
// Signs of fixed size: badges, handles, crosses.

#include "paint/sfml_mesh.hpp"
#include "paint/sfml_text.hpp"
#include "scene/scene.hpp"

namespace padchart::paint {

/// About `at` in px.
void add_symbol(Mesh& mesh, TextBatches& texts, const SfmlFonts& fonts, sf::Vector2f at, const scene::Symbol& symbol,
                const Style& style, double ui_scale);

} // namespace padchart::paint
