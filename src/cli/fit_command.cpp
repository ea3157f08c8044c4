// `padchart fit`: which parts could be soldered back the wrong way round.

#include <fmt/format.h>

#include <algorithm>
#include <ostream>

#include "analysis/fit.hpp"
#include "base/counted.hpp"
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
    out.key("unsure_turns").numbers(answer.unsure_turns);
    out.key("needs_shift").begin_array();
    for (const analysis::ShiftedTurn& turn : answer.needs_shift) {
        out.begin_object(json::JsonLayout::OneLine).member("turn", turn.turn_deg).key("shift_mm");
        write_point(out, turn.shift_mm);
        out.end_object();
    }
    out.end_array();
    out.member("is_complete", answer.is_complete).member("mirrored_seats", answer.mirrored_seats);
    out.member("joined_pads", answer.joined_pads);
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

bool needs_shift(const analysis::PartFit& answer, double turn) {
    return std::any_of(answer.needs_shift.begin(), answer.needs_shift.end(),
                       [turn](const analysis::ShiftedTurn& shifted) { return shifted.turn_deg == turn; });
}

/// Turns that seat only after a slide bear a star.
std::string seats_listed(const analysis::PartFit& answer) {
    std::string text;
    for (const double turn : answer.seating_turns)
        text += fmt::format("{}{:g}{}", text.empty() ? "" : " ", turn, needs_shift(answer, turn) ? "*" : "");
    return text;
}

/// Turns that seat only if the drawing is off bear a question mark.
std::string risky_listed(const analysis::PartFit& answer) {
    std::string text;
    for (const double turn : answer.risky_turns) {
        const bool unsure = std::count(answer.unsure_turns.begin(), answer.unsure_turns.end(), turn) > 0;
        text += fmt::format("{}{:g}{}", text.empty() ? "" : " ", turn, unsure ? "?" : "");
    }
    return text.empty() ? "-" : text;
}

std::string record_of(const analysis::PartFit& answer) {
    if (!answer.is_complete) return "not known: lands missing";
    if (!answer.needs_record) return "not needed";
    if (answer.has_record) return "recorded";
    return answer.looked_no_mark ? "NO MARK SEEN" : "NOT RECORDED";
}

void print_text(const document::Chart& chart, const analysis::FitReport& report, Streams streams) {
    constexpr const char* kRow = "{:<10} {:<20} {:<18} {:<14} {:<14} {}\n";
    streams.out << fmt::format(kRow, "part", "seats at", "exact at", "nearly", "risky", "record");
    bool has_shift = false;
    bool has_near = false;
    bool has_unsure = false;
    for (std::size_t i = 0; i < report.parts.size(); ++i) {
        const analysis::PartFit& answer = report.parts[i];
        has_shift = has_shift || !answer.needs_shift.empty();
        has_near = has_near || !answer.nearly_turns.empty();
        has_unsure = has_unsure || !answer.unsure_turns.empty();
        streams.out << fmt::format(kRow, on_one_line(display_name(chart.parts[i])), seats_listed(answer),
                                   listed(answer.exact_turns), listed(answer.nearly_turns), risky_listed(answer),
                                   record_of(answer));
    }
    if (has_shift) streams.out << "* seats only when the part is slid a little to the side\n";
    if (has_near)
        streams.out << fmt::format("nearly: the answer hangs on the measuring, {:.2g} mm: measure again\n",
                                   report.uncertainty_mm);
    if (has_unsure)
        streams.out << fmt::format(
            "?: does not seat as drawn, but would with its lands {:.2g} mm elsewhere: record it\n",
            report.uncertainty_mm);
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
        streams.out << fmt::format("{}, {} could go back wrong and {} not on record\n",
                                   counted(report.parts.size(), "part"), open, open == 1 ? "is" : "are");
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
