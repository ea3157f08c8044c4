// Scale bar and legend: a scene of its own in px, painted with the same theme as what it explains.

#include <algorithm>

#include <fmt/format.h>

#include "app/actions.hpp"
#include "app/chrome.hpp"
#include "scene/access_overlay.hpp"

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

void add_scale_bar(Scene& out, const Session& s, Vec2 left) {
    const double k = s.ui_scale;
    if (!s.editor.shown().scale) {
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

/// Sizes of the legend, px.
struct Measures {
    double row, sample, pad, space, room;
    unsigned text_size;
};

struct Arrangement {
    std::vector<Placed> placed;
    int rows = 0;
    double width = 0.0;
};

/// The line that tells how many entries found no room; it explains no shape.
bool is_remainder(const scene::LegendEntry& entry) {
    return entry.role == Role::PageText;
}

Arrangement arranged(const std::vector<scene::LegendEntry>& entries, const Measures& m, const paint::SfmlFonts& fonts) {
    Arrangement result;
    Vec2 pen{m.pad, 0};
    for (const scene::LegendEntry& entry : entries) {
        const float text = fonts.width(entry.text, paint::FontWeight::Regular, m.text_size);
        const double sample = is_remainder(entry) ? 0.0 : m.sample + m.space / 2;
        const double needs = sample + static_cast<double>(text);
        if (pen.x > m.pad && pen.x + needs + m.pad > m.room) pen = {m.pad, pen.y + m.row};
        result.placed.push_back({&entry, pen});
        pen.x += needs + m.space;
        result.width = std::max(result.width, pen.x - m.space + m.pad);
    }
    result.rows = entries.empty() ? 0 : static_cast<int>(pen.y / m.row + 0.5) + 1;
    return result;
}

/// What explains itself, in the order in which it gives way where room is short.
std::vector<Role> plainest(scene::Stage stage) {
    if (stage == scene::Stage::Access)
        return {Role::MissingEdge, Role::FarSideEdge, Role::KeepOut, Role::Stale, Role::NozzleRing, Role::Marquee};
    return {Role::CutOut,  Role::PadCopper,  Role::Body,        Role::Mark,        Role::BadgeNote,
            Role::Measure, Role::NozzleRing, Role::FarSideEdge, Role::MissingEdge, Role::Shield};
}

/// The plainest first, then the last of the list.
void drop_one(std::vector<scene::LegendEntry>& entries, scene::Stage stage) {
    for (const Role role : plainest(stage))
        if (std::erase_if(entries, [&](const scene::LegendEntry& entry) { return entry.role == role; }) > 0) return;
    entries.pop_back();
}

std::string key_of(std::string_view action) {
    const Action* found = find_action(action);
    return found == nullptr || found->keys.empty() ? "list of actions" : to_text(found->keys.front());
}

/// As many entries as find room, and how many did not with the key that shows them.
std::vector<scene::LegendEntry> shortened(const std::vector<scene::LegendEntry>& all, scene::Stage stage, int most_rows,
                                          const Measures& m, const paint::SfmlFonts& fonts) {
    if (arranged(all, m, fonts).rows <= most_rows) return all;
    std::vector<scene::LegendEntry> kept = all;
    while (!kept.empty()) {
        drop_one(kept, stage);
        std::vector<scene::LegendEntry> shown = kept;
        shown.push_back({Role::PageText, fmt::format("{} more: {}", all.size() - kept.size(), key_of("legend"))});
        if (arranged(shown, m, fonts).rows <= most_rows) return kept.empty() ? kept : shown;
    }
    return kept;
}

void add_legend(Scene& out, const Scene& shown, const Arrangement& a, const Measures& m, const Box& box, double k) {
    out.add(Role::PageBox, scene::Fill{{rounded_ring(box, 6 * k), {}}});
    out.add(Role::PageRule, scene::Line{rounded_ring(box, 6 * k), true, Weight::Thin});
    for (const Placed& p : a.placed) {
        const Vec2 at = box.min + p.at + Vec2{0, 7 * k};
        const double sample = is_remainder(*p.entry) ? 0.0 : m.sample + m.space / 2;
        if (sample > 0.0)
            add_sample(out, shown, p.entry->role, {{at.x, at.y + 4 * k}, {at.x + m.sample, at.y + m.row - 4 * k}});
        out.add(Role::PageText, scene::Text{.at = {at.x + sample, at.y + m.row / 2},
                                            .text = p.entry->text,
                                            .align = scene::Align::Left,
                                            .height_px = 12});
    }
}

} // namespace

KeyPicture key_picture(const Session& s, const Layout& l, const Scene& shown, const paint::SfmlFonts& fonts) {
    KeyPicture out;
    const double k = s.ui_scale;
    const double bottom = l.canvas.height() - 18 * k;
    add_scale_bar(out.scene, s, {40 * k, bottom - 16 * k});
    out.height_px = 50 * k;
    if (!s.show_legend) return out;
    const double bar_px = round_step_mm(s.camera.px_per_mm(), 80 * k) * s.camera.px_per_mm();
    const double left = std::max(40 * k + bar_px + 32 * k, 196 * k);
    const Measures m{
        26 * k, 24 * k, 14 * k, 18 * k, l.canvas.width() - left - 20 * k, static_cast<unsigned>(12 * k + 0.5)};
    const int usual_rows = l.canvas.height() > 520 * k ? 3 : 2;
    const int most_rows = s.shows_whole_legend ? static_cast<int>(l.canvas.height() * 0.6 / m.row) : usual_rows;
    std::vector<scene::LegendEntry> entries = scene::legend_of(shown);
    if (s.stage == scene::Stage::Heat)
        std::erase_if(entries, [](const scene::LegendEntry& entry) { return !scene::is_about_heat(entry.role); });
    if (s.stage == scene::Stage::Access)
        std::erase_if(entries, [](const scene::LegendEntry& entry) { return !scene::is_about_access(entry.role); });
    const std::size_t all = entries.size();
    entries = shortened(entries, s.stage, most_rows, m, fonts);
    out.leaves_out = entries.size() != all || (!entries.empty() && is_remainder(entries.back()));
    const Arrangement a = arranged(entries, m, fonts);
    // On a narrow canvas the legend would hide the board: then the panel and the sheet explain.
    if (a.placed.empty() || a.rows > most_rows || m.room < 200 * k) return out;
    const double height = a.rows * m.row + 14 * k;
    add_legend(out.scene, shown, a, m, {{left, bottom - height}, {left + a.width, bottom}}, k);
    out.height_px = std::max(out.height_px, height + 18 * k);
    return out;
}

} // namespace padchart::app
