#include "json/tree.hpp"

#include <algorithm>
#include <charconv>

#include "json/text_output.hpp"

namespace padchart::json {
namespace {

void append_number_text(std::string& out, const Tree& tree, const Node& node) {
    if (node.kind == NodeKind::Integer)
        out += std::to_string(node.integer);
    else
        out += tree.view(node.text);
}

void append_value(std::string& out, const Tree& tree, std::size_t index);

void append_members(std::string& out, const Tree& tree, std::size_t index) {
    const Node& node = tree.nodes[index];
    const bool is_object = node.kind == NodeKind::Object;
    out += is_object ? '{' : '[';
    for (std::size_t i = index + 1; i < node.end; i = tree.nodes[i].end) {
        if (i != index + 1) out += ", ";
        if (is_object) {
            append_quoted(out, tree.key(i));
            out += ": ";
        }
        append_value(out, tree, i);
    }
    out += is_object ? '}' : ']';
}

void append_value(std::string& out, const Tree& tree, std::size_t index) {
    const Node& node = tree.nodes[index];
    switch (node.kind) {
    case NodeKind::Null: out += "null"; return;
    case NodeKind::Truth: out += node.truth ? "true" : "false"; return;
    case NodeKind::Integer:
    case NodeKind::Number: append_number_text(out, tree, node); return;
    case NodeKind::Text: append_quoted(out, tree.text(index)); return;
    case NodeKind::List:
    case NodeKind::Object: append_members(out, tree, index); return;
    }
}

/// RFC 6901, section 3: ~ and / have their own spelling.
std::string escaped(std::string_view key) {
    std::string out;
    for (const char c : key) {
        if (c == '~')
            out += "~0";
        else if (c == '/')
            out += "~1";
        else
            out += c;
    }
    return out;
}

/// The member of `parent` that holds `node`, and how many stand before it.
std::pair<std::size_t, std::size_t> member_towards(const Tree& tree, std::size_t parent, std::size_t node) {
    std::size_t child = parent + 1;
    std::size_t position = 0;
    while (tree.nodes[child].end <= node) {
        child = tree.nodes[child].end;
        ++position;
    }
    return {child, position};
}

std::string step_name(const Tree& tree, std::size_t parent, std::size_t child, std::size_t position) {
    return tree.nodes[parent].kind == NodeKind::Object ? escaped(tree.key(child)) : std::to_string(position);
}

/// The character at most `limit` bytes into `text` at which it may be cut.
std::size_t cut_before(std::string_view text, std::size_t limit) {
    while (limit > 0 && (static_cast<unsigned char>(text[limit]) & 0xC0U) == 0x80U)
        --limit;
    return limit;
}

} // namespace

std::string pointer_to(const Tree& tree, std::size_t node) {
    std::string pointer;
    std::size_t parent = 0;
    while (parent != node) {
        const auto [child, position] = member_towards(tree, parent, node);
        pointer += '/';
        pointer += step_name(tree, parent, child, position);
        parent = child;
    }
    return pointer.empty() ? "/" : pointer;
}

std::size_t node_at(const Tree& tree, std::string_view pointer) {
    std::size_t node = 0;
    while (pointer.size() > 1) {
        pointer.remove_prefix(1);
        const std::string_view step = pointer.substr(0, pointer.find('/'));
        pointer.remove_prefix(step.size());
        std::size_t position = 0;
        std::size_t child = node + 1;
        while (child < tree.nodes[node].end && step_name(tree, node, child, position) != step) {
            child = tree.nodes[child].end;
            ++position;
        }
        if (child >= tree.nodes[node].end) break;
        node = child;
    }
    return node;
}

std::string shown(const Tree& tree, std::size_t node) {
    constexpr std::size_t kLongest = 40;
    const NodeKind kind = tree.nodes[node].kind;
    if (kind == NodeKind::List) return "a list";
    if (kind == NodeKind::Object) return "an object";
    std::string out;
    if (kind != NodeKind::Text) {
        append_value(out, tree, node);
        return out;
    }
    const std::string_view text = tree.text(node);
    const bool is_long = text.size() > kLongest;
    append_quoted(out, is_long ? text.substr(0, cut_before(text, kLongest)) : text);
    if (is_long) out.insert(out.size() - 1, "...");
    return out;
}

std::string one_line_text(const Tree& tree, std::size_t node) {
    std::string out;
    append_value(out, tree, node);
    return out;
}

} // namespace padchart::json
