#include "paint/sfml_text.hpp"

#include <algorithm>
#include <cmath>

#include <SFML/System/String.hpp>

#include "paint/font.hpp"

namespace padchart::paint {
namespace {

sf::String decoded(std::string_view utf8) {
    return sf::String::fromUtf8(utf8.begin(), utf8.end());
}

void add_glyph(std::vector<sf::Vertex>& batch, const sf::Glyph& glyph, sf::Vector2f pen, sf::Color colour) {
    const sf::FloatRect& b = glyph.bounds;
    const sf::FloatRect t(glyph.textureRect);
    const sf::Vector2f min(std::round(pen.x + b.left), std::round(pen.y + b.top));
    batch.emplace_back(min, colour, sf::Vector2f(t.left, t.top));
    batch.emplace_back(min + sf::Vector2f(b.width, 0), colour, sf::Vector2f(t.left + t.width, t.top));
    batch.emplace_back(min + sf::Vector2f(b.width, b.height), colour, sf::Vector2f(t.left + t.width, t.top + t.height));
    batch.emplace_back(min + sf::Vector2f(0, b.height), colour, sf::Vector2f(t.left, t.top + t.height));
}

} // namespace

Result<void> SfmlFonts::load() {
    for (const FontWeight weight : {FontWeight::Regular, FontWeight::SemiBold, FontWeight::Bold}) {
        const Result<FontFile>& file = find_font(weight);
        if (!file) return file.error();
        if (!fonts_[static_cast<std::size_t>(weight)].loadFromFile(file->path))
            return Error{"The font file cannot be read; install Inter or DejaVu Sans anew.", file->path};
    }
    return {};
}

float SfmlFonts::advance_em(char32_t letter, FontWeight weight) const {
    // Hinting rounds to whole pixels; at this size that is one per cent.
    constexpr unsigned kLarge = 96;
    const auto found = advances_.find({weight, letter});
    if (found != advances_.end()) return found->second;
    const float drawn = font(weight).getGlyph(letter, kLarge, false).advance / kLarge;
    // Letters on whole pixels would eat up a narrow blank.
    const float advance = letter == U' ' ? std::max(drawn, 0.33F) : drawn;
    advances_.emplace(std::pair(weight, letter), advance);
    return advance;
}

float SfmlFonts::width(std::string_view utf8, FontWeight weight, unsigned size_px) const {
    float width = 0.0F;
    for (const sf::Uint32 letter : decoded(utf8))
        width += advance_em(letter, weight) * static_cast<float>(size_px);
    return width;
}

float SfmlFonts::capital_height(FontWeight weight, unsigned size_px) const {
    return -font(weight).getGlyph(U'H', size_px, false).bounds.top;
}

void TextBatches::add(std::string_view utf8, sf::Vector2f at, FontWeight weight, unsigned size_px, sf::Color colour) {
    const sf::Font& face = fonts_->font(weight);
    std::vector<sf::Vertex>& batch = batches_[{weight, size_px}];
    sf::Vector2f pen = at;
    for (const sf::Uint32 letter : decoded(utf8)) {
        const sf::Glyph& glyph = face.getGlyph(letter, size_px, false);
        if (glyph.bounds.width > 0) add_glyph(batch, glyph, pen, colour);
        pen.x += fonts_->advance_em(letter, weight) * static_cast<float>(size_px);
    }
}

void TextBatches::draw(sf::RenderTarget& target, sf::RenderStates states) const {
    // Only now, when every glyph lies in its atlas, are the textures final.
    for (const auto& [key, vertices] : batches_) {
        states.texture = &fonts_->font(key.first).getTexture(key.second);
        target.draw(vertices.data(), vertices.size(), sf::Quads, states);
    }
}

} // namespace padchart::paint
