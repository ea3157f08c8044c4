#include "svg/walk_cuts.hpp"

#include <utility>

#include "svg/elements.hpp"
#include "svg/selectors.hpp"

namespace padchart::svg {
namespace {

constexpr std::size_t kDeepestCut = 32;

using Way = std::vector<pugi::xml_node>;

bool is_element(const pugi::xml_node& node) {
    return node.type() == pugi::node_element;
}

bool may_be_cut(const pugi::xml_node& node) {
    const Element element = element_named(local_name(node.name()));
    return element == Element::G || element == Element::A || element == Element::Svg;
}

pugi::xml_node next_element(pugi::xml_node node) {
    do
        node = node.next_sibling();
    while (node && !is_element(node));
    return node;
}

pugi::xml_node first_element(const pugi::xml_node& parent) {
    const pugi::xml_node node = parent.first_child();
    return !node || is_element(node) ? node : next_element(node);
}

bool begins_before(const pugi::xml_node& node, std::size_t offset) {
    return node.offset_debug() < static_cast<std::ptrdiff_t>(offset);
}

/// Goes on from the element `way` leads to, to the first one that begins at `offset` or later, down into containers
/// and up out of them; false when there is none. Never goes back, so that all cuts together cost one walk.
bool go_on_to(std::size_t offset, Way& way) {
    while (way.size() > 1 && begins_before(way.back(), offset)) {
        const pugi::xml_node here = way.back();
        const pugi::xml_node next = next_element(here);
        if (next && begins_before(next, offset)) {
            way.back() = next;
            continue;
        }
        const pugi::xml_node inside =
            may_be_cut(here) && way.size() < kDeepestCut ? first_element(here) : pugi::xml_node();
        if (inside) {
            way.push_back(inside);
            continue;
        }
        way.back() = next;
        while (way.size() > 1 && !way.back()) {
            way.pop_back();
            if (way.size() > 1) way.back() = next_element(way.back());
        }
    }
    return way.size() > 1;
}

} // namespace

std::vector<WalkPart> parts_of(const pugi::xml_node& root, std::size_t bytes, std::size_t count) {
    std::vector<WalkPart> parts(1);
    Way way{root};
    if (const pugi::xml_node first = first_element(root)) way.push_back(first);
    for (std::size_t i = 1; i < count; ++i) {
        const Way before = way;
        if (!go_on_to(bytes / count * i, way)) break;
        if (way == before) continue;
        parts.back().end = way;
        parts.emplace_back().begin = way;
    }
    return parts;
}

} // namespace padchart::svg
