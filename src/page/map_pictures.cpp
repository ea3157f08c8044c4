#include "page/map_pictures.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "page/markup.hpp"
#include "page/page_frame.hpp"
#include "page/svg_scene.hpp"
#include "scene/access_overlay.hpp"
#include "scene/sheet_blocks.hpp"
#include "scene/words.hpp"

namespace padchart::page {

using document::Chart;
using document::Side;
using geometry::Box;
using geometry::Vec2;
using scene::Scene;

namespace {

// Names are placed anew each time one looks nearer by this factor, from a phone's width to nine times as near.
constexpr double kLevelStep = 1.75;
constexpr std::size_t kLevels = 5;
constexpr double kPhone_px = 360.0;
constexpr std::size_t kFirstLevel = 1; // right for a column of a desktop's window
constexpr double kName_px = 11.0;
Scene scene_of(const PageInput& input, const StagePicture& stage, Side side, double px_per_mm) {
    scene::ViewOptions view;
    view.stage = stage.stage;
    view.seen_from = side;
    view.px_per_mm = px_per_mm;
    view.label_px = kName_px;
    scene::Reports reports{&input.reports.clearance, &input.reports.fit};
    if (stage.plan != nullptr) {
        reports.plan = &stage.plan->plan;
        if (stage.plan->heat) reports.heat = &*stage.plan->heat;
        if (stage.plan->no_aim) reports.no_aim = &*stage.plan->no_aim;
    }
    if (stage.access) return access_scene(input.chart, reports, view, &*stage.access);
    return chart_scene(input.chart, reports, view);
}

bool has_anything_on(const Chart& chart, Side side) {
    const auto on_side = [side](const auto& thing) { return thing.side == side; };
    return std::any_of(chart.parts.begin(), chart.parts.end(),
                       [side](const document::Footprint& part) { return part.placement.side == side; }) ||
           std::any_of(chart.keep_outs.begin(), chart.keep_outs.end(), on_side) ||
           std::any_of(chart.notes.begin(), chart.notes.end(), on_side) ||
           std::any_of(chart.readings.begin(), chart.readings.end(), on_side);
}

double bar_length_mm(double width_mm) {
    const double most = std::max(width_mm / 4.0, 1e-3);
    const double decade = std::pow(10.0, std::floor(std::log10(most)));
    for (const double k : {5.0, 2.0})
        if (k * decade <= most) return k * decade;
    return decade;
}

/// Below the picture, as a part of it: it stays true however the page is shown or printed.
std::string scale_bar(const Chart& chart, const Box& box, double px) {
    const Vec2 at{box.min.x + 10 * px, box.max.y - 12 * px};
    const auto text = [&](const char* role, double x, const std::string& words) {
        return fmt::format("<text class=\"text-{}\" x=\"{}\" y=\"{}\" dy=\".36em\">{}</text>", role, short_number(x),
                           short_number(at.y), escaped(words));
    };
    if (!chart.scale) return text("label-danger", at.x, "Not to scale: measure nothing here");
    const double length = bar_length_mm(box.width());
    const auto field = [&](const char* classes, double from, double to) {
        return fmt::format("<path class=\"{}\" d=\"M{} {}h{}v{}h{}z\"/>", classes, short_number(at.x + from * length),
                           short_number(at.y - 2.5 * px), short_number((to - from) * length), short_number(5 * px),
                           short_number((from - to) * length));
    };
    return field("fill-scale-bar", 0.0, 0.25) + field("fill-scale-bar", 0.5, 0.75) +
           field("line-scale-bar w1", 0.0, 1.0) +
           text("scale-bar", at.x + length + 8 * px, scene::number(length, 3) + " mm");
}

/// What the legend has to explain at each stage; an entry says at which.
std::string legend_markup(const std::vector<Scene>& scenes, std::size_t levels) {
    struct Entry {
        scene::LegendEntry entry;
        std::vector<std::size_t> stages;
    };
    std::vector<Entry> entries;
    const std::size_t stages = scenes.size() / levels;
    for (std::size_t stage = 0; stage < stages; ++stage)
        for (scene::LegendEntry& entry : legend_of(scenes[stage * levels + kFirstLevel])) {
            const auto found = std::find_if(entries.begin(), entries.end(), [&](const Entry& other) {
                return other.entry.role == entry.role && other.entry.text == entry.text;
            });
            if (found != entries.end())
                found->stages.push_back(stage);
            else
                entries.push_back({std::move(entry), {stage}});
        }
    std::string out = "<details class=\"folds\" open><summary>Legend</summary><ul class=\"legend\">\n";
    for (const Entry& entry : entries) {
        Scene sample;
        scene::add_legend_sample(sample, {0, 0}, entry.entry.role);
        std::string classes;
        if (entry.stages.size() < stages) {
            classes = " class=\"st";
            for (const std::size_t stage : entry.stages)
                classes += fmt::format(" s{}", stage);
            classes += '"';
        }
        out += fmt::format(
            "<li{}><svg class=\"sample px\" aria-hidden=\"true\" viewBox=\"-19 -10 38 20\">{}</svg>{}</li>\n", classes,
            svg_in_px(std::move(sample), 1.0 / scene::kPaperPx_mm), escaped(entry.entry.text));
    }
    return out + "</ul></details>\n";
}

Box texts_box(const Scene& scene, double px_per_mm) {
    Box box;
    for (const scene::Text& text : scene.texts) {
        const double height = text.height_px / px_per_mm;
        const double width = scene::text_width_em(text.text, text.strong) * height;
        const double left = text.align == scene::Align::Centre  ? width / 2.0
                            : text.align == scene::Align::Right ? width
                                                                : 0.0;
        box.add(Box{text.at - Vec2{left, height / 2.0}, text.at + Vec2{width - left, height / 2.0}});
    }
    return box;
}

/// What is drawn at all stages, as seen from the side; names that stand outside at the first levels count too.
Box content_of(const std::vector<Scene>& scenes, const std::vector<double>& levels) {
    Box box;
    for (std::size_t i = 0; i < scenes.size(); ++i) {
        box.add(scenes[i].bounds);
        if (i % levels.size() <= kFirstLevel) box.add(texts_box(scenes[i], levels[i % levels.size()]));
    }
    return box.is_empty() ? Box{{0, 0}, {10, 10}} : box;
}

/// Shown when somebody asks for it.
std::string photo_below(const PageInput& input, Side side) {
    for (const BoardPicture& photo : input.photos)
        if (photo.side == side)
            return fmt::format("<image class=\"photo\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" "
                               "preserveAspectRatio=\"none\" href=\"{}\"><title>{}</title></image>\n",
                               short_number(photo.box.min.x), short_number(photo.box.min.y),
                               short_number(photo.box.width()), short_number(photo.box.height()),
                               jpeg_source(photo.jpeg), escaped("Photo " + photo.name));
    return {};
}

std::string figure(const PageInput& input, Side side, const std::vector<StagePicture>& stages,
                   const std::vector<double>& levels) {
    std::vector<Scene> scenes;
    for (const StagePicture& stage : stages)
        for (const double level : levels) {
            if (input.stop.stop_requested()) return {};
            scenes.push_back(scene_of(input, stage, side, level));
        }
    std::vector<Variant> variants;
    for (std::size_t i = 0; i < scenes.size(); ++i)
        variants.push_back({i / levels.size(), i % levels.size(), &scenes[i], levels[i % levels.size()]});
    const double px = 1.0 / levels[kFirstLevel];
    Box box = content_of(scenes, levels).grown(8 * px);
    box.max.y += 26 * px;
    const bool is_top = side == Side::Top;
    const std::string up = input.chart.title.up_edge.empty() ? "Which edge is up was not stated."
                                                             : "Up: " + input.chart.title.up_edge + ".";
    const std::string caption = is_top ? "Top side, seen from the top. " + up
                                       : "Bottom side, seen from the bottom: left and right are swapped against the "
                                         "top side. " +
                                             up;
    return fmt::format(
        "<figure class=\"map\" id=\"map-{0}\" data-side=\"{0}\">\n<figcaption id=\"caption-{0}\">{1}</figcaption>\n"
        "<svg class=\"picture\" role=\"application\" aria-roledescription=\"map\" aria-labelledby=\"caption-{0}\" "
        "tabindex=\"0\" viewBox=\"{2} {3} {4} {5}\">\n{6}<g class=\"bar\">{7}</g><g class=\"overlay\"></g>\n</svg>\n"
        "{8}</figure>\n",
        is_top ? "top" : "bottom", escaped(caption), short_number(box.min.x), short_number(box.min.y),
        short_number(box.width()), short_number(box.height()), photo_below(input, side) + svg_layers(variants),
        scale_bar(input.chart, box, px), legend_markup(scenes, levels.size()));
}

double width_of(const Chart& chart) {
    Box box;
    if (chart.board.outline) box.add(geometry::bounds(*chart.board.outline));
    for (const document::Footprint& part : chart.parts)
        box.add(geometry::bounds(document::extent_on_board(part)));
    return std::max({box.is_empty() ? 10.0 : box.width(), box.is_empty() ? 10.0 : box.height(), 0.5});
}

} // namespace

MapPictures map_pictures(const PageInput& input, const std::vector<StagePicture>& stages) {
    MapPictures out;
    double level = kPhone_px / width_of(input.chart);
    for (std::size_t i = 0; i < kLevels; ++i, level *= kLevelStep)
        out.levels.push_back(level);
    out.first_level = kFirstLevel;
    out.mm_per_px = 1.0 / out.levels[kFirstLevel];
    const bool has_bottom = has_anything_on(input.chart, Side::Bottom);
    const bool has_top = has_anything_on(input.chart, Side::Top) || !has_bottom;
    out.sides = has_top && has_bottom ? 2 : 1;
    if (has_top) out.markup += figure(input, Side::Top, stages, out.levels);
    if (has_bottom) out.markup += figure(input, Side::Bottom, stages, out.levels);
    return out;
}

} // namespace padchart::page
