#include "scene/scene.hpp"

#include <array>
#include <cassert>
#include <utility>

#include <fmt/format.h>

#include "scene/words.hpp"

namespace padchart::scene {
namespace {

constexpr std::array<std::string_view, kRoleCount> kRoleNames{"paper",
                                                              "grid-line",
                                                              "grid-line-major",
                                                              "board",
                                                              "board-edge",
                                                              "cut-out",
                                                              "pad-copper",
                                                              "pad-missing",
                                                              "pad-edge",
                                                              "pad-fault",
                                                              "body",
                                                              "body-edge",
                                                              "sensitive-body",
                                                              "sensitive-edge",
                                                              "missing-edge",
                                                              "unknown-edge",
                                                              "far-side",
                                                              "far-side-edge",
                                                              "mark",
                                                              "no-aim",
                                                              "no-aim-edge",
                                                              "depends",
                                                              "depends-edge",
                                                              "good-aim-edge",
                                                              "keep-out",
                                                              "keep-out-edge",
                                                              "shield",
                                                              "shield-edge",
                                                              "isotherm",
                                                              "isotherm-liquidus",
                                                              "stale",
                                                              "stale-zone",
                                                              "nozzle-ring",
                                                              "aim-cross",
                                                              "selection",
                                                              "selection-handle",
                                                              "hover",
                                                              "marquee",
                                                              "preview",
                                                              "snap",
                                                              "measure",
                                                              "leader",
                                                              "badge-unknown",
                                                              "badge-done",
                                                              "badge-warning",
                                                              "badge-note",
                                                              "label-part",
                                                              "label-muted",
                                                              "label-danger",
                                                              "label-note",
                                                              "label-measure",
                                                              "label-isotherm",
                                                              "page-ink",
                                                              "page-rule",
                                                              "page-muted",
                                                              "page-heading",
                                                              "page-text",
                                                              "page-text-strong",
                                                              "page-caution",
                                                              "page-box",
                                                              "page-tick",
                                                              "scale-bar"};

std::string_view name_of(Sign sign) {
    switch (sign) {
    case Sign::Query: return "query";
    case Sign::Tick: return "tick";
    case Sign::Exclamation: return "exclamation";
    case Sign::NoteSign: return "note";
    case Sign::Handle: return "handle";
    case Sign::Cross: return "cross";
    }
    return "query";
}

std::string_view name_of(Align align) {
    switch (align) {
    case Align::Left: return "left";
    case Align::Centre: return "centre";
    case Align::Right: return "right";
    }
    return "centre";
}

std::string_view name_of(Weight weight) {
    constexpr std::array<std::string_view, 4> kNames{"hair", "thin", "normal", "bold"};
    return kNames[static_cast<std::size_t>(weight)];
}

/// Three decimals without tail, and never "-0".
std::string coordinate(double value) {
    return number(value, 3);
}

std::string point(geometry::Vec2 p) {
    return coordinate(p.x) + "," + coordinate(p.y);
}

std::string points(std::span<const geometry::Vec2> list) {
    std::string text;
    for (const geometry::Vec2 p : list)
        text += ' ' + point(p);
    return text;
}

std::string describe(const Fill& fill) {
    std::string text = "fill" + points(fill.area.outer);
    for (const geometry::Ring& hole : fill.area.holes)
        text += " hole" + points(hole);
    return text;
}

std::string describe(const Line& line) {
    return fmt::format("{} {}{}", line.closed ? "ring" : "line", name_of(line.weight), points(line.points));
}

std::string describe(const Text& text) {
    std::string line = fmt::format("text {} {} \"{}\"", point(text.at), name_of(text.align), text.text);
    line += text.height_mm > 0 ? " height " + coordinate(text.height_mm) + " mm"
                               : " height " + coordinate(text.height_px) + " px";
    if (text.fit_width_mm > 0) line += " fit " + coordinate(text.fit_width_mm);
    if (text.strong) line += " strong";
    if (text.halo) line += " halo";
    return line;
}

std::string describe(const Symbol& symbol) {
    return fmt::format("symbol {} {} radius {} px", point(symbol.at), name_of(symbol.sign),
                       coordinate(symbol.radius_px));
}

std::string describe(const Scene& scene, const Item& item) {
    switch (item.kind) {
    case Item::Kind::Fill: return describe(scene.fills[item.index]);
    case Item::Kind::Line: return describe(scene.lines[item.index]);
    case Item::Kind::Text: return describe(scene.texts[item.index]);
    case Item::Kind::Symbol: return describe(scene.symbols[item.index]);
    }
    return {};
}

std::string source_name(const Scene& scene, std::int32_t source) {
    if (source < 0) return {};
    const Source& of = scene.sources[static_cast<std::size_t>(source)];
    return of.pad < 0 ? fmt::format(" [{}]", of.id.text) : fmt::format(" [{} pad {}]", of.id.text, of.pad);
}

template <class Payload>
void append(Scene& scene, std::vector<Payload>& list, Item::Kind kind, Role role, Payload payload,
            std::int32_t source) {
    assert(source < static_cast<std::int32_t>(scene.sources.size()));
    scene.items.push_back({kind, role, source, static_cast<std::uint32_t>(list.size())});
    list.push_back(std::move(payload));
}

} // namespace

std::string_view to_text(Role role) {
    return kRoleNames[static_cast<std::size_t>(role)];
}

void Scene::add(Role role, Fill fill, std::int32_t source) {
    for (const geometry::Vec2 p : fill.area.outer)
        bounds.add(p);
    append(*this, fills, Item::Kind::Fill, role, std::move(fill), source);
}

void Scene::add(Role role, Line line, std::int32_t source) {
    for (const geometry::Vec2 p : line.points)
        bounds.add(p);
    append(*this, lines, Item::Kind::Line, role, std::move(line), source);
}

void Scene::add(Role role, Text text, std::int32_t source) {
    append(*this, texts, Item::Kind::Text, role, std::move(text), source);
}

void Scene::add(Role role, Symbol symbol, std::int32_t source) {
    append(*this, symbols, Item::Kind::Symbol, role, symbol, source);
}

std::int32_t Scene::add_source(document::Id id, std::int32_t pad) {
    sources.push_back({std::move(id), pad});
    return static_cast<std::int32_t>(sources.size()) - 1;
}

std::string to_text(const Scene& scene) {
    std::string text;
    for (const Item& item : scene.items)
        text += fmt::format("{} {}{}\n", to_text(item.role), describe(scene, item), source_name(scene, item.source));
    return text;
}

} // namespace padchart::scene
