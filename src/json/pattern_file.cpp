#include "json/pattern_file.hpp"

#include "base/disk_file.hpp"
#include "document/edits.hpp"
#include "json/field_reader.hpp"
#include "json/field_writer.hpp"

namespace padchart::json {

/// A footprint without what belongs to one part on one board. Same keys and meaning as in the chart file.
struct PatternPart {
    document::Footprint footprint;
};

/// Whether somebody looked at the part's mark, and who, says nothing of the next part: only what the mark is.
struct PatternMark {
    document::Orientation orientation;
    bool operator==(const PatternMark&) const = default;
};

template <>
inline constexpr JsonLayout kLayout<PatternMark> = JsonLayout::OneLine;

template <class Io, Is<PatternMark> T>
void fields(Io& io, T& mark) {
    constexpr std::string_view kWhy = "a pattern tells what the mark is; whether it was seen belongs to one part";
    io.refuse("state", kWhy);
    io.word("mark", mark.orientation.mark, document::MarkKind::Unknown);
    io.turn("bearing_deg", mark.orientation.bearing);
    io.word("meaning", mark.orientation.meaning, document::Meaning::Unknown);
    io.refuse("evidence", kWhy);
    io.extras(mark.orientation.extras);
}

template <class Io, Is<PatternPart> T>
void fields(Io& io, T& part) {
    auto& footprint = part.footprint;
    constexpr std::string_view kWhy = "it belongs to one part on one board; a pattern has none";
    for (const std::string_view key :
         {"id", "value", "role", "side", "at_mm", "turn_deg", "condition", "trace_key", "locked"})
        io.refuse(key, kWhy);
    io.text("name", footprint.name);
    io.word("class", footprint.part_class, document::PartClass::Unknown);
    io.text("family", footprint.family);
    io.numbers("family_parameters", footprint.family_parameters, range::kNumber);
    io.list("pads", footprint.pads);
    io.count("stated_pad_count", footprint.stated_pad_count, range::kPadCount);
    io.object("body", footprint.body);
    PatternMark mark{footprint.orientation};
    io.object("orientation", mark);
    if constexpr (!std::is_const_v<T>) footprint.orientation = mark.orientation;
    io.numbers("harmless_turns_deg", footprint.harmless_turns_deg, range::kTurn);
    io.object("heat", footprint.heat);
    io.text("comment", footprint.comment);
    io.extras(footprint.extras);
}

namespace {

void check_format(ReadState& state, FieldReader& root) {
    root.exact_text("format", kPatternFormatName);
    double version = 0.0;
    root.number("version", version, range::kNumber);
    if (state.has_failed || version == kPatternFormatVersion) return;
    const std::size_t node = node_at(state.tree, "/version");
    state.fail(node, "this file is version " + shown(state.tree, node) + "; this program reads version " +
                         std::to_string(kPatternFormatVersion));
}

/// A pattern has no id; the check of parts asks for one.
std::optional<std::string> fault_of_pattern(const document::Footprint& pattern) {
    document::Footprint part = pattern;
    part.id = document::Id{"pattern"};
    return document::fault_of(part);
}

Result<PatternFile> pattern_from(Tree& tree, std::string_view text) {
    ReadState state{tree, {}, false, 0, {}};
    FieldReader root(state, 0);
    if (!state.has_failed) check_format(state, root);
    PatternFile file;
    if (!state.has_failed) root.text("note", file.note);
    PatternPart part;
    if (!state.has_failed) root.object("pattern", part);
    if (!state.has_failed) root.extras(file.extras);
    if (state.has_failed) return Error{state.fault, place_of(tree, state.fault_node, text)};
    file.pattern = std::move(part.footprint);
    const std::size_t node = node_at(tree, "/pattern");
    if (const auto fault = fault_of_pattern(file.pattern)) return Error{*fault, place_of(tree, node, text)};
    if (file.pattern.pads.empty() && !file.pattern.body)
        return Error{"there are neither pads nor a body; right would be a pattern with some",
                     place_of(tree, node, text)};
    return file;
}

Result<PatternFile> read_text(std::string_view text) {
    if (text.find_first_not_of(" \t\r\n") == std::string_view::npos)
        return Error{"the file is empty; right would be a pattern", ""};
    Result<Tree> tree = parse_tree(text);
    if (!tree) return tree.error();
    return pattern_from(*tree, text);
}

Error in_file(Error error, std::string_view file_name) {
    if (file_name.empty()) return error;
    error.where = error.where.empty() ? std::string(file_name) : std::string(file_name) + ": " + error.where;
    return error;
}

} // namespace

Result<PatternFile> read_pattern(std::string_view text, std::string_view file_name) {
    Result<PatternFile> file = read_text(text);
    if (!file) return in_file(file.error(), file_name);
    return file;
}

std::string write_pattern(const PatternFile& file) {
    JsonWriter out;
    out.begin_object();
    out.member("format", kPatternFormatName).member("version", kPatternFormatVersion);
    FieldWriter writer(out);
    writer.text("note", file.note);
    const PatternPart part{file.pattern};
    writer.object_always("pattern", part);
    writer.extras(file.extras);
    out.end_object();
    return std::move(out).str();
}

Result<PatternFile> load_pattern(const std::filesystem::path& path) {
    const Result<std::string> text = read_file(path);
    if (!text) return text.error();
    return read_pattern(*text, path.string());
}

Result<void> save_pattern(const PatternFile& file, const std::filesystem::path& path) {
    const std::string text = write_pattern(file);
    if (const Result<PatternFile> back = read_text(text); !back)
        return in_file(Error{"not saved, as it could not be read back: " + back.error().message, back.error().where},
                       path.string());
    return replace_file(path, text);
}

} // namespace padchart::json
