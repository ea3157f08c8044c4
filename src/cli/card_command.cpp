// `padchart card`: the orientation cards, one for each part that could go back the wrong way round.

#include <fmt/format.h>

#include <algorithm>
#include <ostream>

#include "cli/page_output.hpp"
#include "cli/photo_pictures.hpp"
#include "cli/shared.hpp"
#include "cli/subcommands.hpp"
#include "scene/card.hpp"
#include "json/chart_file.hpp"

namespace padchart::cli {
namespace {

/// For whom has not said which part: what can be said.
Error which_part(const document::Chart& chart, const analysis::FitReport& fit) {
    constexpr std::size_t kMostNames = 12;
    const std::vector<document::Id> ids = scene::parts_that_need_a_card(chart, fit);
    if (ids.empty())
        return {"no part of this chart needs a card; --part NAME writes one for any part all the same", "card"};
    std::vector<std::string> names;
    for (std::size_t i = 0; i < std::min(ids.size(), kMostNames); ++i)
        names.push_back(display_name(chart, ids[i]));
    const std::string more = ids.size() > kMostNames ? fmt::format(" and {} more", ids.size() - kMostNames) : "";
    return {fmt::format("say which part: --part NAME, or --all for those that could go back the wrong way round: {}{}",
                        fmt::join(names, ", "), more),
            "card"};
}

Result<std::vector<document::Id>> parts_asked_for(const document::Chart& chart, const analysis::FitReport& fit,
                                                  const Arguments& arguments) {
    if (arguments.has("all") && arguments.has("part"))
        return Error{"--all is every part that needs a card, --part one of them: say one of the two", "card"};
    if (!arguments.has("all") && !arguments.has("part")) return which_part(chart, fit);
    if (arguments.has("all")) return scene::parts_that_need_a_card(chart, fit);
    std::vector<document::Id> ids;
    for (const std::string& name : arguments.all("part")) {
        Result<document::Id> id = part_by_name(chart, name);
        if (!id) return id.error();
        ids.push_back(std::move(*id));
    }
    return ids;
}

/// The parts among them whose way round nobody has written down.
std::vector<std::string> open_parts(const document::Chart& chart, const analysis::FitReport& fit,
                                    const std::vector<document::Id>& ids) {
    std::vector<std::string> names;
    for (const analysis::PartFit& part : fit.parts)
        if (part.needs_record && !part.has_record && std::find(ids.begin(), ids.end(), part.part) != ids.end())
            names.push_back(display_name(chart, part.part));
    return names;
}

int run_card(const Arguments& arguments, Streams streams) {
    const Result<document::Chart> chart = json::load_chart(arguments.text("CHART"));
    if (!chart) return fail(streams, chart.error());
    if (!chart->scale)
        return fail(streams, {"the chart has no scale, so what else its lands would take cannot be known; right would "
                              "be to set it first: `padchart scale`",
                              arguments.text("CHART")});
    const analysis::FitReport fit = analysis::fit(*chart);
    const Result<std::vector<document::Id>> parts = parts_asked_for(*chart, fit, arguments);
    if (!parts) return fail(streams, parts.error());
    if (parts->empty()) {
        streams.out << "no part of this chart could go back the wrong way round: no card written\n";
        return kFine;
    }
    const PageOutput output{arguments.text("output"), arguments.number("dpi").value_or(150.0), arguments.has("force")};
    const paint::Theme& theme = arguments.has("grey") ? paint::grey_print_theme() : paint::paper_theme();
    const Result<void> done = write_document(
        scene::orientation_cards(*chart, fit, *parts, evidence_pictures(*chart, arguments.text("CHART"))), theme,
        output, streams);
    if (!done) return fail(streams, done.error());
    const std::vector<std::string> open = open_parts(*chart, fit, *parts);
    if (open.empty()) return kFine;
    streams.err << fmt::format("warning: not on record: {}. Look before the heat goes on.\n", fmt::join(open, ", "));
    return kFindings;
}

} // namespace

Command card_command() {
    return {
        "card",
        "write orientation cards for the bench, as PDF, SVG or PNG",
        "A card (A6, lying) shows how the part lies on the board, where its mark goes, what the mark means and what "
        "it must not be confused with, which wrong turns sit as well, and has room for two people to sign. SVG and "
        "PNG give one file a card. Findings: a card's part is not on record yet.",
        "padchart card demo/river-logger.chart.json --part TV2 -o tv2.pdf",
        {chart_positional(),
         {"--part", OptionKind::Text, "name of a part; may be given several times", false, {}, true},
         {"--all", OptionKind::Flag, "every part that could go back the wrong way round"},
         {"-o,--output", OptionKind::Text, "FILE.pdf, FILE.svg or FILE.png", true},
         {"--grey", OptionKind::Flag, "in grey, for a printer without colours"},
         {"--dpi", OptionKind::Number, "resolution of a PNG (default 150)"},
         force_flag()},
        run_card};
}

} // namespace padchart::cli
