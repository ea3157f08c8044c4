#include "app/scale_desk.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "app/trace_log.hpp"
#include "patterns/size_class.hpp"

namespace padchart::app {

using analysis::Rescaled;
using analysis::ScaleReading;
using document::Chart;

namespace {

std::optional<Result<Rescaled>> of_reading(const std::optional<Result<ScaleReading>>& read, const Chart& chart) {
    if (!read) return std::nullopt;
    if (!*read) return read->error();
    Result<Rescaled> result = analysis::put_to_scale(chart, (*read)->scale);
    if (result) {
        Diagnostics findings = (*read)->findings;
        findings.insert(findings.end(), result->findings.begin(), result->findings.end());
        result->findings = std::move(findings);
    }
    return result;
}

} // namespace

void ScaleDesk::pick(ScalePoint point) {
    if (points.size() >= 2) {
        points.clear();
        distance_mm.reset(); // it was measured between those
    }
    points.push_back(std::move(point));
    wants_focus = points.size() == 2;
    insists.reset();
}

bool ScaleDesk::take_back() {
    insists.reset();
    if (way == ScaleWay::KnownPart) {
        const bool had = !part.is_empty();
        part = {};
        return had;
    }
    if (points.empty()) return false;
    points.pop_back();
    return true;
}

void ScaleDesk::forget_picks() {
    points.clear();
    part = {};
    insists.reset();
    wants_focus = false;
}

void ScaleDesk::begin_anew() {
    forget_picks();
    distance_mm.reset();
    size.reset();
}

std::optional<Result<ScaleReading>> ScaleDesk::reading(const Chart& chart) const {
    if (way == ScaleWay::TwoPoints) {
        if (points.size() < 2 || !distance_mm) return std::nullopt;
        return analysis::scale_from_points(points[0].at, points[1].at, *distance_mm, errors());
    }
    const auto at = document::find_part(chart, part);
    if (!at || !size || *size >= patterns::size_classes().size()) return std::nullopt;
    return analysis::scale_from_part(chart.parts[*at], patterns::size_classes()[*size], errors());
}

std::optional<Result<Rescaled>> ScaleDesk::outcome(const Chart& chart) const {
    return of_reading(reading(chart), chart);
}

std::optional<Result<Rescaled>> ScaleDesk::foreseen(const Chart& chart) const {
    Chart bare;
    bare.scale = chart.scale;
    return of_reading(reading(chart), bare);
}

bool ScaleDesk::apply(Editor& editor) {
    const auto result = outcome(editor.chart());
    if (!result) {
        editor.tell(Severity::Warning, way == ScaleWay::TwoPoints
                                           ? "Click two points on the board and type the distance between them in mm."
                                           : "Click the part on the board and choose its size.");
        return false;
    }
    if (!*result) {
        editor.tell(Severity::Fault, padchart::describe(result->error()));
        return false;
    }
    const Diagnostics& findings = (*result)->findings;
    const auto against = std::find_if(findings.begin(), findings.end(), speaks_against);
    if (against != findings.end() && !asks_again(editor)) {
        insists = editor.chart();
        editor.tell(Severity::Warning, "The new scale is doubtful; press once more to take it. " + against->message);
        return false;
    }
    const std::string how = way == ScaleWay::TwoPoints ? fmt::format("two points, {:g} mm", *distance_mm)
                                                       : patterns::label_of(patterns::size_classes()[*size]);
    const std::string words = analysis::scale_words(*(*result)->chart.scale);
    if (!editor.commit((*result)->chart, "Scale by " + how)) return false;
    trace("scale", words);
    begin_anew();
    return true;
}

bool speaks_against(const Diagnostic& finding) {
    return finding.code == "scale-less-sure" || finding.code == "scale-disagrees";
}

document::Id part_under(const Chart& chart, geometry::Vec2 board, document::Side side) {
    document::Id best;
    double least = 0.0;
    for (const document::Footprint& part : chart.parts) {
        if (part.placement.side != side) continue;
        const geometry::Box box = bounds_of(part);
        if (!box.contains(board)) continue;
        bool hit = geometry::contains(document::extent_on_board(part), board);
        for (std::size_t i = 0; i < part.pads.size() && !hit; ++i)
            hit = geometry::contains(document::outline_on_board(part, part.pads[i]), board);
        const double area = box.width() * box.height();
        if (!hit || (!best.is_empty() && area >= least)) continue;
        best = part.id;
        least = area;
    }
    return best;
}

} // namespace padchart::app
