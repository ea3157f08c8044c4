#include "json/fragment.hpp"

#include "document/edits.hpp"
#include "json/field_reader.hpp"
#include "json/field_writer.hpp"

namespace padchart::json {
namespace {

using document::Footprint;

constexpr std::string_view kNotParts = "What lies on the clipboard is no part of a chart; copy parts in a chart first.";

std::optional<Error> wrong_version(ReadState& state, FieldReader& root) {
    double version = 0.0;
    root.number("version", version, range::kNumber);
    if (state.has_failed) return Error{std::string(kNotParts), ""};
    if (version == kFragmentFormatVersion) return std::nullopt;
    return Error{"The parts on the clipboard are of version " + shown(state.tree, node_at(state.tree, "/version")) +
                     " of their format; this program reads version " + std::to_string(kFragmentFormatVersion) + ".",
                 ""};
}

Result<std::vector<Footprint>> checked(std::vector<Footprint> parts, const Tree& tree, std::string_view text) {
    for (std::size_t i = 0; i < parts.size(); ++i)
        if (const auto fault = document::fault_of(parts[i]))
            return Error{"The parts on the clipboard cannot stand in a chart: " + *fault,
                         place_of(tree, node_at(tree, "/parts/" + std::to_string(i)), text)};
    if (parts.empty()) return Error{"The clipboard holds no part; select some and copy them.", ""};
    return parts;
}

} // namespace

std::string write_fragment(const std::vector<Footprint>& parts) {
    JsonWriter out;
    out.begin_object();
    out.member("format", kFragmentFormatName).member("version", kFragmentFormatVersion);
    FieldWriter(out).list("parts", parts);
    out.end_object();
    return std::move(out).str();
}

Result<std::vector<Footprint>> read_fragment(std::string_view text) {
    if (text.find_first_not_of(" \t\r\n") == std::string_view::npos)
        return Error{"The clipboard is empty; copy parts in a chart first.", ""};
    Result<Tree> tree = parse_tree(text);
    if (!tree || tree->nodes.front().kind != NodeKind::Object) return Error{std::string(kNotParts), ""};
    ReadState state{*tree, {}, false, 0, {}};
    FieldReader root(state, 0);
    root.exact_text("format", kFragmentFormatName);
    if (state.has_failed) return Error{std::string(kNotParts), ""};
    if (const auto error = wrong_version(state, root)) return *error;
    std::vector<Footprint> parts;
    root.list("parts", parts);
    if (state.has_failed)
        return Error{"The parts on the clipboard cannot be read: " + state.fault,
                     place_of(*tree, state.fault_node, text)};
    return checked(std::move(parts), *tree, text);
}

} // namespace padchart::json
