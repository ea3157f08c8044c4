// `padchart parts`: the part table, for people or as RFC 4180 CSV.

#include <fmt/format.h>

#include <ostream>

#include "cli/shared.hpp"
#include "cli/subcommands.hpp"
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

const std::vector<Column>& columns() {
    static const std::vector<Column> kColumns{
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
    return kColumns;
}

/// RFC 4180: quoted where a comma, a quote or a line break stands inside.
std::string csv_cell(const std::string& text) {
    if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
    std::string quoted = "\"";
    for (const char c : text)
        quoted += c == '"' ? "\"\"" : std::string(1, c);
    return quoted + '"';
}

void print_csv(const document::Chart& chart, Streams streams) {
    const auto row = [&](const auto& cell_of) {
        std::string line;
        for (const Column& column : columns())
            line += (line.empty() ? "" : ",") + csv_cell(cell_of(column));
        streams.out << line << "\r\n";
    };
    row([](const Column& column) { return std::string(column.heading); });
    for (const Footprint& part : chart.parts)
        row([&](const Column& column) { return column.cell(part); });
}

void print_json(const document::Chart& chart, Streams streams) {
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
        out.end_object();
    }
    out.end_array().end_object();
    streams.out << std::move(out).str();
}

void print_text(const document::Chart& chart, Streams streams) {
    streams.out << fmt::format("{:<8} {:<7} {:>8} {:>8} {:>6}  {:<22} {:>4}  {:<30} {}\n", "name", "side", "x mm",
                               "y mm", "turn", "class", "pads", "orientation", "role");
    for (const Footprint& part : chart.parts)
        streams.out << fmt::format("{:<8} {:<7} {:>8.2f} {:>8.2f} {:>6g}  {:<22} {:>4}  {:<30} {}\n",
                                   display_name(part), document::to_text(part.placement.side), part.placement.at.x,
                                   part.placement.at.y, part.placement.turn.degrees(),
                                   document::to_text(part.part_class), document::pad_count(part), mark_of(part),
                                   part.role);
    streams.out << chart.parts.size() << " parts\n";
}

int run_parts(const Arguments& arguments, Streams streams) {
    const Result<document::Chart> chart = json::load_chart(arguments.text("CHART"));
    if (!chart) return fail(streams, chart.error());
    if (arguments.has("json"))
        print_json(*chart, streams);
    else if (arguments.has("csv"))
        print_csv(*chart, streams);
    else
        print_text(*chart, streams);
    return kFine;
}

} // namespace

Command parts_command() {
    return {"parts",
            "print the part table",
            "Name, side, place, class, role, pads, orientation record and state of every part.",
            "padchart parts demo/river-logger.chart.json --csv",
            {chart_positional(), {"--csv", OptionKind::Flag, "as comma-separated values (RFC 4180)"}, json_flag()},
            run_parts};
}

} // namespace padchart::cli
