#include "json/field_writer.hpp"

#include <array>

namespace padchart::json {

void FieldWriter::links(std::string_view key, const std::vector<document::Id>& ids) {
    if (ids.empty()) return;
    out_.key(key).begin_array(JsonLayout::OneLine);
    for (const document::Id& id : ids)
        out_.value(id.text);
    out_.end_array();
}

void FieldWriter::point(geometry::Vec2 at) {
    const std::array<double, 2> numbers{at.x, at.y};
    out_.numbers(numbers);
}

void FieldWriter::points(const geometry::Ring& ring) {
    out_.begin_array(JsonLayout::OneLine);
    for (const geometry::Vec2 at : ring)
        point(at);
    out_.end_array();
}

void FieldWriter::ring(std::string_view key, const geometry::Ring& ring) {
    out_.key(key);
    points(ring);
}

void FieldWriter::polygon(std::string_view key, const geometry::Polygon& polygon) {
    out_.key(key).begin_array();
    points(polygon.outer);
    for (const geometry::Ring& hole : polygon.holes)
        points(hole);
    out_.end_array();
}

} // namespace padchart::json
