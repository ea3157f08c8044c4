// Scale bar and legend: a scene of its own in px, painted with the same theme as what it explains.

#include <algorithm>

#include <fmt/format.h>

#include "app/chrome.hpp"

namespace padchart::app {
namespace {

using geometry::Box;
using geometry::Vec2;
using scene::Item;
using scene::Role;
using scene::Scene;
using scene::Weight;

geometry::Ring ring_of(const Box& box) {
    return {box.min, {box.max.x, box.min.y}, box.max, {box.min.x, box.max.y}};
}

/// The first item of that role in the picture: the legend's sample is of the same kind.
const Item* sample_of(const Scene& shown, Role role) {
    const auto found =
        std::find_if(shown.items.begin(), shown.items.end(), [&](const Item& item) { return item.role == role; });
    return found == shown.items.end() ? nullptr : &*found;
}

void add_sample(Scene& out, const Scene& shown, Role role, const Box& box) {
    const Item* item = sample_of(shown, role);
    if (item == nullptr) return;
    const double middle = box.centre().y;
    switch (item->kind) {
    case Item::Kind::Fill:
        out.add(role, scene::Fill{{ring_of(box), {}}});
        if (const auto edge = scene::edge_of(role)) out.add(*edge, scene::Line{ring_of(box), true, Weight::Normal});
        break;
    case Item::Kind::Line:
        if (shown.lines[item->index].closed)
            out.add(role, scene::Line{ring_of(box), true, shown.lines[item->index].weight});
        else
            out.add(role,
                    scene::Line{{{box.min.x, middle}, {box.max.x, middle}}, false, shown.lines[item->index].weight});
        break;
    case Item::Kind::Symbol: out.add(role, scene::Symbol{box.centre(), shown.symbols[item->index].sign, 9}); break;
    case Item::Kind::Text: break;
    }
}

void add_scale_bar(Scene& out, const Session& s, Vec2 left) {
    const double k = s.ui_scale;
    if (!s.editor.chart().scale) {
        out.add(Role::PageCaution,
                scene::Text{.at = {left.x, left.y}, .text = "no scale", .align = scene::Align::Left, .height_px = 12});
        return;
    }
    const double step = round_step_mm(s.camera.px_per_mm(), 80 * k);
    const Vec2 right{left.x + step * s.camera.px_per_mm(), left.y};
    out.add(Role::ScaleBar, scene::Line{{left, right}, false, Weight::Bold});
    for (const Vec2 end : {left, right})
        out.add(Role::ScaleBar, scene::Line{{{end.x, end.y - 6 * k}, {end.x, end.y + 6 * k}}, false, Weight::Bold});
    out.add(Role::ScaleBar,
            scene::Text{.at = {(left.x + right.x) / 2, left.y - 15 * k},
                        .text = step >= 1 ? fmt::format("{:g} mm", step) : fmt::format("{:g} µm", step * 1000),
                        .height_px = 12,
                        .strong = true});
}

struct Placed {
    const scene::LegendEntry* entry;
    Vec2 at;
};

} // namespace

Scene key_scene(const Session& s, const Layout& l, const Scene& shown, const paint::SfmlFonts& fonts) {
    Scene out;
    const double k = s.ui_scale;
    const double width = l.canvas.width(), bottom = l.canvas.height() - 20 * k;
    const std::vector<scene::LegendEntry> entries = scene::legend_of(shown);
    const double bar_px = round_step_mm(s.camera.px_per_mm(), 80 * k) * s.camera.px_per_mm();
    const double left = std::max(44 * k + bar_px + 36 * k, 204 * k);
    const double room = width - left - 24 * k;
    const double row = 30 * k, sample = 24 * k, pad = 14 * k;
    const auto text_size = static_cast<unsigned>(12 * k + 0.5);
    std::vector<Placed> placed;
    Vec2 pen{pad, 0};
    double widest = 0;
    for (const scene::LegendEntry& entry : entries) {
        const double needs =
            sample + 8 * k + static_cast<double>(fonts.width(entry.text, paint::FontWeight::Regular, text_size));
        if (pen.x > pad && pen.x + needs + pad > room) pen = {pad, pen.y + row};
        placed.push_back({&entry, pen});
        pen.x += needs + 22 * k;
        widest = std::max(widest, pen.x - 22 * k + pad);
    }
    const double height = placed.empty() ? 0 : pen.y + row + 16 * k;
    add_scale_bar(out, s, {44 * k, bottom - 18 * k});
    // On a narrow canvas the legend would hide the board: then the panel and the sheet explain.
    if (placed.empty() || height > l.canvas.height() / 3 || room < 150 * k) return out;
    const Box box{{left, bottom - height}, {left + widest, bottom}};
    out.add(Role::PageBox, scene::Fill{{ring_of(box), {}}});
    out.add(Role::PageRule, scene::Line{ring_of(box), true, Weight::Thin});
    for (const Placed& p : placed) {
        const Vec2 at = box.min + p.at + Vec2{0, 8 * k};
        add_sample(out, shown, p.entry->role, {{at.x, at.y + 5 * k}, {at.x + sample, at.y + row - 5 * k}});
        out.add(Role::PageText, scene::Text{.at = {at.x + sample + 8 * k, at.y + row / 2},
                                            .text = p.entry->text,
                                            .align = scene::Align::Left,
                                            .height_px = 12});
    }
    return out;
}

} // namespace padchart::app
