#include "page/page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "page/access_sections.hpp"
#include "page/blocks_markup.hpp"
#include "page/cards.hpp"
#include "page/map_pictures.hpp"
#include "page/markup.hpp"
#include "page/page_frame.hpp"
#include "page/send_back.hpp"
#include "page/stage_pictures.hpp"
#include "page/svg_scene.hpp"
#include "page/theme_style.hpp"
#include "scene/sheet_blocks.hpp"
#include "scene/sheet_tables.hpp"
#include "scene/words.hpp"
#include "json/chart_in_page.hpp"

namespace padchart::page {

using document::Title;

namespace {

/// Which stage and which level of names are to be seen.
std::string switch_rules(const MapPictures& maps, std::size_t stages) {
    std::string out = fmt::format(":root{{--u:{}}}\n", short_number(maps.mm_per_px));
    for (std::size_t i = 0; i < stages; ++i)
        out += fmt::format("[data-stage=\"{0}\"] .st:not(.s{0}){{display:none}}", i);
    for (std::size_t i = 0; i < maps.levels.size(); ++i)
        out += fmt::format("[data-level=\"{0}\"] .lv:not(.l{0}){{display:none}}", i);
    return out + '\n';
}

std::string page_title(const Title& title) {
    std::string text = title.title.empty() ? "Chart" : title.title;
    const std::string board = board_in_words(title);
    return board.empty() ? text : text + " · " + board;
}

std::string fact(std::string_view label, const std::string& text) {
    if (text.empty()) return {};
    return fmt::format("<div><dt>{}</dt><dd>{}</dd></div>", escaped(label), escaped(text));
}

std::string header(const PageInput& input) {
    const Title& title = input.chart.title;
    std::string facts = fact("Serial", title.serial) + fact("Job", title.job) + fact("Maker", title.maker) +
                        fact("Charted by", title.author) + fact("Date", title.date) +
                        fact("Chart revision", title.chart_revision);
    facts += fact("Scale", input.chart.scale ? scene::scale_in_words(*input.chart.scale) : "none: measure nothing");
    return fmt::format(
        "<header><h1>{}</h1><p class=\"board\">{}</p>\n<details class=\"folds\" open><summary>Of this chart</summary>"
        "<dl class=\"facts\">{}</dl></details></header>\n",
        escaped(title.title.empty() ? "Chart" : title.title), escaped(board_in_words(title)), facts);
}

std::string toolbar(const PageInput& input, const MapPictures& maps, const std::vector<StagePicture>& pictures) {
    std::string stages;
    for (std::size_t i = 0; i < pictures.size(); ++i)
        stages += fmt::format("<button type=\"button\" data-stage-button=\"{}\" aria-pressed=\"{}\">{}</button>", i,
                              i + 1 == pictures.size(), escaped(pictures[i].name));
    const char* flip = maps.sides > 1 ? "<button type=\"button\" id=\"flip\">Flip side</button>" : "";
    const char* photo =
        input.photos.empty() ? "" : "<button type=\"button\" id=\"photo\" aria-pressed=\"false\">Photo</button>";
    const std::string measure =
        input.chart.scale ? "<button type=\"button\" id=\"measure\" aria-pressed=\"false\">Measure</button>" : "";
    return fmt::format(
        "<nav class=\"tools needs-script\" aria-label=\"Map\">\n"
        "<div role=\"group\" aria-label=\"Stage\" class=\"stages\">{}</div>\n"
        "<div role=\"group\" aria-label=\"View\">{}{}{}<button type=\"button\" id=\"nearer\" "
        "aria-label=\"Nearer\">+</button><button type=\"button\" id=\"farther\" "
        "aria-label=\"Farther\">−</button><button type=\"button\" id=\"whole\">Whole board</button><button "
        "type=\"button\" "
        "id=\"print\">Print</button></div>\n"
        "</nav>\n<p id=\"answer\" class=\"answer needs-script\" role=\"status\" aria-live=\"polite\"></p>\n",
        stages, flip, photo, measure);
}

/// What the picture below comes to, seen before one scrolls.
std::string verdicts(const PageInput& input, const std::vector<StagePicture>& pictures) {
    std::string out;
    for (std::size_t i = 0; i < pictures.size(); ++i)
        out += fmt::format("<p class=\"verdict st s{}\">{}</p>\n", i, escaped(verdict_of(input, pictures[i])));
    return out;
}

constexpr std::string_view kSearch =
    "<div class=\"search needs-script\" role=\"search\">\n<label for=\"find\">Find a part, a value, a note</label>\n"
    "<input id=\"find\" type=\"search\" autocomplete=\"off\" spellcheck=\"false\">\n"
    "<p id=\"found\" class=\"muted\" role=\"status\"></p>\n<ul id=\"hits\"></ul>\n</div>\n";

constexpr std::string_view kChart =
    "<section class=\"chart-file needs-script\" aria-labelledby=\"chart-title\">\n"
    "<h2 id=\"chart-title\">The chart itself</h2>\n<p>This page holds the chart file it was made of, byte by "
    "byte.</p>\n"
    "<p><button type=\"button\" id=\"chart-save\">Save the chart file</button></p>\n</section>\n";

scene::Reports reports_of(const PageInput& input) {
    scene::Reports reports;
    reports.clearance = &input.reports.clearance;
    reports.fit = &input.reports.fit;
    return reports;
}

std::string uncertainty_percent(const document::Chart& chart) {
    if (!chart.scale) return {};
    double share = chart.scale->relative_uncertainty;
    for (const document::OtherScale& other : chart.scale->overruled) // nothing is surer than two that contradict
        share = std::max(share, std::abs(other.mm_per_unit / chart.scale->mm_per_unit - 1.0));
    return share > 0.0 ? scene::number(share * 100.0, 2) : std::string();
}

std::string body(const PageInput& input, const MapPictures& maps, const std::vector<StagePicture>& pictures) {
    scene::SheetOptions options;
    options.sections = heat_sections(input.chart, input.reports);
    for (scene::SheetSection& section : access_sections(input.chart, input.reports))
        options.sections.push_back(std::move(section));
    options.compared = input.reports.compared;
    const Title& title = input.chart.title;
    std::string out =
        fmt::format("<body data-photo=\"off\" data-stage=\"{}\" data-level=\"{}\" data-side=\"{}\" data-levels=\"",
                    pictures.size() - 1, maps.first_level,
                    maps.markup.find("id=\"map-top\"") != std::string::npos ? "top" : "bottom");
    for (const double level : maps.levels)
        out += short_number(level) + ' ';
    out += fmt::format("\" data-chart-title=\"{}\" data-chart-board=\"{}\" data-uncertainty=\"{}\">\n",
                       escaped(title.title), escaped(title.board), uncertainty_percent(input.chart));
    out += svg_definitions(maps.mm_per_px);
    out += "<a class=\"skip\" href=\"#find\">Skip to the search</a>\n" + header(input);
    out += "<noscript><p class=\"board\">Without scripts this page shows both sides, all cards and all tables; stages, "
           "search and notes need them.</p></noscript>\n";
    out += "<main>\n<div class=\"left\">\n" + toolbar(input, maps, pictures) + verdicts(input, pictures) +
           "<div class=\"maps\">\n" + maps.markup + "</div>\n</div>\n<div class=\"right\">\n";
    out += kSearch;
    out += "<section class=\"cards\" id=\"cards\" aria-label=\"Cards\">\n" + cards_markup(input) + "</section>\n";
    out += send_back_markup(input.chart);
    out += kChart;
    out += "</div>\n</main>\n<section class=\"written\" aria-label=\"The sheet\">\n" +
           blocks_markup(written_part(input.chart, reports_of(input), options)) + "</section>\n";
    return out;
}

} // namespace

std::string one_file_page(const PageInput& input) {
    const std::vector<StagePicture> pictures = stage_pictures(input);
    const MapPictures maps = map_pictures(input, pictures);
    const std::string style =
        std::string(page_asset("page/page.css")) + theme_style() + switch_rules(maps, pictures.size());
    const std::string_view script = page_asset("page/page.js");
    const bool has_pictures = !input.photos.empty() || !input.evidence.empty();
    return page_head(page_title(input.chart.title), style, script, has_pictures) + body(input, maps, pictures) +
           json::chart_element(input.chart_bytes, input.chart_name) +
           fmt::format("<script>{}</script>\n</body>\n</html>\n", script);
}

} // namespace padchart::page
