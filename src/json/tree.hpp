#pragma once
// A JSON text as a flat list of values in the order they stand, so that a chart of 50,000 pads is read without an
// allocation per value. The JSON library does the parsing; this keeps what the library's own tree would not: the order
// of keys, the digits of numbers, and a way back to the line.

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace padchart::json {

enum class NodeKind : std::uint8_t { Null, Truth, Integer, Number, Text, List, Object };

/// A piece of Tree::characters.
struct Slice {
    std::uint32_t begin = 0;
    std::uint32_t size = 0;
};

struct Node {
    NodeKind kind = NodeKind::Null;
    bool truth = false;
    bool taken = false;      ///< a reader has made use of it
    std::uint32_t end = 0;   ///< index of the first node after this one and all that it holds
    std::uint32_t count = 0; ///< of a list or an object: how many it holds
    Slice key;               ///< of a member of an object
    Slice text;              ///< of a text; the digits of a Number
    double number = 0.0;     ///< of a Number, and of an Integer too
    std::int64_t integer = 0;
};

struct Tree {
    std::vector<Node> nodes; ///< the root first
    std::string characters;  ///< of keys and texts, unescaped

    [[nodiscard]] std::string_view view(Slice slice) const {
        return std::string_view(characters).substr(slice.begin, slice.size);
    }
    [[nodiscard]] std::string_view key(std::size_t node) const { return view(nodes[node].key); }
    [[nodiscard]] std::string_view text(std::size_t node) const { return view(nodes[node].text); }
};

/// Lists and objects inside each other, at most. A chart needs 6.
inline constexpr std::size_t kDeepestNesting = 64;

/// Errors: not JSON, nested too deep, a key twice in an object; `where` is "line 12 column 5" or "/a/b (line 3)".
[[nodiscard]] Result<Tree> parse_tree(std::string_view text);

/// "/parts/3/pads/0/width_mm" (RFC 6901); "/" alone stands for the whole text.
[[nodiscard]] std::string pointer_to(const Tree& tree, std::size_t node);
/// The node of a pointer that pointer_to made, or the deepest one on the way to it.
[[nodiscard]] std::size_t node_at(const Tree& tree, std::string_view pointer);
/// "/parts/3 (line 58)". Reads `text`, which the tree was made of, a second time: only errors pay for line numbers.
[[nodiscard]] std::string place_of(const Tree& tree, std::size_t node, std::string_view text);

/// What stands there, to be shown: "\"tpo\"", "-1", "a list".
[[nodiscard]] std::string shown(const Tree& tree, std::size_t node);
/// JSON on one line with the digits it was read with. Requires: no deeper than kDeepestNesting.
[[nodiscard]] std::string one_line_text(const Tree& tree, std::size_t node);

} // namespace padchart::json
