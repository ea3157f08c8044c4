#include "app/trace_outcome.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "analysis/grouping.hpp"
#include "analysis/pad_numbers.hpp"

namespace padchart::app {
namespace {

using document::Chart;

svg::TraceOptions options_of(const TraceOrder& order, Diagnostics& findings, const Watch& watch) {
    svg::TraceOptions options;
    options.scale = order.scale;
    if (!options.scale && order.current)
        options.scale = svg::scale_for_correction(*order.drawing, *order.current, findings);
    for (const auto& [said, shapes] : order.said)
        for (const std::size_t shape : shapes) {
            svg::ShapeMeaning& meaning = options.shape_meanings[shape];
            if (said.role) meaning.role = said.role;
            if (said.side) meaning.side = said.side;
        }
    options.go_on = [&watch](double share) { return watch.go_on("Making parts of the shapes", share); };
    return options;
}

/// The chart in hand with the geometry of the fresh one.
Result<svg::ReimportResult> corrected(const Chart& current, Chart fresh, const Watch& watch) {
    // Loose pads that were put together once are put together again before parts are looked for.
    if (analysis::was_grouped(current)) {
        if (!watch.go_on("Putting loose pads together")) return Error{"called off", ""};
        Result<Chart> grouped = analysis::grouped_as_before(current, fresh, watch.stop);
        if (!grouped) return grouped.error();
        fresh = std::move(*grouped);
    }
    if (!watch.go_on("Finding the parts again")) return Error{"called off", ""};
    return svg::reimport(current, fresh, watch.stop);
}

void worst_first(Diagnostics& findings) {
    std::stable_sort(findings.begin(), findings.end(),
                     [](const Diagnostic& a, const Diagnostic& b) { return a.severity > b.severity; });
}

void append(Diagnostics& all, const Diagnostics& more) {
    all.insert(all.end(), more.begin(), more.end());
}

void add_correction(TraceOutcome& outcome, const TraceOrder& order, const Watch& watch) {
    // Things of the fresh chart go by other ids than those of the chart in hand.
    for (Diagnostic& finding : outcome.findings)
        finding.target.clear();
    Result<svg::ReimportResult> again = corrected(*order.current, outcome.result->chart, watch);
    if (!again) {
        outcome.chart = again.error();
        return;
    }
    // What changes comes before what the reader found in the trace.
    worst_first(again->findings);
    worst_first(outcome.findings);
    outcome.findings.insert(outcome.findings.begin(), again->findings.begin(), again->findings.end());
    for (const svg::FoundAgain& part : again->parts)
        if (part.is_changed) outcome.changed.push_back(part.current);
    outcome.changed.insert(outcome.changed.end(), again->added.begin(), again->added.end());
    outcome.chart = std::move(again->chart);
}

std::size_t groups_of(const Chart& chart, const Watch& watch) {
    const analysis::Grouping grouping = analysis::propose_groups(chart, watch.stop);
    return static_cast<std::size_t>(
        std::count_if(grouping.proposals.begin(), grouping.proposals.end(),
                      [](const auto& proposal) { return proposal.kind != analysis::GroupKind::Single; }));
}

} // namespace

TraceOutcome make_outcome(const TraceOrder& order, const Watch& watch) {
    TraceOutcome outcome;
    Diagnostics of_scale;
    const svg::TraceOptions options = options_of(order, of_scale, watch);
    outcome.result = svg::chart_from_trace(*order.drawing, options);
    if (!outcome.result) {
        outcome.chart = outcome.result.error();
        return outcome;
    }
    outcome.findings = outcome.result->diagnostics;
    append(outcome.findings, of_scale);
    append(outcome.findings, order.findings);
    if (order.current)
        add_correction(outcome, order, watch);
    else
        outcome.chart = outcome.result->chart;
    if (outcome.chart && watch.go_on("Looking at pin numbers and sizes")) {
        append(outcome.findings, analysis::mirrored_numbering(*outcome.chart));
        append(outcome.findings, analysis::numbers_against_rule(*outcome.chart));
        if (!order.current) append(outcome.findings, analysis::size_suggestions(*outcome.chart, 0.1, watch.stop));
    }
    if (!order.current) worst_first(outcome.findings);
    if (outcome.chart && watch.go_on("Looking for parts among loose pads"))
        outcome.groups = groups_of(*outcome.chart, watch);
    return outcome;
}

} // namespace padchart::app
