#include "scene/sheet_plan.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "scene/sheet_blocks.hpp"
#include "scene/sheet_map.hpp"
#include "scene/words.hpp"

namespace padchart::scene {

using document::Chart;
using document::HeatPlan;
using geometry::Box;
using geometry::Vec2;

namespace {

constexpr double kPicture_mm = 92.0;
constexpr std::size_t kMostNeighbours = 10;

std::string name_of(const Chart& chart, const HeatPlan& plan) {
    if (const auto target = document::find_part(chart, plan.target)) return chart.parts[*target].name;
    return plan.name.empty() ? "plan without a name" : plan.name;
}

Scene picture_of(const Chart& chart, const Reports& reports, const HeatPlan& plan, const analysis::HeatReport& heat,
                 double enlargement) {
    Reports all = reports;
    all.plan = &plan;
    all.heat = &heat;
    ViewOptions view;
    view.stage = Stage::Heat;
    view.seen_from = plan.side;
    view.px_per_mm = enlargement / kPaperPx_mm;
    view.label_px = kTextHeight_mm / kPaperPx_mm;
    return chart_scene(chart, all, view);
}

/// Nothing of it is written over: it lies below the page's own layer.
std::vector<LegendEntry> add_picture(PageWriter& writer, const Chart& chart, const Reports& reports,
                                     const HeatPlan& plan, const analysis::HeatReport& heat) {
    const Box box = writer.reserve(kPicture_mm);
    const Box content = heat_area(chart, plan);
    const double enlargement = standard_enlargement({content.width(), content.height()}, {box.width(), box.height()});
    Scene scene = picture_of(chart, reports, plan, heat, enlargement);
    std::vector<LegendEntry> legend;
    for (LegendEntry& entry : legend_of(scene))
        if (is_about_heat(entry.role)) legend.push_back(std::move(entry));
    Page& page = writer.page();
    page.scenes.insert(page.scenes.begin(), PlacedScene{.scene = std::move(scene),
                                                        .scale = enlargement,
                                                        .at = box.centre() - content.centre() * enlargement,
                                                        .clip = box});
    draw_box(writer.scene(), Role::PageRule, box, Weight::Hair);
    writer.space(1.5);
    if (!chart.scale)
        add_no_scale(writer.scene(), writer.reserve(6.0));
    else
        add_short_scale_bar(writer.scene(), writer.reserve(11.0), enlargement);
    return legend;
}

std::string shields_of(const Chart& chart, const HeatPlan& plan) {
    std::string text;
    for (const document::Shield& shield : chart.shields)
        if (std::find(plan.shields.begin(), plan.shields.end(), shield.id) != plan.shields.end())
            text += (text.empty() ? "" : ", ") + (shield.name.empty() ? plain_words(shield.kind) : shield.name);
    return text.empty() ? "none" : text;
}

void write_settings(PageWriter& writer, const Chart& chart, const HeatPlan& plan) {
    writer.table({{"Air", 1.0, true},
                  {"Flow", 1.0, true},
                  {"Nozzle", 1.0, true},
                  {"Height", 0.9, true},
                  {"Preheat", 0.9, true},
                  {"Dwell", 0.8, true},
                  {"Alloy", 1.0, true},
                  {"Shields in place", 1.6, true}},
                 {{celsius(plan.set_point_c), number(plan.flow_l_per_min, 1) + " L/min",
                   number(plan.nozzle_bore_mm, 1) + " mm bore", number(plan.stand_off_mm, 1) + " mm",
                   plan.preheat_c ? celsius(*plan.preheat_c) : "none", number(plan.dwell_s, 0) + " s", plan.alloy,
                   shields_of(chart, plan)}});
    if (!plan.note.empty()) writer.paragraph(plan.note);
}

void write_steps(PageWriter& writer, const analysis::HeatReport& heat) {
    std::vector<Row> rows;
    for (const std::string& sentence : heat.sentences)
        rows.push_back({fmt::format("{}", rows.size() + 1), with_degrees(sentence), ""});
    for (const Diagnostic& caution : heat.cautions)
        if (caution.severity != Severity::Note)
            rows.push_back({fmt::format("{}", rows.size() + 1), caution.message, ""});
    writer.heading("Before and while the air is on");
    writer.table({{"No.", 0.35, true}, {"Most urgent first", 5.0}, {"Initials", 0.9}}, rows);
}

Row row_of(const analysis::NeighbourReport& neighbour) {
    return {neighbour.name + (neighbour.far_side ? ", far side" : ""),
            fmt::format("{} to {}", number(neighbour.peak_c.low, 0), celsius(std::round(neighbour.peak_c.high))),
            neighbour.limit_c ? celsius(*neighbour.limit_c) : "–",
            std::string(analysis::to_text(neighbour.verdict)) + (neighbour.may_float ? "; its joints may melt" : "")};
}

void write_temperatures(PageWriter& writer, const analysis::HeatReport& heat) {
    const analysis::TargetReport& target = heat.target;
    std::vector<Row> rows{
        {target.name + ", coldest joint",
         fmt::format("{} to {}", number(target.peak_mean_c.low, 0), celsius(std::round(target.peak_mean_c.high))),
         "melts at " + celsius(std::round(target.liquidus_c)), analysis::to_text(target.verdict)}};
    for (std::size_t i = 0; i < std::min(heat.neighbours.size(), kMostNeighbours); ++i)
        rows.push_back(row_of(heat.neighbours[i]));
    writer.heading("Estimated peaks, low to high");
    writer.table({{"What", 1.6, true}, {"Peak", 1.2}, {"Limit", 1.2}, {"Verdict", 2.0}}, rows);
    writer.paragraph(
        "An estimate, not a measurement: check with a thermocouple. Local codes, licensed practice and the "
        "part maker's sheet decide.",
        {.role = Role::PageCaution});
}

} // namespace

std::vector<Page> plan_pages(const Chart& chart, const Reports& reports, const SheetOptions& options,
                             const HeatPlan& plan, const analysis::HeatReport& heat) {
    const PageFormat format = upright_paper(options.paper);
    PageWriter writer(format, kTitleStrip_mm + 2.0);
    const char* seen = plan.side == document::Side::Top ? ", seen from the top" : ", seen from the bottom";
    writer.heading("Heat plan: " + name_of(chart, plan) + seen);
    const std::vector<LegendEntry> legend = add_picture(writer, chart, reports, plan, heat);
    const double height = legend_height_mm(legend.size(), format.frame().width() - 8.0);
    const Box box = writer.reserve(height);
    add_legend(writer.scene(), box, legend);
    writer.space(2.0);
    write_settings(writer, chart, plan);
    write_steps(writer, heat);
    write_temperatures(writer, heat);
    return writer.finish();
}

} // namespace padchart::scene
