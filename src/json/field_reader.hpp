#pragma once
// Walks chart_fields.hpp and reads. The first fault is kept and nothing after it is looked at, so that the lists of
// fields need no error handling; who starts the walk asks for the fault at its end.

#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <variant>
#include <vector>

#include "json/chart_fields.hpp"
#include "json/tree.hpp"

namespace padchart::json {

/// What all readers of one tree share.
struct ReadState {
    Tree& tree;
    std::unordered_map<std::string_view, std::size_t> ids; ///< id to the node that bears it
    bool has_failed = false;
    std::size_t fault_node = 0;
    std::string fault;

    void fail(std::size_t node, std::string message);
    /// "found X; right would be Y".
    void fail_found(std::size_t node, std::string_view right);
};

/// "top, bottom".
template <class Enum>
[[nodiscard]] std::string list_of_words() {
    std::string out;
    for (const document::Word<Enum>& word : document::words<Enum>()) {
        if (!out.empty()) out += ", ";
        out += word.text;
    }
    return out;
}

/// Reads the members of one object. Fields asked for in the order of the file are found at once.
class FieldReader {
public:
    /// Fails where the node is not an object.
    FieldReader(ReadState& state, std::size_t object);

    void text(std::string_view key, std::string& text, std::string_view usual = {});
    void filled_text(std::string_view key, std::string& text);
    void exact_text(std::string_view key, std::string_view text);
    void id(std::string_view key, document::Id& id);
    void link(std::string_view key, document::Id& id);
    void links(std::string_view key, std::vector<document::Id>& ids);

    void number(std::string_view key, double& number, const Range& range);
    void number(std::string_view key, double& number, const Range& range, double usual);
    void number(std::string_view key, std::optional<double>& number, const Range& range);
    void spelled_out(std::string_view key, double& out, const Range& range, double usual) {
        number(key, out, range, usual);
    }
    void repeat(double& out, double same) { out = same; }
    void count(std::string_view key, std::optional<int>& number, const Range& range);
    /// `size`: how many it must be, 0 for any number of them.
    void numbers(std::string_view key, std::vector<double>& list, const Range& range, std::size_t size = 0);
    void turn(std::string_view key, Angle& angle);
    void place(std::string_view key, geometry::Vec2& at);
    void ring(std::string_view key, geometry::Ring& ring);
    void polygon(std::string_view key, geometry::Polygon& polygon);
    void polygon(std::string_view key, std::optional<geometry::Polygon>& polygon);

    /// Whatever value stands there, as text on one line; empty where there is none.
    void json(std::string_view key, std::string& text);
    void flag(std::string_view key, bool& truth);
    template <class Enum>
    void word(std::string_view key, Enum& value) {
        if (const std::size_t node = required(key, "one of " + list_of_words<Enum>())) read_word(node, value);
    }
    template <class Enum>
    void word(std::string_view key, Enum& value, Enum usual) {
        value = usual;
        if (const std::size_t node = take(key)) read_word(node, value);
    }
    template <class Enum>
    void number_or_word(std::string_view key, std::variant<double, Enum>& value, const Range& range) {
        const std::size_t node = required(key, "a number or one of " + list_of_words<Enum>());
        if (node == 0) return;
        if (kind(node) == NodeKind::Text)
            read_word(node, value.template emplace<Enum>());
        else
            read_number(node, value.template emplace<double>(), range, "a number or one of " + list_of_words<Enum>());
    }

    template <class T>
    void object(std::string_view key, T& value) {
        if (const std::size_t node = take(key)) read_object(node, value);
    }
    template <class T>
    void object_always(std::string_view key, T& value) {
        object(key, value);
    }
    template <class T>
    void object(std::string_view key, std::optional<T>& value) {
        if (const std::size_t node = take(key)) read_object(node, value.emplace());
    }
    template <class T>
    void list(std::string_view key, std::vector<T>& list) {
        const std::size_t node = take_list(key);
        if (node == 0) return;
        list.reserve(size(node));
        for (std::size_t i = node + 1; i < end(node) && !state_.has_failed; i = end(i))
            read_object(i, list.emplace_back());
    }
    template <class T>
    void list(std::string_view key, document::Items<T>& list) {
        const std::size_t node = take_list(key);
        if (node == 0) return;
        list.reserve(size(node));
        for (std::size_t i = node + 1; i < end(node) && !state_.has_failed; i = end(i)) {
            T value;
            read_object(i, value);
            list.add(std::move(value));
        }
    }

    /// Fails where the key is there: it belongs to another kind of thing.
    void refuse(std::string_view key, std::string_view why);
    /// What nobody has taken. Comes last.
    void extras(document::Extras& extras);

private:
    [[nodiscard]] NodeKind kind(std::size_t node) const { return state_.tree.nodes[node].kind; }
    [[nodiscard]] std::size_t end(std::size_t node) const { return state_.tree.nodes[node].end; }
    [[nodiscard]] std::size_t size(std::size_t node) const { return state_.tree.nodes[node].count; }

    // 0 is the root, which is no member: it stands for "not there" (or for a fault before).
    [[nodiscard]] std::size_t find(std::string_view key);
    [[nodiscard]] std::size_t take(std::string_view key);
    [[nodiscard]] std::size_t take_list(std::string_view key);
    [[nodiscard]] std::size_t required(std::string_view key, std::string_view right);

    void read_text(std::size_t node, std::string& text);
    void read_number(std::size_t node, double& number, const Range& range, std::string_view right);
    void read_number(std::size_t node, double& number, const Range& range) {
        read_number(node, number, range, range.words);
    }
    void read_id(std::size_t node, document::Id& id);
    void read_place(std::size_t node, geometry::Vec2& at);
    void read_ring(std::size_t node, geometry::Ring& ring);
    void read_polygon(std::size_t node, geometry::Polygon& polygon);

    template <class Enum>
    void read_word(std::size_t node, Enum& value) {
        if (kind(node) == NodeKind::Text)
            if (const std::optional<Enum> word = document::from_text<Enum>(state_.tree.text(node))) {
                value = *word;
                return;
            }
        state_.fail_found(node, "one of " + list_of_words<Enum>());
    }
    template <class T>
    void read_object(std::size_t node, T& value) {
        FieldReader reader(state_, node);
        if (!state_.has_failed) fields(reader, value);
    }

    ReadState& state_;
    std::size_t object_;
    std::size_t next_; ///< where the next member is looked for first
    std::uint32_t taken_ = 0;
};

} // namespace padchart::json
