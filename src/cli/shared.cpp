#include "cli/shared.hpp"

#include <fmt/format.h>

#include "base/day.hpp"
#include "json/chart_file.hpp"

namespace padchart::cli {

Result<std::string> day_of(const Arguments& arguments) {
    std::string day = arguments.text("date");
    if (day.empty() || is_day(day)) return day;
    return Error{"\"" + day + "\" is not a day; right would be year, month and day, such as 2031-04-02", "--date"};
}

Result<document::Id> part_by_name(const document::Chart& chart, const std::string& name) {
    std::vector<const document::Footprint*> found;
    for (const document::Footprint& part : chart.parts)
        if (!name.empty() && part.name == name) found.push_back(&part);
    if (found.size() == 1) return found.front()->id;
    if (const auto at = document::find_part(chart, document::Id{name})) return chart.parts[*at].id;
    if (found.size() > 1) {
        std::string ids;
        for (const document::Footprint* part : found)
            ids += fmt::format("{}{} ({} side)", ids.empty() ? "" : ", ", part->id.text,
                               document::to_text(part->placement.side));
        return Error{
            fmt::format("{} parts are called \"{}\"; right would be the id of one: {}", found.size(), name, ids), {}};
    }
    std::string known;
    for (const document::Footprint& part : chart.parts)
        if (!part.name.empty() && !name.empty() && part.name.front() == name.front())
            known += (known.empty() ? "" : ", ") + part.name;
    return Error{"no part of the chart is called \"" + name + "\"" + (known.empty() ? "" : "; there are " + known), {}};
}

std::string lower_case(std::string text) {
    for (char& c : text)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return text;
}

std::string display_name(const document::Footprint& part) {
    return part.name.empty() ? "(no name)" : part.name;
}

std::string display_name(const document::Chart& chart, const document::Id& id) {
    if (const auto at = document::find_part(chart, id)) return display_name(chart.parts[*at]);
    for (const document::KeepOut& keep_out : chart.keep_outs)
        if (keep_out.id == id) return keep_out.name.empty() ? "(keep-out)" : keep_out.name;
    return id.text;
}

void write_point(json::JsonWriter& out, geometry::Vec2 point) {
    const double xy[] = {point.x, point.y};
    out.numbers(xy);
}

void write_ring(json::JsonWriter& out, const geometry::Ring& ring) {
    out.begin_array(json::JsonLayout::OneLine);
    for (const geometry::Vec2 point : ring)
        write_point(out, point);
    out.end_array();
}

void write_region(json::JsonWriter& out, const geometry::Region& region) {
    out.begin_array();
    for (const geometry::Polygon& polygon : region) {
        out.begin_object();
        out.key("outer");
        write_ring(out, polygon.outer);
        out.key("holes").begin_array();
        for (const geometry::Ring& hole : polygon.holes)
            write_ring(out, hole);
        out.end_array().end_object();
    }
    out.end_array();
}

void write_findings(json::JsonWriter& out, const Diagnostics& findings) {
    out.begin_array();
    for (const Diagnostic& finding : findings) {
        out.begin_object();
        out.member("severity", to_text(finding.severity)).member("code", finding.code);
        out.member("message", finding.message).member("where", finding.where).member("target", finding.target);
        out.end_object();
    }
    out.end_array();
}

document::Chart seen_from(const document::Chart& chart, const std::filesystem::path& old_file,
                          const std::filesystem::path& new_file) {
    std::error_code ignored;
    const auto folder = [&](const std::filesystem::path& file) {
        return std::filesystem::absolute(file, ignored).lexically_normal().parent_path();
    };
    const std::filesystem::path old_folder = folder(old_file), new_folder = folder(new_file);
    if (old_folder == new_folder) return chart;
    const auto way = [&](const std::string& path) {
        const auto file = (old_folder / path).lexically_normal();
        const auto relative = file.lexically_relative(new_folder);
        return (relative.empty() ? file : relative).generic_string();
    };
    document::Chart next = chart;
    for (std::size_t i = 0; i < next.photos.size(); ++i) {
        document::Photo photo = next.photos[i];
        photo.path = way(photo.path);
        next.photos.replace(i, std::move(photo));
    }
    if (next.frozen_before) next.frozen_before->path = way(next.frozen_before->path);
    return next;
}

std::optional<Error> would_overwrite(const std::filesystem::path& output, const std::vector<std::string>& own,
                                     bool force) {
    std::error_code ignored;
    if (force || !std::filesystem::exists(output, ignored)) return std::nullopt;
    for (const std::string& one : own)
        if (std::filesystem::equivalent(output, one, ignored)) return std::nullopt;
    return Error{"exists; it may hold somebody's work. Choose another name or say --force", output.string()};
}

std::optional<Error> would_overwrite(const Arguments& arguments) {
    return would_overwrite(arguments.text("output"), {arguments.text("CHART")}, arguments.has("force"));
}

Result<void> save_output(const document::Chart& chart, const Arguments& arguments) {
    if (const auto refusal = would_overwrite(arguments)) return *refusal;
    return json::save_chart(seen_from(chart, arguments.text("CHART"), arguments.text("output")),
                            arguments.text("output"));
}

Error in_file(const std::string& path, const Error& error) {
    return {error.message, error.where.empty() ? path : path + ":" + error.where};
}

Option chart_positional() {
    return {"CHART", OptionKind::Text, "the chart file, NAME.chart.json", true};
}
Option force_flag() {
    return {"--force", OptionKind::Flag, "write over an existing file"};
}
Option json_flag() {
    return {"--json", OptionKind::Flag, "print the report as JSON"};
}

} // namespace padchart::cli
