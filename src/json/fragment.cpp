#include "json/fragment.hpp"

#include "document/edits.hpp"
#include "json/field_reader.hpp"
#include "json/field_writer.hpp"

namespace padchart::json {
namespace {

using document::Fragment;

constexpr std::string_view kNotParts =
    "What lies on the clipboard is no part of a chart; copy something in a chart first.";

std::optional<Error> wrong_version(ReadState& state, FieldReader& root) {
    double version = 0.0;
    root.number("version", version, range::kNumber);
    if (state.has_failed) return Error{std::string(kNotParts), ""};
    if (version == kFragmentFormatVersion) return std::nullopt;
    return Error{"What lies on the clipboard is of version " + shown(state.tree, node_at(state.tree, "/version")) +
                     " of its format; this program reads version " + std::to_string(kFragmentFormatVersion) + ".",
                 ""};
}

template <class Io, class Things>
void lists(Io& io, Things& things) {
    io.list("parts", things.parts);
    io.list("keep_outs", things.keep_outs);
    io.list("shields", things.shields);
    io.list("notes", things.notes);
}

/// As if they were all that a chart holds.
std::optional<Error> fault_in(const Fragment& things) {
    document::Chart chart;
    const auto fill = [](auto& items, const auto& list) {
        for (const auto& thing : list)
            items.add(thing);
    };
    fill(chart.parts, things.parts);
    fill(chart.keep_outs, things.keep_outs);
    fill(chart.shields, things.shields);
    fill(chart.notes, things.notes);
    return document::fault_of(chart);
}

Result<Fragment> checked(Fragment things, const Tree& tree, std::string_view text) {
    if (const auto fault = fault_in(things))
        return Error{"What lies on the clipboard cannot stand in a chart: " + fault->message,
                     place_of(tree, node_at(tree, fault->where), text)};
    if (things.empty()) return Error{"The clipboard holds no part and no area; select some and copy them.", ""};
    return things;
}

} // namespace

std::string write_fragment(const Fragment& things) {
    JsonWriter out;
    out.begin_object();
    out.member("format", kFragmentFormatName).member("version", kFragmentFormatVersion);
    FieldWriter fields(out);
    lists(fields, things);
    out.end_object();
    return std::move(out).str();
}

Result<Fragment> read_fragment(std::string_view text) {
    if (text.find_first_not_of(" \t\r\n") == std::string_view::npos)
        return Error{"The clipboard is empty; copy something in a chart first.", ""};
    Result<Tree> tree = parse_tree(text);
    if (!tree || tree->nodes.front().kind != NodeKind::Object) return Error{std::string(kNotParts), ""};
    ReadState state{*tree, {}, false, 0, {}};
    FieldReader root(state, 0);
    root.exact_text("format", kFragmentFormatName);
    if (state.has_failed) return Error{std::string(kNotParts), ""};
    if (const auto error = wrong_version(state, root)) return *error;
    Fragment things;
    lists(root, things);
    if (state.has_failed)
        return Error{"What lies on the clipboard cannot be read: " + state.fault,
                     place_of(*tree, state.fault_node, text)};
    return checked(std::move(things), *tree, text);
}

} // namespace padchart::json
