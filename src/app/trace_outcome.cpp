#include "app/trace_outcome.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "analysis/grouping.hpp"

namespace padchart::app {
namespace {

using document::Chart;

svg::TraceOptions options_of(const TraceOrder& order, const Watch& watch) {
    svg::TraceOptions options;
    options.scale = order.scale;
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
        Result<Chart> grouped =
            analysis::accept_groups(fresh, analysis::propose_groups(fresh, watch.stop).proposals, watch.stop);
        if (!grouped) return grouped.error();
        fresh = std::move(*grouped);
    }
    if (!watch.go_on("Finding the parts again")) return Error{"called off", ""};
    return svg::reimport(current, fresh, watch.stop);
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
    append(outcome.findings, again->findings);
    append(outcome.findings, changes_of(*again, *order.current));
    outcome.chart = std::move(again->chart);
}

} // namespace

TraceOutcome make_outcome(const TraceOrder& order, const Watch& watch) {
    TraceOutcome outcome;
    outcome.result = svg::chart_from_trace(*order.drawing, options_of(order, watch));
    if (!outcome.result) {
        outcome.chart = outcome.result.error();
        return outcome;
    }
    outcome.findings = outcome.result->diagnostics;
    append(outcome.findings, order.scale_findings);
    if (order.current)
        add_correction(outcome, order, watch);
    else
        outcome.chart = outcome.result->chart;
    if (outcome.chart && watch.go_on("Looking at pin numbers and sizes")) {
        append(outcome.findings, analysis::mirrored_numbering(*outcome.chart));
        if (!order.current) append(outcome.findings, analysis::size_suggestions(*outcome.chart, 0.1, watch.stop));
    }
    std::stable_sort(outcome.findings.begin(), outcome.findings.end(),
                     [](const Diagnostic& a, const Diagnostic& b) { return a.severity > b.severity; });
    return outcome;
}

Diagnostics changes_of(const svg::ReimportResult& result, const document::Chart& before) {
    Diagnostics lines;
    const auto name = [](const document::Chart& chart, const document::Id& id) {
        const auto at = document::find_part(chart, id);
        if (at) return chart.parts[*at].name.empty() ? std::string("a part without a name") : chart.parts[*at].name;
        for (const document::KeepOut& thing : chart.keep_outs)
            if (thing.id == id) return thing.name.empty() ? std::string("a keep-out") : "keep-out " + thing.name;
        for (const document::Shield& thing : chart.shields)
            if (thing.id == id) return thing.name.empty() ? std::string("a shield") : "shield " + thing.name;
        return std::string("a part");
    };
    const auto say = [&](Severity severity, const char* code, std::string words, const document::Id& id) {
        lines.push_back({severity, code, std::move(words), "", id.text});
    };
    constexpr double kMoved_mm = 0.005; // below what any trace means
    std::size_t unmoved = 0;
    for (const svg::FoundAgain& part : result.parts) {
        const bool plain = part.how == svg::FoundBy::TraceKey;
        if (part.moved_mm < kMoved_mm && plain) {
            ++unmoved;
            continue;
        }
        std::string words =
            name(before, part.current) + (plain ? "" : fmt::format(" found again by {}", to_text(part.how)));
        if (part.moved_mm >= kMoved_mm) words += fmt::format("{} moved by {:.2f} mm", plain ? "" : ",", part.moved_mm);
        say(plain ? Severity::Note : Severity::Warning, "found-again", words, part.current);
    }
    for (const document::Id& id : result.added)
        say(Severity::Note, "added", name(result.chart, id) + " is new", id);
    for (const document::Id& id : result.kept)
        say(Severity::Warning, "kept", name(result.chart, id) + " is gone from the trace; kept for what was said of it",
            id);
    for (const std::string& gone : result.left)
        say(Severity::Warning, "left", gone + " is gone from the trace and from the chart", {});
    if (unmoved > 0) say(Severity::Note, "unmoved", fmt::format("{} parts lie where they lay", unmoved), {});
    return lines;
}

} // namespace padchart::app
