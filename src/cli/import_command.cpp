// `padchart import`: a traced SVG becomes a chart file.

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <map>
#include <optional>
#include <ostream>

#include "analysis/grouping.hpp"
#include "analysis/pad_numbers.hpp"
#include "analysis/tidy.hpp"
#include "base/counted.hpp"
#include "cli/scale_options.hpp"
#include "cli/shared.hpp"
#include "cli/subcommands.hpp"
#include "svg/reimport.hpp"
#include "svg/trace_to_chart.hpp"
#include "json/chart_file.hpp"

namespace padchart::cli {
namespace {

/// A scale that a part of known size gives, in the trace's own units: the trace is read once to measure the part.
Result<analysis::ScaleReading> scale_of_part(const svg::Drawing& drawing, const std::string& text,
                                             const analysis::ScaleErrors& errors) {
    const Result<svg::TraceResult> trace = svg::chart_from_trace(drawing);
    if (!trace) return trace.error();
    Result<analysis::ScaleReading> reading = scale_from_part_text(trace->chart, text, "--scale-part", errors);
    if (reading) reading->scale.mm_per_unit *= drawing.mm_per_unit.value_or(1.0);
    return reading;
}

/// The page size as a scale of its own, to be held against what was stated.
std::optional<document::Scale> page_scale(const svg::Drawing& drawing) {
    if (!drawing.mm_per_unit) return std::nullopt;
    return document::Scale{*drawing.mm_per_unit,
                           document::ScaleSource::DocumentUnits,
                           drawing.size_in_px ? svg::kGuessedScale : svg::TraceOptions{}.relative_uncertainty,
                           "page size: " + drawing.size_note,
                           {}};
}

/// Every scale the user states by measuring, the surest first to be used; each other one, and the page's own size,
/// is held against it.
Result<std::optional<analysis::ScaleReading>> measured_scale(const svg::Drawing& drawing, const Arguments& arguments) {
    const analysis::ScaleErrors errors = scale_errors_of(arguments);
    std::vector<analysis::ScaleReading> readings;
    for (const std::string& text : arguments.all("scale-points")) {
        const Result<analysis::ScaleReading> reading = scale_from_points_text(text, "--scale-points", errors);
        if (!reading) return reading.error();
        readings.push_back(*reading);
    }
    for (const std::string& text : arguments.all("scale-part")) {
        const Result<analysis::ScaleReading> reading = scale_of_part(drawing, text, errors);
        if (!reading) return reading.error();
        readings.push_back(*reading);
    }
    if (readings.empty()) return std::optional<analysis::ScaleReading>{};
    analysis::ScaleReading best = analysis::surest(readings);
    if (const auto page = page_scale(drawing)) analysis::hold_against(best.scale, *page, best.findings);
    return std::optional(std::move(best));
}

/// The scale the user states, by measuring or plainly; nothing where none is stated.
Result<std::optional<document::Scale>> stated_scale(const svg::Drawing& drawing, const Arguments& arguments,
                                                    Diagnostics& findings) {
    Result<std::optional<analysis::ScaleReading>> measured = measured_scale(drawing, arguments);
    if (!measured) return measured.error();
    const auto mm = arguments.number("mm-per-unit");
    if (mm && *measured)
        return Error{"a scale is stated and measured as well; right would be one of them", "--mm-per-unit"};
    if (mm && !(*mm > 0.0)) return Error{"mm per unit must be above 0", "--mm-per-unit"};
    if (*measured) {
        findings = (*measured)->findings;
        return std::optional((*measured)->scale);
    }
    if (!mm) return std::optional<document::Scale>{};
    document::Scale stated{
        *mm, document::ScaleSource::Drawn, svg::TraceOptions{}.relative_uncertainty, "stated on the command line", {}};
    if (const auto page = page_scale(drawing)) analysis::hold_against(stated, *page, findings);
    return std::optional(std::move(stated));
}

/// A chart that is corrected is held against what was stated once it has its new geometry.
svg::TraceOptions options_of(const svg::Drawing& drawing, const document::Chart* current,
                             const std::optional<document::Scale>& stated, Diagnostics& findings) {
    svg::TraceOptions options;
    const bool is_measured = stated && stated->source != document::ScaleSource::Drawn;
    const bool has_page_only =
        current && current->scale && current->scale->source == document::ScaleSource::DocumentUnits;
    const bool is_of_no_trace = current && !svg::is_scale_of_trace(*current);
    if (!current || !current->scale || (is_measured && has_page_only) || (stated && is_of_no_trace))
        options.scale = stated; // what was measured outranks what a page says
    else
        options.scale = svg::scale_for_correction(drawing, *current, findings);
    return options;
}

/// The corrected chart in the scale that was stated, unless its own is surer; where they disagree both stay on record.
Result<document::Chart> in_stated_scale(document::Chart chart, const std::optional<document::Scale>& stated,
                                        Diagnostics& findings) {
    if (!stated || !chart.scale) return chart;
    document::Scale in_chart_lengths = *stated;
    in_chart_lengths.mm_per_unit /= chart.scale->mm_per_unit;
    for (document::OtherScale& other : in_chart_lengths.overruled)
        other.mm_per_unit /= chart.scale->mm_per_unit;
    Result<analysis::Rescaled> scaled = analysis::put_to_scale(chart, in_chart_lengths);
    if (!scaled) return scaled.error();
    const auto less_sure = std::find_if(scaled->findings.begin(), scaled->findings.end(),
                                        [](const Diagnostic& finding) { return finding.code == "scale-less-sure"; });
    if (less_sure == scaled->findings.end()) {
        findings.insert(findings.end(), scaled->findings.begin(), scaled->findings.end());
        return std::move(scaled->chart);
    }
    if (!analysis::disagreement(*chart.scale, *stated)) return chart; // the surer one says the same
    findings.push_back(*less_sure);
    findings.back().message += "; the chart's own is kept";
    analysis::hold_against(*chart.scale, *stated, findings);
    return chart;
}

void print_summary(const document::Chart& chart, const std::string& output, Streams streams) {
    std::size_t pads = 0;
    std::size_t sensitive = 0;
    for (const document::Footprint& part : chart.parts) {
        pads += part.pads.size();
        if (part.heat) ++sensitive;
    }
    streams.out << fmt::format("{}: {}, {}, {} heat-sensitive, {}, {}\n", output, counted(chart.parts.size(), "part"),
                               counted(pads, "pad"), sensitive, counted(chart.keep_outs.size(), "keep-out"),
                               chart.board.outline ? "board outline found" : "no board outline");
    if (chart.scale)
        streams.out << fmt::format("scale: 1 unit = {:g} mm, within {:.2g} % ({})\n", chart.scale->mm_per_unit,
                                   chart.scale->relative_uncertainty * 100.0, chart.scale->note);
    else
        streams.out << "scale: none. Nothing can be measured until it is set; see --scale-points, --scale-part.\n";
}

std::string named(const document::Chart& chart, const std::vector<document::Id>& ids) {
    std::string names;
    for (const document::Id& id : ids)
        names += (names.empty() ? "" : ", ") + display_name(chart, id);
    return names;
}

void print_reimport(const svg::ReimportResult& result, Streams streams) {
    std::size_t by_place = 0;
    for (const svg::FoundAgain& part : result.parts)
        if (part.how == svg::FoundBy::Place) ++by_place;
    streams.out << counted(result.parts.size(), "part") + " found again";
    if (by_place > 0) streams.out << fmt::format(" ({} by their place)", by_place);
    if (!result.added.empty()) streams.out << "; new: " << named(result.chart, result.added);
    if (!result.kept.empty()) streams.out << "; gone from the trace but kept: " << named(result.chart, result.kept);
    for (std::size_t i = 0; i < result.left.size(); ++i)
        streams.out << (i == 0 ? "; left: " : ", ") << result.left[i];
    streams.out << '\n';
}

constexpr double kTidyLimit_mm = 0.05;

/// Of what its pads' middles span.
geometry::Vec2 middle_of(const document::Chart& chart, const analysis::GroupProposal& proposal) {
    geometry::Box box;
    for (const analysis::LoosePad& loose : proposal.pads) {
        const document::Footprint& part = chart.parts[loose.part];
        box.add(document::board_from_part(part.placement)(part.pads[loose.pad].at));
    }
    return box.centre();
}

void print_proposals(const document::Chart& chart, const analysis::Grouping& grouping, Streams streams) {
    for (const analysis::GroupProposal& proposal : grouping.proposals) {
        const geometry::Vec2 at = middle_of(chart, proposal);
        streams.out << fmt::format("proposal at x {:.2f}, y {:.2f}: {}\n", at.x, at.y, proposal.why);
    }
    print(streams.out, analysis::size_suggestions(chart));
}

/// Every step is printed with how far it moves any outline, those that are too far as well.
Result<document::Chart> tidied(document::Chart chart, const Arguments& arguments, Streams streams) {
    if (!arguments.has("tidy")) return chart;
    const double limit = arguments.number("tidy-limit").value_or(kTidyLimit_mm);
    Result<analysis::TidyResult> result = analysis::tidy(chart, limit);
    if (!result) return Error{result.error().message, "--tidy"};
    for (const analysis::TidyStep& step : result->steps)
        streams.out << "tidy: " << step.words << '\n';
    return std::move(result->chart);
}

/// Proposals are printed with --propose and taken with --group.
Result<document::Chart> grouped(document::Chart chart, bool take, const Arguments& arguments, Diagnostics& findings,
                                Streams streams) {
    if (!take && !arguments.has("propose")) return chart;
    analysis::Grouping grouping = analysis::propose_groups(chart);
    std::erase_if(grouping.proposals, [&](const analysis::GroupProposal& proposal) {
        return std::none_of(proposal.pads.begin(), proposal.pads.end(), [&](const analysis::LoosePad& loose) {
            return analysis::is_left_loose(chart.parts[loose.part]); // else it was put together before
        });
    });
    findings.insert(findings.end(), grouping.findings.begin(), grouping.findings.end());
    if (arguments.has("propose")) print_proposals(chart, grouping, streams);
    if (!take) return chart;
    return analysis::accept_groups(chart, grouping.proposals);
}

/// The trace's chart, or the chart named by --into with the trace's geometry.
Result<document::Chart> finished(svg::TraceResult trace, const document::Chart* current, const Arguments& arguments,
                                 Diagnostics& findings, Streams streams) {
    findings.insert(findings.end(), trace.diagnostics.begin(), trace.diagnostics.end());
    // What was put together once is not proposed again.
    Result<document::Chart> chart = std::move(trace.chart);
    if (current && !arguments.has("group") && analysis::was_grouped(*current))
        chart = analysis::grouped_as_before(*current, *chart);
    if (chart) chart = grouped(std::move(*chart), arguments.has("group"), arguments, findings, streams);
    if (chart) chart = tidied(std::move(*chart), arguments, streams);
    if (!chart) return chart.error();
    if (!current) {
        chart->title.title = std::filesystem::path(arguments.text("TRACE")).stem().string();
        return chart;
    }
    Result<svg::ReimportResult> again = svg::reimport(*current, *chart);
    if (!again) return again.error();
    findings.insert(findings.end(), again->findings.begin(), again->findings.end());
    print_reimport(*again, streams);
    return std::move(again->chart);
}

/// Text and drawing of a large trace weigh as much as its chart: they are gone before that is written.
Result<svg::TraceResult> traced(const std::string& path, const document::Chart* current, const Arguments& arguments,
                                std::optional<document::Scale>& stated, Diagnostics& findings, Streams streams) {
    Result<svg::Drawing> drawing = Error{"", ""};
    {
        const Result<std::string> bytes = read_file(path);
        if (!bytes) return bytes.error();
        drawing = svg::read(*bytes, {.measure_lengths = false});
        if (!drawing) return in_file(path, drawing.error());
    }
    Result<std::optional<document::Scale>> scale = stated_scale(*drawing, arguments, findings);
    if (!scale) return scale.error();
    stated = std::move(*scale);
    Result<svg::TraceResult> trace = svg::chart_from_trace(*drawing, options_of(*drawing, current, stated, findings));
    if (trace) return trace;
    print(streams.err, drawing->diagnostics); // they tell why nothing is left
    return in_file(path, trace.error());
}

constexpr std::size_t kMostOfAKind = 12;

/// A layer of a thousand shapes under a name nobody knows is one thing to put right, not a thousand lines.
Diagnostics few_of_a_kind(const Diagnostics& findings) {
    std::map<std::string, std::size_t> count, told;
    for (const Diagnostic& finding : findings)
        ++count[finding.code];
    Diagnostics few;
    for (const Diagnostic& finding : findings) {
        const std::size_t nth = ++told[finding.code];
        if (nth <= kMostOfAKind) few.push_back(finding);
        if (nth == kMostOfAKind + 1)
            few.push_back({finding.severity,
                           finding.code,
                           fmt::format("{} like these are not printed ({}); the window lists all of them",
                                       counted(count[finding.code] - kMostOfAKind, "more finding"), finding.code),
                           {},
                           {}});
    }
    return few;
}

int run_import(const Arguments& arguments, Streams streams) {
    const std::string path = arguments.text("TRACE");
    const std::string output = arguments.text("output");
    if (const auto refusal = would_overwrite(arguments)) return fail(streams, *refusal);
    std::error_code ignored;
    if (std::filesystem::equivalent(output, path, ignored))
        return fail(streams, {"is the trace itself; right would be another name, such as NAME.chart.json", output});
    std::optional<document::Chart> into;
    if (arguments.has("into")) {
        Result<document::Chart> loaded = json::load_chart(arguments.text("into"));
        if (!loaded) return fail(streams, loaded.error());
        into = std::move(*loaded);
    }
    const document::Chart* current = into ? &*into : nullptr;
    Diagnostics findings;
    std::optional<document::Scale> stated;
    Result<svg::TraceResult> trace = traced(path, current, arguments, stated, findings, streams);
    if (!trace) return fail(streams, trace.error());
    Result<document::Chart> chart = finished(std::move(*trace), current, arguments, findings, streams);
    if (chart && current) chart = in_stated_scale(std::move(*chart), stated, findings);
    if (!chart) return fail(streams, chart.error());
    if (const Result<void> saved = json::save_chart(*chart, output); !saved) return fail(streams, saved.error());
    print_summary(*chart, output, streams);
    for (const Diagnostics& more : {analysis::mirrored_numbering(*chart), analysis::numbers_against_rule(*chart)})
        findings.insert(findings.end(), more.begin(), more.end());
    print(streams.err, few_of_a_kind(findings));
    return exit_code_of(findings);
}

std::vector<Option> import_options() {
    std::vector<Option> options{
        {"TRACE", OptionKind::Text, "the traced drawing, an SVG file", true},
        {"-o,--output", OptionKind::Text, "the chart file to write", true},
        {"--mm-per-unit", OptionKind::Number, "scale of a trace that states no size, or a wrong one"},
        {"--scale-points",
         OptionKind::Text,
         "X1,Y1,X2,Y2,MM: two points in the trace's units and the distance measured between them",
         false,
         {},
         true},
        {"--scale-part", OptionKind::Text, "NAME=SIZE: a part of known size, such as R1=1608M", false, {}, true},
        {"--into", OptionKind::Text,
         "CHART: put the trace's geometry into this chart and keep everything that was said in it"},
        {"--propose", OptionKind::Flag, "print which loose pads could be one part, and which chips bodies could be"},
        {"--group", OptionKind::Flag, "take all proposals: loose pads become parts"},
        {"--tidy", OptionKind::Flag,
         "make hand-drawn pads regular, each step printed with how far it moves an outline"},
        {"--tidy-limit", OptionKind::Number, "mm no outline may be moved farther than; usual 0.05"},
        force_flag()};
    for (const Option& option : scale_error_options())
        options.push_back(option);
    return options;
}

} // namespace

Command import_command() {
    return {"import",
            "turn a traced SVG into a chart",
            "Layers, groups, classes or ids named outline, cut-out, body, pads, mark, keep-out, sensitive, shield "
            "decide what "
            "a shape becomes; the tracing guide in the README tells more.",
            "padchart import demo/power-corner.svg -o corner.chart.json",
            import_options(),
            run_import};
}

} // namespace padchart::cli
