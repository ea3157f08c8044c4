// `padchart parts`: the part table, for people or as RFC 4180 CSV.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <ostream>

#include "base/counted.hpp"
#include "base/plain_text.hpp"
#include "cli/csv.hpp"
#include "cli/parts_from_table.hpp"
#include "cli/shared.hpp"
#include "cli/subcommands.hpp"
#include "cli/tables.hpp"
#include "patterns/zero_orientation.hpp"
#include "svg/text_encoding.hpp"
#include "json/chart_file.hpp"

namespace padchart::cli {
namespace {

using document::Footprint;

/// One column: its heading and what stands in it.
struct Column {
    std::string_view heading;
    std::string (*cell)(const Footprint&);
};

std::string mark_of(const Footprint& part) {
    const document::Orientation& record = part.orientation;
    if (record.state != document::RecordState::Recorded) return std::string(document::to_text(record.state));
    return fmt::format("{} at {:g} deg, {}", document::to_text(record.mark), record.bearing.degrees(),
                       document::to_text(record.meaning));
}

std::string limit_of(const Footprint& part) {
    if (!part.heat) return {};
    if (part.heat->limit_c) return fmt::format("{:g}", *part.heat->limit_c);
    return part.heat->material;
}

/// "1=GND, 2=VBAT": the pads whose net is known.
std::string nets_of(const Footprint& part) {
    std::string text;
    for (const document::Pad& pad : part.pads)
        if (!pad.net.empty()) text += fmt::format("{}{}={}", text.empty() ? "" : ", ", pad.number, pad.net);
    return text;
}

/// A turn against a zero is worth printing only where somebody has recorded which way round the part sits.
template <patterns::ZeroLevel kLevel>
std::string turn_from_zero_of(const Footprint& part) {
    if (part.orientation.state != document::RecordState::Recorded) return {};
    const std::optional<Angle> turn = patterns::turn_from_zero(part, kLevel);
    return turn ? fmt::format("{:g}", std::round(turn->degrees() * 1000.0) / 1000.0) : "";
}

/// The column asked for by --zero.
std::optional<Column> zero_column(const Arguments& arguments) {
    const std::string level = arguments.text("zero");
    if (level == "a") return Column{"turn_from_level_a_deg", turn_from_zero_of<patterns::ZeroLevel::A>};
    if (level == "b") return Column{"turn_from_level_b_deg", turn_from_zero_of<patterns::ZeroLevel::B>};
    return std::nullopt;
}

std::vector<Column> columns(const std::optional<Column>& more) {
    std::vector<Column> columns{
        {"id", [](const Footprint& p) { return p.id.text; }},
        {"name", [](const Footprint& p) { return p.name; }},
        {"side", [](const Footprint& p) { return std::string(document::to_text(p.placement.side)); }},
        {"x_mm", [](const Footprint& p) { return fmt::format("{:.3f}", p.placement.at.x); }},
        {"y_mm", [](const Footprint& p) { return fmt::format("{:.3f}", p.placement.at.y); }},
        {"turn_deg", [](const Footprint& p) { return fmt::format("{:g}", p.placement.turn.degrees()); }},
        {"class", [](const Footprint& p) { return std::string(document::to_text(p.part_class)); }},
        {"role", [](const Footprint& p) { return p.role; }},
        {"value", [](const Footprint& p) { return p.value; }},
        {"pads", [](const Footprint& p) { return std::to_string(document::pad_count(p)); }},
        {"orientation", mark_of},
        {"presence", [](const Footprint& p) { return std::string(document::to_text(p.condition.presence)); }},
        {"heat_limit", limit_of},
        {"nets", nets_of},
        {"not_needed_because", [](const Footprint& p) { return p.condition.not_needed_because; }},
    };
    if (more) columns.push_back(*more);
    return columns;
}

/// Headings first.
std::vector<CsvRow> part_rows(const document::Chart& chart, const std::optional<Column>& more) {
    std::vector<Column> all = columns(more);
    if (!chart.scale) // a heading that promises mm has nothing to stand over
        for (Column& column : all)
            if (column.heading == "x_mm" || column.heading == "y_mm")
                column.cell = [](const Footprint&) { return std::string(); };
    std::vector<CsvRow> rows(1);
    for (const Column& column : all)
        rows.front().emplace_back(column.heading);
    for (const Footprint& part : chart.parts) {
        rows.emplace_back();
        for (const Column& column : all)
            rows.back().push_back(column.cell(part));
    }
    return rows;
}

void print_csv(const std::vector<CsvRow>& rows, Streams streams) {
    for (const CsvRow& row : rows)
        streams.out << csv_line(row);
}

void print_json(const document::Chart& chart, const std::optional<Column>& more, Streams streams) {
    json::JsonWriter out;
    out.begin_object().key("parts").begin_array();
    for (const Footprint& part : chart.parts) {
        out.begin_object();
        out.member("id", part.id.text).member("name", part.name);
        out.member("side", document::to_text(part.placement.side)).key(chart.scale ? "at_mm" : "at_units");
        write_point(out, part.placement.at);
        out.member("turn_deg", part.placement.turn.degrees()).member("class", document::to_text(part.part_class));
        out.member("role", part.role).member("value", part.value).member("pads", document::pad_count(part));
        out.member("orientation", mark_of(part)).member("presence", document::to_text(part.condition.presence));
        out.member("heat_sensitive", part.heat.has_value());
        if (const std::string nets = nets_of(part); !nets.empty()) out.member("nets", nets);
        if (!part.condition.not_needed_because.empty())
            out.member("not_needed_because", part.condition.not_needed_because);
        if (more)
            if (const std::string turn = more->cell(part); !turn.empty()) out.member(more->heading, std::stod(turn));
        out.end_object();
    }
    out.end_array().end_object();
    streams.out << std::move(out).str();
}

void print_text(const document::Chart& chart, const std::optional<Column>& more, Streams streams) {
    const auto zero = [&more](std::string_view text) { return more ? fmt::format("{:>7}  ", text) : std::string(); };
    const std::string_view level = more && more->heading == "turn_from_level_a_deg" ? "level A" : "level B";
    streams.out << fmt::format("{:<8} {:<7} {:>8} {:>8} {:>6}  {}{:<22} {:>4}  {:<30} {}\n", "name", "side",
                               chart.scale ? "x mm" : "x units", chart.scale ? "y mm" : "y units", "turn", zero(level),
                               "class", "pads", "orientation", "role");
    for (const Footprint& part : chart.parts)
        streams.out << fmt::format("{:<8} {:<7} {:>8.2f} {:>8.2f} {:>6g}  {}{:<22} {:>4}  {:<30} {}\n",
                                   on_one_line(display_name(part)), document::to_text(part.placement.side),
                                   part.placement.at.x, part.placement.at.y, part.placement.turn.degrees(),
                                   zero(more ? more->cell(part) : ""), document::to_text(part.part_class),
                                   document::pad_count(part), mark_of(part), on_one_line(part.role));
    streams.out << counted(chart.parts.size(), "part") << '\n';
}

// Readings and keep-outs ------------------------------------------------------------------------------------------

void print_table_json(const TextTable& table, std::string_view name, Streams streams) {
    json::JsonWriter out;
    out.begin_object().key(name == "readings" ? "readings" : "keep_outs").begin_array();
    for (const CsvRow& row : table.rows) {
        out.begin_object();
        for (std::size_t i = 0; i < row.size(); ++i)
            out.member(table.headings[i], row[i]);
        out.end_object();
    }
    out.end_array().end_object();
    streams.out << std::move(out).str();
}

void print_table_text(const TextTable& table, Streams streams) {
    std::vector<std::size_t> widths;
    for (const std::string& heading : table.headings)
        widths.push_back(heading.size());
    for (const CsvRow& row : table.rows)
        for (std::size_t i = 0; i < row.size(); ++i)
            widths[i] = std::max(widths[i], row[i].size());
    const auto print_row = [&](const CsvRow& row) {
        std::string line;
        for (std::size_t i = 0; i < row.size(); ++i)
            line += fmt::format("{:<{}}  ", on_one_line(row[i]), widths[i]);
        line.erase(line.find_last_not_of(' ') + 1);
        streams.out << line << '\n';
    };
    print_row(table.headings);
    for (const CsvRow& row : table.rows)
        print_row(row);
    streams.out << counted(table.rows.size(), "row") << '\n';
}

int print_table(const Arguments& arguments, const document::Chart& chart, Streams streams) {
    const std::string name = arguments.text("table");
    TextTable table = name == "readings" ? readings_table(chart) : keep_outs_table(chart);
    if (arguments.has("json")) {
        print_table_json(table, name, streams);
    } else if (arguments.has("csv")) {
        table.rows.insert(table.rows.begin(), table.headings);
        print_csv(table.rows, streams);
    } else {
        print_table_text(table, streams);
    }
    return kFine;
}

// Back from a spreadsheet ----------------------------------------------------------------------------------------

void print_edits(const TakenTable& taken, const std::string& table, bool as_json, Streams streams) {
    if (!as_json) {
        for (const CellChange& change : taken.changes)
            streams.out << fmt::format("{} {}: \"{}\" is now \"{}\"\n",
                                       on_one_line(change.name.empty() ? change.thing.text : change.name),
                                       change.column, on_one_line(change.before), on_one_line(change.after));
        for (const document::Id& id : taken.added)
            streams.out << fmt::format("{} is new\n", id.text);
        streams.out << fmt::format(
            "{} in the table, {} changed, {}{} refused\n", counted(taken.rows, table.substr(0, table.size() - 1)),
            counted(taken.changes.size(), "cell"),
            taken.added.empty() ? "" : fmt::format("{} added, ", taken.added.size()), taken.refusals.size());
        return;
    }
    json::JsonWriter out;
    out.begin_object().member("rows", taken.rows).key("changes").begin_array();
    for (const CellChange& change : taken.changes) {
        out.begin_object().member("id", change.thing.text).member("column", change.column);
        out.member("before", change.before).member("after", change.after).end_object();
    }
    out.end_array().key("added").begin_array();
    for (const document::Id& id : taken.added)
        out.begin_object().member("id", id.text).end_object();
    out.end_array().key("refusals");
    write_findings(out, taken.refusals);
    out.end_object();
    streams.out << std::move(out).str();
}

struct LoadedTable {
    std::vector<CsvRow> rows;
    bool comma_is_decimal = true;
};

/// Errors: characters that would be lost; a table that is none.
Result<LoadedTable> load_table(const std::string& path) {
    const Result<std::string> bytes = read_file(path);
    if (!bytes) return bytes.error();
    const Result<svg::DecodedText> text = svg::decode(*bytes);
    if (!text) return Error{text.error().message, path};
    if (!text->remarks.empty())
        return Error{text->remarks.front().message + "; right would be a table saved as UTF-8", path};
    const std::string_view utf8 = text->storage.empty() ? text->text : std::string_view(text->storage);
    Result<std::vector<CsvRow>> rows = read_csv(utf8);
    if (!rows) return Error{rows.error().message, path + ": " + rows.error().where};
    return LoadedTable{std::move(*rows), !separates_by_comma(utf8)};
}

int take_table(const Arguments& arguments, const document::Chart& chart, Streams streams) {
    const std::string path = arguments.text("from");
    if (!arguments.has("output")) return fail(streams, {"--from needs -o FILE for the edited chart", "parts"});
    const Result<LoadedTable> loaded = load_table(path);
    if (!loaded) return fail(streams, loaded.error());
    const auto& [rows, comma_is_decimal] = *loaded;
    const std::string table = arguments.text("table", "parts");
    const Result<TableEdits> edits = table == "readings" ? readings_from_table(chart, rows, comma_is_decimal)
                                     : table == "keep-outs"
                                         ? keep_outs_from_table(chart, rows, comma_is_decimal)
                                         : parts_from_table(chart, rows, part_rows(chart, zero_column(arguments)));
    if (!edits) return fail(streams, {edits.error().message, path + ": " + edits.error().where});
    if (const Result<void> saved = save_output(edits->chart, arguments); !saved) return fail(streams, saved.error());
    print_edits(edits->taken, table, arguments.has("json"), streams);
    print(streams.err, edits->taken.refusals);
    return exit_code_of(edits->taken.refusals);
}

int run_parts(const Arguments& arguments, Streams streams) {
    if (arguments.has("output") && !arguments.has("from"))
        return fail(streams, {"-o goes with --from; a table for a spreadsheet is printed: --csv > parts.csv", "parts"});
    if (arguments.has("zero") && arguments.text("table", "parts") != "parts")
        return fail(streams, {"--zero goes with the table of parts", "parts"});
    if (arguments.has("csv") && arguments.has("json"))
        return fail(streams, {"--csv and --json are one or the other", "parts"});
    const Result<document::Chart> chart = json::load_chart(arguments.text("CHART"));
    if (!chart) return fail(streams, chart.error());
    if (arguments.has("from")) return take_table(arguments, *chart, streams);
    if (arguments.text("table", "parts") != "parts") return print_table(arguments, *chart, streams);
    const std::optional<Column> more = zero_column(arguments);
    if (arguments.has("json"))
        print_json(*chart, more, streams);
    else if (arguments.has("csv"))
        print_csv(part_rows(*chart, more), streams);
    else
        print_text(*chart, more, streams);
    return kFine;
}

} // namespace

Command parts_command() {
    return {
        "parts",
        "print the table of parts, readings or keep-outs, or take a spreadsheet's edits of it back",
        "Name, side, place, class, role, pads, orientation record and state of every part.\n"
        "--from takes a spreadsheet's edits back, by id, and says what it changed and which cell it refused by row and "
        "column: of parts name, class, role and value; with --table of keep-outs all but their place, of readings "
        "everything. A row of readings without an id is a new reading.\n"
        "--zero adds how far each part on record is turned, counter-clockwise, from its zero orientation: level a, "
        "pin 1 upper left (IPC-7351); level b, pin 1 lower left (IEC 61188-7); two-terminal parts pin 1 left in "
        "both. Makers do not always keep to either, and the place in tape (EIA-481) is another matter: the record "
        "of the mark is what counts. Empty without a record or a pad numbered 1 or A1.",
        "padchart parts demo/river-logger.chart.json --csv",
        {chart_positional(),
         {"--csv", OptionKind::Flag, "as comma-separated values (RFC 4180)"},
         json_flag(),
         {"--table", OptionKind::Text, "what to print (usual: parts)", false, {"parts", "readings", "keep-outs"}},
         {"--from", OptionKind::Text, "a table as --csv prints it, edited in a spreadsheet"},
         {"-o,--output", OptionKind::Text, "with --from: the edited chart"},
         force_flag(),
         {"--zero",
          OptionKind::Text,
          "a or b: add the turn from the zero orientation of that level",
          false,
          {"a", "b"}}},
        run_parts};
}

} // namespace padchart::cli
