#include "app/draft_journal.hpp"

#include <algorithm>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "app/orient_desk.hpp"
#include "app/survey_desk.hpp"
#include "document/edits.hpp"
#include "document/things.hpp"

namespace padchart::app {
namespace {

using document::Chart;
using document::Id;

// Of the record of a part that has a draft; other parts are there only because something speaks of them.
constexpr std::string_view kPlaced = "draft-has-place";

Id numbered(const char* what, std::size_t number) {
    return Id{fmt::format("{}-{}", what, number)};
}

/// What was typed for a reading may be no number: it lies in a note of the same number.
Id typed_of(std::size_t number) {
    return numbered("draft-typed", number);
}

void add_part(Chart& out, const Chart& chart, const Id& id) {
    const auto at = document::find_part(chart, id);
    if (!at || document::find_part(out, id)) return;
    out.parts.add(chart.parts[*at]);
}

void add_pin(Chart& out, const Chart& chart, const PinDraft& pin, std::size_t number) {
    add_part(out, chart, pin.note ? pin.note->target : pin.reading->target);
    if (pin.note) {
        document::Note note = *pin.note;
        note.id = numbered("draft-note", number);
        out.notes.add(std::move(note));
        return;
    }
    document::Reading reading = *pin.reading;
    reading.id = numbered("draft-reading", number);
    out.readings.add(std::move(reading));
    document::Note typed;
    typed.id = typed_of(number);
    typed.text = pin.value;
    out.notes.add(std::move(typed));
}

/// Nothing where the part has no draft.
std::optional<OrientDraft> take_mark(document::Footprint part) {
    OrientDraft draft{part.id, std::move(part.orientation), false};
    const auto taken = std::erase_if(draft.orientation.extras, [&](const auto& extra) {
        if (extra.first != kPlaced) return false;
        draft.has_place = extra.second == "true";
        return true;
    });
    return taken == 0 ? std::nullopt : std::optional(std::move(draft));
}

std::string typed_for(const Chart& drafts, const Id& reading) {
    for (std::size_t number = 0; number < drafts.notes.size(); ++number)
        if (numbered("draft-reading", number) == reading)
            for (const document::Note& note : drafts.notes)
                if (note.id == typed_of(number)) return note.text;
    return "";
}

bool is_typed_of_reading(const document::Note& note) {
    return note.id.text.starts_with("draft-typed-");
}

} // namespace

std::optional<Chart> drafts_as_chart(const Session& s) {
    const std::vector<PinDraft> pins = typed_pins(s);
    const std::vector<Id> marked = parts_with_drafts(s);
    if (pins.empty() && marked.empty()) return std::nullopt;
    Chart out;
    const Chart& chart = s.editor.chart();
    for (std::size_t i = 0; i < pins.size(); ++i)
        add_pin(out, chart, pins[i], i);
    for (const Id& id : marked) {
        add_part(out, chart, id);
        const OrientDraft& draft = *unrecorded_draft(s, id);
        Result<Chart> with = document::set_orientation(out, id, [&] {
            document::Orientation o = draft.orientation;
            o.extras.emplace_back(kPlaced, draft.has_place ? "true" : "false");
            return o;
        }());
        if (with) out = std::move(*with);
    }
    return out;
}

void await_drafts(Session& s, const Chart& drafts) {
    SurveyDesk& desk = s.desks.get<SurveyDesk>();
    const Chart& chart = s.editor.chart();
    for (document::Note note : drafts.notes) {
        if (is_typed_of_reading(note)) continue;
        if (!document::is_part(chart, note.target)) note.target = {};
        desk.waiting.push_back({std::move(note), {}, {}});
    }
    for (document::Reading reading : drafts.readings) {
        std::string typed = typed_for(drafts, reading.id);
        if (!document::is_part(chart, reading.target)) reading.target = {};
        desk.waiting.push_back({{}, std::move(reading), std::move(typed)});
    }
    for (const document::Footprint& part : drafts.parts)
        if (auto draft = take_mark(part); draft && document::find_part(chart, draft->part))
            await_draft(s, std::move(*draft));
}

} // namespace padchart::app
