#include "json/chart_file.hpp"

#include <algorithm>
#include <future>
#include <optional>
#include <unordered_set>
#include <utility>

#include "base/disk_file.hpp"
#include "document/edits.hpp"
#include "json/chart_in_page.hpp"
#include "json/chart_pieces.hpp"
#include "json/field_reader.hpp"
#include "json/field_writer.hpp"

namespace padchart::json {
namespace {

using document::Chart;

bool is_page_name(const std::filesystem::path& path) {
    std::string ending = path.extension().string();
    for (char& c : ending)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return ending == ".html" || ending == ".htm";
}

/// A text that is no chart, or a chart of another version, is refused by that name before anything else in it is
/// judged.
void check_format(ReadState& state, FieldReader& root) {
    root.exact_text("format", kFormatName);
    double version = 0.0;
    root.number("version", version, range::kNumber);
    if (state.has_failed || version == kFormatVersion) return;
    const std::size_t node = node_at(state.tree, "/version");
    state.fail(node, "this file is version " + shown(state.tree, node) + "; this program reads version " +
                         std::to_string(kFormatVersion));
}

Result<Chart> chart_from(Tree& tree, std::string_view text) {
    ReadState state{tree, {}, false, 0, {}};
    FieldReader root(state, 0);
    if (!state.has_failed) check_format(state, root);
    Chart chart;
    if (!state.has_failed) fields(root, chart);
    if (state.has_failed) return Error{state.fault, place_of(tree, state.fault_node, text)};
    if (const auto fault = document::fault_of(chart))
        return Error{fault->message, place_of(tree, node_at(tree, fault->where), text)};
    return chart;
}

Result<Chart> read_whole(std::string_view text) {
    Result<Tree> tree = parse_tree(text);
    if (!tree) return tree.error();
    return chart_from(*tree, text);
}

/// Puts pieces of a text into one chart. False: a fault, whatever it is.
class PieceReader {
public:
    bool read_frame(std::string_view text) { return read(parse_tree(text), true); }
    bool read_piece(Result<Tree> tree) { return read(std::move(tree), false); }
    [[nodiscard]] Chart& chart() { return chart_; }

private:
    bool read(Result<Tree> tree, bool is_frame) {
        if (!tree) return false;
        ReadState state{*tree, {}, false, 0, {}};
        FieldReader root(state, 0);
        if (is_frame) check_format(state, root);
        if (!state.has_failed) fields(root, chart_); // lists are appended to
        return !state.has_failed && std::all_of(state.ids.begin(), state.ids.end(), [&](const auto& id) {
            return ids_.insert(std::string(id.first)).second;
        });
    }

    Chart chart_;
    std::unordered_set<std::string> ids_;
};

/// Nothing for whatever fault: it is told, with its place, by reading the text as a whole. The next piece is parsed
/// while the chart is made of the last.
std::optional<Chart> read_in_pieces(std::string_view text) {
    constexpr std::size_t kPieceBytes = 2'000'000;
    const std::optional<ChartPieces> cut = pieces_of(text, kPieceBytes);
    PieceReader reader;
    if (!cut || !reader.read_frame(cut->frame)) return std::nullopt;
    const auto parse = [&](std::size_t i) {
        return std::async(std::launch::async, [piece = cut->pieces[i]] { return parse_tree(piece.text()); });
    };
    std::future<Result<Tree>> next = parse(0);
    for (std::size_t i = 0; i < cut->pieces.size(); ++i) {
        Result<Tree> tree = next.get();
        if (i + 1 < cut->pieces.size()) next = parse(i + 1);
        if (!reader.read_piece(std::move(tree))) return std::nullopt;
    }
    if (document::fault_of(reader.chart())) return std::nullopt;
    return std::move(reader.chart());
}

Result<Chart> read_text(std::string_view text) {
    constexpr std::size_t kLarge = 4'000'000;
    if (is_blank(text)) return Error{"the file is empty; right would be a chart", ""};
    if (text.size() >= kLarge)
        if (std::optional<Chart> chart = read_in_pieces(text)) return std::move(*chart);
    return read_whole(text);
}

Error in_file(Error error, std::string_view file_name) {
    if (file_name.empty()) return error;
    error.where = error.where.empty() ? std::string(file_name) : std::string(file_name) + ": " + error.where;
    return error;
}

} // namespace

Result<Chart> read_chart(std::string_view text, std::string_view file_name) {
    Result<Chart> chart = read_text(text);
    if (!chart) return in_file(chart.error(), file_name);
    return chart;
}

std::string write_chart(const Chart& chart) {
    JsonWriter out;
    out.begin_object();
    out.member("format", kFormatName).member("version", kFormatVersion);
    FieldWriter writer(out);
    fields(writer, chart);
    out.end_object();
    return std::move(out).str();
}

Result<std::string> load_chart_text(const std::filesystem::path& path) {
    Result<std::string> text = read_file(path);
    if (!text || !is_page(*text)) return text;
    Result<std::string> bytes = chart_bytes_in_page(*text);
    if (!bytes) return in_file(bytes.error(), path.string());
    return bytes;
}

Result<Chart> load_chart(const std::filesystem::path& path) {
    const Result<std::string> text = load_chart_text(path);
    if (!text) return text.error();
    return read_chart(*text, path.string());
}

Result<void> save_chart(const Chart& chart, const std::filesystem::path& path) {
    if (is_page_name(path))
        return Error{"a chart is not saved over a page; right would be a name like NAME.chart.json", path.string()};
    if (const auto fault = document::fault_of(chart))
        return in_file(Error{"not saved, as it could not be read back: " + fault->message, fault->where},
                       path.string());
    const std::string text = write_chart(chart);
    if (const Result<Chart> back = read_text(text); !back)
        return in_file(Error{"not saved, as it could not be read back: " + back.error().message, back.error().where},
                       path.string());
    return replace_file(path, text);
}

} // namespace padchart::json
