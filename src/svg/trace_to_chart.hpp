#pragma once
// From a traced drawing to a chart. What a shape becomes is told by the names round it; nothing is dropped in silence.
//
// The rules, as the tracing guide gives them
// ------------------------------------------
// A name is the label of a layer or group, a class, or the id or label of the shape. It is looked at in this order: the
// shape's own label and id, its classes, then the groups from the inside out; the first that has a meaning decides.
// Case, blanks, '-' and '_' do not matter, a number at the end does not either ("Pads 2").
//
//   outline, board, edge            the board's edge: the largest ring; rings inside it are cut-outs
//   cut-out, cutout, hole, holes    a hole of the board
//   body, bodies                    the body of a part
//   pad, pads, land, lands          copper lands
//   mark, marks                     the mark printed on a part
//   keep-out, keepout               where hot air must not go
//   shield, shields                 tape or foil that lies on the board
//   note, notes, ignore, photo, guide   left out on purpose, counted in the account
//   sensitive, heat-sensitive       does not decide the role: bodies in it are heat-sensitive, all else in it is a
//                                   keep-out unless another name decides
//   bottom, far side, back / top, near side, front    does not decide the role: sets the side
//
// A name may say more: "body U4", "U4 body", "body:U4", "pads/U4" name the part U4; "U4: charge controller" names it
// and says what it does here. A part's name is a letter or more followed by a number ("U4", "TP12", "J2A"). Ids that
// drawing programs give on their own ("rect123", "path7", "g12") are not names. A number alone on a pad, or what
// follows the part's name in it ("U4-3", "U4.3", "U4:A1"), is the pad's number.
//
// Pads belong to the body in the same named group, else to the part their own name tells, else to the only body of
// their group, else to the smallest body they lie in, else to the nearest body within three quarters of their own
// longest side (leads). What is left over is a part of its own per group. A part lies where its body's middle is
// (without a body: its pads'); a body drawn as a turned rect turns its part. Hidden shapes count as others do, with a
// finding.
// Open lines of one group and one role whose ends touch (kTouching_mm) are one loop: a finding tells where.
// A mark belongs to the part its name tells, else to the body in its group or round it; its kind is told by its
// name ("dot", "band", "bar", "notch", "triangle", ...), else by its shape.

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "base/diagnostic.hpp"
#include "base/result.hpp"
#include "document/chart.hpp"
#include "svg/drawing.hpp"

namespace padchart::svg {

enum class Role {
    None, ///< not understood: a finding says so
    Outline,
    CutOut,
    Body,
    Pad,
    Mark,
    KeepOut,
    Shield,
    Note ///< left out on purpose
};

/// "outline", "cut-out", "body", "pad", "mark", "keep-out", "shield", "note", "nothing".
[[nodiscard]] std::string_view to_text(Role role);

/// Relative uncertainty of a page size in px: what a program writes when nobody thought of millimetres.
inline constexpr double kGuessedScale = 0.5;

/// What a person says a shape is, whatever its names say; what is not set follows from the names.
struct ShapeMeaning {
    std::optional<Role> role;
    std::optional<document::Side> side;

    bool operator==(const ShapeMeaning&) const = default;
};

/// Ends of open lines of one group at most this far apart belong to one loop, mm of the chart. Common practice, no
/// source: a hand that meets the end of a line by eye. Without a scale: this share of the drawing's longer side.
inline constexpr double kTouching_mm = 0.1;
inline constexpr double kTouchingShare = 0.002;

struct TraceOptions {
    /// By position in Drawing::shapes; win over everything below.
    std::map<std::size_t, ShapeMeaning> shape_meanings;
    /// Meanings of layer names that win over the rules above; names as written, case ignored.
    std::map<std::string, Role> layer_meanings;
    /// The user's own scale, for a trace without a physical size or with a wrong one. `mm_per_unit` counts user units
    /// of the root's viewBox.
    std::optional<document::Scale> scale;
    /// How sure the page size of a hand trace is taken to be.
    double relative_uncertainty = 0.01;
    /// How far a ring may be from a true rectangle, circle or oblong to be taken for one, mm.
    double shape_tolerance_mm = 0.01;
    /// Asked now and then, with the share of the work done, 0 to 1; false calls it off.
    std::function<bool(double)> go_on = {};
};

/// What one shape of the drawing became.
struct ShapeAccount {
    std::size_t shape = 0; ///< position in Drawing::shapes
    Role role = Role::None;
    document::Id target; ///< the thing of the chart it went into; empty: none
    std::string what;    ///< "pad 3 of U4", "body of J2", "board outline", "left out: note"
};

struct TraceResult {
    document::Chart chart;
    Diagnostics diagnostics;           ///< those of the drawing first, but for a size it lacks where a scale is given
    std::vector<ShapeAccount> account; ///< one per shape, in the order of Drawing::shapes
};

/// Without a physical size and without `options.scale` the chart holds the drawing's own units and no scale.
/// Errors: the drawing holds no shape; the scale given is not above 0; called off.
[[nodiscard]] Result<TraceResult> chart_from_trace(const Drawing& drawing, const TraceOptions& options = {});

} // namespace padchart::svg
