#include "app/conflict_desk.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "app/trace_log.hpp"
#include "base/counted.hpp"
#include "cli/shared.hpp"

namespace padchart::app {
namespace {

using document::Chart;
using document::Conflict;
using json::Settle;

std::string field_words(const std::string& field) {
    std::string text = field.empty() ? "" : field.substr(1);
    std::replace(text.begin(), text.end(), '/', ' ');
    std::replace(text.begin(), text.end(), '_', ' ');
    return text;
}

/// "mark, bearing deg and meaning" without what they have in common.
std::string fields_in_words(const Chart& chart, const std::vector<std::size_t>& fields) {
    if (fields.size() == 1) return field_words(chart.conflicts[fields.front()].field);
    const std::string& first = chart.conflicts[fields.front()].field;
    std::string text = field_words(first.substr(0, first.rfind('/')));
    if (!text.empty()) text += ": ";
    for (std::size_t i = 0; i < fields.size(); ++i) {
        const std::string& field = chart.conflicts[fields[i]].field;
        if (i > 0) text += i + 1 == fields.size() ? " and " : ", ";
        text += field_words(field.substr(field.rfind('/')));
    }
    return text;
}

std::string thing_in_words(const Chart& chart, const document::Id& thing) {
    if (thing.is_empty()) return "The chart itself";
    const std::string name = cli::display_name(chart, thing);
    return name.empty() ? thing.text : name;
}

std::optional<document::Footprint> part_of(const Result<Chart>& chart, const document::Id& id) {
    if (!chart) return std::nullopt;
    const auto at = document::find_part(*chart, id);
    return at ? std::optional(chart->parts[*at]) : std::nullopt;
}

OpenConflict made_of(const Chart& chart, std::size_t position) {
    const Conflict& conflict = chart.conflicts[position];
    OpenConflict out;
    out.position = position;
    out.fields = json::statement_of(chart, position);
    out.kind = json::kind_of(conflict);
    out.what = thing_in_words(chart, conflict.thing);
    if (const std::string fields = fields_in_words(chart, out.fields); !fields.empty()) out.what += ", " + fields;
    out.ours_label = conflict.ours_label.empty() ? "one hand" : conflict.ours_label;
    out.theirs_label = conflict.theirs_label.empty() ? "the other" : conflict.theirs_label;
    if (!document::find_part(chart, conflict.thing)) return out;
    constexpr std::array kSides{Settle::Ours, Settle::Theirs, Settle::Base};
    for (std::size_t i = 0; i < kSides.size(); ++i)
        out.part[i] = part_of(json::settle(chart, position, kSides[i]), conflict.thing);
    return out;
}

ConflictDesk& desk_of(Session& s) {
    return s.desks.get<ConflictDesk>();
}

void after_settling(Session& s, const std::string& what) {
    trace("conflict settled", what);
    if (s.editor.chart().conflicts.empty()) {
        s.editor.tell(Severity::Note, "Every conflict of the merge is settled.");
        return;
    }
    show_conflicts(s);
}

} // namespace

std::vector<std::size_t> ConflictDesk::open(const Chart& chart) {
    std::vector<std::size_t> firsts;
    for (std::size_t i = 0; i < chart.conflicts.size(); ++i)
        if (json::statement_of(chart, i).front() == i) firsts.push_back(i);
    return firsts;
}

const std::optional<OpenConflict>& ConflictDesk::current(const std::shared_ptr<const Chart>& chart) {
    if (made_of_ == chart && made_number_ == number_) return made_;
    made_of_ = chart;
    made_.reset();
    const std::vector<std::size_t> all = open(*chart);
    number_ = all.empty() ? 0 : std::min(number_, all.size() - 1);
    made_number_ = number_;
    if (!all.empty()) made_ = made_of(*chart, all[number_]);
    return made_;
}

std::string conflicts_in_words(const Chart& chart) {
    return counted(ConflictDesk::open(chart).size(), "conflict") + " of a merge";
}

void settle_conflict(Session& s, Settle choice) {
    const auto open = desk_of(s).current(s.editor.snapshot());
    if (!open) return;
    if (s.editor.commit(json::settle(s.editor.chart(), open->position, choice), "Settle " + open->what))
        after_settling(s, open->what);
}

void settle_conflict_with(Session& s, const std::string& typed) {
    const auto open = desk_of(s).current(s.editor.snapshot());
    if (!open || open->kind != json::ConflictKind::Field || open->fields.size() != 1) return;
    const Conflict& conflict = s.editor.chart().conflicts[open->position];
    const std::string& like = conflict.ours.empty() ? conflict.theirs : conflict.ours;
    const std::optional<std::string> value = json::as_json_like(like, typed);
    if (!value) {
        s.editor.tell(Severity::Warning, "\"" + typed + "\" is no number; write digits with a point or a comma.");
        return;
    }
    if (s.editor.commit(json::settle_with(s.editor.chart(), open->position, *value), "Settle " + open->what))
        after_settling(s, open->what);
}

void show_conflicts(Session& s) {
    s.panel = Panel::Conflicts;
    // What called for it has been followed.
    if (s.editor.notice() && s.editor.notice()->text.starts_with(kToBeSettled)) s.editor.clear_notice();
    const auto& open = desk_of(s).current(s.editor.snapshot());
    if (!open) return;
    const document::Id thing = s.editor.chart().conflicts[open->position].thing;
    if (document::find_part(s.editor.chart(), thing)) s.go_to(thing);
    trace("conflict", open->what);
}

void step_conflict(Session& s, int by) {
    const auto count = static_cast<int>(ConflictDesk::open(s.editor.chart()).size());
    if (count == 0) return;
    ConflictDesk& desk = desk_of(s);
    desk.stand_at(static_cast<std::size_t>((static_cast<int>(desk.number()) + by % count + count) % count));
    show_conflicts(s);
}

} // namespace padchart::app
