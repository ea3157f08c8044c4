#include "svg/selectors.hpp"

#include <algorithm>
#include <compare>
#include <iterator>

#include "svg/scan.hpp"

namespace padchart::svg {
namespace {

constexpr int kMaxNesting = 8;

bool starts_identifier(char c) {
    return is_letter(c) || c == '_' || c == '-' || c == '\\' || static_cast<unsigned char>(c) >= 0x80;
}

void append_utf8(std::uint32_t code, std::string& out) {
    const auto byte = [&](std::uint32_t value) { out.push_back(static_cast<char>(value)); };
    const auto tail = [&](unsigned shift) { byte(0x80U | (code >> shift & 0x3FU)); };
    if (code == 0 || code > 0x10FFFF || (code >= 0xD800 && code < 0xE000)) code = 0xFFFD;
    if (code < 0x80) return byte(code);
    if (code < 0x800) {
        byte(0xC0U | code >> 6U);
    } else if (code < 0x10000) {
        byte(0xE0U | code >> 12U);
        tail(6);
    } else {
        byte(0xF0U | code >> 18U);
        tail(12);
        tail(6);
    }
    tail(0);
}

/// An escape stands for the character behind it, or for the one of the hexadecimal number behind it.
void read_escape(Scanner& scanner, std::string& out) {
    std::uint32_t code = 0;
    int digits = 0;
    const auto is_hex = [](char c) { return is_digit(c) || (to_lower(c) >= 'a' && to_lower(c) <= 'f'); };
    for (; digits < 6 && !scanner.done() && is_hex(*scanner.at); ++digits, ++scanner.at) {
        const char c = to_lower(*scanner.at);
        code = code * 16 + static_cast<std::uint32_t>(is_digit(c) ? c - '0' : c - 'a' + 10);
    }
    if (digits == 0) {
        if (!scanner.done()) out.push_back(*scanner.at++);
        return;
    }
    if (!scanner.done() && is_blank(*scanner.at)) ++scanner.at;
    append_utf8(code, out);
}

std::string read_identifier(Scanner& scanner) {
    std::string out;
    while (!scanner.done() && (starts_identifier(*scanner.at) || is_digit(*scanner.at))) {
        const char c = *scanner.at++;
        if (c == '\\')
            read_escape(scanner, out);
        else
            out.push_back(c);
    }
    return out;
}

class SelectorReader {
public:
    explicit SelectorReader(std::string_view text) : scanner_(text) {}

    std::optional<std::vector<Selector>> read_list() {
        std::vector<Selector> list;
        do {
            auto selector = read_selector();
            if (!selector) return std::nullopt;
            list.push_back(std::move(*selector));
            skip_blanks(scanner_);
        } while (take(','));
        if (!scanner_.done()) return std::nullopt;
        return list;
    }

private:
    bool take(char c) {
        if (scanner_.peek() != c || scanner_.done()) return false;
        ++scanner_.at;
        return true;
    }

    std::optional<Selector> read_selector() {
        Selector selector;
        skip_blanks(scanner_);
        while (true) {
            auto compound = read_compound(0);
            if (!compound) return std::nullopt;
            selector.compounds.push_back(std::move(*compound));
            const auto combinator = read_combinator();
            if (!combinator) break;
            selector.combinators.push_back(*combinator);
        }
        selector.weight = sheet_weight(ids_, classes_, types_);
        ids_ = classes_ = types_ = 0;
        return selector;
    }

    std::optional<char> read_combinator() {
        const bool blank = is_blank(scanner_.peek());
        skip_blanks(scanner_);
        const char c = scanner_.peek();
        if (c == '>' || c == '+' || c == '~') {
            ++scanner_.at;
            skip_blanks(scanner_);
            return c;
        }
        if (!blank || scanner_.done() || c == ',' || c == ')') return std::nullopt;
        return ' ';
    }

    std::optional<Compound> read_compound(int nesting) {
        Compound compound;
        const char* const begin = scanner_.at;
        if (!read_type(compound)) return std::nullopt;
        while (!scanner_.done()) {
            const char c = *scanner_.at;
            if (c == '#' || c == '.') {
                ++scanner_.at;
                std::string name = read_identifier(scanner_);
                if (name.empty()) return std::nullopt;
                ++(c == '#' ? ids_ : classes_);
                (c == '#' ? compound.ids : compound.classes).push_back(std::move(name));
            } else if (c == '[') {
                if (!read_attribute(compound)) return std::nullopt;
            } else if (c == ':') {
                if (!read_pseudo(compound, nesting)) return std::nullopt;
            } else {
                break;
            }
        }
        if (scanner_.at == begin) return std::nullopt;
        return compound;
    }

    bool read_type(Compound& compound) {
        if (take('*')) {
            if (!take('|')) return true;
            if (take('*')) return true;
        }
        if (!starts_identifier(scanner_.peek())) return true;
        compound.type = read_identifier(scanner_);
        if (take('|')) { // a namespace prefix: all that is drawn is SVG anyway
            if (take('*')) {
                compound.type.clear();
                return true;
            }
            compound.type = read_identifier(scanner_);
        }
        ++types_;
        return !compound.type.empty();
    }

    bool read_attribute(Compound& compound) {
        ++scanner_.at;
        AttributeTest test;
        skip_blanks(scanner_);
        test.name = read_identifier(scanner_);
        if (!scanner_.rest().starts_with("|=") && take('|')) test.name += ":" + read_identifier(scanner_);
        skip_blanks(scanner_);
        ++classes_;
        const char c = scanner_.peek();
        if (c != ']') {
            test.how = c;
            if (std::string_view("=~|^$*").find(c) == std::string_view::npos || scanner_.done()) return false;
            ++scanner_.at;
            if (c != '=' && !take('=')) return false;
            if (!read_attribute_value(test)) return false;
        }
        if (test.name.empty() || !take(']')) return false;
        compound.attributes.push_back(std::move(test));
        return true;
    }

    bool read_attribute_value(AttributeTest& test) {
        skip_blanks(scanner_);
        const char quote = scanner_.peek();
        if (quote == '"' || quote == '\'') {
            ++scanner_.at;
            while (!scanner_.done() && *scanner_.at != quote) {
                const char c = *scanner_.at++;
                if (c == '\\')
                    read_escape(scanner_, test.value);
                else
                    test.value.push_back(c);
            }
            if (!take(quote)) return false;
        } else {
            test.value = read_identifier(scanner_);
            if (test.value.empty()) return false;
        }
        skip_blanks(scanner_);
        const char flag = to_lower(scanner_.peek());
        if (flag != 'i' && flag != 's') return true;
        test.any_case = flag == 'i';
        ++scanner_.at;
        skip_blanks(scanner_);
        return true;
    }

    bool read_pseudo(Compound& compound, int nesting) {
        ++scanner_.at;
        const std::string name = read_identifier(scanner_);
        if ((name == "not" || name == "is" || name == "where") && take('(')) return read_inner(compound, name, nesting);
        ++classes_;
        return read_structure(compound, name);
    }

    bool read_structure(Compound& compound, std::string_view name) {
        using Kind = Structure::Kind;
        const bool of_type = name.ends_with("-of-type");
        const std::string_view which = name.substr(0, name.find('-'));
        const auto add = [&](Kind kind, int place) { compound.structures.push_back({kind, of_type, place}); };
        if (name == "root") {
            add(Kind::Root, 1);
            return true;
        }
        if (!of_type && !name.ends_with("-child")) return false;
        if (name.starts_with("nth-")) {
            const auto place = read_place();
            if (place) add(name.starts_with("nth-last-") ? Kind::FromLast : Kind::FromFirst, *place);
            return place.has_value();
        }
        if (which == "first" || which == "only") add(Kind::FromFirst, 1);
        if (which == "last" || which == "only") add(Kind::FromLast, 1);
        return which == "first" || which == "last" || which == "only";
    }

    /// "(3)". Steps such as 2n+1 would count all siblings of every element: not understood.
    std::optional<int> read_place() {
        constexpr int kFarthest = 1000;
        if (!take('(')) return std::nullopt;
        skip_blanks(scanner_);
        int place = 0;
        if (!is_digit(scanner_.peek())) return std::nullopt;
        while (is_digit(scanner_.peek()) && place <= kFarthest)
            place = place * 10 + (*scanner_.at++ - '0');
        skip_blanks(scanner_);
        if (place > kFarthest || !take(')')) return std::nullopt;
        return place;
    }

    struct Specificity {
        std::uint32_t ids = 0, classes = 0, types = 0;
        auto operator<=>(const Specificity&) const = default;
    };

    /// A list of compounds in brackets; it weighs as much as the heaviest of them, that of :where nothing.
    bool read_inner(Compound& compound, std::string_view name, int nesting) {
        if (nesting >= kMaxNesting) return false;
        const Specificity outside{ids_, classes_, types_};
        Specificity heaviest;
        std::vector<Compound> list;
        do {
            ids_ = classes_ = types_ = 0;
            skip_blanks(scanner_);
            auto inner = read_compound(nesting + 1);
            skip_blanks(scanner_);
            if (!inner) return false;
            list.push_back(std::move(*inner));
            heaviest = std::max(heaviest, Specificity{ids_, classes_, types_});
        } while (take(','));
        if (!take(')')) return false;
        if (name == "where") heaviest = {};
        ids_ = outside.ids + heaviest.ids;
        classes_ = outside.classes + heaviest.classes;
        types_ = outside.types + heaviest.types;
        if (name == "not")
            std::move(list.begin(), list.end(), std::back_inserter(compound.nots));
        else
            compound.any_of.push_back(std::move(list));
        return true;
    }

    Scanner scanner_;
    std::uint32_t ids_ = 0;
    std::uint32_t classes_ = 0;
    std::uint32_t types_ = 0;
};

pugi::xml_node element_before(pugi::xml_node node) {
    do
        node = node.previous_sibling();
    while (node && node.type() != pugi::node_element);
    return node;
}

pugi::xml_node element_after(pugi::xml_node node) {
    do
        node = node.next_sibling();
    while (node && node.type() != pugi::node_element);
    return node;
}

std::string lower(std::string_view text) {
    std::string out(text);
    std::transform(out.begin(), out.end(), out.begin(), to_lower);
    return out;
}

bool fits(char how, std::string_view value, std::string_view wanted) {
    switch (how) {
    case '=': return value == wanted;
    case '~': return has_word(value, wanted);
    case '|': return value == wanted || (value.starts_with(wanted) && value.substr(wanted.size()).starts_with('-'));
    case '^': return !wanted.empty() && value.starts_with(wanted);
    case '$': return !wanted.empty() && value.ends_with(wanted);
    default: return !wanted.empty() && value.find(wanted) != std::string_view::npos;
    }
}

bool holds(const AttributeTest& test, const pugi::xml_node& element) {
    const pugi::xml_attribute attribute = element.attribute(test.name.c_str());
    if (!attribute) return false;
    if (test.how == '\0') return true;
    const std::string value = in_one_line(attribute.value());
    return test.any_case ? fits(test.how, lower(value), lower(test.value)) : fits(test.how, value, test.value);
}

bool holds(const Structure& structure, const pugi::xml_node& element, const pugi::xml_node& scope) {
    if (structure.kind == Structure::Kind::Root) return element.parent().type() == pugi::node_document;
    if (element == scope) return structure.place == 1; // the root of an instance has no siblings
    const std::string_view name = element.name();
    int place = 1;
    for (pugi::xml_node at = element; place <= structure.place;) {
        at = structure.kind == Structure::Kind::FromFirst ? element_before(at) : element_after(at);
        if (!at) break;
        if (!structure.of_type || name == at.name()) ++place;
    }
    return place == structure.place;
}

bool holds(const Compound& compound, const pugi::xml_node& element, const pugi::xml_node& scope) {
    if (!compound.type.empty() && local_name(element.name()) != compound.type) return false;
    for (const std::string& id : compound.ids)
        if (element.attribute("id").value() != id) return false;
    for (const std::string& name : compound.classes)
        if (!has_word(element.attribute("class").value(), name)) return false;
    for (const AttributeTest& test : compound.attributes)
        if (!holds(test, element)) return false;
    for (const Structure& structure : compound.structures)
        if (!holds(structure, element, scope)) return false;
    for (const Compound& inner : compound.nots)
        if (holds(inner, element, scope)) return false;
    for (const std::vector<Compound>& list : compound.any_of)
        if (std::none_of(list.begin(), list.end(), [&](const Compound& c) { return holds(c, element, scope); }))
            return false;
    return true;
}

pugi::xml_node next_candidate(char combinator, const pugi::xml_node& from, const pugi::xml_node& scope) {
    if (from == scope) return {};
    if (combinator == '+' || combinator == '~') return element_before(from);
    const pugi::xml_node parent = from.parent();
    return parent.type() == pugi::node_element ? parent : pugi::xml_node();
}

/// Do the compounds up to `last` hold for ancestors or siblings of `from`? Of a chain only the nearest match is kept
/// for child and next-sibling; descendant and later-sibling try every candidate.
bool holds_before(const Selector& selector, std::size_t last, const pugi::xml_node& from, const pugi::xml_node& scope,
                  std::int64_t& budget) {
    const char combinator = selector.combinators[last];
    const bool once = combinator == '>' || combinator == '+';
    for (pugi::xml_node at = next_candidate(combinator, from, scope); at;
         at = once ? pugi::xml_node() : next_candidate(combinator, at, scope)) {
        if (--budget < 0) return false;
        if (!holds(selector.compounds[last], at, scope)) continue;
        if (last == 0 || holds_before(selector, last - 1, at, scope, budget)) return true;
    }
    return false;
}

} // namespace

std::string_view local_name(std::string_view name) {
    const std::size_t colon = name.rfind(':');
    return colon == std::string_view::npos ? name : name.substr(colon + 1);
}

bool has_word(std::string_view list, std::string_view word) {
    if (word.empty()) return false;
    for (std::size_t at = list.find(word); at != std::string_view::npos; at = list.find(word, at + 1)) {
        const std::size_t end = at + word.size();
        if ((at == 0 || is_blank(list[at - 1])) && (end == list.size() || is_blank(list[end]))) return true;
    }
    return false;
}

std::optional<std::vector<Selector>> selectors_of(std::string_view text) {
    return SelectorReader(trimmed(text)).read_list();
}

bool matches(const Selector& selector, const pugi::xml_node& element, const pugi::xml_node& scope,
             std::int64_t& budget) {
    if (--budget < 0 || !holds(selector.compounds.back(), element, scope)) return false;
    return selector.compounds.size() == 1 ||
           holds_before(selector, selector.compounds.size() - 2, element, scope, budget);
}

} // namespace padchart::svg
