#pragma once
// Everything that is no text becomes quads in one list, so that one draw call paints it in order. Coordinates are px.

#include <span>
#include <vector>

#include <SFML/Graphics/Vertex.hpp>

#include "geometry/polygon.hpp"
#include "paint/theme.hpp"

namespace padchart::paint {

[[nodiscard]] inline sf::Color sfml_colour(Colour c) {
    return {c.r, c.g, c.b, c.a};
}

class Mesh {
public:
    [[nodiscard]] const std::vector<sf::Vertex>& vertices() const { return vertices_; }
    void clear() { vertices_.clear(); }

    void quad(sf::Vector2f a, sf::Vector2f b, sf::Vector2f c, sf::Vector2f d, sf::Color colour) {
        vertices_.emplace_back(a, colour);
        vertices_.emplace_back(b, colour);
        vertices_.emplace_back(c, colour);
        vertices_.emplace_back(d, colour);
    }
    void box(sf::Vector2f min, sf::Vector2f max, sf::Color colour) {
        quad(min, {max.x, min.y}, max, {min.x, max.y}, colour);
    }
    /// Requires: at least three points of a convex ring.
    void convex(std::span<const sf::Vector2f> ring, sf::Color colour);
    /// The ring and its edge as two convex pieces, the edge half outside and half inside; half the quads of a stroke.
    void outlined(std::span<const sf::Vector2f> ring, float width, sf::Color fill, sf::Color edge);
    void disc(sf::Vector2f centre, float radius, sf::Color colour);
    void circle(sf::Vector2f centre, float radius, float width, sf::Color colour);
    void rounded_box(sf::Vector2f min, sf::Vector2f max, float radius, sf::Color colour);

    /// A line of one width with mitred joints. Points nearer to each other than a third of a pixel count as one.
    void stroke(std::span<const sf::Vector2f> points, bool closed, float width, sf::Color colour);
    void dashed(std::span<const sf::Vector2f> points, bool closed, float width, Dash dash, sf::Color colour);

private:
    void segment(sf::Vector2f from, sf::Vector2f to, float width, sf::Color colour);

    std::vector<sf::Vertex> vertices_;
    std::vector<sf::Vector2f> scratch_, scratch_2_;
};

} // namespace padchart::paint
