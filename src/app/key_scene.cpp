// Scale bar and legend: a scene of its own in px, painted with the same theme as what it explains.

#include <algorithm>

#include <fmt/format.h>

#include "app/actions.hpp"
#include "app/chrome.hpp"
#include "app/legend_plan.hpp"
#include "scene/access_overlay.hpp"
#include "scene/marks.hpp"

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

geometry::Ring rounded_ring(const Box& box, double r) {
    geometry::Ring ring;
    const Vec2 centres[] = {{box.max.x - r, box.min.y + r},
                            {box.min.x + r, box.min.y + r},
                            {box.min.x + r, box.max.y - r},
                            {box.max.x - r, box.max.y - r}};
    for (int corner = 0; corner < 4; ++corner)
        for (int i = 0; i <= 6; ++i)
            ring.push_back(centres[corner] + geometry::direction(Angle::degrees(90.0 * corner + 15.0 * i)) * r);
    return ring;
}

/// The first item of that role in the picture: the legend's sample is of the same kind.
const Item* sample_of(const Scene& shown, Role role) {
    const auto found =
        std::find_if(shown.items.begin(), shown.items.end(), [&](const Item& item) { return item.role == role; });
    return found == shown.items.end() ? nullptr : &*found;
}

/// Where a part is missing its lands are seen: so its sample is told from other broken lines by its shape.
void add_bare_lands(Scene& out, const Box& box) {
    const double wide = box.width() * 0.24, in = box.height() * 0.2;
    for (const double left : {box.min.x + box.width() * 0.1, box.max.x - box.width() * 0.1 - wide})
        out.add(Role::PadCopper, scene::Fill{{ring_of({{left, box.min.y + in}, {left + wide, box.max.y - in}}), {}}});
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
        if (role == Role::PadFault) return scene::add_faulty_land(out, box);
        if (role == Role::MissingEdge) add_bare_lands(out, box);
        if (shown.lines[item->index].closed && role != Role::IsothermLiquidus && role != Role::Isotherm)
            out.add(role, scene::Line{ring_of(box), true, shown.lines[item->index].weight});
        else
            out.add(role,
                    scene::Line{{{box.min.x, middle}, {box.max.x, middle}}, false, shown.lines[item->index].weight});
        break;
    case Item::Kind::Symbol: out.add(role, scene::Symbol{box.centre(), shown.symbols[item->index].sign, 9}); break;
    case Item::Kind::Text: break;
    }
}

/// So that what stands in it is read over pads as well as over bare board.
void add_ground(Scene& out, const Box& box, double k) {
    out.add(Role::PageBox, scene::Fill{{rounded_ring(box, 6 * k), {}}});
    out.add(Role::PageRule, scene::Line{rounded_ring(box, 6 * k), true, Weight::Thin});
}

/// Of the board. A round step is at most 2.5 times what is asked for; on a narrow canvas the bar leaves room beside it.
double bar_mm(const Session& s, const Layout& l) {
    const double k = s.ui_scale;
    const double least = std::clamp((l.canvas.width() - 164 * k) / 2.5, 20 * k, 80 * k);
    return round_step_mm(s.camera.px_per_mm(), least);
}

/// What its ground leaves at either end; the words may be wider than the bar.
double beside_bar(double bar_px, double k) {
    return 12 * k + std::max(48 * k - bar_px, 0.0) / 2;
}

void add_scale_bar(Scene& out, const Session& s, double step, Vec2 left) {
    const double k = s.ui_scale;
    if (!s.editor.shown().scale) {
        add_ground(out, {{left.x - 12 * k, left.y - 14 * k}, {left.x + 64 * k, left.y + 14 * k}}, k);
        out.add(Role::PageCaution,
                scene::Text{.at = {left.x, left.y}, .text = "no scale", .align = scene::Align::Left, .height_px = 12});
        return;
    }
    const Vec2 right{left.x + step * s.camera.px_per_mm(), left.y};
    const double aside = beside_bar(right.x - left.x, k);
    add_ground(out, {{left.x - aside, left.y - 27 * k}, {right.x + aside, right.y + 12 * k}}, k);
    out.add(Role::ScaleBar, scene::Line{{left, right}, false, Weight::Bold});
    for (const Vec2 end : {left, right})
        out.add(Role::ScaleBar, scene::Line{{{end.x, end.y - 6 * k}, {end.x, end.y + 6 * k}}, false, Weight::Bold});
    out.add(Role::ScaleBar,
            scene::Text{.at = {(left.x + right.x) / 2, left.y - 15 * k},
                        .text = step >= 1 ? fmt::format("{:g} mm", step) : fmt::format("{:g} µm", step * 1000),
                        .height_px = 12,
                        .strong = true});
}

std::string key_of(std::string_view action) {
    const Action* found = find_action(action);
    return found == nullptr || found->keys.empty() ? "list of actions" : to_text(found->keys.front());
}

void add_legend(Scene& out, const Scene& shown, const LegendPlan& plan, const LegendSizes& m, const Box& box,
                double k) {
    add_ground(out, box, k);
    for (const PlacedEntry& p : plan.placed) {
        Vec2 at = box.min + p.at + Vec2{0, 7 * k};
        if (!is_remainder(p.entry))
            add_sample(out, shown, p.entry.role, {{at.x, at.y + 4 * k}, {at.x + m.sample, at.y + m.row - 4 * k}});
        at += {words_after(p.entry, m), m.row / 2};
        for (const std::string& line : p.lines) {
            out.add(Role::PageText, scene::Text{.at = at, .text = line, .align = scene::Align::Left, .height_px = 12});
            at.y += m.row;
        }
    }
}

/// Two rows of legend above the scale bar would leave too little of the board.
bool is_low(const Layout& l, double k) {
    return l.canvas.height() < 375 * k;
}

/// Where the legend stands, px: beside the scale bar, above it where the canvas is too narrow for that.
struct LegendPlace {
    double left, right, bottom;
};

LegendPlace legend_place(const Session& s, const Layout& l, double bar_px, double bottom) {
    const double k = s.ui_scale, right = l.canvas.width() - 20 * k;
    const double beside = std::max(40 * k + bar_px + 32 * k, 196 * k);
    if (s.shows_whole_legend && is_low(l, k)) return {28 * k, right + 8 * k, bottom - 52 * k};
    if (right - beside >= 200 * k) return {beside, right, bottom};
    if (is_low(l, k)) return {40 * k + bar_px + beside_bar(bar_px, k) + 8 * k, right + 8 * k, bottom};
    return {28 * k, right, bottom - 52 * k};
}

int usual_rows(const Layout& l, double k) {
    return l.canvas.height() > 520 * k ? 3 : is_low(l, k) ? 1 : 2;
}

/// The whole legend may cover the board of a low window: it is read and put away again.
int whole_rows(const Layout& l, double k, double row) {
    const double share = is_low(l, k) ? l.canvas.height() - 100 * k : l.canvas.height() * 0.6;
    return std::max(1, static_cast<int>(share / row));
}

int page_of(const Session& s) {
    const LegendDesk* desk = s.desks.find<LegendDesk>();
    return desk == nullptr ? 0 : desk->page;
}

} // namespace

KeyPicture key_picture(const Session& s, const Layout& l, const Scene& shown, const paint::SfmlFonts& fonts) {
    KeyPicture out;
    const double k = s.ui_scale;
    const double bottom = l.canvas.height() - 18 * k;
    const double step = bar_mm(s, l);
    add_scale_bar(out.scene, s, step, {40 * k, bottom - 16 * k});
    out.height_px = 50 * k;
    if (!s.show_legend) return out;
    const LegendPlace place = legend_place(s, l, step * s.camera.px_per_mm(), bottom);
    const auto text_size = static_cast<unsigned>(12 * k + 0.5);
    const LegendSizes m{26 * k, 24 * k, 14 * k, 18 * k, place.right - place.left, [&](std::string_view words) {
                            return fonts.width(words, paint::FontWeight::Regular, text_size);
                        }};
    std::vector<scene::LegendEntry> entries = scene::legend_of(shown);
    if (s.stage == scene::Stage::Heat)
        std::erase_if(entries, [](const scene::LegendEntry& entry) { return !scene::is_about_heat(entry.role); });
    if (s.stage == scene::Stage::Access)
        std::erase_if(entries, [](const scene::LegendEntry& entry) { return !scene::is_about_access(entry.role); });
    const std::string key = key_of("legend");
    const LegendPlan plan = s.shows_whole_legend ? legend_page(entries, page_of(s), whole_rows(l, k, m.row), key, m)
                                                 : legend_plan(entries, s.stage, usual_rows(l, k), key, m);
    out.leaves_out = plan.leaves_out;
    if (plan.placed.empty()) return out;
    const double height = plan.rows * m.row + 14 * k;
    const Box box{{place.left, place.bottom - height}, {place.left + plan.width, place.bottom}};
    add_legend(out.scene, shown, plan, m, box, k);
    if (!s.shows_whole_legend || !is_low(l, k)) out.height_px = std::max(out.height_px, l.canvas.height() - box.min.y);
    return out;
}

} // namespace padchart::app
