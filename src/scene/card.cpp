#include "scene/card.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "scene/card_picture.hpp"
#include "scene/card_words.hpp"
#include "scene/page_writer.hpp"
#include "scene/words.hpp"

namespace padchart::scene {

using document::Chart;
using document::Footprint;
using geometry::Box;
using geometry::Vec2;

namespace {

constexpr double kPadding_mm = 3.5;
constexpr double kNameHeight_mm = 5.6;
constexpr double kHead_mm = 12.5;
constexpr double kStep_mm = 4.2;
constexpr double kTickRow_mm = 6.2;
constexpr double kTick_mm = 3.6;
constexpr double kCompass_mm = 9.0;
constexpr double kFoot_mm = 4.6;
/// From this width on the words stand beside the pictures.
constexpr double kWide_mm = 120.0;
constexpr double kLeastPicture_mm = 27.0; // with the compass
/// More turns than these are named in words only.
constexpr std::size_t kMostTurned = 3;

double width_of(const std::string& text, bool strong) {
    return text_width_em(text, strong) * kTextHeight_mm;
}

/// The lines of a text whose first line begins after its label.
std::vector<std::string> lines_after_label(const std::string& label, const std::string& text, double width_mm) {
    const double first_mm = std::max(5.0, width_mm - width_of(label, true) - 1.2);
    std::vector<std::string> lines = wrapped(text, first_mm / kTextHeight_mm, false);
    if (lines.size() < 2) return lines;
    std::string rest = text.substr(lines.front().size());
    rest.erase(0, rest.find_first_not_of(' '));
    std::vector<std::string> more = wrapped(rest, width_mm / kTextHeight_mm, false);
    more.insert(more.begin(), lines.front());
    return more;
}

/// The labelled lines of a card, made to fit a height: of the confusions as many as there is room for.
class Facts {
public:
    Facts(const CardWords& words, double width_mm) : width_(width_mm) {
        for (const CardLine& line : words.lines)
            add(line);
    }

    /// Behind what the mark is and means. False where it does not fit.
    bool add_confusion(const std::string& text, double room_mm) {
        const CardLine line{confused_ ? "Nor" : "Beware", text, false};
        Block block = block_of(line);
        if (height_mm() + height_of(block) > room_mm) return false;
        const auto behind =
            std::find_if(blocks_.begin(), blocks_.end(), [](const Block& other) { return other.label == "If wrong:"; });
        blocks_.insert(behind, std::move(block));
        confused_ = true;
        return true;
    }

    [[nodiscard]] double height_mm() const {
        double height = 0.0;
        for (const Block& block : blocks_)
            height += height_of(block);
        return height;
    }

    void write_to(Scene& scene, Vec2 top_left, double gap_mm) const {
        double y = top_left.y;
        for (const Block& block : blocks_) {
            write(scene, {top_left.x, y + kStep_mm / 2.0}, block.label,
                  {.role = block.urgent ? Role::PageCaution : Role::PageTextStrong, .strong = true});
            for (std::size_t i = 0; i < block.lines.size(); ++i) {
                const double indent = i == 0 ? width_of(block.label, true) + 1.2 : 0.0;
                write(scene, {top_left.x + indent, y + kStep_mm / 2.0}, block.lines[i]);
                y += kStep_mm;
            }
            y += gap_mm;
        }
    }

    [[nodiscard]] std::size_t size() const { return blocks_.size(); }

private:
    struct Block {
        std::string label;
        std::vector<std::string> lines;
        bool urgent = false;
    };

    [[nodiscard]] Block block_of(const CardLine& line) const {
        const std::string label = line.label + ":";
        return {label, lines_after_label(label, line.text, width_), line.urgent};
    }
    void add(const CardLine& line) { blocks_.push_back(block_of(line)); }
    static double height_of(const Block& block) { return static_cast<double>(block.lines.size()) * kStep_mm; }

    double width_ = 0.0;
    std::vector<Block> blocks_;
    bool confused_ = false;
};

/// Where the pieces of a card go, page mm.
struct Layout {
    Box head;
    Box picture; ///< of the part as it lies, the compass above it
    Box turned;  ///< of the wrong turns
    Box facts;
    Box ticks;
    Box foot; ///< empty where there is none
};

Layout wide_layout(const Box& inner) {
    Layout to;
    to.head = {inner.min, {inner.max.x, inner.min.y + kHead_mm}};
    to.foot = {{inner.min.x, inner.max.y - kFoot_mm}, inner.max};
    to.ticks = {{inner.min.x, to.foot.min.y - kTickRow_mm - 1.0}, {inner.max.x, to.foot.min.y - 1.0}};
    const double middle = inner.min.x + 0.45 * inner.width();
    const double top = to.head.max.y + 1.0;
    const double bottom = to.ticks.min.y - 2.0;
    const double split = top + 0.64 * (bottom - top);
    to.picture = {{inner.min.x, top}, {middle, split}}; // with the compass
    to.turned = {{inner.min.x, split + 1.0}, {middle, bottom}};
    to.facts = {{middle + 4.0, top}, {inner.max.x, bottom}};
    return to;
}

/// The words below the pictures; these get the height the words leave.
Layout narrow_layout(const Box& inner, double facts_mm) {
    Layout to;
    to.head = {inner.min, {inner.max.x, inner.min.y + kHead_mm}};
    to.ticks = {{inner.min.x, inner.max.y - 2.0 * kTickRow_mm}, inner.max};
    to.facts = {{inner.min.x, to.ticks.min.y - 1.0 - facts_mm}, {inner.max.x, to.ticks.min.y - 1.0}};
    const double middle = inner.min.x + 0.52 * inner.width();
    to.picture = {{inner.min.x, to.head.max.y}, {middle, to.facts.min.y - 0.5}};
    to.turned = {{middle + 2.0, to.head.max.y}, {inner.max.x, to.facts.min.y - 0.5}};
    return to;
}

void add_head(Scene& scene, const Box& box, const CardWords& words) {
    const double y = box.min.y + kNameHeight_mm / 2.0;
    write_fitted(scene, {box.min.x, y}, words.name, 0.5 * box.width(),
                 {.role = Role::PageHeading, .height_mm = kNameHeight_mm, .strong = true});
    const double status_end = words.is_open ? box.max.x - 2.4 : box.max.x;
    write(scene, {status_end, y}, words.status,
          {.role = words.is_open ? Role::PageCaution : Role::PageTextStrong, .align = Align::Right, .strong = true});
    if (words.is_open) {
        const double width = width_of(words.status, true);
        draw_box(scene, Role::PageInk, Box{{status_end - width, y}, {status_end, y}}.grown(2.4), Weight::Thin);
    }
    write_fitted(scene, {box.min.x, box.min.y + 8.7}, words.kind, box.width(), {});
    draw_line(scene, Role::PageRule, {box.min.x, box.min.y + kHead_mm - 1.2}, {box.max.x, box.min.y + kHead_mm - 1.2});
}

/// The board's edge that is up, an arrow to it, and its name.
void add_compass(Scene& scene, const Box& box, const CardWords& words) {
    const Vec2 tip{box.min.x + 2.2, box.min.y + 1.2};
    draw_line(scene, Role::PageInk, {tip.x - 2.0, tip.y - 0.7}, {tip.x + 2.0, tip.y - 0.7}, Weight::Bold);
    draw_line(scene, Role::PageInk, tip, {tip.x, tip.y + 3.6}, Weight::Normal);
    scene.add(Role::PageInk, Fill{{{tip, {tip.x + 1.1, tip.y + 1.9}, {tip.x - 1.1, tip.y + 1.9}}, {}}});
    const double room = box.max.x - tip.x - 3.4;
    write_fitted(scene, {tip.x + 3.4, tip.y + 1.6}, words.up, room, {});
    write_fitted(scene, {tip.x + 3.4, tip.y + 1.6 + kStep_mm}, words.seen, room, {});
}

void add_turned(Page& page, const Box& box, const Footprint& part, const analysis::PartFit& fit,
                const CardWords& words) {
    const std::size_t count = std::min(kMostTurned, fit.risky_turns.size());
    if (count == 0) return;
    write_fitted(page.scenes.front().scene, {box.min.x, box.min.y + 2.4}, words.wrong_turns, box.width(),
                 {.role = Role::PageTextStrong});
    const double column = box.width() / static_cast<double>(count);
    const double top = box.min.y + 5.4;
    const double bottom = box.max.y - kStep_mm;
    const Vec2 room{column - 3.0, std::max(4.0, bottom - top - 1.5)};
    const double scale = turned_scale(
        part, {fit.risky_turns.begin(), fit.risky_turns.begin() + static_cast<std::ptrdiff_t>(count)}, room);
    for (std::size_t i = 0; i < count; ++i) {
        const double x = box.min.x + (static_cast<double>(i) + 0.5) * column;
        // By name each time: a picture added may move the scenes.
        write(page.scenes.front().scene, {x, box.max.y - kStep_mm / 2.0}, number(fit.risky_turns[i], 0) + "°",
              {.align = Align::Centre});
        page.scenes.push_back(turned_picture(part, fit.risky_turns[i], {x, (top + bottom) / 2.0}, scale));
    }
}

void add_tick(Scene& scene, const Box& row, const std::string& text) {
    const double y = row.centre().y;
    draw_box(scene, Role::PageInk, {{row.min.x, y - kTick_mm / 2.0}, {row.min.x + kTick_mm, y + kTick_mm / 2.0}},
             Weight::Thin);
    write(scene, {row.min.x + kTick_mm + 1.6, y}, text);
    const double begin = row.min.x + kTick_mm + 1.6 + width_of(text, false) + 1.5;
    draw_line(scene, Role::PageInk, {begin, y + 1.8}, {row.max.x, y + 1.8}, Weight::Hair);
}

void add_ticks(Scene& scene, const Box& box) {
    const bool is_one_row = box.height() < 2.0 * kTickRow_mm - 0.1;
    const Vec2 middle = box.centre();
    const Box first = is_one_row ? Box{box.min, {middle.x - 3.0, box.max.y}} : Box{box.min, {box.max.x, middle.y}};
    const Box second = is_one_row ? Box{{middle.x, box.min.y}, box.max} : Box{{box.min.x, middle.y}, box.max};
    add_tick(scene, first, "Fitted, initials, date");
    add_tick(scene, second, "Second person, initials");
}

Facts facts_for(const CardWords& words, double width_mm, double room_mm) {
    Facts facts(words, width_mm);
    for (const std::string& text : words.confusions)
        if (!facts.add_confusion(text, room_mm)) break;
    return facts;
}

const analysis::PartFit& fit_of_part(const analysis::FitReport& report, const document::Id& id) {
    const auto found = std::find_if(report.parts.begin(), report.parts.end(),
                                    [&id](const analysis::PartFit& fit) { return fit.part == id; });
    assert(found != report.parts.end());
    return *found;
}

} // namespace

void add_card(Page& page, const Box& box, const Chart& chart, const Footprint& part, const analysis::PartFit& fit) {
    assert(box.width() >= kLeastCardWidth_mm && box.height() >= kLeastCardHeight_mm);
    if (page.scenes.empty()) page.scenes.emplace_back();
    const CardWords words = card_words(chart, part, fit);
    const Box inner = box.grown(-kPadding_mm);
    const bool is_wide = box.width() >= kWide_mm;
    Layout to = wide_layout(inner);
    const double room =
        is_wide ? to.facts.height() : inner.height() - kHead_mm - kLeastPicture_mm - 2.0 * kTickRow_mm - 1.5;
    const Facts facts = facts_for(words, is_wide ? to.facts.width() : inner.width(), room);
    if (!is_wide) to = narrow_layout(inner, facts.height_mm());

    Scene& scene = page.scenes.front().scene;
    draw_box(scene, Role::PageInk, box, Weight::Thin);
    add_head(scene, to.head, words);
    add_compass(scene, to.picture, words);
    const double gaps = static_cast<double>(facts.size());
    const double gap = is_wide ? std::clamp((to.facts.height() - facts.height_mm()) / gaps, 0.0, 2.0) : 0.0;
    facts.write_to(scene, to.facts.min, gap);
    add_ticks(scene, to.ticks);
    if (is_wide)
        write_fitted(scene, to.foot.centre(), words.identification, to.foot.width(),
                     {.role = Role::PageMuted, .align = Align::Centre});
    const Box picture{{to.picture.min.x, to.picture.min.y + kCompass_mm}, to.picture.max};
    page.scenes.push_back(part_picture(part, fit, picture));
    add_turned(page, to.turned, part, fit, words);
}

Page orientation_card(const Chart& chart, const Footprint& part, const analysis::PartFit& fit) {
    Page page{.width_mm = kCardWidth_mm, .height_mm = kCardHeight_mm, .bookmark = part.name};
    constexpr double kEdge_mm = 3.0;
    add_card(page, Box{{0, 0}, {kCardWidth_mm, kCardHeight_mm}}.grown(-kEdge_mm), chart, part, fit);
    return page;
}

std::vector<document::Id> parts_that_need_a_card(const Chart& chart, const analysis::FitReport& fit) {
    std::vector<document::Id> ids;
    for (const Footprint& part : chart.parts)
        if (part.condition.presence != document::Presence::NotFitted && fit_of_part(fit, part.id).needs_record)
            ids.push_back(part.id);
    return ids;
}

Document orientation_cards(const Chart& chart, const analysis::FitReport& fit, const std::vector<document::Id>& parts) {
    Document cards;
    cards.title = chart.title.title.empty() ? "Orientation cards" : chart.title.title + ": orientation cards";
    cards.author = chart.title.author;
    cards.subject = "Orientation cards";
    cards.day = chart.title.date;
    for (const document::Id& id : parts) {
        const auto at = document::find_part(chart, id);
        assert(at);
        cards.pages.push_back(orientation_card(chart, chart.parts[*at], fit_of_part(fit, id)));
    }
    return cards;
}

} // namespace padchart::scene
