#include "scene/sheet_cards.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "patterns/labels.hpp"
#include "patterns/marks.hpp"
#include "scene/sheet_blocks.hpp"
#include "scene/words.hpp"

namespace padchart::scene {

using document::Chart;
using document::Footprint;
using document::RecordState;
using geometry::Box;
using geometry::Vec2;

namespace {

constexpr double kCardHeight_mm = 49.0;
constexpr double kSketch_mm = 40.0; ///< width and height of the picture's field
constexpr double kHeader_mm = 11.0;

struct Card {
    const Footprint* part = nullptr;
    const analysis::PartFit* fit = nullptr;
};

std::vector<Card> cards_of(const Chart& chart, const Reports& reports) {
    std::vector<Card> cards;
    if (reports.fit == nullptr) return cards;
    for (const analysis::PartFit& fit : reports.fit->parts)
        if (const auto at = document::find_part(chart, fit.part); at && fit.needs_record)
            cards.push_back({&chart.parts[*at], &fit});
    return cards;
}

/// The part alone, as it sits, seen from its own side, without its name: the card says that.
PlacedScene sketch(const Card& card, const Box& field) {
    Chart alone;
    alone.parts.add(*card.part);
    ViewOptions view;
    view.seen_from = card.part->placement.side;
    view.show_labels = false;
    analysis::FitReport fit;
    fit.parts.push_back(*card.fit);
    PlacedScene placed{.scene = chart_scene(alone, {nullptr, &fit}, view)};
    const Box& box = placed.scene.bounds;
    if (box.is_empty()) return placed;
    placed.scale = std::min({(field.width() - 8.0) / std::max(box.width(), 0.1),
                             (field.height() - 8.0) / std::max(box.height(), 0.1), 50.0});
    placed.at = field.centre() - box.centre() * placed.scale;
    placed.clip = field;
    return placed;
}

std::string turns_in_words(const std::vector<double>& turns) {
    std::string text;
    for (std::size_t i = 0; i < turns.size(); ++i)
        text += fmt::format("{}{}°", i == 0 ? "" : i + 1 == turns.size() ? " and " : ", ", number(turns[i], 0));
    return text;
}

std::string record_in_words(const Footprint& part) {
    switch (part.orientation.state) {
    case RecordState::Recorded:
        return fmt::format("Now: {} at {}.", mark_and_meaning(part.orientation), mark_place(part));
    case RecordState::NoMark: return "No mark to be seen: mark the board or take a picture before heat.";
    case RecordState::NotRecorded: break;
    }
    return "UNKNOWN: record it before heat. Once the part is off, the evidence is gone.";
}

std::vector<std::string> sentences(const Card& card) {
    const Footprint& part = *card.part;
    std::vector<std::string> list{record_in_words(part)};
    list.push_back(fmt::format("Also fits turned by {}. Fitted so: {}.", turns_in_words(card.fit->risky_turns),
                               patterns::consequence_text(static_cast<int>(card.fit->consequence))));
    if (part.orientation.state == RecordState::Recorded) {
        const auto usual = patterns::usual_meaning(part.part_class, part.orientation.mark);
        if (usual && !usual->remark.empty()) list.emplace_back(usual->remark);
        if (part.orientation.evidence.kind != document::EvidenceKind::NotStated)
            list.push_back(fmt::format("Evidence: {}.", patterns::label_of(part.orientation.evidence.kind)));
    }
    return list;
}

void add_tick_boxes(Scene& scene, Vec2 at) {
    for (const char* text : {"way round noted", "placed so", "second person"}) {
        draw_box(scene, Role::PageInk, {{at.x, at.y - 1.8}, {at.x + 3.6, at.y + 1.8}}, Weight::Thin);
        write(scene, {at.x + 5.4, at.y}, text);
        at.x += 8.0 + text_width_em(text, false) * kTextHeight_mm;
    }
}

void add_card(Page& page, const Card& card, const Box& box) {
    const Box field{{box.min.x + 2, box.min.y + kHeader_mm - 1}, {box.min.x + 2 + kSketch_mm, box.max.y - 1}};
    page.scenes.insert(page.scenes.end() - 1, sketch(card, field));
    Scene& scene = page.scenes.back().scene;
    draw_box(scene, Role::PageInk, box, Weight::Thin);
    const bool bottom = card.part->placement.side == document::Side::Bottom;
    write_fitted(scene, {box.min.x + 4, box.min.y + 5.5}, card.part->name.empty() ? "no name" : card.part->name, 36.0,
                 {.role = Role::PageHeading, .height_mm = kHeadingHeight_mm});
    const double x = field.max.x + 4.0;
    const double width = box.max.x - 4.0 - x;
    write_fitted(scene, {x, box.min.y + 5.5},
                 fmt::format("{}, {} side, seen from the {}; not to scale", in_words(card.part->part_class),
                             bottom ? "bottom" : "top", bottom ? "bottom" : "top"),
                 width, {.role = Role::PageMuted});
    double y = box.min.y + kHeader_mm;
    bool is_first = true;
    for (const std::string& sentence : sentences(card)) {
        const TextStyle style{.role = is_first ? Role::PageTextStrong : Role::PageText, .strong = is_first};
        if (y + wrapped_height_mm(sentence, width, style) > box.max.y - 8.5) break;
        y = write_wrapped(scene, {x, y}, sentence, width, style) + 0.5;
        is_first = false;
    }
    add_tick_boxes(scene, {x, box.max.y - 5.0});
}

} // namespace

std::vector<Page> card_pages(const Chart& chart, const Reports& reports, const PageFormat& format) {
    std::vector<Page> pages;
    const Box frame = format.frame();
    const double bottom = frame.max.y - kTitleStrip_mm - 4.0;
    double y = bottom;
    for (const Card& card : cards_of(chart, reports)) {
        if (y + kCardHeight_mm > bottom) {
            pages.push_back(format.blank(pages.empty() ? "Which way round" : "Which way round, continued"));
            write(pages.back().scenes.back().scene, {frame.min.x + 4, frame.min.y + 7.0},
                  "Which way round: parts that also fit turned",
                  {.role = Role::PageHeading, .height_mm = kHeadingHeight_mm});
            y = frame.min.y + 13.0;
        }
        add_card(pages.back(), card, {{frame.min.x + 4, y}, {frame.max.x - 4, y + kCardHeight_mm - 3.0}});
        y += kCardHeight_mm;
    }
    return pages;
}

} // namespace padchart::scene
