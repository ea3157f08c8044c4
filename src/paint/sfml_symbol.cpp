#include "paint/sfml_symbol.hpp"

#include <cmath>

namespace padchart::paint {
namespace {

void add_letter(TextBatches& texts, const SfmlFonts& fonts, sf::Vector2f at, float radius, const char* letter,
                sf::Color colour) {
    const auto size = static_cast<unsigned>(std::lround(radius * 1.4F));
    const float width = fonts.width(letter, FontWeight::Bold, size);
    const float capital = fonts.capital_height(FontWeight::Bold, size);
    texts.add(letter, at + sf::Vector2f(-width / 2, capital / 2), FontWeight::Bold, size, colour);
}

void add_tick(Mesh& mesh, sf::Vector2f at, float r, sf::Color colour) {
    const sf::Vector2f points[] = {at + sf::Vector2f(-0.45F * r, 0.05F * r), at + sf::Vector2f(-0.12F * r, 0.38F * r),
                                   at + sf::Vector2f(0.46F * r, -0.32F * r)};
    mesh.stroke(points, false, 0.24F * r, colour);
}

void add_page_lines(Mesh& mesh, sf::Vector2f at, float r, sf::Color colour) {
    for (const float y : {-0.35F, 0.0F, 0.35F}) {
        const sf::Vector2f ends[] = {at + sf::Vector2f(-0.45F * r, y * r),
                                     at + sf::Vector2f((y > 0 ? 0.1F : 0.45F) * r, y * r)};
        mesh.stroke(ends, false, 0.14F * r, colour);
    }
}

void add_cross(Mesh& mesh, sf::Vector2f at, float r, float width, sf::Color colour) {
    const sf::Vector2f level[] = {at - sf::Vector2f(r, 0), at + sf::Vector2f(r, 0)};
    const sf::Vector2f upright[] = {at - sf::Vector2f(0, r), at + sf::Vector2f(0, r)};
    mesh.stroke(level, false, width, colour);
    mesh.stroke(upright, false, width, colour);
}

void add_handle(Mesh& mesh, sf::Vector2f at, float r, float edge, sf::Color fill, sf::Color stroke) {
    const sf::Vector2f centre(std::round(at.x), std::round(at.y));
    const float half = std::round(r);
    mesh.box(centre - sf::Vector2f(half, half), centre + sf::Vector2f(half, half), stroke);
    mesh.box(centre - sf::Vector2f(half - edge, half - edge), centre + sf::Vector2f(half - edge, half - edge), fill);
}

} // namespace

void add_symbol(Mesh& mesh, TextBatches& texts, const SfmlFonts& fonts, sf::Vector2f at, const scene::Symbol& symbol,
                const Style& style, double ui_scale) {
    using scene::Sign;
    const float k = static_cast<float>(ui_scale);
    const float r = static_cast<float>(symbol.radius_px) * k;
    const sf::Color fill = sfml_colour(style.fill.value_or(style.text));
    const sf::Color edge = sfml_colour(style.stroke.value_or(style.text));
    if (symbol.sign == Sign::Handle) return add_handle(mesh, at, r, 1.5F * k, fill, edge);
    if (symbol.sign == Sign::Cross) return add_cross(mesh, at, r, 1.5F * k, edge);
    mesh.disc(at, r + k, edge);
    mesh.disc(at, r, fill);
    const sf::Color sign = sfml_colour(style.text);
    switch (symbol.sign) {
    case Sign::Query: add_letter(texts, fonts, at, r, "?", sign); break;
    case Sign::Exclamation: add_letter(texts, fonts, at, r, "!", sign); break;
    case Sign::Tick: add_tick(mesh, at, r, sign); break;
    case Sign::NoteSign: add_page_lines(mesh, at, r, sign); break;
    case Sign::Handle:
    case Sign::Cross: break;
    }
}

} // namespace padchart::paint
