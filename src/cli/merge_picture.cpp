#include "cli/merge_picture.hpp"

#include <algorithm>
#include <vector>

#include <fmt/format.h>

#include "cli/page_output.hpp"
#include "cli/shared.hpp"
#include "document/things.hpp"
#include "scene/chart_scene.hpp"
#include "scene/page_writer.hpp"
#include "scene/words.hpp"
#include "json/settle.hpp"

namespace padchart::cli {
namespace {

using document::Chart;
using document::Conflict;
using document::Id;
using document::Side;
using geometry::Box;
using geometry::Vec2;
using scene::Page;
using scene::PlacedScene;
using scene::Role;

constexpr double kGap_mm = 5.0;
constexpr double kCaption_mm = 6.5;
constexpr double kPlaceWidth_mm = 78.0;
constexpr double kPlaceHeight_mm = 62.0;
/// What is shown round the thing, and at least.
constexpr double kAround = 0.45;
constexpr double kLeastAround_mm = 1.0;

/// All that is open about one thing.
struct OpenThing {
    Id id;
    std::vector<const Conflict*> conflicts;
};

std::vector<OpenThing> open_things(const std::vector<Conflict>& conflicts) {
    std::vector<OpenThing> out;
    for (const Conflict& conflict : conflicts) {
        const auto found =
            std::find_if(out.begin(), out.end(), [&](const OpenThing& one) { return one.id == conflict.thing; });
        OpenThing& thing = found == out.end() ? out.emplace_back(OpenThing{conflict.thing, {}}) : *found;
        thing.conflicts.push_back(&conflict);
    }
    return out;
}

Box box_of(const Chart& chart, const Id& id) {
    if (const auto at = document::find_part(chart, id)) {
        Box box = geometry::bounds(document::extent_on_board(chart.parts[*at]));
        for (const document::Pad& pad : chart.parts[*at].pads)
            box.add(geometry::bounds(document::outline_on_board(chart.parts[*at], pad)));
        box.add(chart.parts[*at].placement.at);
        return box;
    }
    return document::place_of(chart, id);
}

std::optional<Side> side_of(const Chart& chart, const Id& id) {
    std::optional<Side> side;
    if (const auto at = document::find_part(chart, id)) side = chart.parts[*at].placement.side;
    if (const auto* thing = document::find_keep_out(chart, id)) side = thing->side;
    if (const auto* thing = document::find_shield(chart, id)) side = thing->side;
    if (const auto* thing = document::find_note(chart, id)) side = thing->side;
    if (const auto* thing = document::find_reading(chart, id)) side = thing->side;
    return side;
}

Box whole(const Chart& chart) {
    Box box;
    if (chart.board.outline) box.add(geometry::bounds(*chart.board.outline));
    for (const document::Footprint& part : chart.parts)
        box.add(box_of(chart, part.id));
    for (const document::KeepOut& thing : chart.keep_outs)
        box.add(geometry::bounds(thing.outline));
    return box.is_empty() ? Box{{0, 0}, {10, 10}} : box;
}

Box seen(const Box& board, Side side) {
    Box out;
    out.add(scene::scene_from_board(board.min, side));
    out.add(scene::scene_from_board(board.max, side));
    return out;
}

/// `content` of the chart, board mm, as large as `area` of the page allows.
PlacedScene picture(const Chart& chart, const Box& content, const Box& area, Side side, const Id& thing,
                    bool with_names) {
    const Box look = seen(content, side);
    PlacedScene placed;
    placed.scale = std::min(area.width() / std::max(look.width(), 1e-3), area.height() / std::max(look.height(), 1e-3));
    placed.at = area.centre() - look.centre() * placed.scale;
    placed.clip = area;
    scene::ViewOptions options;
    options.seen_from = side;
    options.show_zones = false;
    options.show_plans = false;
    options.show_pad_numbers = options.show_labels = with_names;
    options.px_per_mm = placed.scale / placed.px_mm;
    options.label_px = scene::kTextHeight_mm / placed.px_mm;
    options.selection = {thing};
    placed.scene = scene::chart_scene(chart, {}, options);
    return placed;
}

std::string words_of_field(std::string field) {
    if (field.ends_with("/at_mm")) field.replace(field.size() - 5, 5, "place");
    for (const std::string_view unit : {"_mm", "_deg", "_c"})
        if (field.ends_with(unit)) field.resize(field.size() - unit.size());
    field.erase(0, 1);
    for (char& c : field)
        if (c == '/' || c == '_' || c == '-') c = ' ';
    return field;
}

std::string value_words(const std::string& json) {
    constexpr std::size_t kLongest = 60;
    if (json.empty()) return "nothing";
    const bool is_place = json.front() == '[' && json.size() <= kLongest && json.find_first_of("[{\"", 1) == json.npos;
    if (is_place) return json.substr(1, json.size() - 2);
    const std::string words = json::value_in_words(json);
    return json.front() == '{' || words.size() > kLongest ? "what is drawn" : words;
}

class ConflictPage {
public:
    ConflictPage(const MergedCharts& charts, const OpenThing& thing, std::string title)
        : charts_(charts), thing_(thing), format_{297.0, 210.0}, page_(format_.blank(title)), title_(std::move(title)) {
        for (const Chart* chart : {&charts.base, &charts.ours, &charts.theirs}) {
            around_.add(box_of(*chart, thing.id));
            if (!side_) side_ = side_of(*chart, thing.id);
        }
    }

    Page made() {
        const Box frame = format_.frame().grown(-4.0);
        scene::write(words(), {frame.min.x, frame.min.y + 3.5}, title_,
                     {.role = Role::PageHeading, .height_mm = scene::kHeadingHeight_mm});
        const double top = frame.min.y + 10.0;
        const bool has_place = !around_.is_empty();
        if (has_place) place({{frame.min.x, top}, {frame.min.x + kPlaceWidth_mm, top + kPlaceHeight_mm}});
        const double left = has_place ? frame.min.x + kPlaceWidth_mm + kGap_mm : frame.min.x;
        const double bottom = has_place ? top + kPlaceHeight_mm : frame.max.y;
        say({{left, top}, {frame.max.x, bottom}});
        if (has_place) side_by_side({{frame.min.x, top + kPlaceHeight_mm + kGap_mm}, frame.max});
        return std::move(page_);
    }

private:
    scene::Scene& words() { return page_.scenes.back().scene; }
    void put(PlacedScene placed) { page_.scenes.insert(page_.scenes.end() - 1, std::move(placed)); }
    [[nodiscard]] Side side() const { return side_.value_or(Side::Top); }
    [[nodiscard]] std::string seen_in_words() const {
        return side() == Side::Top ? "seen from the top" : "seen from the bottom";
    }

    void caption(const Box& box, const std::string& text, bool strong) {
        scene::write_fitted(words(), {box.min.x, box.min.y + kCaption_mm / 2.0}, text, box.width(),
                            {.role = strong ? Role::PageTextStrong : Role::PageMuted, .strong = strong});
    }

    void place(const Box& box) {
        caption(box, "Where it lies, " + seen_in_words(), false);
        const Box area{{box.min.x, box.min.y + kCaption_mm}, box.max};
        const Box board = whole(charts_.result.chart);
        PlacedScene map = picture(charts_.result.chart, board.grown(0.05 * std::max(board.width(), board.height())),
                                  area, side(), thing_.id, false);
        const Box ring = seen(around_.grown(std::max(0.6, 2.0 / map.scale)), side());
        scene::draw_box(map.scene, Role::Selection, ring, scene::Weight::Bold);
        put(std::move(map));
        scene::draw_box(words(), Role::PageRule, area, scene::Weight::Hair);
    }

    void say(const Box& box) {
        const auto line = [&](double y, const std::string& text, bool strong) {
            return scene::write_wrapped(words(), {box.min.x, y}, text, box.width(),
                                        {.role = strong ? Role::PageTextStrong : Role::PageText, .strong = strong});
        };
        double y = box.min.y + 1.0;
        for (const Conflict* conflict : thing_.conflicts) {
            if (y + 3 * scene::kLineStep_mm > box.max.y) {
                line(y, "More of it: padchart check lists all.", false);
                break;
            }
            y = line(y, said_of(*conflict), true);
            if (json::kind_of(*conflict) == json::ConflictKind::Field)
                y = line(y,
                         fmt::format("Before: {}. {}: {}. {}: {}.", value_words(conflict->base), conflict->ours_label,
                                     value_words(conflict->ours), conflict->theirs_label,
                                     value_words(conflict->theirs)),
                         false);
            y += 1.5;
        }
    }

    [[nodiscard]] std::string said_of(const Conflict& conflict) const {
        switch (json::kind_of(conflict)) {
        case json::ConflictKind::Deleted:
            return fmt::format("{} took it off, {} changed it or still speaks of it. It is still on the chart.",
                               conflict.ours.empty() ? conflict.ours_label : conflict.theirs_label,
                               conflict.ours.empty() ? conflict.theirs_label : conflict.ours_label);
        case json::ConflictKind::Twins: return "Both added something under one id. Both are on the chart.";
        case json::ConflictKind::Field: break;
        }
        return fmt::format("Its {}: the chart holds what {} says.", words_of_field(conflict.field),
                           conflict.ours_label);
    }

    void side_by_side(const Box& box) {
        const double width = (box.width() - 2 * kGap_mm) / 3.0;
        const Conflict& first = *thing_.conflicts.front();
        const std::pair<const Chart*, std::string> panes[] = {
            {&charts_.base, "Before both"}, {&charts_.ours, first.ours_label}, {&charts_.theirs, first.theirs_label}};
        const Box content =
            around_.grown(std::max(kLeastAround_mm, kAround * std::max(around_.width(), around_.height())));
        double x = box.min.x;
        for (const auto& [chart, name] : panes) {
            const Box pane{{x, box.min.y}, {x + width, box.max.y}};
            const bool is_there = document::is_taken(*chart, thing_.id);
            caption(pane, is_there ? name : name + ": not there", true);
            const Box area{{pane.min.x, pane.min.y + kCaption_mm}, pane.max};
            put(picture(*chart, content, area, side(), thing_.id, true));
            scene::draw_box(words(), Role::PageInk, area, scene::Weight::Thin);
            x += width + kGap_mm;
        }
    }

    const MergedCharts& charts_;
    const OpenThing& thing_;
    scene::PageFormat format_;
    Page page_;
    std::string title_;
    Box around_; ///< board mm; empty where it has no place
    std::optional<Side> side_;
};

std::string name_of(const MergedCharts& charts, const Id& id) {
    if (id.is_empty()) return "The chart itself";
    for (const Chart* chart : {&charts.result.chart, &charts.ours, &charts.theirs, &charts.base})
        if (document::is_taken(*chart, id)) return document::spoken_name(*chart, id);
    return id.text;
}

} // namespace

Result<void> write_merge_picture(const MergedCharts& charts, const std::string& path, bool force, Streams streams) {
    const std::vector<OpenThing> things = open_things(charts.result.conflicts);
    scene::Document document;
    document.title = "Conflicts of a merge";
    for (std::size_t i = 0; i < things.size(); ++i)
        document.pages.push_back(ConflictPage(charts, things[i],
                                              fmt::format("Open after the merge, {} of {}: {}", i + 1, things.size(),
                                                          name_of(charts, things[i].id)))
                                     .made());
    return write_document(document, paint::paper_theme(), {path, 150.0, force}, streams);
}

} // namespace padchart::cli
