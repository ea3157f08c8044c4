#include "svg/parsed_document.hpp"

#include <algorithm>
#include <string>
#include <utility>

#include "svg/element_style.hpp"
#include "svg/media_query.hpp"
#include "svg/scan.hpp"
#include "svg/selectors.hpp"

namespace padchart::svg {
namespace {

bool is_element(const pugi::xml_node& node) {
    return node.type() == pugi::node_element;
}

/// `visit` for every element below `top` and for itself, until it says no. Iterative: a drawing may be nested deeper
/// than the stack.
template <class Visit>
void each_element(const pugi::xml_node& top, const Visit& visit) {
    for (pugi::xml_node node = top; node;) {
        if (is_element(node) && !visit(node)) return;
        if (node.first_child()) {
            node = node.first_child();
            continue;
        }
        while (node && node != top && !node.next_sibling())
            node = node.parent();
        if (!node || node == top) return;
        node = node.next_sibling();
    }
}

std::string text_inside(const pugi::xml_node& element) {
    std::string text;
    for (const pugi::xml_node part : element.children())
        if (part.type() == pugi::node_pcdata || part.type() == pugi::node_cdata) text += part.value();
    return text;
}

} // namespace

TagEnds ends_of_tags(std::string_view text) {
    TagEnds ends;
    for (std::size_t at = text.find('<'); at != std::string_view::npos; at = text.find('<', at + 1)) {
        std::size_t name_end = at + 1;
        while (name_end < text.size() && !is_blank(text[name_end]) &&
               std::string_view("<>/").find(text[name_end]) == std::string_view::npos)
            ++name_end;
        const std::string_view name = local_name(text.substr(at + 1, name_end - at - 1));
        if (name == "style") ends.styles = name_end;
        if (name == "title") ends.titles = name_end;
        at = name_end - 1;
    }
    return ends;
}

ParsedDocument::ParsedDocument(const pugi::xml_document& document, const pugi::xml_node& root, std::size_t bytes,
                               TagEnds ends, Report& report)
    : document_(document), root_(root), bytes_(std::max<std::size_t>(bytes, 1)), ends_(ends) {
    if (ends.styles > 0) collect_styles(ends.styles, report);
}

void ParsedDocument::collect_styles(std::size_t end, Report& report) {
    each_element(root_, [&](const pugi::xml_node& node) {
        if (local_name(node.name()) == "style") add_style(node, report);
        return node.offset_debug() < static_cast<std::ptrdiff_t>(end);
    });
}

void ParsedDocument::add_style(const pugi::xml_node& style, Report& report) {
    const auto remark = [&](Severity severity, std::string_view code, std::string message) {
        report.add(severity, code, std::move(message), style.offset_debug() - 1);
    };
    const std::string_view type = trimmed(style.attribute("type").value());
    if (!type.empty() && !equal_ignoring_case(type, "text/css"))
        return remark(Severity::Warning, "style-not-read", "a style sheet of type " + quoted(type) + " is not read");
    const std::string_view media = trimmed(style.attribute("media").value());
    const auto answer = media_answer(media);
    if (!answer || !answer->applies)
        return remark(Severity::Note, "style-not-read", "a style sheet for " + quoted(media) + " is not applied");
    if (answer->asks_size)
        remark(Severity::Warning, "css",
               "a style sheet for " + quoted(media) +
                   " hangs on the size of the window: taken as on a screen of "
                   "1280 x 720");
    sheet_.add(text_inside(style), [&](const std::string& message) { remark(Severity::Warning, "css", message); });
}

std::string ParsedDocument::title_of(const pugi::xml_node& element) const {
    for (pugi::xml_node child = element.first_child(); child; child = child.next_sibling()) {
        if (child.offset_debug() >= static_cast<std::ptrdiff_t>(ends_.titles)) return {};
        if (is_element(child) && local_name(child.name()) == "title") return std::string(trimmed(text_inside(child)));
    }
    return {};
}

void ParsedDocument::collect_ids() const {
    each_element(document_, [&](const pugi::xml_node& node) {
        if (const pugi::xml_attribute found = node.attribute("id")) ids_.try_emplace(found.value(), node);
        return true;
    });
}

pugi::xml_node ParsedDocument::find_id(std::string_view id) const {
    std::call_once(ids_collected_, [&] { collect_ids(); });
    const auto found = ids_.find(id);
    return found == ids_.end() ? pugi::xml_node() : found->second;
}

} // namespace padchart::svg
