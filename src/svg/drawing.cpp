#include "svg/drawing.hpp"

#include <algorithm>
#include <array>
#include <future>
#include <memory>

#include <pugixml.hpp>

#include "base/large_pages.hpp"
#include "svg/entities.hpp"
#include "svg/report.hpp"
#include "svg/selectors.hpp"
#include "svg/text_encoding.hpp"
#include "svg/walk.hpp"

namespace padchart::svg {
namespace {

std::string text_of(TextPosition at) {
    return std::to_string(at.line) + ":" + std::to_string(at.column);
}

pugi::xml_node root_of(const pugi::xml_document& document) {
    for (const pugi::xml_node node : document.children())
        if (node.type() == pugi::node_element) return node;
    return {};
}

Result<Drawing> read_document(const pugi::xml_document& document, std::size_t bytes, TagEnds ends,
                              const ReadOptions& options, Report& report) {
    const pugi::xml_node root = root_of(document);
    if (!root) return Error{"there is no element in the file", ""};
    if (local_name(root.name()) != "svg")
        return Error{"the outermost element is <" + std::string(root.name()) + ">, not <svg>",
                     text_of(report.position(root.offset_debug() - 1))};
    bool has_namespace = false;
    for (const pugi::xml_attribute attribute : root.attributes())
        has_namespace = has_namespace || std::string_view(attribute.value()) == "http://www.w3.org/2000/svg";
    if (!has_namespace)
        report.add(Severity::Note, "no-namespace",
                   "the drawing does not declare the SVG namespace; it is read as SVG all the same",
                   root.offset_debug() - 1);
    return walk(ParsedDocument(document, root, bytes, ends, report), options, report);
}

std::string why_no_xml(std::string_view text, const char* parser_says) {
    std::string why = std::string("this is no well-formed XML: ") + parser_says;
    const std::size_t last = text.find_last_not_of(" \t\r\n");
    // Half of a drawing is what an interrupted download or a full disk leaves; a comment may follow the whole of it.
    const std::string_view kept = text.substr(0, last == std::string_view::npos ? 0 : last + 1);
    if (!kept.ends_with("svg>") && !kept.ends_with("-->")) why += "; the file ends before the drawing does: cut off?";
    return why;
}

/// A copy for the parser to work in: what it keeps of names and values lies in it.
class ParserText {
public:
    ParserText(std::string_view text, std::launch beside)
        : bytes_(std::make_unique_for_overwrite<char[]>(text.size() + 1)), size_(text.size()) {
        prefer_large_pages(bytes_.get(), size_);
        const std::size_t middle = size_ / 2;
        const auto first = std::async(beside, [&] { std::copy_n(text.data(), middle, bytes_.get()); });
        std::copy_n(text.data() + middle, size_ - middle, bytes_.get() + middle);
        first.wait();
    }
    /// Line breaks within attributes stay: to all that is read here they are blanks (see in_one_line() for what is
    /// shown), and to make spaces of them costs the parser a stop at every blank of every path.
    pugi::xml_parse_result parse(pugi::xml_document& document) {
        return document.load_buffer_inplace(bytes_.get(), size_, pugi::parse_default & ~pugi::parse_wconv_attribute,
                                            pugi::encoding_utf8);
    }

private:
    std::unique_ptr<char[]> bytes_;
    std::size_t size_;
};

/// What is looked up in a text while the parser is at work on its copy.
struct TextFacts {
    TextPositions positions;
    TagEnds ends;
};

std::future<TextFacts> facts_of(std::string_view source, std::string_view text, std::launch beside) {
    return std::async(beside, [source, text] { return TextFacts{TextPositions(source), ends_of_tags(text)}; });
}

std::string_view step_name(const std::string& id, std::string_view element, std::uint32_t ordinal,
                           std::string& scratch) {
    if (!id.empty()) return id;
    scratch = std::string(element) + ":" + std::to_string(ordinal);
    return scratch;
}

} // namespace

std::string_view to_text(Kind kind) {
    static constexpr std::array<std::string_view, 7> kNames{"path", "rect",     "circle", "ellipse",
                                                            "line", "polyline", "polygon"};
    return kNames[static_cast<std::size_t>(kind)];
}

Result<Drawing> read(std::string_view bytes, const ReadOptions& options) {
    if (bytes.size() > options.max_bytes)
        return Error{"the file is larger than " + std::to_string(options.max_bytes / 1'000'000) + " MB", ""};
    auto decoded = decode(bytes);
    if (!decoded) return decoded.error();
    if (decoded->text.empty()) decoded.value().text = decoded->storage;
    const std::string_view source = decoded->text;
    auto expanded = expand_entities(source);
    if (!expanded) return expanded.error();
    const std::string_view text = expanded->changed ? std::string_view(expanded->text) : source;

    const bool has_help = parts_for(text.size(), options) > 1;
    const std::launch beside = has_help ? std::launch::async : std::launch::deferred;
    ParserText parser_text(text, beside);
    std::future<TextFacts> looked_up = facts_of(source, text, beside);
    pugi::xml_document document;
    const pugi::xml_parse_result parsed = parser_text.parse(document);
    const TextFacts facts = looked_up.get();
    Report report(facts.positions, expanded->origins);
    if (!parsed) return Error{why_no_xml(text, parsed.description()), text_of(report.position(parsed.offset))};
    auto drawing = read_document(document, text.size(), facts.ends, options, report);
    if (!drawing) return drawing;
    Diagnostics& all = drawing.value().diagnostics;
    all.insert(all.end(), decoded->remarks.begin(), decoded->remarks.end());
    all.insert(all.end(), expanded->diagnostics.begin(), expanded->diagnostics.end());
    for (Diagnostic& diagnostic : report.take())
        all.push_back(std::move(diagnostic));
    return drawing;
}

std::vector<std::int32_t> groups_of(const Drawing& drawing, const DrawnShape& shape) {
    std::vector<std::int32_t> groups;
    for (std::int32_t at = shape.group; at >= 0; at = drawing.groups[static_cast<std::size_t>(at)].parent)
        groups.push_back(at);
    std::reverse(groups.begin(), groups.end());
    return groups;
}

std::vector<std::string> layers_of(const Drawing& drawing, const DrawnShape& shape) {
    std::vector<std::string> layers;
    for (const std::int32_t at : groups_of(drawing, shape))
        if (const std::string& label = drawing.groups[static_cast<std::size_t>(at)].label; !label.empty())
            layers.push_back(label);
    return layers;
}

std::string key_of(const Drawing& drawing, const DrawnShape& shape) {
    std::string key;
    std::string scratch;
    for (const std::int32_t at : groups_of(drawing, shape)) {
        const Group& group = drawing.groups[static_cast<std::size_t>(at)];
        key.append(step_name(group.id, group.element, group.ordinal, scratch)).push_back('/');
    }
    return key.append(step_name(shape.id, to_text(shape.kind), shape.ordinal, scratch));
}

std::string where_of(const DrawnShape& shape) {
    return std::to_string(shape.line) + ":" + std::to_string(shape.column);
}

} // namespace padchart::svg
