// `padchart overhang`: chips that lie beside their lands, against the limits of IPC-A-610.

#include <fmt/format.h>

#include <ostream>

#include "analysis/overhang.hpp"
#include "base/plain_text.hpp"
#include "cli/shared.hpp"
#include "cli/subcommands.hpp"
#include "json/chart_file.hpp"

namespace padchart::cli {
namespace {

using analysis::EndOverhang;
using analysis::PartOverhang;
using analysis::ProductClass;

ProductClass class_of(const Arguments& arguments) {
    const std::string word = arguments.text("class", "2");
    return word == "1" ? ProductClass::One : word == "3" ? ProductClass::Three : ProductClass::Two;
}

bool is_defect(const PartOverhang& part, ProductClass product) {
    return part.ends[0].is_defect(product) || part.ends[1].is_defect(product);
}

void write_end(json::JsonWriter& out, const EndOverhang& end, ProductClass product) {
    out.begin_object(json::JsonLayout::OneLine);
    out.member("pad", end.pad).member("width_mm", end.width_mm).member("side_mm", end.side_mm);
    out.member("end_mm", end.end_mm).member("joint_mm", end.joint_mm).member("side_share", end.side_share);
    out.member("joint_share", end.joint_share).member("side_defect", end.is_side_defect(product));
    out.member("end_defect", end.is_end_defect()).member("joint_defect", end.is_joint_defect(product));
    out.end_object();
}

void print_json(const document::Chart& chart, const std::vector<PartOverhang>& parts, ProductClass product,
                Streams streams) {
    json::JsonWriter out;
    out.begin_object().member("class", static_cast<int>(product)).key("parts").begin_array();
    for (const PartOverhang& part : parts) {
        out.begin_object().member("part", display_name(chart, part.part)).member("id", part.part.text);
        out.member("defect", is_defect(part, product)).member("doubtful", part.is_doubtful).key("ends").begin_array();
        for (const EndOverhang& end : part.ends)
            write_end(out, end, product);
        out.end_array().end_object();
    }
    out.end_array().end_object();
    streams.out << std::move(out).str();
}

std::string verdict(const EndOverhang& end, ProductClass product) {
    std::string text;
    if (end.is_side_defect(product)) text += fmt::format(" side overhang {:.0f} %", 100 * end.side_share);
    if (end.is_end_defect()) text += fmt::format(" end overhang {:.2f} mm", end.end_mm);
    if (end.is_joint_defect(product)) text += fmt::format(" end joint {:.0f} %", 100 * end.joint_share);
    return text;
}

void print_text(const document::Chart& chart, const std::vector<PartOverhang>& parts, ProductClass product,
                Streams streams) {
    std::size_t defects = 0;
    for (const PartOverhang& part : parts) {
        if (is_defect(part, product)) ++defects;
        for (const EndOverhang& end : part.ends)
            if (end.is_defect(product))
                streams.out << fmt::format("{} pad {}:{}{}\n", on_one_line(display_name(chart, part.part)), end.pad,
                                           verdict(end, product), part.is_doubtful ? " (too near to tell)" : "");
    }
    streams.out << fmt::format("{} chips measured, {} beyond the limits of class {}; an aid to the eye, the joint is "
                               "judged under the loupe\n",
                               parts.size(), defects, static_cast<int>(product));
}

int run_overhang(const Arguments& arguments, Streams streams) {
    const Result<document::Chart> chart = json::load_chart(arguments.text("CHART"));
    if (!chart) return fail(streams, chart.error());
    if (!chart->scale)
        return fail(streams, {"the chart has no scale, so no overhang on it is known", arguments.text("CHART")});
    const ProductClass product = class_of(arguments);
    const std::vector<PartOverhang> parts = analysis::overhang(*chart);
    if (arguments.has("json"))
        print_json(*chart, parts, product, streams);
    else
        print_text(*chart, parts, product, streams);
    for (const PartOverhang& part : parts)
        if (is_defect(part, product)) return kFindings;
    return kFine;
}

} // namespace

Command overhang_command() {
    return {"overhang",
            "list chips that lie beside their lands",
            "Side overhang, end overhang and end joint width of two-terminal chips, from the drawn body and lands, "
            "against "
            "the limits of IPC-A-610 (revision F, clauses 8.3.2.1 to 8.3.2.3).",
            "padchart overhang demo/river-logger.chart.json --class 3",
            {chart_positional(),
             {"--class", OptionKind::Text, "of the product, as IPC-A-610 counts (usual: 2)", false, {"1", "2", "3"}},
             json_flag()},
            run_overhang};
}

} // namespace padchart::cli
