#pragma once
// An SVG drawing as plain geometry: every basic shape that a browser would draw, in mm on the page, with the names and
// groups its author gave it, and a finding for everything that was left out or is doubtful.
// Geometry follows SVG 1.1 (2nd edition) and the parts of SVG 2 that drawing programs write; styling follows CSS as far
// as it moves or hides a shape.
//
// Frame: x right, y down, origin at the page's top left. Unit: mm where the trace states a physical size, else the user
// unit of the root's viewBox (Drawing::mm_per_unit tells which).

#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.hpp"
#include "base/result.hpp"
#include "geometry/box.hpp"
#include "geometry/vec2.hpp"

namespace padchart::svg {

struct ReadOptions {
    double tolerance_mm = 0.005;        ///< no curve leaves its polyline by more; user units without a size
    bool measure_lengths = true;        ///< false: DrawnShape::length stays 0, for who does not need it
    std::string language = "en";        ///< what `systemLanguage` is held against
    std::size_t max_shapes = 2'000'000; ///< and no more than its length allows; a finding says what is left out
    std::size_t max_points = 40'000'000;
    std::size_t max_bytes = 200'000'000; ///< longer texts are refused
    int max_depth = 512;                 ///< nesting of elements, `use` included
    std::size_t workers = 0;             ///< threads that read shapes; 0: as many as there are cores
    std::size_t part_bytes = 0;          ///< what one of them reads at a time; 0: a few parts each, of some MB at least
    /// Asked now and then on the calling thread while shapes are read, with the share of the text gone through, 0 to 1;
    /// false calls the reading off.
    std::function<bool(double)> go_on = {};
};

enum class Kind { Path, Rect, Circle, Ellipse, Line, Polyline, Polygon };

/// "path", "rect", ... as the element is called.
[[nodiscard]] std::string_view to_text(Kind kind);

/// One run of the pen: points [first, first + count) of Drawing::points. A closed one ends with its first point again,
/// so that the list alone is the whole line.
struct Subpath {
    std::size_t first = 0;
    std::size_t count = 0;
    bool closed = false;
};

/// A container the shapes lie in: g, a, switch, nested svg, and the use and symbol of an instance.
struct Group {
    std::int32_t parent = -1; ///< position in Drawing::groups; -1: on the page itself
    std::string_view element; ///< "g", "use", "symbol", ...: always of static storage
    std::string id;
    std::string label;         ///< see layers_of; empty: the group has no label
    std::string classes;       ///< the class attribute as it stands
    std::string title;         ///< text of its <title> child
    std::uint32_t ordinal = 0; ///< counts groups without an id within their parent
    std::uint32_t line = 0;
    std::uint32_t column = 0;
    bool is_layer = false; ///< a drawing program marked it as a layer (`groupmode="layer"`)
};

/// One drawn shape; an element drawn by three `use` instances gives three.
struct DrawnShape {
    std::string id;    ///< of the element itself
    std::string label; ///< namespaced `label` or `data-name` of the element itself, or empty
    std::string classes;
    std::string title;
    Kind kind = Kind::Path;
    bool closed = false;           ///< every subpath is closed (by z, or by the kind of the element)
    bool visible = true;           ///< false: visibility hidden or collapse
    bool has_fill = true;          ///< fill is not `none`
    bool has_stroke = false;       ///< stroke is set and not `none`
    std::int32_t group = -1;       ///< innermost group, position in Drawing::groups
    std::uint32_t ordinal = 0;     ///< counts shapes without an id within their group
    std::uint32_t line = 0;        ///< of the element's `<`, from 1
    std::uint32_t column = 0;      ///< in characters, from 1
    std::size_t first_subpath = 0; ///< position in Drawing::subpaths
    std::size_t subpath_count = 0;
    double length = 0.0; ///< of the true curves, closing lines included; 0 where it was not asked for
    geometry::Box bbox;  ///< of the true curves, not of their control points
};

struct Drawing {
    /// mm per user unit of the root's viewBox; nothing where the trace states no physical size, and then all lengths
    /// and places of this drawing are user units.
    std::optional<double> mm_per_unit;
    std::string title;       ///< text of the drawing's own <title>
    std::string size_note;   ///< what the scale was read from: "width=\"34mm\", viewBox 0 0 340 200"
    bool size_in_px = false; ///< the size was stated in px: a screen's unit, to be checked
    double page_width = 0.0; ///< 0: not stated
    double page_height = 0.0;
    std::vector<Group> groups;      ///< a parent comes before its children
    std::vector<DrawnShape> shapes; ///< document order
    std::vector<Subpath> subpaths;
    std::vector<geometry::Vec2> points;
    Diagnostics diagnostics; ///< `where` is "line:column"

    [[nodiscard]] std::span<const Subpath> subpaths_of(const DrawnShape& shape) const {
        return std::span(subpaths).subspan(shape.first_subpath, shape.subpath_count);
    }
    [[nodiscard]] std::span<const geometry::Vec2> points_of(const Subpath& subpath) const {
        return std::span(points).subspan(subpath.first, subpath.count);
    }
};

/// Errors: not XML (with line and column), not an SVG, compressed, too long, entities that grow without bound, called
/// off.
[[nodiscard]] Result<Drawing> read(std::string_view bytes, const ReadOptions& options = {});

/// Labels of the groups round the shape, from the outside in; groups without one are passed over. A group's label is
/// the first of: an attribute `label` of any drawing program's namespace; `data-name`; and, of a <g> only, the text of
/// its <title>; its id.
[[nodiscard]] std::vector<std::string> layers_of(const Drawing& drawing, const DrawnShape& shape);

/// Positions of the groups round the shape, from the outside in.
[[nodiscard]] std::vector<std::int32_t> groups_of(const Drawing& drawing, const DrawnShape& shape);

/// What tells the shape from all others and stays when the trace is corrected elsewhere: its ids where it has some,
/// its place among its like where it has none. "pads/U4-3", "body/rect:2".
[[nodiscard]] std::string key_of(const Drawing& drawing, const DrawnShape& shape);

/// "12:40"
[[nodiscard]] std::string where_of(const DrawnShape& shape);

} // namespace padchart::svg
