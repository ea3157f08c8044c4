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
    /// How far the pen moves for one letter, in multiples of the size: unhinted, since hinted ones add up to a spread
    /// text.
    [[nodiscard]] float advance_em(char32_t letter, FontWeight weight) const;
    [[nodiscard]] float capital_height(FontWeight weight, unsigned size_px) const;

private:
    std::array<sf::Font, 3> fonts_;
    mutable std::map<std::pair<FontWeight, char32_t>, float> advances_;
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
