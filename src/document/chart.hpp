#pragma once
// The chart: one region of one board as the technician sees it, before and after heat. A plain value: copy it, compare
// it, keep it. Edits are functions from chart to chart (document/edits.hpp). Frames as in document/footprint.hpp.

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "document/footprint.hpp"
#include "document/id.hpp"
#include "document/items.hpp"
#include "document/vocabulary.hpp"
#include "geometry/polygon.hpp"

namespace padchart::document {

struct Title {
    std::string title;    ///< "Power corner"
    std::string board;    ///< "River logger"
    std::string revision; ///< of the board: "C"
    std::string maker;
    std::string serial;
    std::string job; ///< the shop's own number
    std::string author;
    std::string date;           ///< ISO 8601 day
    std::string chart_revision; ///< "4"
    std::string up_edge;        ///< which edge of the board is up: "battery edge"
    std::string not_mapped;     ///< what this chart leaves out, in words
    Extras extras;

    bool operator==(const Title&) const = default;
};

/// Another way of telling the scale, which does not agree with the one that was taken.
struct OtherScale {
    double mm_per_unit = 1.0;
    ScaleSource source = ScaleSource::DocumentUnits;
    double relative_uncertainty = 0.0;
    std::string note;
    Extras extras;

    bool operator==(const OtherScale&) const = default;
};

/// How a unit of the trace became a millimetre, and how sure that is.
struct Scale {
    double mm_per_unit = 1.0;
    ScaleSource source = ScaleSource::DocumentUnits;
    double relative_uncertainty = 0.0; ///< 0.01 = lengths are right within 1 %
    std::string note;                  ///< "width=\"34mm\" in the trace", "U1 body, 7.0 mm by calliper"
    Extras extras;
    std::vector<OtherScale> overruled = {}; ///< until one more measurement settles which is right

    bool operator==(const Scale&) const = default;
};

/// Layers and copper, as far as heat needs them. What is not set follows from the layer count's table.
struct Stack {
    std::optional<double> thickness_mm;
    std::optional<int> layers;
    std::optional<double> conductivity_w_per_m_k; ///< in plane, effective
    std::optional<double> heat_capacity_j_per_m3_k;
    std::optional<double> emissivity;
    std::string note;
    Extras extras;

    bool operator==(const Stack&) const = default;
};

struct Board {
    std::optional<geometry::Polygon> outline; ///< with cut-outs and holes; nothing until traced
    Stack stack;
    Extras extras;

    bool operator==(const Board&) const = default;
};

struct KeepOut {
    Id id;
    std::string name;
    geometry::Polygon outline; ///< board frame
    Side side = Side::Top;
    bool through_board = false;
    KeepOutReason reason = KeepOutReason::Unknown;
    std::string note;
    std::optional<double> limit_c;
    std::optional<double> height_mm;
    Measure measure = Measure::None;
    std::string trace_key;
    Extras extras;

    bool operator==(const KeepOut&) const = default;
};

struct Shield {
    Id id;
    std::string name;
    geometry::Polygon outline; ///< board frame
    Side side = Side::Top;
    ShieldKind kind = ShieldKind::PolyimideTape;
    std::string note;
    Extras extras;

    bool operator==(const Shield&) const = default;
};

struct Note {
    Id id;
    geometry::Vec2 at; ///< board frame
    Side side = Side::Top;
    std::string text;
    std::string author;
    std::string date;
    Id target; ///< part it speaks of, or empty
    Extras extras;

    bool operator==(const Note&) const = default;
};

struct Reading {
    Id id;
    geometry::Vec2 at; ///< board frame
    Side side = Side::Top;
    Id target;       ///< part, or empty
    std::string pad; ///< pad number, or empty
    std::string reference = "GND";
    Quantity quantity = Quantity::DiodeDrop;
    std::variant<double, SpecialValue> value = 0.0;
    std::string unit;
    Leads leads = Leads::NotStated;
    PowerState power = PowerState::NotStated;
    std::string parts_removed;
    std::string meter;
    std::string date;
    WhichBoard board = WhichBoard::ThisBoard;
    std::string note;
    Extras extras;

    bool operator==(const Reading&) const = default;
};

struct HeatPlan {
    Id id;
    std::string name;
    Id target;
    geometry::Vec2 aim; ///< nozzle axis on the board, board frame
    Side side = Side::Top;
    double set_point_c = 350.0;
    double flow_l_per_min = 30.0;
    double nozzle_bore_mm = 5.0;
    double stand_off_mm = 10.0;
    std::optional<double> preheat_c; ///< preheater under the board; nothing without one
    double dwell_s = 45.0;
    std::string alloy = "SAC305";   ///< key in assets/tables/alloys.tsv
    double low_melt_fraction = 0.0; ///< mass share of Sn42Bi58 in the joint, 0 to 1
    Id station;                     ///< the measured setting of a hot-air station, or empty
    std::vector<Id> shields;        ///< shields of the chart that are in place
    std::string note;
    Extras extras;

    bool operator==(const HeatPlan&) const = default;
};

/// A spot found in a photo and on the board.
struct PhotoPoint {
    geometry::Vec2 pixel; ///< x right, y down, as the file is stored; the corner of the picture is 0, 0
    geometry::Vec2 at;    ///< board frame
    Extras extras;

    bool operator==(const PhotoPoint&) const = default;
};

struct Photo {
    Id id;
    std::string path;     ///< relative to the chart file
    std::string checksum; ///< "fnv1a64:...", or empty
    Side side = Side::Top;
    WhichBoard board = WhichBoard::ThisBoard; ///< a donor's photo shows the same places of another board
    bool mirrored = false;                    ///< the picture itself is a mirror image
    std::vector<double> board_from_pixel;     ///< 3 x 3 row by row, pixels (y down) to board mm; empty: not placed
    std::vector<PhotoPoint> points; ///< what it was placed by; empty: the chart is drawn over it, or not at all
    double opacity = 0.6;
    bool hidden = false;
    bool locked = false;
    std::string note;
    Extras extras;

    bool operator==(const Photo&) const = default;
};

/// One entry of the chart's own history, for the sheet's title block.
struct RevisionNote {
    Id id;
    std::string revision; ///< of the chart: "4"
    std::string date;     ///< ISO 8601 day
    std::string author;
    std::string text; ///< "C7 lifted and put back"
    Extras extras;

    bool operator==(const RevisionNote&) const = default;
};

/// One entry of a list that is ticked off: a task after rework, or a part compared with how it was before.
struct Tick {
    Id id;
    std::string task; ///< key of the task: "bridges", "same-as-before"
    Id target;        ///< part or other thing it is about, or empty
    bool done = false;
    std::string by;
    std::string date; ///< ISO 8601 day
    std::string note;
    Extras extras;

    bool operator==(const Tick&) const = default;
};

/// One setting of one hot-air station with what thermocouple readings said of it (analysis/heat_calibration.hpp).
struct Station {
    Id id;
    std::string name; ///< "bench 2, 5 mm nozzle"
    std::optional<double> nozzle_bore_mm;
    std::optional<double> flow_l_per_min;
    std::optional<double> stand_off_mm;
    double exit_factor = 0.9; ///< (air at the exit - room) / (set point - room)
    double h_factor = 1.0;    ///< on the heat transfer coefficient
    double joint_band_k = 10.0;
    double neighbour_band_k = 20.0;
    std::string by;
    std::string date; ///< ISO 8601 day
    std::string note;
    Extras extras;

    bool operator==(const Station&) const = default;
};

/// Where the board spreads heat better or worse than its stack says: a copper pour, a bare patch.
struct CopperArea {
    Id id;
    std::string name;
    geometry::Polygon outline; ///< board frame; through the whole thickness
    double conductivity_factor = 1.0;
    std::string note;
    Extras extras;

    bool operator==(const CopperArea&) const = default;
};

/// The chart as it was before the heat, in a file beside this one.
struct FrozenBefore {
    std::string path;     ///< relative to the chart file
    std::string checksum; ///< as of a photo
    std::string by;
    std::string date; ///< ISO 8601 day
    Extras extras;

    bool operator==(const FrozenBefore&) const = default;
};

/// What this shop counts as too near.
struct Rules {
    double nozzle_bore_mm = 5.0;
    double nozzle_margin_mm = 1.0; ///< added to the nozzle's radius round every heat-sensitive part
    double body_gap_mm = 0.2;      ///< bodies nearer than this are reported
    double pad_gap_mm = 0.1;       ///< pads of different parts nearer than this are reported
    double edge_gap_mm = 0.3;      ///< pads nearer than this to the board's edge are reported
    Extras extras;

    bool operator==(const Rules&) const = default;
};

/// Two hands edited the same thing in different ways and a merge could not know which is right. The chart holds `ours`;
/// this holds what was given up, until a person has settled it.
struct Conflict {
    Id thing;          ///< of the chart; empty: the chart itself
    std::string field; ///< "/condition/joint": path of keys and positions within the thing; empty: the whole thing
    std::string base;  ///< JSON of what both began with; empty: it was not there
    std::string ours;
    std::string theirs;
    std::string ours_label; ///< who: "bench 1"
    std::string theirs_label;
    Extras extras;

    bool operator==(const Conflict&) const = default;
};

struct Chart {
    Title title;
    std::optional<Scale> scale; ///< nothing: no length on this chart may be read in mm
    Board board;
    Rules rules;
    Items<Footprint> parts;
    Items<KeepOut> keep_outs;
    Items<Shield> shields;
    Items<Note> notes;
    Items<Reading> readings;
    Items<HeatPlan> heat_plans;
    Items<Photo> photos;
    Items<CopperArea> copper_areas;
    Items<Station> stations;
    Items<Tick> ticks;
    Items<RevisionNote> revisions; ///< oldest first
    std::optional<FrozenBefore> frozen_before;
    std::vector<Conflict> conflicts; ///< left by a merge
    Extras extras;

    bool operator==(const Chart&) const = default;
};

/// Position in `parts`, or nothing.
[[nodiscard]] std::optional<std::size_t> find_part(const Chart& chart, const Id& id);
/// The part of that name; where two bear it, the first. For people, who type names.
[[nodiscard]] std::optional<std::size_t> find_part_named(const Chart& chart, std::string_view name);

/// True when any thing of the chart bears the id.
[[nodiscard]] bool is_taken(const Chart& chart, const Id& id);
/// The first of id_of(prefix, seed), id_of(prefix, seed + "#2"), ... that nothing in the chart bears.
[[nodiscard]] Id free_id(const Chart& chart, std::string_view prefix, std::string_view seed);

} // namespace padchart::document
