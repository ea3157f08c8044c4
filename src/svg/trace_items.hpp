#pragma once
// Every shape of a drawing with what its names say and its rings in mm: the first half of the way to a chart.

#include <optional>
#include <string>
#include <vector>

#include "document/vocabulary.hpp"
#include "geometry/polygon.hpp"
#include "svg/drawing.hpp"
#include "svg/trace_to_chart.hpp"

namespace padchart::svg {

struct TraceItem {
    std::size_t shape = 0; ///< position in Drawing::shapes
    Role role = Role::None;
    document::Side side = document::Side::Top;
    bool sensitive = false;
    std::string group_name; ///< nearest name of a part in its groups alone
    std::string part_name;  ///< nearest name of a part in its own names or its groups
    bool bare_name = false; ///< a pad whose own name may as well be its number ("B2")
    std::string part_role;
    std::string pad_number;
    std::optional<document::MarkKind> mark;
    std::string label;                 ///< what a person would call it: label, title or id; or empty
    std::vector<geometry::Ring> rings; ///< closed, mm, of at least three points; marks: any point count
    geometry::Box box;                 ///< mm
};

/// Collects findings and accounts of one import.
struct TraceLog {
    const Drawing& drawing;
    TraceResult& result;

    void find(Severity severity, std::string code, std::string message, std::size_t shape, document::Id target = {});
    void account(std::size_t shape, Role role, document::Id target, std::string what);
    /// What its lengths are in: " mm", or " units of the trace" where no scale is known.
    [[nodiscard]] std::string unit() const;
    /// "path 'lid' (12:40)"
    [[nodiscard]] std::string name_of(std::size_t at) const;
};

/// Outlines, cut-outs, bodies, pads, keep-outs, shields: what must go round something.
[[nodiscard]] bool needs_area(Role role);

/// One item per shape, in order. `factor` takes drawing lengths to chart lengths.
[[nodiscard]] std::vector<TraceItem> items_of(const Drawing& drawing, const TraceOptions& options, double factor,
                                              TraceLog& log);

} // namespace padchart::svg
