// A frame of the painter beside one batched vertex buffer of the same pads, at 1600 x 900: 50,000 pads, all in view,
// a sixteenth and a 256th of them. There are two such buffers: one of the bare pads, and one with their edges too,
// which is the picture that the painter makes where pads are large enough to have edges. Lower quartiles of many
// frames, display and glFinish included. Needs a display.

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <memory>
#include <vector>

#include <SFML/Graphics/RenderWindow.hpp>
#include <SFML/Graphics/VertexBuffer.hpp>
#include <SFML/OpenGL.hpp>

#include "paint/sfml_painter.hpp"
#include "scene/chart_scene.hpp"
#include "support/chart_generator.hpp"

namespace {

using namespace padchart;
using geometry::Vec2;

constexpr unsigned kWidth = 1600, kHeight = 900;
constexpr int kColumns = 250, kRows = 200; // 50,000 pads
constexpr double kPitch_mm = 0.5;

geometry::Ring pad_at(int column, int row, double wider_mm = 0.0) {
    const double w = wider_mm;
    const Vec2 at{column * kPitch_mm, row * kPitch_mm};
    return {at + Vec2{-w, -w}, at + Vec2{0.3 + w, -w}, at + Vec2{0.3 + w, 0.2 + w}, at + Vec2{-w, 0.2 + w}};
}

std::shared_ptr<const scene::Scene> pads_scene() {
    auto made = std::make_shared<scene::Scene>();
    for (int row = 0; row < kRows; ++row)
        for (int column = 0; column < kColumns; ++column) {
            made->add(scene::Role::PadCopper, scene::Fill{{pad_at(column, row), {}}});
            made->add(scene::Role::PadEdge, scene::Line{pad_at(column, row), true, scene::Weight::Thin});
        }
    return made;
}

void add(std::vector<sf::Vertex>& vertices, const geometry::Ring& pad, sf::Color colour) {
    for (const Vec2 p : pad)
        vertices.emplace_back(sf::Vector2f(static_cast<float>(p.x), static_cast<float>(p.y)), colour);
}

/// Edges: a quad that is larger by half their width under one that is smaller by as much. None where they are 0 wide.
sf::VertexBuffer pads_buffer(const paint::Theme& theme, double edge_mm) {
    std::vector<sf::Vertex> vertices;
    for (int row = 0; row < kRows; ++row)
        for (int column = 0; column < kColumns; ++column) {
            if (edge_mm > 0.0)
                add(vertices, pad_at(column, row, edge_mm / 2), paint::sfml_colour(theme.palette.copper_edge));
            add(vertices, pad_at(column, row, -edge_mm / 2), paint::sfml_colour(theme.palette.copper));
        }
    sf::VertexBuffer buffer(sf::Quads, sf::VertexBuffer::Static);
    if (!buffer.create(vertices.size()) || !buffer.update(vertices.data())) std::puts("no vertex buffers here");
    return buffer;
}

template <class Draw>
double frame_ms(sf::RenderWindow& window, Draw draw) {
    const auto began = std::chrono::steady_clock::now();
    window.clear(sf::Color::White);
    draw();
    window.display();
    glFinish();
    return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - began).count();
}

/// Of many; the first one, which warms up, and what a busy machine adds are left out.
double typical(std::vector<double> times) {
    times.erase(times.begin());
    const auto quarter = times.begin() + static_cast<std::ptrdiff_t>(times.size() / 4);
    std::nth_element(times.begin(), quarter, times.end());
    return *quarter;
}

paint::View view_of(double px_per_mm, Vec2 shift_px) {
    paint::View view;
    view.centre_mm = Vec2{kColumns * kPitch_mm / 2, kRows * kPitch_mm / 2} + shift_px / px_per_mm;
    view.viewport_px = {{0, 0}, {kWidth, kHeight}};
    view.px_per_mm = px_per_mm;
    return view;
}

sf::RenderStates states_of(const paint::View& view) {
    const auto k = static_cast<float>(view.px_per_mm);
    sf::RenderStates states;
    states.transform.translate(kWidth / 2.0F, kHeight / 2.0F);
    states.transform.scale(k, k);
    states.transform.translate(static_cast<float>(-view.centre_mm.x), static_cast<float>(-view.centre_mm.y));
    return states;
}

void compare(sf::RenderWindow& window, paint::SfmlPainter& painter, const paint::Theme& theme, const char* name,
             double px_per_mm) {
    const sf::VertexBuffer bare = pads_buffer(theme, 0.0), edged = pads_buffer(theme, 1.0 / px_per_mm);
    const auto shift = [](int frame) { return Vec2{static_cast<double>(frame % 7), static_cast<double>(frame % 5)}; };
    const auto buffer_ms = [&](const sf::VertexBuffer& buffer, int frame) {
        return frame_ms(window, [&] { window.draw(buffer, states_of(view_of(px_per_mm, shift(frame)))); });
    };
    std::vector<double> bare_ms, edged_ms, pan, zoom;
    // In turns, so that all have the same neighbours on the machine.
    for (int frame = 0; frame < 41; ++frame) {
        pan.push_back(frame_ms(window, [&] { painter.draw(window, view_of(px_per_mm, shift(frame)), theme); }));
        bare_ms.push_back(buffer_ms(bare, frame));
        edged_ms.push_back(buffer_ms(edged, frame));
    }
    for (int frame = 0; frame < 41; ++frame) {
        zoom.push_back(
            frame_ms(window, [&] { painter.draw(window, view_of(px_per_mm * (1 + 0.001 * frame), {}), theme); }));
        bare_ms.push_back(buffer_ms(bare, frame));
        edged_ms.push_back(buffer_ms(edged, frame));
    }
    const double plain = typical(bare_ms), edges = typical(edged_ms), panned = typical(pan), zoomed = typical(zoom);
    std::printf(
        "%-14s bare %5.2f ms, with edges %5.2f ms; panned %5.2f ms (x %.2f and %.2f), zoomed each frame %5.2f ms "
        "(x %.2f and %.2f)\n",
        name, plain, edges, panned, panned / plain, panned / edges, zoomed, zoomed / plain, zoomed / edges);
}

void whole_chart(sf::RenderWindow& window, const paint::SfmlFonts& fonts, const paint::Theme& theme) {
    const document::Chart chart = testing::make_chart(5000, 10, 1);
    scene::ViewOptions options;
    options.px_per_mm = 4;
    const auto began = std::chrono::steady_clock::now();
    const auto made = std::make_shared<const scene::Scene>(scene::chart_scene(chart, {}, options));
    const double scene_ms = std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - began).count();
    paint::SfmlPainter painter(fonts);
    painter.set_scene(made);
    paint::View view;
    view.viewport_px = {{0, 0}, {kWidth, kHeight}};
    view.centre_mm = made->bounds.centre();
    const double fit = std::min(kWidth / made->bounds.width(), kHeight / made->bounds.height());
    for (const double zoom : {1.0, 4.0, 16.0}) {
        view.px_per_mm = fit * zoom;
        std::vector<double> times;
        for (int frame = 0; frame < 21; ++frame)
            times.push_back(frame_ms(window, [&] { painter.draw(window, view, theme); }));
        const double ms = typical(times);
        std::printf("chart of 5,000 parts, zoom %2.0f: frame %6.2f ms (scene once: %.0f ms)\n", zoom, ms, scene_ms);
    }
}

} // namespace

int main() {
    sf::RenderWindow window(sf::VideoMode(kWidth, kHeight), "frame benchmark", sf::Style::None);
    paint::SfmlFonts fonts;
    if (const auto loaded = fonts.load(); !loaded) {
        std::printf("%s\n", describe(loaded.error()).c_str());
        return 2;
    }
    const paint::Theme& theme = paint::paper_theme();
    paint::SfmlPainter painter(fonts);
    painter.set_scene(pads_scene());
    const double fit = std::min(kWidth / (kColumns * kPitch_mm), kHeight / (kRows * kPitch_mm));
    std::puts("50,000 pads: one vertex buffer, bare and with edges, then the painter beside both");
    compare(window, painter, theme, "all in view", fit);
    compare(window, painter, theme, "1/16 in view", fit * 4);
    compare(window, painter, theme, "1/256 in view", fit * 16);
    whole_chart(window, fonts, theme);
    return 0;
}
