// `padchart donor`: which way round, read from the same part of a donor board.

#include <fmt/format.h>

#include <ostream>

#include "analysis/donor.hpp"
#include "cli/shared.hpp"
#include "cli/subcommands.hpp"
#include "document/edits.hpp"
#include "json/chart_file.hpp"

namespace padchart::cli {
namespace {

void print_json(const analysis::DonorTransfer& transfer, Streams streams) {
    json::JsonWriter out;
    out.begin_object();
    out.member("certain", transfer.is_certain).member("harmless", transfer.is_harmless);
    out.member("sentence", transfer.sentence).key("possible").begin_array();
    for (const analysis::DonorTurn& turn : transfer.possible) {
        out.begin_object();
        out.member("turn_deg", turn.turn_deg).member("bearing_deg", turn.bearing.degrees());
        out.member("lands_match", turn.matches).member("pad_numbers_compared", turn.numbers_compared);
        out.member("pad_numbers_agreeing", turn.numbers_agreeing);
        out.end_object();
    }
    out.end_array().end_object();
    streams.out << std::move(out).str();
}

void print_text(const analysis::DonorTransfer& transfer, Streams streams) {
    streams.out << transfer.sentence << '\n';
    for (const analysis::DonorTurn& turn : transfer.possible)
        streams.out << fmt::format("  turned {:g} degrees: mark at {:g} degrees in the part's own frame\n",
                                   turn.turn_deg, turn.bearing.degrees());
}

struct Question {
    document::Chart here;
    document::Chart donor;
    document::Id part;
    document::Id donor_part;
};

Result<void> save(const Question& ask, const analysis::DonorTransfer& transfer, const Arguments& arguments) {
    const Result<document::Chart> changed = document::set_orientation(ask.here, ask.part, transfer.orientation);
    if (!changed) return changed.error();
    return save_output(*changed, arguments);
}

Result<Question> question_of(const Arguments& arguments) {
    Result<document::Chart> here = json::load_chart(arguments.text("CHART"));
    if (!here) return here.error();
    Result<document::Chart> donor = json::load_chart(arguments.text("DONOR"));
    if (!donor) return donor.error();
    const std::string name = arguments.text("part");
    Result<document::Id> part = part_by_name(*here, name);
    if (!part) return part.error();
    for (const auto& [chart, option] : {std::pair(&*here, "CHART"), std::pair(&*donor, "DONOR")})
        if (!chart->scale)
            return Error{"the chart has no scale, so its lands cannot be laid on others; right would be to set it "
                         "first: `padchart scale`",
                         arguments.text(option)};
    Result<document::Id> donor_part = part_by_name(*donor, arguments.text("donor-part", name));
    if (!donor_part) return donor_part.error();
    return Question{std::move(*here), std::move(*donor), std::move(*part), std::move(*donor_part)};
}

int run_donor(const Arguments& arguments, Streams streams) {
    const Result<Question> ask = question_of(arguments);
    if (!ask) return fail(streams, ask.error());
    const Result<std::string> day = day_of(arguments);
    if (!day) return fail(streams, day.error());
    const analysis::DonorOptions options{arguments.has("same-kind"), arguments.text("by"), *day};
    const Result<analysis::DonorTransfer> transfer =
        analysis::transfer_from_donor(ask->donor, ask->donor_part, ask->here, ask->part, options);
    if (!transfer) return fail(streams, transfer.error());
    if (arguments.has("json"))
        print_json(*transfer, streams);
    else
        print_text(*transfer, streams);
    if (!transfer->is_certain) return kFindings;
    if (!arguments.has("output")) return kFine;
    const Result<void> done = save(*ask, *transfer, arguments);
    return done ? kFine : fail(streams, done.error());
}

} // namespace

Command donor_command() {
    return {"donor",
            "carry an orientation record over from the same part of a donor board",
            "Works out in which turns the donor's lands lie on this part's and whether lands, pad numbers or the place "
            "on the board settle which. Findings: nothing does; then no file is written.",
            "padchart donor demo/river-logger.chart.json demo/river-logger.chart.json --part U6 --same-kind",
            {chart_positional(),
             {"DONOR", OptionKind::Text, "the donor's chart file", true},
             {"--part", OptionKind::Text, "name of the part on this board", true},
             {"--donor-part", OptionKind::Text, "its name on the donor (default: the same)"},
             {"--same-kind", OptionKind::Flag, "the donor is the same board in the same revision"},
             {"--by", OptionKind::Text, "who looked, for the evidence"},
             {"--date", OptionKind::Text, "day, ISO 8601, for the evidence"},
             {"-o,--output", OptionKind::Text, "write the chart with the record to this file"},
             force_flag(),
             json_flag()},
            run_donor};
}

} // namespace padchart::cli
