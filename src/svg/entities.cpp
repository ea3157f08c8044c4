#include "svg/entities.hpp"

#include <cstdint>
#include <map>
#include <optional>

#include "svg/scan.hpp"

namespace padchart::svg {
namespace {

using Entities = std::map<std::string, std::string, std::less<>>;

constexpr int kMaxDepth = 32;
constexpr std::size_t kMaxReferences = 1'000'000;

bool is_name_character(char c) {
    return is_letter(c) || is_digit(c) || c == '_' || c == '-' || c == '.' || c == ':' ||
           static_cast<unsigned char>(c) >= 0x80;
}

std::string_view read_name(Scanner& scanner) {
    const char* const begin = scanner.at;
    while (!scanner.done() && is_name_character(*scanner.at))
        ++scanner.at;
    return {begin, static_cast<std::size_t>(scanner.at - begin)};
}

/// A quoted text, or nothing.
std::optional<std::string_view> read_literal(Scanner& scanner) {
    const char quote = scanner.peek();
    if (quote != '"' && quote != '\'') return std::nullopt;
    const std::string_view rest = scanner.rest().substr(1);
    const std::size_t end = rest.find(quote);
    if (end == std::string_view::npos) return std::nullopt;
    scanner.at += end + 2;
    return rest.substr(0, end);
}

bool skip_past(Scanner& scanner, std::string_view what) {
    const std::size_t at = scanner.rest().find(what);
    if (at == std::string_view::npos) return false;
    scanner.at += at + what.size();
    return true;
}

bool starts(const Scanner& scanner, std::string_view what) {
    return scanner.rest().starts_with(what);
}

/// The declaration's own subset ("[...]") of a DOCTYPE: begin and end in the text, brackets not included.
struct Subset {
    std::size_t begin = 0;
    std::size_t end = 0;
};

/// Moves over "<!ENTITY ...>" and the like, quotes respected.
void skip_declaration(Scanner& scanner) {
    while (!scanner.done() && *scanner.at != '>') {
        if ((*scanner.at == '"' || *scanner.at == '\'') && read_literal(scanner)) continue;
        ++scanner.at;
    }
    if (!scanner.done()) ++scanner.at;
}

bool skip_aside(Scanner& scanner) {
    if (starts(scanner, "<!--")) return skip_past(scanner, "-->");
    if (starts(scanner, "<?")) return skip_past(scanner, "?>");
    return false;
}

std::optional<Subset> find_subset(std::string_view text) {
    Scanner scanner(text);
    while (true) {
        skip_blanks(scanner);
        if (starts(scanner, "<!DOCTYPE")) break;
        if (!skip_aside(scanner)) return std::nullopt;
    }
    while (!scanner.done() && *scanner.at != '[') {
        if (*scanner.at == '>') return std::nullopt;
        if ((*scanner.at == '"' || *scanner.at == '\'') && read_literal(scanner)) continue;
        ++scanner.at;
    }
    if (scanner.done()) return std::nullopt;
    ++scanner.at;
    const auto offset = [&] { return static_cast<std::size_t>(scanner.at - text.data()); };
    Subset subset{offset(), offset()};
    while (!scanner.done() && *scanner.at != ']') {
        if (skip_aside(scanner)) continue;
        if (*scanner.at == '<')
            skip_declaration(scanner);
        else
            ++scanner.at;
    }
    subset.end = offset();
    return scanner.done() ? std::nullopt : std::optional(subset);
}

/// Character references are resolved where the entity is declared (XML 1.0, section 4.4).
std::string with_characters_resolved(std::string_view value) {
    std::string out;
    for (std::size_t i = 0; i < value.size(); ++i) {
        const std::size_t end = value[i] == '&' && i + 2 < value.size() && value[i + 1] == '#' ? value.find(';', i)
                                                                                               : std::string_view::npos;
        std::uint32_t code = 0;
        if (end != std::string_view::npos) {
            const bool hex = value[i + 2] == 'x';
            for (std::size_t k = i + (hex ? 3 : 2); k < end && code < 0x80; ++k) {
                const char c = to_lower(value[k]);
                const auto digit = static_cast<std::uint32_t>(is_digit(c) ? c - '0' : c - 'a' + 10);
                code = code * (hex ? 16 : 10) + digit;
            }
        }
        // Beyond ASCII the reference may stay: the parser resolves it. Within, it can be markup.
        if (code == 0 || code >= 0x80) {
            out.push_back(value[i]);
            continue;
        }
        out.push_back(static_cast<char>(code));
        i = end;
    }
    return out;
}

class Declarations {
public:
    explicit Declarations(Diagnostics& diagnostics, const TextPositions& positions, std::string_view text)
        : diagnostics_(diagnostics), positions_(positions), text_(text) {}

    Entities read(Subset subset) {
        Scanner scanner(text_.substr(subset.begin, subset.end - subset.begin));
        while (!scanner.done()) {
            if (skip_aside(scanner)) continue;
            if (starts(scanner, "<!ENTITY")) {
                read_entity(scanner);
            } else if (*scanner.at == '<') {
                if (starts(scanner, "<!ATTLIST"))
                    remark(scanner, Severity::Note, "dtd", "attribute defaults of the DOCTYPE are not applied");
                skip_declaration(scanner);
            } else {
                ++scanner.at;
            }
        }
        return entities_;
    }

private:
    void remark(const Scanner& scanner, Severity severity, const char* code, std::string message) {
        const TextPosition at = positions_.at(static_cast<std::size_t>(scanner.at - text_.data()));
        diagnostics_.push_back(
            {severity, code, std::move(message), std::to_string(at.line) + ":" + std::to_string(at.column), {}});
    }

    void read_entity(Scanner& scanner) {
        Scanner entity = scanner;
        skip_declaration(scanner);
        entity.at += std::string_view("<!ENTITY").size();
        skip_blanks(entity);
        const bool parameter = entity.peek() == '%';
        const std::string name(read_name(entity));
        skip_blanks(entity);
        const auto value = read_literal(entity);
        if (parameter || !value || name.empty()) {
            remark(entity, Severity::Warning, "entity-not-read",
                   "the entity \"" + name + "\" is external or a parameter: not read");
            return;
        }
        entities_.try_emplace(name, with_characters_resolved(*value)); // the first declaration counts
    }

    Diagnostics& diagnostics_;
    const TextPositions& positions_;
    std::string_view text_;
    Entities entities_;
};

class Expander {
public:
    Expander(std::string_view source, const Entities& entities) : source_(source), entities_(entities) {
        out_.text.reserve(source.size() + 256);
    }

    Result<ExpandedText> run(Subset subset) {
        // The subset keeps its lines and loses its words, which would only confuse the parser.
        out_.text.append(source_.substr(0, subset.begin));
        for (const char c : source_.substr(subset.begin, subset.end - subset.begin))
            out_.text.push_back(c == '\n' ? '\n' : ' ');
        expand(source_.substr(subset.end), subset.end, 0);
        if (!failure_.empty()) return Error{failure_, ""};
        out_.changed = true;
        return std::move(out_);
    }

private:
    enum class Place { Text, Tag, Attribute };

    void expand(std::string_view text, std::size_t origin, int depth) {
        const bool top = depth == 0;
        if (depth > kMaxDepth) failure_ = "an entity contains itself, or they are nested more than 32 deep";
        for (std::size_t i = 0; i < text.size() && failure_.empty();) {
            if (out_.text.size() > source_.size() + kMaxEntityGrowth)
                failure_ = "the entities make the text grow by more than 16 MB";
            if (place_ == Place::Text && text[i] == '<') {
                const std::size_t aside = aside_length(text.substr(i));
                out_.text.append(text.substr(i, aside));
                if (aside == 1) place_ = Place::Tag;
                i += aside;
                continue;
            }
            const std::size_t used =
                text[i] == '&' && place_ != Place::Tag ? reference(text.substr(i), origin + (top ? i : 0), depth) : 0;
            if (used == 0) put(text[i++], depth);
            i += used;
        }
    }

    /// Comments, CDATA and instructions hold no references: their length, else 1.
    static std::size_t aside_length(std::string_view text) {
        const auto until = [&](std::string_view end) {
            const std::size_t at = text.find(end);
            return at == std::string_view::npos ? text.size() : at + end.size();
        };
        if (text.starts_with("<!--")) return until("-->");
        if (text.starts_with("<![CDATA[")) return until("]]>");
        if (text.starts_with("<?")) return until("?>");
        return 1;
    }

    void put(char c, int depth) {
        if (place_ == Place::Attribute && depth > attribute_depth_) {
            // A quote of an entity does not end a value that began outside of it.
            if (c == '"') return void(out_.text.append("&quot;"));
            if (c == '\'') return void(out_.text.append("&apos;"));
        } else {
            step(c, depth);
        }
        out_.text.push_back(c);
    }

    void step(char c, int depth) {
        if (place_ == Place::Tag && c == '>')
            place_ = Place::Text;
        else if (place_ == Place::Tag && (c == '"' || c == '\'')) {
            place_ = Place::Attribute;
            attribute_depth_ = depth;
            quote_ = c;
        } else if (place_ == Place::Attribute && c == quote_)
            place_ = Place::Tag;
    }

    /// Characters used up by the reference at the start of `text`, 0 when it is none of ours.
    std::size_t reference(std::string_view text, std::size_t origin, int depth) {
        Scanner scanner(text.substr(1));
        const std::string_view name = read_name(scanner);
        const auto found = name.empty() || scanner.peek() != ';' ? entities_.end() : entities_.find(name);
        if (found == entities_.end()) return 0;
        // Entities of nothing do not grow, they multiply.
        if (++references_ > kMaxReferences) failure_ = "more than a million entity references";
        if (depth == 0) out_.origins.push_back({out_.text.size(), origin, false});
        expand(found->second, origin, depth + 1);
        if (depth == 0) out_.origins.push_back({out_.text.size(), origin + name.size() + 2, true});
        return name.size() + 2;
    }

    std::string_view source_;
    const Entities& entities_;
    ExpandedText out_;
    std::string failure_;
    std::size_t references_ = 0;
    Place place_ = Place::Tag; // it starts at the end of the DOCTYPE's subset
    char quote_ = '"';
    int attribute_depth_ = 0;
};

} // namespace

Result<ExpandedText> expand_entities(std::string_view text) {
    const auto subset = find_subset(text);
    if (!subset) return ExpandedText{};
    Diagnostics diagnostics;
    const TextPositions positions(text);
    const Entities entities = Declarations(diagnostics, positions, text).read(*subset);
    if (entities.empty()) {
        ExpandedText unchanged;
        unchanged.diagnostics = std::move(diagnostics);
        return unchanged;
    }
    auto expanded = Expander(text, entities).run(*subset);
    if (expanded) expanded.value().diagnostics = std::move(diagnostics);
    return expanded;
}

} // namespace padchart::svg
