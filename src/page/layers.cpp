#include "page/layers.hpp"

#include <algorithm>
#include <bit>
#include <cassert>
#include <cmath>
#include <string_view>
#include <unordered_map>

namespace padchart::page {

using scene::Item;
using scene::Scene;

namespace {

/// What makes two items look and mean the same, as one number (64-bit FNV-1a).
class Key {
public:
    void add(std::uint64_t value) {
        for (int shift = 0; shift < 64; shift += 8)
            byte(static_cast<unsigned char>(value >> static_cast<unsigned>(shift) & 255U));
    }
    void add(double mm) { add(static_cast<std::uint64_t>(std::llround(mm * 10000.0))); }
    void add(geometry::Vec2 p) {
        add(p.x);
        add(p.y);
    }
    void add(const std::vector<geometry::Vec2>& points) {
        add(static_cast<std::uint64_t>(points.size()));
        for (const geometry::Vec2 p : points)
            add(p);
    }
    void add(std::string_view text) {
        for (const char c : text)
            byte(static_cast<unsigned char>(c));
        add(static_cast<std::uint64_t>(text.size()));
    }
    [[nodiscard]] std::uint64_t value() const { return hash_; }

private:
    void byte(unsigned char b) {
        hash_ ^= b;
        hash_ *= 1099511628211ULL;
    }
    std::uint64_t hash_ = 14695981039346656037ULL;
};

void add_payload(Key& key, const Scene& scene, const Item& item, double px_per_mm) {
    switch (item.kind) {
    case Item::Kind::Fill: {
        const geometry::Polygon& area = scene.fills[item.index].area;
        key.add(area.outer);
        for (const geometry::Ring& hole : area.holes)
            key.add(hole);
        return;
    }
    case Item::Kind::Line: {
        const scene::Line& line = scene.lines[item.index];
        key.add(line.points);
        key.add(static_cast<std::uint64_t>(line.closed ? 1U : 0U) + 2U * static_cast<std::uint64_t>(line.weight));
        return;
    }
    case Item::Kind::Text: {
        const scene::Text& text = scene.texts[item.index];
        key.add(text.at);
        key.add(std::string_view(text.text));
        key.add(text.height_mm > 0.0 ? text.height_mm : text.height_px / px_per_mm);
        key.add(static_cast<std::uint64_t>(text.align) * 4U + (text.strong ? 2U : 0U) + (text.halo ? 1U : 0U));
        return;
    }
    case Item::Kind::Symbol: {
        const scene::Symbol& symbol = scene.symbols[item.index];
        key.add(symbol.at);
        key.add(symbol.radius_px);
        key.add(static_cast<std::uint64_t>(symbol.sign));
        return;
    }
    }
}

std::uint64_t key_of(const Scene& scene, const Item& item, double px_per_mm) {
    Key key;
    key.add(static_cast<std::uint64_t>(item.kind) * 256U + static_cast<std::uint64_t>(item.role));
    if (item.source >= 0) key.add(std::string_view(scene.sources[static_cast<std::size_t>(item.source)].id.text));
    add_payload(key, scene, item, px_per_mm);
    return key.value();
}

std::vector<std::uint64_t> keys_of(const Variant& variant) {
    std::vector<std::uint64_t> keys;
    keys.reserve(variant.scene->items.size());
    for (const Item& item : variant.scene->items)
        keys.push_back(key_of(*variant.scene, item, variant.px_per_mm));
    return keys;
}

constexpr std::size_t kNone = static_cast<std::size_t>(-1);

/// For each of `keys` a place of the same key in `all`, each place once, kNone where there is none.
std::vector<std::size_t> places_of(const std::vector<std::uint64_t>& keys, const std::vector<std::uint64_t>& all) {
    std::unordered_map<std::uint64_t, std::vector<std::size_t>> where;
    for (std::size_t i = all.size(); i-- > 0;)
        where[all[i]].push_back(i);
    std::vector<std::size_t> places;
    places.reserve(keys.size());
    for (const std::uint64_t key : keys) {
        const auto found = where.find(key);
        if (found == where.end() || found->second.empty()) {
            places.push_back(kNone);
        } else {
            places.push_back(found->second.back());
            found->second.pop_back();
        }
    }
    return places;
}

/// Keeps the most places that rise from first to last and makes the others kNone (patience sorting).
void keep_rising(std::vector<std::size_t>& places) {
    std::vector<std::size_t> ends; // position in `places` of the least end of a rising row of each length
    std::vector<std::size_t> before(places.size(), kNone);
    for (std::size_t i = 0; i < places.size(); ++i) {
        if (places[i] == kNone) continue;
        const auto at = std::lower_bound(ends.begin(), ends.end(), places[i],
                                         [&](std::size_t end, std::size_t place) { return places[end] < place; });
        before[i] = at == ends.begin() ? kNone : *(at - 1);
        if (at == ends.end())
            ends.push_back(i);
        else
            *at = i;
    }
    std::vector<bool> kept(places.size(), false);
    for (std::size_t i = ends.empty() ? kNone : ends.back(); i != kNone; i = before[i])
        kept[i] = true;
    for (std::size_t i = 0; i < places.size(); ++i)
        if (!kept[i]) places[i] = kNone;
}

struct Row {
    std::vector<LayeredItem> items;
    std::vector<std::uint64_t> keys;
};

/// What is new stands before the next thing that both have.
Row with(const Row& row, const Variant& variant, std::size_t index) {
    const std::vector<std::uint64_t> keys = keys_of(variant);
    std::vector<std::size_t> places = places_of(keys, row.keys);
    keep_rising(places);
    const std::uint64_t bit = std::uint64_t{1} << index;
    Row out;
    std::size_t taken = 0;
    const auto take_until = [&](std::size_t end) {
        for (; taken < end; ++taken) {
            out.items.push_back(row.items[taken]);
            out.keys.push_back(row.keys[taken]);
        }
    };
    for (std::size_t i = 0; i < keys.size(); ++i) {
        if (places[i] == kNone) {
            out.items.push_back({index, static_cast<std::uint32_t>(i), bit});
            out.keys.push_back(keys[i]);
        } else {
            take_until(places[i] + 1);
            out.items.back().seen |= bit;
        }
    }
    take_until(row.items.size());
    return out;
}

} // namespace

std::vector<LayeredItem> layered(std::span<const Variant> variants) {
    assert(variants.size() <= 64);
    Row row;
    for (std::size_t i = 0; i < variants.size(); ++i)
        row = with(row, variants[i], i);
    return std::move(row.items);
}

} // namespace padchart::page
