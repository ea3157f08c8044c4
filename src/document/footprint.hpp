#pragma once
// One part on the board: its copper, its body, and what the technician says of it.
//
// A part's own frame: mm, origin where the part is placed, x right, y DOWN, seen from the side the part sits on. Its
// placement turns it counter-clockwise as seen from that side and puts it on the board. Board frame: mm, x right, y
// down, seen from the TOP; a part of the bottom side is therefore mirrored on its way there (see board_from_part).

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/angle.hpp"
#include "document/id.hpp"
#include "document/vocabulary.hpp"
#include "geometry/affine.hpp"
#include "geometry/polygon.hpp"

namespace padchart::document {

/// Keys of the chart file that this program does not know, with their JSON text, kept to be written back.
using Extras = std::vector<std::pair<std::string, std::string>>;

/// An area about its own centre: a rectangle, a circle, an oblong, or a polygon of free points.
struct Shape {
    ShapeKind kind = ShapeKind::Rectangle;
    double width_mm = 0.0;  ///< along own x; diameter of a round shape; of a polygon: unused (0)
    double height_mm = 0.0; ///< along own y; equal to width_mm for a round shape; of a polygon: unused (0)
    geometry::Ring points;  ///< of a polygon only, about `at`, before the turn

    bool operator==(const Shape&) const = default;
};

struct Pad {
    std::string number; ///< "1", "A1", "EP", or empty when not known
    std::string net;    ///< what the pad is joined to: "GND", "VBAT", or empty when not known
    geometry::Vec2 at;  ///< centre, in the part's frame
    Angle turn;         ///< of the shape about `at`
    Shape shape;
    LandState land = LandState::NotChecked;
    JointState joint = JointState::NotChecked;
    Extras extras;

    bool operator==(const Pad&) const = default;
};

struct Body {
    geometry::Vec2 at; ///< centre, in the part's frame
    Angle turn;
    Shape shape;
    std::optional<double> height_mm; ///< above the board; nothing when not measured
    Extras extras{};

    bool operator==(const Body&) const = default;
};

struct Placement {
    geometry::Vec2 at; ///< board frame
    Angle turn;        ///< counter-clockwise as seen from `side`
    Side side = Side::Top;

    bool operator==(const Placement&) const = default;
};

struct Evidence {
    EvidenceKind kind = EvidenceKind::NotStated;
    std::string note;              ///< "photo 2, upper left", "sheet rev C page 4"
    std::string by;                ///< who says so
    std::string date;              ///< ISO 8601 day or empty
    Id photo{};                    ///< the photo it is seen on, or empty
    std::vector<double> crop_px{}; ///< the part of that photo: left, top, width, height in its pixels; empty: all of it
    Extras extras{};

    bool operator==(const Evidence&) const = default;
};

/// Which way round the part sits, written down before the heat. The mark's place is kept in the part's own frame: it
/// belongs to the part and turns with it.
struct Orientation {
    RecordState state = RecordState::NotRecorded;
    MarkKind mark = MarkKind::Unknown;
    Angle bearing; ///< from the body's centre to the mark, counter-clockwise from own +x
    Meaning meaning = Meaning::Unknown;
    Evidence evidence;
    Extras extras;

    bool operator==(const Orientation&) const = default;
};

/// What hot air does to it. A material class of the tables, or limits of its own which win over the class.
struct HeatSensitivity {
    std::string material; ///< key in assets/tables/materials.tsv, e.g. "lcp"; empty with own limits only
    std::optional<double> warn_c;
    std::optional<double> limit_c;
    std::string note;
    Extras extras;

    bool operator==(const HeatSensitivity&) const = default;
};

struct Condition {
    Presence presence = Presence::NotChecked;
    Seating seating = Seating::NotChecked;
    JointState joint = JointState::NotChecked;
    BodyState body = BodyState::NotChecked;
    LandState land = LandState::NotChecked;
    std::string not_needed_because; ///< why the board works without the part; empty: nobody has decided that
    std::string note;
    Extras extras{};

    bool operator==(const Condition&) const = default;
};

struct Footprint {
    Id id;
    std::string name;  ///< "U4": free, unique per side by custom (a finding, not a rule)
    std::string value; ///< "10k", "220u 6V3", or empty
    std::string role;  ///< what it does here, free text
    PartClass part_class = PartClass::Unknown;
    std::string family;                    ///< key of a package family ("chip-1608M"), or empty for a traced one
    std::vector<double> family_parameters; ///< what the family was given, in its own order
    std::vector<Pad> pads;
    std::optional<int> stated_pad_count; ///< what the technician says, when not all pads are drawn
    std::optional<Body> body;
    Placement placement;
    Orientation orientation;
    std::vector<double> harmless_turns_deg; ///< overrides the class's table when not empty; always holds 0
    std::optional<HeatSensitivity> heat;
    Condition condition;
    std::string trace_key; ///< what it was in the trace, so that a corrected trace finds it again
    bool locked = false;
    std::string comment;
    Extras extras;

    bool operator==(const Footprint&) const = default;
};

/// From the part's frame to the board frame.
[[nodiscard]] geometry::Affine board_from_part(const Placement& placement);

/// How far the polygon of a round or oblong shape may lie inside the true one, mm.
inline constexpr double kShapeTolerance = 0.002;

/// The shape's outline about the origin, before `turn` and `at`.
[[nodiscard]] geometry::Ring outline_of(const Shape& shape);
[[nodiscard]] geometry::Ring outline_in_part(const Pad& pad);
[[nodiscard]] geometry::Ring outline_in_part(const Body& body);
[[nodiscard]] geometry::Ring outline_on_board(const Footprint& part, const Pad& pad);
/// Empty where the part has no body.
[[nodiscard]] geometry::Ring body_on_board(const Footprint& part);

/// The body, or where there is none the box round the pads in the part's own frame; empty without either.
[[nodiscard]] geometry::Ring extent_in_part(const Footprint& part);
[[nodiscard]] geometry::Ring extent_on_board(const Footprint& part);
/// Centre of the extent in the part's frame: what a mark's bearing is taken from. Origin without an extent.
[[nodiscard]] geometry::Vec2 centre_in_part(const Footprint& part);

/// stated_pad_count, else the number of drawn pads.
[[nodiscard]] int pad_count(const Footprint& part);

} // namespace padchart::document
