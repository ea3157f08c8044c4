// Prints what the reader makes of a drawing as JSON, one shape a line, for the browser check.

#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <string>

#include "svg/drawing.hpp"

namespace {

using namespace padchart;

void print_text(const std::string& text) {
    std::putchar('"');
    for (const char c : text) {
        if (c == '"' || c == '\\')
            std::printf("\\%c", c);
        else if (static_cast<unsigned char>(c) < 0x20)
            std::printf("\\u%04x", static_cast<unsigned>(c));
        else
            std::putchar(c);
    }
    std::putchar('"');
}

void print_points(const svg::Drawing& drawing, const svg::DrawnShape& shape) {
    std::printf("\"points\":[");
    bool first_path = true;
    for (const svg::Subpath& subpath : drawing.subpaths_of(shape)) {
        std::printf("%s[", first_path ? "" : ",");
        first_path = false;
        bool first = true;
        for (const geometry::Vec2 p : drawing.points_of(subpath)) {
            std::printf("%s[%.9g,%.9g]", first ? "" : ",", p.x, p.y);
            first = false;
        }
        std::printf("]");
    }
    std::printf("]");
}

/// Line and column of the outermost `use` the shape was drawn by, or an empty text.
std::string instance_of(const svg::Drawing& drawing, const svg::DrawnShape& shape) {
    for (const std::int32_t at : svg::groups_of(drawing, shape)) {
        const svg::Group& group = drawing.groups[static_cast<std::size_t>(at)];
        if (group.element == "use") return std::to_string(group.line) + ":" + std::to_string(group.column);
    }
    return {};
}

void print_shape(const svg::Drawing& drawing, const svg::DrawnShape& shape) {
    std::printf("{\"id\":");
    print_text(shape.id);
    std::printf(",\"key\":");
    print_text(svg::key_of(drawing, shape));
    std::printf(",\"instance\":");
    print_text(instance_of(drawing, shape));
    std::printf(",\"kind\":\"%s\",\"closed\":%s,\"visible\":%s,", std::string(svg::to_text(shape.kind)).c_str(),
                shape.closed ? "true" : "false", shape.visible ? "true" : "false");
    std::printf("\"bbox\":[%.9g,%.9g,%.9g,%.9g],\"length\":%.9g,", shape.bbox.min.x, shape.bbox.min.y, shape.bbox.max.x,
                shape.bbox.max.y, shape.length);
    print_points(drawing, shape);
    std::printf("}");
}

} // namespace

int main(int argc, char** argv) {
    if (argc < 2) return 2;
    std::ifstream file(argv[1], std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(file), {}};
    svg::ReadOptions options;
    if (argc > 2) options.tolerance_mm = std::atof(argv[2]);
    const auto drawing = svg::read(bytes, options);
    if (!drawing) {
        std::fprintf(stderr, "%s\n", describe(drawing.error()).c_str());
        return 2;
    }
    for (const Diagnostic& d : drawing->diagnostics)
        std::fprintf(stderr, "%s %s [%s] %s\n", d.where.c_str(), to_text(d.severity), d.code.c_str(),
                     d.message.c_str());
    std::printf("{\"mm_per_unit\":");
    if (drawing->mm_per_unit)
        std::printf("%.12g", *drawing->mm_per_unit);
    else
        std::printf("null");
    std::printf(",\"page\":[%.9g,%.9g],\"shapes\":[\n", drawing->page_width, drawing->page_height);
    for (std::size_t i = 0; i < drawing->shapes.size(); ++i) {
        print_shape(*drawing, drawing->shapes[i]);
        std::printf(i + 1 < drawing->shapes.size() ? ",\n" : "\n");
    }
    std::printf("]}\n");
    return 0;
}
