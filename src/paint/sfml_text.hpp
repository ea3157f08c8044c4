#pragma once
// Text as batches of glyph quads, one batch for each font and size, all on whole pixels.

#include <array>
#include <map>
#include <string_view>
#include <utility>
#include <vector>

#include <SFML/Graphics/Font.hpp>
#include <SFML/Graphics/RenderTarget.hpp>

#include "base/result.hpp"
#include "paint/theme.hpp"

namespace padchart::paint {

class SfmlFonts {
public:
    /// Errors: no usable font is installed.
    [[nodiscard]] Result<void> load();
    [[nodiscard]] const sf::Font& font(FontWeight weight) const { return fonts_[static_cast<std::size_t>(weight)]; }
    /// How far the pen moves, px.
    [[nodiscard]] float width(std::string_view utf8, FontWeight weight, unsigned size_px) const;
    [[nodiscard]] float capital_height(FontWeight weight, unsigned size_px) const;

private:
    std::array<sf::Font, 3> fonts_;
};

class TextBatches {
public:
    explicit TextBatches(const SfmlFonts& fonts) : fonts_(&fonts) {}
    void clear() { batches_.clear(); }
    /// `at`: left end of the base line, px.
    void add(std::string_view utf8, sf::Vector2f at, FontWeight weight, unsigned size_px, sf::Color colour);
    void draw(sf::RenderTarget& target, sf::RenderStates states) const;

private:
    const SfmlFonts* fonts_;
    std::map<std::pair<FontWeight, unsigned>, std::vector<sf::Vertex>> batches_;
};

} // namespace padchart::paint
