// `padchart parts`: the part table, for people or as RFC 4180 CSV.

#include <fmt/format.h>

#include <cmath>
#include <optional>
#include <ostream>

#include "cli/shared.hpp"
#include "cli/subcommands.hpp"
#include "patterns/zero_orientation.hpp"
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
    };
    if (more) columns.push_back(*more);
    return columns;
}

/// RFC 4180: quoted where a comma, a quote or a line break stands inside.
std::string csv_cell(const std::string& text) {
    if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
    std::string quoted = "\"";
    for (const char c : text)
        quoted += c == '"' ? "\"\"" : std::string(1, c);
    return quoted + '"';
}

void print_csv(const document::Chart& chart, const std::optional<Column>& more, Streams streams) {
    const std::vector<Column> all = columns(more);
    const auto row = [&](const auto& cell_of) {
        std::string line;
        for (const Column& column : all)
            line += (line.empty() ? "" : ",") + csv_cell(cell_of(column));
        streams.out << line << "\r\n";
    };
    row([](const Column& column) { return std::string(column.heading); });
    for (const Footprint& part : chart.parts)
        row([&](const Column& column) { return column.cell(part); });
}

void print_json(const document::Chart& chart, const std::optional<Column>& more, Streams streams) {
    json::JsonWriter out;
    out.begin_object().key("parts").begin_array();
    for (const Footprint& part : chart.parts) {
        out.begin_object();
        out.member("id", part.id.text).member("name", part.name);
        out.member("side", document::to_text(part.placement.side)).key("at_mm");
        write_point(out, part.placement.at);
        out.member("turn_deg", part.placement.turn.degrees()).member("class", document::to_text(part.part_class));
        out.member("role", part.role).member("value", part.value).member("pads", document::pad_count(part));
        out.member("orientation", mark_of(part)).member("presence", document::to_text(part.condition.presence));
        out.member("heat_sensitive", part.heat.has_value());
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
    streams.out << fmt::format("{:<8} {:<7} {:>8} {:>8} {:>6}  {}{:<22} {:>4}  {:<30} {}\n", "name", "side", "x mm",
                               "y mm", "turn", zero(level), "class", "pads", "orientation", "role");
    for (const Footprint& part : chart.parts)
        streams.out << fmt::format("{:<8} {:<7} {:>8.2f} {:>8.2f} {:>6g}  {}{:<22} {:>4}  {:<30} {}\n",
                                   display_name(part), document::to_text(part.placement.side), part.placement.at.x,
                                   part.placement.at.y, part.placement.turn.degrees(),
                                   zero(more ? more->cell(part) : ""), document::to_text(part.part_class),
                                   document::pad_count(part), mark_of(part), part.role);
    streams.out << chart.parts.size() << " parts\n";
}

int run_parts(const Arguments& arguments, Streams streams) {
    const Result<document::Chart> chart = json::load_chart(arguments.text("CHART"));
    if (!chart) return fail(streams, chart.error());
    const std::optional<Column> more = zero_column(arguments);
    if (arguments.has("json"))
        print_json(*chart, more, streams);
    else if (arguments.has("csv"))
        print_csv(*chart, more, streams);
    else
        print_text(*chart, more, streams);
    return kFine;
}

} // namespace

Command parts_command() {
    return {"parts",
            "print the part table",
            "Name, side, place, class, role, pads, orientation record and state of every part.\n"
            "--zero adds how far each part on record is turned, counter-clockwise, from its zero orientation: level a, "
            "pin 1 upper left (IPC-7351); level b, pin 1 lower left (IEC 61188-7); two-terminal parts pin 1 left in "
            "both. Makers do not always keep to either, and the place in tape (EIA-481) is another matter: the record "
            "of the mark is what counts. Empty without a record or a pad numbered 1 or A1.",
            "padchart parts demo/river-logger.chart.json --csv",
            {chart_positional(),
             {"--csv", OptionKind::Flag, "as comma-separated values (RFC 4180)"},
             json_flag(),
             {"--zero",
              OptionKind::Text,
              "a or b: add the turn from the zero orientation of that level",
              false,
              {"a", "b"}}},
            run_parts};
}

} // namespace padchart::cli
