#include "json/field_reader.hpp"

#include <cmath>

namespace padchart::json {
namespace {

constexpr std::string_view kIdWords = "1 to 64 of a-z, 0-9, - and _, with a letter or digit first";

bool is_number(const Node& node) {
    return node.kind == NodeKind::Integer || node.kind == NodeKind::Number;
}

} // namespace

void ReadState::fail(std::size_t node, std::string message) {
    if (has_failed) return;
    has_failed = true;
    fault_node = node;
    fault = std::move(message);
}

void ReadState::fail_found(std::size_t node, std::string_view right) {
    if (!has_failed) fail(node, "found " + shown(tree, node) + "; right would be " + std::string(right));
}

FieldReader::FieldReader(ReadState& state, std::size_t object) : state_(state), object_(object), next_(object + 1) {
    if (kind(object) != NodeKind::Object) state_.fail_found(object, "an object");
}

std::size_t FieldReader::find(std::string_view key) {
    if (state_.has_failed) return 0;
    const Tree& tree = state_.tree;
    const std::size_t last = end(object_);
    for (std::size_t i = next_; i < last; i = tree.nodes[i].end)
        if (tree.key(i) == key) return i;
    for (std::size_t i = object_ + 1; i < next_; i = tree.nodes[i].end)
        if (tree.key(i) == key) return i;
    return 0;
}

std::size_t FieldReader::take(std::string_view key) {
    const std::size_t node = find(key);
    if (node == 0) return 0;
    state_.tree.nodes[node].taken = true;
    ++taken_;
    next_ = end(node);
    return node;
}

std::size_t FieldReader::take_list(std::string_view key) {
    const std::size_t node = take(key);
    if (node == 0 || kind(node) == NodeKind::List) return node;
    state_.fail_found(node, "a list");
    return 0;
}

std::size_t FieldReader::required(std::string_view key, std::string_view right) {
    const std::size_t node = take(key);
    if (node == 0 && !state_.has_failed)
        state_.fail(object_, "\"" + std::string(key) + "\" is missing; right would be " + std::string(right));
    return node;
}

void FieldReader::read_text(std::size_t node, std::string& text) {
    if (kind(node) == NodeKind::Text)
        text = state_.tree.text(node);
    else
        state_.fail_found(node, "a text in quotes");
}

void FieldReader::text(std::string_view key, std::string& text, std::string_view usual) {
    if (const std::size_t node = take(key))
        read_text(node, text);
    else
        text = usual;
}

void FieldReader::filled_text(std::string_view key, std::string& text) {
    constexpr std::string_view kRight = "a text in quotes that is not empty";
    const std::size_t node = required(key, kRight);
    if (node == 0) return;
    read_text(node, text);
    if (text.empty()) state_.fail_found(node, kRight);
}

void FieldReader::exact_text(std::string_view key, std::string_view text) {
    const std::string right = "\"" + std::string(text) + "\"";
    const std::size_t node = required(key, right);
    if (node == 0) return;
    if (kind(node) != NodeKind::Text || state_.tree.text(node) != text) state_.fail_found(node, right);
}

void FieldReader::read_id(std::size_t node, document::Id& id) {
    if (kind(node) == NodeKind::Text) id.text = state_.tree.text(node);
    if (!document::is_well_formed(id)) state_.fail_found(node, kIdWords);
}

void FieldReader::id(std::string_view key, document::Id& id) {
    const std::size_t node = required(key, kIdWords);
    if (node == 0) return;
    read_id(node, id);
    const auto [other, is_new] = state_.ids.emplace(state_.tree.text(node), node);
    if (!is_new && !state_.has_failed)
        state_.fail(node, "the id \"" + id.text + "\" is borne by " + pointer_to(state_.tree, other->second) +
                              " too; right would be one of its own");
}

void FieldReader::link(std::string_view key, document::Id& id) {
    if (const std::size_t node = take(key)) read_id(node, id);
}

void FieldReader::links(std::string_view key, std::vector<document::Id>& ids) {
    const std::size_t node = take_list(key);
    if (node == 0) return;
    for (std::size_t i = node + 1; i < end(node) && !state_.has_failed; i = end(i))
        read_id(i, ids.emplace_back());
}

void FieldReader::read_number(std::size_t node, double& number, const Range& range, std::string_view right) {
    const Node& found = state_.tree.nodes[node];
    if (is_number(found) && range.contains(found.number))
        number = found.number + 0.0; // minus zero would not be written back
    else
        state_.fail_found(node, right);
}

void FieldReader::number(std::string_view key, double& number, const Range& range) {
    if (const std::size_t node = required(key, range.words)) read_number(node, number, range);
}

void FieldReader::number(std::string_view key, double& number, const Range& range, double usual) {
    number = usual;
    if (const std::size_t node = take(key)) read_number(node, number, range);
}

void FieldReader::number(std::string_view key, std::optional<double>& number, const Range& range) {
    if (const std::size_t node = take(key)) read_number(node, number.emplace(), range);
}

void FieldReader::count(std::string_view key, std::optional<int>& number, const Range& range) {
    const std::size_t node = take(key);
    if (node == 0) return;
    double found = 0.0;
    read_number(node, found, range);
    if (state_.has_failed) return;
    if (found == std::floor(found))
        number = static_cast<int>(found);
    else
        state_.fail_found(node, range.words);
}

void FieldReader::numbers(std::string_view key, std::vector<double>& list, const Range& range,
                          std::size_t size_wanted) {
    const std::size_t node = take_list(key);
    if (node == 0) return;
    if (size_wanted != 0 && size(node) != size_wanted && size(node) != 0)
        return state_.fail(node, "found " + std::to_string(size(node)) + " numbers; right would be " +
                                     std::to_string(size_wanted));
    for (std::size_t i = node + 1; i < end(node) && !state_.has_failed; i = end(i))
        read_number(i, list.emplace_back(), range);
}

void FieldReader::turn(std::string_view key, Angle& angle) {
    double degrees = 0.0;
    number(key, degrees, range::kTurn, 0.0);
    angle = Angle::degrees(degrees);
}

void FieldReader::read_place(std::size_t node, geometry::Vec2& at) {
    if (kind(node) != NodeKind::List || size(node) != 2)
        return state_.fail(node, "found " +
                                     (kind(node) == NodeKind::List ? "a list of " + std::to_string(size(node))
                                                                   : shown(state_.tree, node)) +
                                     "; right would be [x, y] in mm");
    read_number(node + 1, at.x, range::kPlace);
    if (!state_.has_failed) read_number(end(node + 1), at.y, range::kPlace);
}

void FieldReader::place(std::string_view key, geometry::Vec2& at) {
    if (const std::size_t node = required(key, "[x, y] in mm")) read_place(node, at);
}

void FieldReader::read_ring(std::size_t node, geometry::Ring& ring) {
    if (kind(node) != NodeKind::List) return state_.fail_found(node, "a list of at least 3 points [x, y] in mm");
    if (size(node) < 3)
        return state_.fail(node, "found " + std::to_string(size(node)) +
                                     " points; right would be at least 3, as an area needs");
    ring.resize(size(node));
    std::size_t i = node + 1;
    for (geometry::Vec2& point : ring) {
        read_place(i, point);
        i = end(i);
    }
}

void FieldReader::ring(std::string_view key, geometry::Ring& ring) {
    if (const std::size_t node = required(key, "a list of at least 3 points [x, y] in mm")) read_ring(node, ring);
}

void FieldReader::read_polygon(std::size_t node, geometry::Polygon& polygon) {
    constexpr std::string_view kRight = "a list of rings, the outer one first, then the holes";
    if (kind(node) != NodeKind::List) return state_.fail_found(node, kRight);
    if (size(node) == 0) return state_.fail(node, "found an empty list; right would be " + std::string(kRight));
    read_ring(node + 1, polygon.outer);
    for (std::size_t i = end(node + 1); i < end(node) && !state_.has_failed; i = end(i))
        read_ring(i, polygon.holes.emplace_back());
}

void FieldReader::polygon(std::string_view key, geometry::Polygon& polygon) {
    if (const std::size_t node = required(key, "a list of rings, the outer one first, then the holes"))
        read_polygon(node, polygon);
}

void FieldReader::polygon(std::string_view key, std::optional<geometry::Polygon>& polygon) {
    if (const std::size_t node = take(key)) read_polygon(node, polygon.emplace());
}

void FieldReader::json(std::string_view key, std::string& text) {
    const std::size_t node = take(key);
    text = node == 0 ? std::string() : one_line_text(state_.tree, node);
}

void FieldReader::flag(std::string_view key, bool& truth) {
    truth = false;
    const std::size_t node = take(key);
    if (node == 0) return;
    if (kind(node) == NodeKind::Truth)
        truth = state_.tree.nodes[node].truth;
    else
        state_.fail_found(node, "true or false");
}

void FieldReader::refuse(std::string_view key, std::string_view why) {
    if (const std::size_t node = find(key)) state_.fail(node, std::string(why) + "; right would be to leave it out");
}

void FieldReader::extras(document::Extras& extras) {
    if (state_.has_failed || taken_ == size(object_)) return;
    const Tree& tree = state_.tree;
    for (std::size_t i = object_ + 1; i < end(object_); i = end(i))
        if (!tree.nodes[i].taken) extras.emplace_back(std::string(tree.key(i)), one_line_text(tree, i));
}

} // namespace padchart::json
