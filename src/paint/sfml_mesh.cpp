#include "paint/sfml_mesh.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace padchart::paint {
namespace {

constexpr float kPi = std::numbers::pi_v<float>;
// Sharper corners than this get a flat end instead of a spike.
constexpr float kLongestMitre = 2.5F;

float length(sf::Vector2f v) {
    return std::hypot(v.x, v.y);
}

sf::Vector2f normal(sf::Vector2f from, sf::Vector2f to) {
    const sf::Vector2f d = to - from;
    const float l = length(d);
    return l > 0.0F ? sf::Vector2f(-d.y / l, d.x / l) : sf::Vector2f();
}

void drop_near_points(std::span<const sf::Vector2f> points, bool closed, std::vector<sf::Vector2f>& kept) {
    constexpr float kNear = 1.0F / 3.0F;
    kept.clear();
    for (std::size_t i = 0; i < points.size(); ++i) {
        const bool last_of_open = !closed && i + 1 == points.size();
        if (kept.empty() || last_of_open || length(points[i] - kept.back()) >= kNear) kept.push_back(points[i]);
    }
    while (closed && kept.size() > 2 && length(kept.front() - kept.back()) < kNear)
        kept.pop_back();
}

int corners_for(float radius) {
    return std::clamp(static_cast<int>(radius * 1.6F) + 8, 8, 64);
}

sf::Vector2f on_circle(sf::Vector2f centre, float radius, float turn) {
    return centre + sf::Vector2f(std::cos(turn), std::sin(turn)) * radius;
}

} // namespace

void Mesh::convex(std::span<const sf::Vector2f> ring, sf::Color colour) {
    for (std::size_t i = 1; i + 1 < ring.size(); i += 2)
        quad(ring[0], ring[i], ring[i + 1], ring[std::min(i + 2, ring.size() - 1)], colour);
}

void Mesh::outlined(std::span<const sf::Vector2f> ring, float width, sf::Color fill, sf::Color edge) {
    const std::size_t n = ring.size();
    scratch_.clear();
    scratch_2_.clear();
    float turning = 0.0F;
    for (std::size_t i = 0; i < n; ++i) {
        const sf::Vector2f a = ring[i], b = ring[(i + 1) % n];
        turning += a.x * b.y - a.y * b.x;
    }
    const float outwards = turning > 0.0F ? -width : width;
    for (std::size_t i = 0; i < n; ++i) {
        const sf::Vector2f sum = normal(ring[(i + n - 1) % n], ring[i]) + normal(ring[i], ring[(i + 1) % n]);
        // A corner sharper than this would reach far out.
        const float square = std::max(sum.x * sum.x + sum.y * sum.y, 4.0F / (kLongestMitre * kLongestMitre));
        const sf::Vector2f shift = sum * (outwards / square);
        scratch_.push_back(ring[i] + shift);
        scratch_2_.push_back(ring[i] - shift);
    }
    convex(scratch_, edge);
    convex(scratch_2_, fill);
}

void Mesh::disc(sf::Vector2f centre, float radius, sf::Color colour) {
    const int n = corners_for(radius);
    scratch_.clear();
    for (int i = 0; i < n; ++i)
        scratch_.push_back(on_circle(centre, radius, 2 * kPi * static_cast<float>(i) / static_cast<float>(n)));
    convex(scratch_, colour);
}

void Mesh::circle(sf::Vector2f centre, float radius, float width, sf::Color colour) {
    const int n = corners_for(radius) * 2;
    const float inner = std::max(radius - width / 2, 0.0F);
    const float outer = radius + width / 2;
    for (int i = 0; i < n; ++i) {
        const float from = 2 * kPi * static_cast<float>(i) / static_cast<float>(n);
        const float to = 2 * kPi * static_cast<float>(i + 1) / static_cast<float>(n);
        quad(on_circle(centre, inner, from), on_circle(centre, outer, from), on_circle(centre, outer, to),
             on_circle(centre, inner, to), colour);
    }
}

void Mesh::rounded_box(sf::Vector2f min, sf::Vector2f max, float radius, sf::Color colour) {
    const float r = std::min({radius, (max.x - min.x) / 2, (max.y - min.y) / 2});
    constexpr int kSteps = 6;
    scratch_.clear();
    const sf::Vector2f centres[] = {
        {max.x - r, max.y - r}, {min.x + r, max.y - r}, {min.x + r, min.y + r}, {max.x - r, min.y + r}};
    for (int corner = 0; corner < 4; ++corner)
        for (int i = 0; i <= kSteps; ++i) {
            const float turn = kPi / 2 * (static_cast<float>(corner) + static_cast<float>(i) / kSteps);
            scratch_.push_back(on_circle(centres[corner], r, turn));
        }
    convex(scratch_, colour);
}

void Mesh::segment(sf::Vector2f from, sf::Vector2f to, float width, sf::Color colour) {
    const sf::Vector2f n = normal(from, to) * (width / 2);
    quad(from + n, to + n, to - n, from - n, colour);
}

void Mesh::stroke(std::span<const sf::Vector2f> points, bool closed, float width, sf::Color colour) {
    drop_near_points(points, closed, scratch_);
    const std::vector<sf::Vector2f>& p = scratch_;
    const std::size_t n = p.size();
    if (n < 2) return;
    const bool ring = closed && n > 2;
    const std::size_t segments = ring ? n : n - 1;
    const auto joint = [&](std::size_t i) { // half-width displacement shared by both neighbours of point i
        const sf::Vector2f before = ring || i > 0 ? normal(p[(i + n - 1) % n], p[i]) : normal(p[i], p[i + 1]);
        const sf::Vector2f after = ring || i + 1 < n ? normal(p[i], p[(i + 1) % n]) : before;
        const sf::Vector2f sum = before + after;
        const float square = sum.x * sum.x + sum.y * sum.y;
        if (square < 4.0F / (kLongestMitre * kLongestMitre)) return std::pair(sf::Vector2f(), false);
        return std::pair(sum * (width / square), true);
    };
    for (std::size_t i = 0; i < segments; ++i) {
        const std::size_t j = (i + 1) % n;
        const sf::Vector2f flat = normal(p[i], p[j]) * (width / 2);
        const auto [a, a_mitred] = joint(i);
        const auto [b, b_mitred] = joint(j);
        const sf::Vector2f from = a_mitred ? a : flat;
        const sf::Vector2f to = b_mitred ? b : flat;
        quad(p[i] + from, p[j] + to, p[j] - to, p[i] - from, colour);
    }
}

void Mesh::dashed(std::span<const sf::Vector2f> points, bool closed, float width, Dash dash, sf::Color colour) {
    const float on = static_cast<float>(dash.on_px);
    const float period = static_cast<float>(dash.on_px + dash.off_px);
    if (on <= 0.0F || period <= on) {
        stroke(points, closed, width, colour);
        return;
    }
    float phase = 0.0F; // of the dash pattern at the start of the segment
    const std::size_t n = points.size();
    for (std::size_t i = 0; i + (closed ? 0 : 1) < n; ++i) {
        const sf::Vector2f from = points[i];
        const sf::Vector2f to = points[(i + 1) % n];
        const float l = length(to - from);
        if (l <= 0.0F) continue;
        for (float at = -phase; at < l; at += period) {
            const float start = std::max(at, 0.0F);
            const float end = std::min(at + on, l);
            if (end > start) segment(from + (to - from) * (start / l), from + (to - from) * (end / l), width, colour);
        }
        phase = std::fmod(phase + l, period);
    }
}

} // namespace padchart::paint
