// The only file that sees the JSON library. Its event interface is used: it neither recurses nor builds a tree.

#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>
#include <nlohmann/json.hpp>
#include <utility>

#include "json/tree.hpp"

namespace padchart::json {
namespace {

using Library = nlohmann::json;

std::size_t line_at(std::string_view text, std::size_t offset) {
    return 1 +
           static_cast<std::size_t>(std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(offset), '\n'));
}

std::string line_and_column(std::string_view text, std::size_t offset) {
    const std::string_view before = text.substr(0, offset);
    const std::size_t line_begin = before.rfind('\n') == std::string_view::npos ? 0 : before.rfind('\n') + 1;
    const auto is_first_byte = [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; };
    const auto column =
        1 + std::count_if(before.begin() + static_cast<std::ptrdiff_t>(line_begin), before.end(), is_first_byte);
    return "line " + std::to_string(line_at(text, offset)) + " column " + std::to_string(column);
}

void replace_all(std::string& text, std::string_view from, std::string_view to) {
    for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size()))
        text.replace(at, from.size(), to);
}

/// The library's "[...] parse error at line 1, column 2: syntax error while parsing value - unexpected '}'; expected
/// string literal" in this program's own words.
std::string in_own_words(std::string message) {
    if (const std::size_t dash = message.find(" - "); dash != std::string::npos) message.erase(0, dash + 3);
    if (const std::size_t read = message.find("; last read: '"); read != std::string::npos) {
        const std::size_t close = message.rfind('\'');
        message.erase(read, close + 1 - read);
    }
    replace_all(message, "[json.exception.", "");
    replace_all(message, "unexpected ", "found ");
    replace_all(message, "; expected ", "; right would be ");
    replace_all(message, "string literal", "a text in quotes");
    replace_all(message, "number literal", "a number");
    replace_all(message, "'[', '{', or a literal", "a value");
    replace_all(message, "invalid literal",
                "found a word that is no JSON; right would be true, false, null, or quotes round a text");
    return "not JSON: " + message;
}

std::string message_for(std::size_t offset, std::string_view text, const std::string& token,
                        const std::string& library) {
    if (library.find("UTF-8") != std::string::npos)
        return "the text is not UTF-8; right would be a file saved as UTF-8";
    if (library.find("number overflow") != std::string::npos)
        return "the number " + token + " is too large; right would be one below 1.8e308";
    if (offset >= text.size()) return "the text ends in the middle: the file was cut short";
    return in_own_words(library);
}

/// Takes the library's events and lays the values out one after the other.
class TreeBuilder {
public:
    TreeBuilder(Tree& tree, std::string_view text) : tree_(tree), text_(text) {}

    [[nodiscard]] const Error& error() const { return error_; }
    /// Set when the error belongs to a node, which place_of can name.
    [[nodiscard]] bool is_error_at_node() const { return is_error_at_node_; }
    [[nodiscard]] std::size_t error_node() const { return error_node_; }

    bool null() {
        add(NodeKind::Null);
        return true;
    }
    bool boolean(bool truth) {
        add(NodeKind::Truth).truth = truth;
        return true;
    }
    bool number_integer(std::int64_t number) {
        Node& node = add(NodeKind::Integer);
        node.integer = number;
        node.number = static_cast<double>(number);
        return true;
    }
    bool number_unsigned(std::uint64_t number) {
        if (number <= static_cast<std::uint64_t>(std::numeric_limits<std::int64_t>::max()))
            return number_integer(static_cast<std::int64_t>(number));
        return number_float(static_cast<double>(number), std::to_string(number));
    }
    bool number_float(double number, const std::string& digits) {
        Node& node = add(NodeKind::Number);
        node.number = number;
        node.text = keep(digits);
        mend_decimal_point(node.text);
        return true;
    }
    bool string(const std::string& text) {
        add(NodeKind::Text).text = keep(text);
        return true;
    }
    bool binary(const Library::binary_t&) { return false; } // JSON texts have none
    bool key(const std::string& name) {
        key_ = keep(name);
        return true;
    }
    bool start_object(std::size_t) { return open(NodeKind::Object); }
    bool start_array(std::size_t) { return open(NodeKind::List); }
    bool end_object() { return close() && has_no_key_twice(last_closed_); }
    bool end_array() { return close(); }

    bool parse_error(std::size_t position, const std::string& token, const nlohmann::detail::exception& why) {
        const std::size_t offset = std::min(position == 0 ? 0 : position - 1, text_.size());
        error_ = Error{message_for(offset, text_, token, why.what()), line_and_column(text_, offset)};
        return false;
    }

private:
    Node& add(NodeKind kind) {
        if (!open_.empty()) ++tree_.nodes[open_.back()].count;
        Node& node = tree_.nodes.emplace_back();
        node.kind = kind;
        node.key = std::exchange(key_, {});
        node.end = static_cast<std::uint32_t>(tree_.nodes.size());
        return node;
    }

    Slice keep(const std::string& text) {
        const Slice slice{static_cast<std::uint32_t>(tree_.characters.size()), static_cast<std::uint32_t>(text.size())};
        tree_.characters += text;
        return slice;
    }

    /// The library hands out digits with the decimal point of the locale.
    void mend_decimal_point(Slice slice) {
        for (std::size_t i = slice.begin; i < slice.begin + slice.size; ++i) {
            const char c = tree_.characters[i];
            const bool is_json = (c >= '0' && c <= '9') || c == '.' || c == '-' || c == '+' || c == 'e' || c == 'E';
            if (!is_json) tree_.characters[i] = '.';
        }
    }

    bool open(NodeKind kind) {
        add(kind);
        open_.push_back(tree_.nodes.size() - 1);
        if (open_.size() <= kDeepestNesting) return true;
        return fail_at(tree_.nodes.size() - 1, "lists and objects are nested deeper than " +
                                                   std::to_string(kDeepestNesting) + "; a chart needs 6");
    }

    bool close() {
        last_closed_ = open_.back();
        open_.pop_back();
        tree_.nodes[last_closed_].end = static_cast<std::uint32_t>(tree_.nodes.size());
        return true;
    }

    bool fail_at(std::size_t node, std::string message) {
        for (const std::size_t unclosed : open_) // so that pointers to the node can be followed
            tree_.nodes[unclosed].end = static_cast<std::uint32_t>(tree_.nodes.size());
        error_.message = std::move(message);
        error_node_ = node;
        is_error_at_node_ = true;
        return false;
    }

    bool has_no_key_twice(std::size_t object) {
        const Node& node = tree_.nodes[object];
        constexpr std::uint32_t kFewMembers = 24;
        return node.count <= kFewMembers ? has_no_key_twice_of_few(object) : has_no_key_twice_of_many(object);
    }

    bool has_no_key_twice_of_few(std::size_t object) {
        const std::size_t end = tree_.nodes[object].end;
        for (std::size_t b = object + 1; b < end; b = tree_.nodes[b].end)
            for (std::size_t a = object + 1; a < b; a = tree_.nodes[a].end)
                if (tree_.nodes[a].key.size == tree_.nodes[b].key.size && tree_.key(a) == tree_.key(b))
                    return fail_twice(b);
        return true;
    }

    bool has_no_key_twice_of_many(std::size_t object) {
        std::vector<std::size_t> members;
        for (std::size_t i = object + 1; i < tree_.nodes[object].end; i = tree_.nodes[i].end)
            members.push_back(i);
        const auto by_key = [this](std::size_t a, std::size_t b) { return tree_.key(a) < tree_.key(b); };
        std::stable_sort(members.begin(), members.end(), by_key);
        const auto same_key = [this](std::size_t a, std::size_t b) { return tree_.key(a) == tree_.key(b); };
        const auto twice = std::adjacent_find(members.begin(), members.end(), same_key);
        return twice == members.end() || fail_twice(*std::next(twice));
    }

    bool fail_twice(std::size_t member) {
        return fail_at(member, "the key stands twice in the same object; right would be once");
    }

    Tree& tree_;
    std::string_view text_;
    std::vector<std::size_t> open_;
    std::size_t last_closed_ = 0;
    Slice key_;
    Error error_;
    std::size_t error_node_ = 0;
    bool is_error_at_node_ = false;
};

/// Walks the text and tells a counter how far the library has read.
class CountingIterator {
public:
    using iterator_category = std::input_iterator_tag;
    using value_type = char;
    using difference_type = std::ptrdiff_t;
    using pointer = const char*;
    using reference = const char&;

    CountingIterator(const char* at, std::size_t* read) : at_(at), read_(read) {}
    reference operator*() const { return *at_; }
    CountingIterator& operator++() {
        ++at_;
        ++*read_;
        return *this;
    }
    bool operator==(const CountingIterator& other) const { return at_ == other.at_; }
    bool operator!=(const CountingIterator& other) const { return at_ != other.at_; }

private:
    const char* at_;
    std::size_t* read_;
};

/// Counts values until the wanted one and stops there.
class ValueFinder {
public:
    ValueFinder(std::size_t wanted, const std::size_t& read) : left_(wanted), read_(read) {}

    /// Bytes read when the value's token had ended; a number may have taken one byte more.
    [[nodiscard]] std::size_t found_at() const { return found_at_; }

    bool null() { return next(0); }
    bool boolean(bool) { return next(0); }
    bool number_integer(std::int64_t) { return next(1); }
    bool number_unsigned(std::uint64_t) { return next(1); }
    bool number_float(double, const std::string&) { return next(1); }
    bool string(const std::string&) { return next(0); }
    bool binary(const Library::binary_t&) { return false; }
    bool key(const std::string&) { return true; }
    bool start_object(std::size_t) { return next(0); }
    bool start_array(std::size_t) { return next(0); }
    bool end_object() { return true; }
    bool end_array() { return true; }
    bool parse_error(std::size_t, const std::string&, const nlohmann::detail::exception&) { return false; }

private:
    bool next(std::size_t looked_ahead) {
        if (left_ > 0) {
            --left_;
            return true;
        }
        found_at_ = read_ - std::min(read_, looked_ahead);
        return false;
    }

    std::size_t left_;
    const std::size_t& read_;
    std::size_t found_at_ = 0;
};

std::size_t line_of_node(std::string_view text, std::size_t node) {
    std::size_t read = 0;
    ValueFinder finder(node, read);
    const char* begin = text.data();
    Library::sax_parse(CountingIterator(begin, &read), CountingIterator(begin + text.size(), &read), &finder);
    return line_at(text, finder.found_at());
}

} // namespace

std::string place_of(const Tree& tree, std::size_t node, std::string_view text) {
    return pointer_to(tree, node) + " (line " + std::to_string(line_of_node(text, node)) + ")";
}

Result<Tree> parse_tree(std::string_view text) {
    // The library takes a zero byte for the end and would not see what follows.
    if (const std::size_t zero = text.find('\0'); zero != std::string_view::npos)
        return Error{"found a zero byte; right would be UTF-8 text", line_and_column(text, zero)};
    if (text.size() > std::numeric_limits<std::uint32_t>::max()) return Error{"the text is larger than 4 GB", ""};
    Tree tree;
    tree.nodes.reserve(text.size() / 12);
    tree.characters.reserve(text.size() / 2);
    TreeBuilder builder(tree, text);
    if (Library::sax_parse(text.data(), text.data() + text.size(), &builder)) return tree;
    if (!builder.is_error_at_node()) return builder.error();
    return Error{builder.error().message, place_of(tree, builder.error_node(), text)};
}

} // namespace padchart::json
