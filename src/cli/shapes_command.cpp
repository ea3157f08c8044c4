// `padchart shapes`: what the importer sees in a trace, before any meaning.

#include <fmt/format.h>

#include <cmath>
#include <ostream>

#include "base/counted.hpp"
#include "base/plain_text.hpp"
#include "cli/shared.hpp"
#include "cli/subcommands.hpp"
#include "svg/drawing.hpp"

namespace padchart::cli {
namespace {

/// A billionth of a unit: what rounding leaves of 66 times 0.1 says nothing.
double tidy(double length) {
    const double rounded = std::round(length * 1e9) / 1e9;
    return std::isfinite(rounded) ? rounded : length;
}

geometry::Vec2 tidy(geometry::Vec2 point) {
    return {tidy(point.x), tidy(point.y)};
}

void write_layers(json::JsonWriter& out, const std::vector<std::string>& layers) {
    out.key("layers").begin_array(json::JsonLayout::OneLine);
    for (const std::string& layer : layers)
        out.value(layer);
    out.end_array();
}

void write_subpaths(json::JsonWriter& out, const svg::Drawing& drawing, const svg::DrawnShape& shape) {
    out.begin_array();
    for (const svg::Subpath& subpath : drawing.subpaths_of(shape)) {
        out.begin_array(json::JsonLayout::OneLine);
        for (const geometry::Vec2 point : drawing.points_of(subpath))
            write_point(out, tidy(point));
        out.end_array();
    }
    out.end_array();
}

void write_shape(json::JsonWriter& out, const svg::Drawing& drawing, const svg::DrawnShape& shape) {
    // Without a physical size there are no millimetres, so the keys do not claim any.
    const std::string unit = drawing.mm_per_unit ? "_mm" : "_user";
    out.begin_object();
    out.member("id", shape.id);
    write_layers(out, svg::layers_of(drawing, shape));
    out.member("kind", svg::to_text(shape.kind)).member("closed", shape.closed).member("visible", shape.visible);
    out.member("line", shape.line).member("column", shape.column);
    out.key("bbox" + unit);
    if (shape.bbox.is_empty())
        out.null();
    else
        out.numbers(std::vector<double>{tidy(shape.bbox.min.x), tidy(shape.bbox.min.y), tidy(shape.bbox.max.x),
                                        tidy(shape.bbox.max.y)});
    out.member("length" + unit, tidy(shape.length));
    out.key("points" + unit);
    write_subpaths(out, drawing, shape);
    out.end_object();
}

void print_json(const svg::Drawing& drawing, Streams streams) {
    json::JsonWriter out;
    out.begin_object();
    out.member("mm_per_unit", drawing.mm_per_unit);
    out.key("shapes").begin_array();
    for (const svg::DrawnShape& shape : drawing.shapes)
        write_shape(out, drawing, shape);
    out.end_array();
    out.key("findings");
    write_findings(out, drawing.diagnostics);
    out.end_object();
    streams.out << std::move(out).str();
}

std::string joined(const std::vector<std::string>& layers) {
    std::string text;
    for (const std::string& layer : layers)
        text += (text.empty() ? "" : " / ") + layer;
    return text;
}

void print_text(const svg::Drawing& drawing, Streams streams) {
    const char* unit = drawing.mm_per_unit ? "mm" : "units";
    if (drawing.mm_per_unit)
        streams.out << fmt::format("1 unit = {:g} mm ({})\n", *drawing.mm_per_unit, drawing.size_note);
    else
        streams.out << "The trace states no physical size; lengths are in its own units.\n";
    for (const svg::DrawnShape& shape : drawing.shapes)
        streams.out << fmt::format(
            "{:>9}  {:<9} {:<16} {:8.3f} x {:<8.3f} {}  length {:.3f}  {}{}{}\n", svg::where_of(shape),
            svg::to_text(shape.kind), shape.id.empty() ? "-" : on_one_line(shape.id), shape.bbox.width(),
            shape.bbox.height(), unit, shape.length, on_one_line(joined(svg::layers_of(drawing, shape))),
            shape.closed ? "" : "  (open)", shape.visible ? "" : "  (hidden)");
    streams.out << counted(drawing.shapes.size(), "shape") << '\n';
}

int run_shapes(const Arguments& arguments, Streams streams) {
    const std::string path = arguments.text("TRACE");
    const Result<std::string> bytes = read_file(path);
    if (!bytes) return fail(streams, bytes.error());
    svg::ReadOptions options;
    if (const auto tolerance = arguments.number("tolerance")) {
        if (!(*tolerance > 0.0)) return fail(streams, {"the tolerance must be above 0 mm", "--tolerance"});
        options.tolerance_mm = *tolerance;
    }
    const Result<svg::Drawing> drawing = svg::read(*bytes, options);
    if (!drawing) return fail(streams, in_file(path, drawing.error()));
    if (arguments.has("json"))
        print_json(*drawing, streams);
    else
        print_text(*drawing, streams);
    print(streams.err, drawing->diagnostics);
    return exit_code_of(drawing->diagnostics);
}

} // namespace

Command shapes_command() {
    return {
        "shapes",
        "list what the importer sees in a traced SVG",
        "Per shape, in document order with one entry per use instance: id, layers from the outside in, kind, whether "
        "it "
        "is closed, its box, its length and its points, in mm from the page's top left (in the trace's own units where "
        "it states no physical size).",
        "padchart shapes demo/power-corner.svg --json",
        {{"TRACE", OptionKind::Text, "the traced drawing, an SVG file", true},
         {"--tolerance", OptionKind::Number, "how far a curve may leave its points, mm (default 0.005)"},
         json_flag()},
        run_shapes};
}

} // namespace padchart::cli
