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
constexpr double kAfterLabel_mm = 1.2;
constexpr double kTickRow_mm = 6.2;
constexpr double kTick_mm = 3.6;
constexpr double kCompass_mm = 5.4;
constexpr double kFoot_mm = 4.6;
/// From this width on the words stand beside the pictures.
constexpr double kWide_mm = 120.0;
/// Heights the pictures are left, by what else asks for room.
constexpr double kLeastPicture_mm = 13.0;
constexpr double kFairPicture_mm = 16.0;
constexpr double kGoodPicture_mm = 21.0;
/// The wrong turns are never shown larger than this share of the right one.
constexpr double kTurnedShare = 0.75;
/// More turns than these are named in words only.
constexpr std::size_t kMostTurned = 3;

double width_of(const std::string& text, bool strong) {
    return text_width_em(text, strong) * kTextHeight_mm;
}

/// The lines of a text whose first line begins after its label.
std::vector<std::string> lines_after_label(const std::string& label, const std::string& text, double width_mm) {
    const double first_mm = std::max(5.0, width_mm - width_of(label, true) - kAfterLabel_mm);
    std::vector<std::string> lines = wrapped(text, first_mm / kTextHeight_mm, false);
    if (lines.size() < 2) return lines;
    std::string rest = text.substr(lines.front().size());
    rest.erase(0, rest.find_first_not_of(' '));
    std::vector<std::string> more = wrapped(rest, width_mm / kTextHeight_mm, false);
    more.insert(more.begin(), lines.front());
    return more;
}

/// The labelled lines of a card, one below the other.
class Facts {
public:
    explicit Facts(double width_mm) : width_(width_mm) {}

    void add(const std::string& label, const std::string& text, bool urgent = false) {
        blocks_.push_back(block_of(label, text, urgent));
    }
    /// In front of the line with that label, else at the end. False, and nothing added, where it would not fit.
    bool add_if_it_fits(const std::string& label, const std::string& text, const std::string& before, double room_mm) {
        Block block = block_of(label, text, false);
        if (height_mm() + height_of(block) > room_mm) return false;
        const auto at = std::find_if(blocks_.begin(), blocks_.end(),
                                     [&](const Block& other) { return other.label == before + ":"; });
        blocks_.insert(at, std::move(block));
        return true;
    }

    [[nodiscard]] double height_mm() const {
        double height = 0.0;
        for (const Block& block : blocks_)
            height += height_of(block);
        return height;
    }
    [[nodiscard]] std::size_t size() const { return blocks_.size(); }

    void write_to(Scene& scene, Vec2 top_left, double gap_mm) const {
        double y = top_left.y;
        for (const Block& block : blocks_) {
            write(scene, {top_left.x, y + kStep_mm / 2.0}, block.label,
                  {.role = block.urgent ? Role::PageCaution : Role::PageTextStrong, .strong = true});
            for (std::size_t i = 0; i < block.lines.size(); ++i) {
                const double indent = i == 0 ? width_of(block.label, true) + kAfterLabel_mm : 0.0;
                write(scene, {top_left.x + indent, y + kStep_mm / 2.0}, block.lines[i]);
                y += kStep_mm;
            }
            y += gap_mm;
        }
    }

private:
    struct Block {
        std::string label;
        std::vector<std::string> lines;
        bool urgent = false;
    };

    [[nodiscard]] Block block_of(const std::string& label, const std::string& text, bool urgent) const {
        return {label + ":", lines_after_label(label + ":", text, width_), urgent};
    }
    static double height_of(const Block& block) { return static_cast<double>(block.lines.size()) * kStep_mm; }

    double width_ = 0.0;
    std::vector<Block> blocks_;
};

/// Where the pieces of a card go, page mm.
struct Layout {
    Box head;
    Box compass;
    Box picture; ///< of the part as it lies
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
    to.compass = {{inner.min.x, top}, {inner.max.x, top + kCompass_mm}};
    to.picture = {{inner.min.x, to.compass.max.y}, {middle, split}};
    to.turned = {{inner.min.x, split + 1.0}, {middle, bottom}};
    to.facts = {{middle + 4.0, to.compass.max.y}, {inner.max.x, bottom}};
    return to;
}

/// The words below the pictures; these get the height the words leave.
Layout narrow_layout(const Box& inner, double facts_mm) {
    Layout to;
    to.head = {inner.min, {inner.max.x, inner.min.y + kHead_mm}};
    to.compass = {{inner.min.x, to.head.max.y}, {inner.max.x, to.head.max.y + kCompass_mm}};
    to.ticks = {{inner.min.x, inner.max.y - kTickRow_mm}, inner.max};
    to.facts = {{inner.min.x, to.ticks.min.y - 1.0 - facts_mm}, {inner.max.x, to.ticks.min.y - 1.0}};
    const double middle = inner.min.x + 0.55 * inner.width();
    to.picture = {{inner.min.x, to.compass.max.y}, {middle, to.facts.min.y - 0.5}};
    to.turned = {{middle + 2.0, to.compass.max.y}, {inner.max.x, to.facts.min.y - 0.5}};
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
    write_fitted(scene, {tip.x + 3.4, tip.y + 1.6}, words.up + ", " + words.seen, box.max.x - tip.x - 3.4, {});
}

/// Under the page's own layer, which stays the last scene; references to scenes do not outlive this.
void add_below(Page& page, PlacedScene picture) {
    page.scenes.insert(page.scenes.end() - 1, std::move(picture));
}

void add_turned(Page& page, const Box& box, const Footprint& part, const analysis::PartFit& fit, const CardWords& words,
                double largest_scale) {
    const std::size_t count = std::min(kMostTurned, fit.risky_turns.size());
    if (count == 0) return;
    write_fitted(page.scenes.back().scene, {box.min.x, box.min.y + 2.4}, words.wrong_turns, box.width(),
                 {.role = Role::PageTextStrong});
    const double column = box.width() / static_cast<double>(count);
    const double top = box.min.y + 5.4;
    const double bottom = box.max.y - kStep_mm;
    const Vec2 room{column - 3.0, std::max(4.0, bottom - top - 1.5)};
    const double scale = std::min(
        largest_scale,
        turned_scale(part, {fit.risky_turns.begin(), fit.risky_turns.begin() + static_cast<std::ptrdiff_t>(count)},
                     room));
    for (std::size_t i = 0; i < count; ++i) {
        const double x = box.min.x + (static_cast<double>(i) + 0.5) * column;
        write(page.scenes.back().scene, {x, box.max.y - kStep_mm / 2.0}, number(fit.risky_turns[i], 0) + "°",
              {.align = Align::Centre});
        add_below(page, turned_picture(part, fit.risky_turns[i], {x, (top + bottom) / 2.0}, scale));
    }
}

/// Beside the drawing, which gives way.
Box room_for_seen(Layout& to, bool is_wide) {
    const double width = (is_wide ? 0.42 : 0.46) * to.picture.width();
    const Box room{{to.picture.max.x - width, to.picture.min.y + 0.5}, to.picture.max};
    to.picture.max.x = room.min.x - 1.5;
    return room;
}

/// As large as it fits, with its caption below.
void add_seen(Page& page, const Picture& seen, const Box& room) {
    const Box area{room.min, {room.max.x, room.max.y - kStep_mm}};
    const double scale = std::min(area.width() / seen.width, area.height() / seen.height);
    const Vec2 half = Vec2{seen.width * scale, seen.height * scale} / 2.0;
    const Box box{area.centre() - half, area.centre() + half};
    page.pictures.push_back({seen, box});
    Scene& scene = page.scenes.back().scene;
    draw_box(scene, Role::PageInk, box, Weight::Hair);
    write(scene, {room.centre().x, box.max.y + kStep_mm / 2.0}, "photo",
          {.role = Role::PageMuted, .align = Align::Centre});
}

void add_tick(Scene& scene, const Box& row, const std::string& text) {
    const double y = row.centre().y;
    draw_box(scene, Role::PageInk, {{row.min.x, y - kTick_mm / 2.0}, {row.min.x + kTick_mm, y + kTick_mm / 2.0}},
             Weight::Thin);
    write(scene, {row.min.x + kTick_mm + 1.6, y}, text);
    const double begin = row.min.x + kTick_mm + 1.6 + width_of(text, false) + 1.5;
    draw_line(scene, Role::PageInk, {begin, y + 1.8}, {row.max.x, y + 1.8}, Weight::Hair);
}

/// A box and a line for the initials of the one who fits and the one who looks again.
void add_ticks(Scene& scene, const Box& box, bool is_wide) {
    const double middle = box.min.x + (is_wide ? 0.5 : 0.43) * box.width();
    add_tick(scene, {box.min, {middle - 3.0, box.max.y}}, is_wide ? "Fitted, initials, date" : "Fitted");
    add_tick(scene, {{middle, box.min.y}, box.max}, is_wide ? "Second person, initials" : "Second person");
}

const std::string& wording(const CardLine& line, bool is_brief) {
    return is_brief && !line.brief.empty() ? line.brief : line.text;
}

/// What fits into `height_mm` beside a picture of its own height: the mark, its meaning and how it ends always; then
/// one thing it must not be confused with, the evidence, and more of the former.
Facts facts_for(const CardWords& words, double width_mm, double height_mm, bool is_brief) {
    Facts facts(width_mm);
    for (const CardLine& line : words.lines)
        facts.add(line.label, wording(line, is_brief), line.urgent);
    const auto room = [&](double picture_mm) { return is_brief ? height_mm - picture_mm : height_mm; };
    std::size_t told = 0;
    const auto tell = [&](double picture_mm) {
        const std::string label = told == 0 ? "Beware" : "Nor";
        if (!facts.add_if_it_fits(label, words.confusions[told], "If wrong", room(picture_mm))) return false;
        ++told;
        return true;
    };
    if (!words.confusions.empty()) tell(kLeastPicture_mm);
    if (words.evidence && !facts.add_if_it_fits("Evidence", words.evidence->text, {}, room(kFairPicture_mm)))
        facts.add_if_it_fits("Evidence", wording(*words.evidence, true), {}, room(kLeastPicture_mm));
    while (told > 0 && told < words.confusions.size() && tell(kGoodPicture_mm)) {
    }
    return facts;
}

const analysis::PartFit& fit_of_part(const analysis::FitReport& report, const document::Id& id) {
    const auto found = std::find_if(report.parts.begin(), report.parts.end(),
                                    [&id](const analysis::PartFit& fit) { return fit.part == id; });
    assert(found != report.parts.end());
    return *found;
}

} // namespace

const Picture* evidence_of(const std::vector<EvidencePicture>& evidence, const document::Id& part) {
    for (const EvidencePicture& one : evidence)
        if (one.part == part && !one.picture.is_empty()) return &one.picture;
    return nullptr;
}

void add_card(Page& page, const Box& box, const Chart& chart, const Footprint& part, const analysis::PartFit& fit,
              const Picture* seen) {
    assert(box.width() >= kLeastCardWidth_mm && box.height() >= kLeastCardHeight_mm);
    if (page.scenes.empty()) page.scenes.emplace_back();
    const CardWords words = card_words(chart, part, fit);
    const Box inner = box.grown(-kPadding_mm);
    const bool is_wide = box.width() >= kWide_mm;
    Layout to = wide_layout(inner);
    const double height = is_wide ? to.facts.height() : inner.height() - kHead_mm - kCompass_mm - kTickRow_mm - 1.5;
    const Facts facts = facts_for(words, is_wide ? to.facts.width() : inner.width(), height, !is_wide);
    if (!is_wide) to = narrow_layout(inner, facts.height_mm());

    Scene& scene = page.scenes.back().scene;
    draw_box(scene, Role::PageInk, box, Weight::Thin);
    add_head(scene, to.head, words);
    add_compass(scene, to.compass, words);
    const double gaps = static_cast<double>(facts.size());
    const double gap = is_wide ? std::clamp((to.facts.height() - facts.height_mm()) / gaps, 0.0, 2.0) : 0.0;
    facts.write_to(scene, to.facts.min, gap);
    add_ticks(scene, to.ticks, is_wide);
    if (is_wide)
        write_fitted(scene, to.foot.centre(), words.identification, to.foot.width(),
                     {.role = Role::PageMuted, .align = Align::Centre});
    if (seen != nullptr) add_seen(page, *seen, room_for_seen(to, is_wide));
    PlacedScene picture = part_picture(part, fit, to.picture);
    const double scale = picture.scale;
    add_below(page, std::move(picture));
    add_turned(page, to.turned, part, fit, words, kTurnedShare * scale);
}

Page orientation_card(const Chart& chart, const Footprint& part, const analysis::PartFit& fit, const Picture* seen) {
    Page page{.width_mm = kCardWidth_mm, .height_mm = kCardHeight_mm, .bookmark = part.name};
    constexpr double kEdge_mm = 3.0;
    add_card(page, Box{{0, 0}, {kCardWidth_mm, kCardHeight_mm}}.grown(-kEdge_mm), chart, part, fit, seen);
    return page;
}

std::vector<document::Id> parts_that_need_a_card(const Chart& chart, const analysis::FitReport& fit) {
    std::vector<document::Id> ids;
    for (const Footprint& part : chart.parts)
        if (part.condition.presence != document::Presence::NotFitted && fit_of_part(fit, part.id).needs_record)
            ids.push_back(part.id);
    return ids;
}

Document orientation_cards(const Chart& chart, const analysis::FitReport& fit, const std::vector<document::Id>& parts,
                           const std::vector<EvidencePicture>& evidence) {
    Document cards;
    cards.title = chart.title.title.empty() ? "Orientation cards" : chart.title.title + ": orientation cards";
    cards.author = chart.title.author;
    cards.subject = "Orientation cards";
    cards.day = chart.title.date;
    for (const document::Id& id : parts) {
        const auto at = document::find_part(chart, id);
        assert(at);
        cards.pages.push_back(
            orientation_card(chart, chart.parts[*at], fit_of_part(fit, id), evidence_of(evidence, id)));
    }
    return cards;
}

} // namespace padchart::scene
