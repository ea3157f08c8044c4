// Any bytes at all: the reader and the trace import answer or refuse, they never crash, hang or give numbers that are
// none.

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "document/edits.hpp"
#include "svg/trace_to_chart.hpp"

namespace {

using namespace padchart;

void require(bool holds) {
    if (!holds) std::abort();
}

void check(const svg::Drawing& drawing, const svg::ReadOptions& options) {
    require(drawing.shapes.size() <= options.max_shapes && drawing.points.size() <= options.max_points);
    for (const geometry::Vec2 p : drawing.points)
        require(geometry::is_finite(p));
    for (const svg::DrawnShape& shape : drawing.shapes) {
        require(std::isfinite(shape.length) && shape.length >= 0.0 && !shape.bbox.is_empty());
        require(shape.group < static_cast<std::int32_t>(drawing.groups.size()));
        require(!svg::key_of(drawing, shape).empty());
        for (const svg::Subpath& subpath : drawing.subpaths_of(shape)) {
            const auto points = drawing.points_of(subpath);
            require(!points.empty() && (!subpath.closed || points.front() == points.back()));
        }
    }
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    svg::ReadOptions options;
    options.max_shapes = 200;
    options.max_points = 20000;
    const auto drawing = svg::read({reinterpret_cast<const char*>(data), size}, options);
    if (!drawing) return 0;
    check(*drawing, options);
    if (const auto traced = svg::chart_from_trace(*drawing)) {
        require(traced->account.size() == drawing->shapes.size());
        require(!document::fault_of(traced->chart).has_value());
    }
    return 0;
}
