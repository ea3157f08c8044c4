// `padchart fit`: which parts could be soldered back the wrong way round.

#include <fmt/format.h>

#include <ostream>

#include "analysis/fit.hpp"
#include "base/plain_text.hpp"
#include "cli/shared.hpp"
#include "cli/subcommands.hpp"
#include "json/chart_file.hpp"

namespace padchart::cli {
namespace {

std::string_view to_text(analysis::Consequence consequence) {
    switch (consequence) {
    case analysis::Consequence::NoEffect: return "no-effect";
    case analysis::Consequence::WorksLessWell: return "works-less-well";
    case analysis::Consequence::DoesNotWork: return "does-not-work";
    case analysis::Consequence::Damage: return "damage";
    case analysis::Consequence::Hazard: return "hazard";
    }
    return "no-effect";
}

void write_part(json::JsonWriter& out, const document::Footprint& part, const analysis::PartFit& answer) {
    out.begin_object();
    out.member("part", part.name).member("id", part.id.text);
    out.key("exact_turns").numbers(answer.exact_turns);
    out.key("seating_turns").numbers(answer.seating_turns);
    out.key("seating_turns_unshifted").numbers(answer.seating_turns_unshifted);
    out.key("nearly_turns").numbers(answer.nearly_turns);
    out.key("harmless_turns").numbers(answer.harmless_turns);
    out.key("risky_turns").numbers(answer.risky_turns);
    out.key("needs_shift").begin_array();
    for (const analysis::ShiftedTurn& turn : answer.needs_shift) {
        out.begin_object(json::JsonLayout::OneLine).member("turn", turn.turn_deg).key("shift_mm");
        write_point(out, turn.shift_mm);
        out.end_object();
    }
    out.end_array();
    out.member("is_complete", answer.is_complete).member("mirrored_seats", answer.mirrored_seats);
    out.member("consequence", to_text(answer.consequence));
    out.member("record", document::to_text(part.orientation.state));
    out.member("needs_record", answer.needs_record).member("has_record", answer.has_record);
    out.end_object();
}

std::string listed(const std::vector<double>& turns) {
    std::string text;
    for (const double turn : turns)
        text += fmt::format("{}{:g}", text.empty() ? "" : " ", turn);
    return text.empty() ? "-" : text;
}

void print_text(const document::Chart& chart, const analysis::FitReport& report, Streams streams) {
    streams.out << fmt::format("{:<10} {:<18} {:<18} {:<14} {}\n", "part", "seats at", "exact at", "risky", "record");
    for (std::size_t i = 0; i < report.parts.size(); ++i) {
        const analysis::PartFit& answer = report.parts[i];
        const std::string record = !answer.is_complete    ? "not known: lands missing"
                                   : !answer.needs_record ? "not needed"
                                   : answer.has_record    ? "recorded"
                                                          : "NOT RECORDED";
        streams.out << fmt::format("{:<10} {:<18} {:<18} {:<14} {}\n", on_one_line(display_name(chart.parts[i])),
                                   listed(answer.seating_turns), listed(answer.exact_turns), listed(answer.risky_turns),
                                   record);
    }
}

int run_fit(const Arguments& arguments, Streams streams) {
    const Result<document::Chart> chart = json::load_chart(arguments.text("CHART"));
    if (!chart) return fail(streams, chart.error());
    const analysis::FitReport report = analysis::fit(*chart);
    if (!report.has_scale)
        return fail(streams, {"the chart has no scale, so pads cannot be compared in mm", arguments.text("CHART")});
    std::size_t open = 0;
    for (const analysis::PartFit& answer : report.parts)
        open += answer.needs_record && !answer.has_record ? 1 : 0;
    if (arguments.has("json")) {
        json::JsonWriter out;
        out.begin_object().member("uncertainty_mm", report.uncertainty_mm).key("parts").begin_array();
        for (std::size_t i = 0; i < report.parts.size(); ++i)
            write_part(out, chart->parts[i], report.parts[i]);
        out.end_array().end_object();
        streams.out << std::move(out).str();
    } else {
        print_text(*chart, report, streams);
        streams.out << fmt::format("{} parts, {} could go back wrong and are not on record\n", report.parts.size(),
                                   open);
    }
    return open > 0 ? kFindings : kFine;
}

} // namespace

Command fit_command() {
    return {"fit",
            "tell which parts could be soldered back the wrong way round",
            "Per part the turns, in degrees counter-clockwise, that match exactly, that seat on the pads (with and "
            "without a "
            "small shift), that do no harm for what the part is, and what is left: the risky ones. Exit code 1 when a "
            "risky "
            "part has no orientation record.",
            "padchart fit demo/river-logger.chart.json",
            {chart_positional(), json_flag()},
            run_fit};
}

} // namespace padchart::cli
