#include "app/inspect_edits.hpp"

#include <algorithm>
#include <chrono>
#include <utility>

#include <fmt/format.h>

#include "app/documents.hpp"
#include "app/picture.hpp"
#include "app/today.hpp"
#include "app/trace_log.hpp"
#include "app/work_desk.hpp"
#include "cli/frozen.hpp"
#include "document/edits.hpp"
#include "scene/inspect_overlay.hpp"

namespace padchart::app {
namespace {

using analysis::SweepStep;
using document::Chart;
using document::Condition;
using document::Footprint;
using document::Id;
using document::Tick;

InspectDesk& desk_of(Session& s) {
    return s.desks.get<InspectDesk>();
}

std::string who(Session& s) {
    const std::string& by = desk_of(s).by;
    return by.empty() ? s.editor.chart().title.author : by;
}

/// Where the walk stands: at what is framed on the board, also where that came with the same frame as the key.
std::optional<std::size_t> position_in_hand(Session& s) {
    InspectDesk& desk = desk_of(s);
    desk.follow(s.editor.chart(), s.editor.selection());
    return desk.current(s.editor.chart());
}

/// The step in hand; null without one.
const SweepStep* step_in_hand(Session& s) {
    const auto at = position_in_hand(s);
    return at ? &desk_of(s).answer()->steps[*at] : nullptr;
}

const Footprint* find(const Chart& chart, const Id& id) {
    const auto at = document::find_part(chart, id);
    return at ? &chart.parts[*at] : nullptr;
}

Tick new_tick(const Chart& chart, std::string_view task, const Id& target) {
    Tick tick;
    tick.id = document::free_id(chart, "tick", std::string(task) + target.text);
    tick.task = task;
    tick.target = target;
    return tick;
}

Tick part_tick(Session& s, const SweepStep& step) {
    const Tick* there = analysis::sweep_tick(s.editor.chart(), step.subject());
    Tick tick = there != nullptr ? *there : new_tick(s.editor.chart(), analysis::kSameAsBefore, step.subject());
    tick.by = who(s);
    tick.date = today();
    return tick;
}

template <class State>
void take_over(State& now, State before) {
    if (now == State::NotChecked) now = before;
}

/// What nobody has said anew is as it was.
Condition filled_in(Condition now, const Condition& before) {
    take_over(now.presence, before.presence);
    take_over(now.seating, before.seating);
    take_over(now.joint, before.joint);
    take_over(now.body, before.body);
    take_over(now.land, before.land);
    return now;
}

Result<Chart> with_states_as_before(const Chart& chart, const SweepStep& step, const Chart& before) {
    const Footprint* was = find(before, step.before_id);
    const Footprint* is = find(chart, step.after_id);
    if (was == nullptr || is == nullptr) return chart;
    Footprint part = *is;
    part.condition = filled_in(part.condition, was->condition);
    if (part.pads.size() == was->pads.size())
        for (std::size_t i = 0; i < part.pads.size(); ++i) {
            if (part.pads[i].number != was->pads[i].number) continue;
            take_over(part.pads[i].land, was->pads[i].land);
            take_over(part.pads[i].joint, was->pads[i].joint);
        }
    return document::change_part(chart, part.id, [&](Footprint& changed) { changed = part; });
}

std::string spoken(const SweepStep& step) {
    return step.name.empty() ? "a part without a name" : step.name;
}

void show_place(Session& s, const Inspection& inspection, const Footprint& missing) {
    const scene::BeforeAfter pair{*inspection.before, s.editor.chart(), inspection.report};
    for (const document::Side side : {document::Side::Top, document::Side::Bottom})
        if (scene::side_before(pair, side) == missing.placement.side && side != s.seen_from) s.flip_side();
    const geometry::Affine map =
        scene::after_scene_from_before_scene(pair, s.seen_from) * scene::scene_from_board(missing.placement.side);
    geometry::Box box;
    const geometry::Ring extent = document::extent_on_board(missing);
    for (const geometry::Vec2 point : extent.empty() ? geometry::Ring{missing.placement.at} : extent)
        box.add(map(point));
    s.editor.select({});
    s.camera.show(box, 60 * s.ui_scale);
}

/// What is handed over tells it as well.
bool tells_of_before(const Session& s) {
    return s.stage == scene::Stage::Inspect || s.stage == scene::Stage::HandOver;
}

} // namespace

bool update_inspection(Session& s) {
    if (s.stage != scene::Stage::Inspect && s.desks.find<InspectDesk>() != nullptr) desk_of(s).leave();
    if (!tells_of_before(s)) return false;
    const bool has_news = desk_of(s).update(s.editor.snapshot(), s.editor.path());
    if (s.stage != scene::Stage::Inspect) return has_news;
    return desk_of(s).follow(s.editor.chart(), s.editor.selection()) || has_news;
}

void wait_for_inspection(Session& s) {
    if (!tells_of_before(s)) return;
    desk_of(s).wait(s.editor.snapshot(), s.editor.path());
    update_inspection(s);
}

void freeze_chart(Session& s) {
    InspectDesk& desk = desk_of(s);
    s.editor.drop_preview();
    if (s.editor.chart().parts.empty()) {
        s.editor.tell(Severity::Warning, "There is no part on the chart yet: nothing to freeze.");
        return;
    }
    if (s.editor.path().empty()) {
        s.editor.tell(Severity::Note, "The copy lies beside the chart's file: say where that is.");
        show_file_dialog(s, FileTask::SaveAs);
        desk.errand = FileErrand::FreezeWhenSaved;
        return;
    }
    const auto& frozen = s.editor.chart().frozen_before;
    if (frozen && !std::exchange(desk.asks_to_freeze, true)) {
        s.editor.tell(Severity::Warning,
                      fmt::format("Frozen already{}{}. Once more freezes it anew; the older copy stays.",
                                  frozen->date.empty() ? "" : " on " + frozen->date,
                                  frozen->by.empty() ? "" : " by " + frozen->by));
        return;
    }
    freeze_now(s);
}

namespace {

void take_frozen(Session& s, const Result<cli::Frozen>& frozen) {
    if (!frozen) return s.editor.tell(Severity::Fault, describe(frozen.error()));
    desk_of(s).use_frozen();
    s.editor.commit(frozen->chart, "Freeze as before");
    const std::string copy = frozen->file.filename().string();
    trace("freeze", copy);
    const Result<void> begun = begin_saving(s, s.editor.path().string(), true, [copy](Session& session) {
        session.editor.tell(Severity::Note, fmt::format("Frozen as before: {}. The chart is saved too.", copy));
    });
    if (!begun) s.editor.tell(Severity::Fault, describe(begun.error()));
}

} // namespace

void freeze_now(Session& s) {
    desk_of(s).asks_to_freeze = false;
    const auto freeze = [chart = s.editor.snapshot(), path = s.editor.path(), by = who(s), date = today()] {
        return cli::freeze_as_before(*chart, path, by, date);
    };
    const auto work = [freeze](const std::stop_token&, const WorkDesk::Say&) -> WorkDesk::Then {
        return [frozen = freeze()](Session& session) { take_frozen(session, frozen); };
    };
    const bool is_large = !is_drawn_at_once(s.editor.chart());
    if (is_large && s.desks.get<WorkDesk>().begin("Freezing the chart as before", true, work)) return;
    take_frozen(s, freeze());
}

void ask_for_before(Session& s) {
    show_file_dialog(s, FileTask::OpenDonor);
    desk_of(s).errand = FileErrand::ChooseBefore;
}

Result<void> open_before(Session& s, const std::string& path) {
    Result<void> chosen = desk_of(s).choose(path);
    if (!chosen) return chosen;
    s.show_stage(scene::Stage::Inspect);
    trace("before", desk_of(s).chosen_name());
    return {};
}

void go_to_step(Session& s, std::size_t position) {
    InspectDesk& desk = desk_of(s);
    const std::shared_ptr<const Inspection> answer = desk.answer();
    if (!answer || position >= answer->steps.size()) return;
    const SweepStep& step = answer->steps[position];
    desk.stand_at(step.subject());
    desk.insistence = {};
    desk.wants_words = false;
    if (find(s.editor.chart(), step.after_id) != nullptr)
        s.go_to(step.after_id);
    else if (const Footprint* missing = find(*answer->before, step.before_id))
        show_place(s, *answer, *missing);
    trace("inspect step", spoken(step));
}

void step_by(Session& s, int by) {
    const auto at = position_in_hand(s);
    if (!at) return;
    const auto count = static_cast<int>(desk_of(s).answer()->steps.size());
    go_to_step(s, static_cast<std::size_t>((static_cast<int>(*at) + by % count + count) % count));
}

std::string told_of(const Inspection& inspection, const SweepStep& step) {
    std::string text;
    for (const std::size_t i : step.changes) {
        const analysis::Change& change = inspection.report.changes[i];
        if (change.harmless || change.kind == analysis::ChangeKind::NotCheckedAgain) continue;
        std::string words(to_text(change.kind));
        if (change.kind == analysis::ChangeKind::State || change.kind == analysis::ChangeKind::PadState)
            words = change.field + " " + change.after;
        std::replace(words.begin(), words.end(), '-', ' ');
        text += (text.empty() ? "" : ", ") + words;
    }
    return text;
}

namespace {

/// Shorter than it takes to read what was warned of: presses in a row, or a double click.
constexpr std::chrono::milliseconds kPressedInARow{800};

/// The warning was there to be read and still is, and nothing else was done since.
bool is_said_again(Session& s, const Id& subject, const std::string& warning) {
    const bool is_told = s.editor.notice() && s.editor.notice()->text == warning;
    const Insistence now{subject, s.editor.version(), std::chrono::steady_clock::now()};
    const Insistence last = std::exchange(desk_of(s).insistence, now);
    return is_told && last.on == subject && last.version == now.version && now.since - last.since >= kPressedInARow;
}

/// What is said of a part is said with its frame on the board, where undo finds it again.
void frame(Session& s, const SweepStep& step) {
    desk_of(s).stand_at(step.subject());
    if (find(s.editor.chart(), step.after_id) != nullptr) s.editor.select({step.after_id});
}

} // namespace

void mark_same(Session& s) {
    InspectDesk& desk = desk_of(s);
    const auto at = position_in_hand(s);
    if (!at) return;
    const std::shared_ptr<const Inspection> answer = desk.answer();
    const SweepStep& step = answer->steps[*at];
    if (step.after_id.is_empty()) {
        s.editor.tell(Severity::Warning, spoken(step) + " is not on the chart any more, so it cannot be the same.");
        return;
    }
    if (step.differs_on_charts) {
        std::string warning = spoken(step) + " is not as before on the chart: " + told_of(*answer, step) +
                              ". Once more says it is the same all the same.";
        if (!is_said_again(s, step.subject(), warning)) return s.editor.tell(Severity::Warning, std::move(warning));
    }
    frame(s, step);
    Tick tick = part_tick(s, step);
    tick.done = true;
    tick.note.clear();
    Result<Chart> chart = with_states_as_before(s.editor.chart(), step, *answer->before);
    if (chart) chart = document::put(*chart, std::move(tick));
    s.editor.commit(std::move(chart), spoken(step) + " is as before");
    trace("inspect same", spoken(step));
    if (const auto next = desk.next_open(s.editor.chart(), *at)) go_to_step(s, *next);
}

void mark_differs(Session& s, const std::string& what) {
    const SweepStep* found = step_in_hand(s);
    if (found == nullptr) return;
    const SweepStep step = *found;
    Tick tick = part_tick(s, step);
    if (!what.empty())
        tick.note = what;
    else if (tick.done || tick.note.empty())
        tick.note = told_of(*desk_of(s).answer(), step);
    tick.done = false;
    frame(s, step);
    s.editor.commit(document::put(s.editor.chart(), std::move(tick)), spoken(step) + " differs");
    trace("inspect differs", spoken(step));
}

void begin_differing(Session& s) {
    mark_differs(s);
    desk_of(s).wants_words = s.panel == Panel::Stage; // no other has that field
}

bool awaits_words(const Session& s) {
    const InspectDesk* desk = s.desks.find<InspectDesk>();
    return desk != nullptr && desk->wants_words;
}

void forget_mark(Session& s) {
    desk_of(s).insistence = {};
    const SweepStep* step = step_in_hand(s);
    if (step == nullptr) return;
    const Tick* tick = analysis::sweep_tick(s.editor.chart(), step->subject());
    if (tick == nullptr) return;
    const Id id = tick->id;
    s.editor.commit(document::remove(s.editor.chart(), std::vector<Id>{id}), spoken(*step) + ": not looked at");
}

void tick_off(Session& s, const scene::ChecklistEntry& entry, bool done) {
    const Chart& chart = s.editor.chart();
    const auto there = std::find_if(chart.ticks.begin(), chart.ticks.end(),
                                    [&](const Tick& tick) { return !entry.tick.is_empty() && tick.id == entry.tick; });
    Tick tick = there != chart.ticks.end() ? *there : new_tick(chart, entry.task, entry.target);
    tick.done = done;
    tick.by = done ? who(s) : "";
    tick.date = done ? today() : "";
    s.editor.commit(document::put(chart, std::move(tick)), done ? "Tick off" : "Take a tick back");
    trace(done ? "tick" : "untick", entry.task);
}

namespace {

/// Unfolds the list at the line in hand. Null where the list is empty.
const scene::ChecklistEntry* show_line(Session& s, const std::vector<scene::ChecklistEntry>& list) {
    InspectDesk& desk = desk_of(s);
    s.panel = Panel::Stage;
    desk.shows_checklist = desk.marks_line = desk.wants_line = true;
    if (list.empty()) return nullptr;
    desk.line = std::min(desk.line, list.size() - 1);
    return &list[desk.line];
}

} // namespace

void step_line(Session& s, std::ptrdiff_t by) {
    const std::vector<scene::ChecklistEntry> list = scene::checklist_of(s.editor.chart());
    InspectDesk& desk = desk_of(s);
    const auto count = static_cast<std::ptrdiff_t>(list.size());
    // The first press shows where one is.
    if (desk.marks_line && count > 0)
        desk.line = static_cast<std::size_t>((static_cast<std::ptrdiff_t>(desk.line) + by % count + count) % count);
    if (const auto* line = show_line(s, list)) trace("line", line->task);
}

void tick_line(Session& s) {
    const std::vector<scene::ChecklistEntry> list = scene::checklist_of(s.editor.chart());
    const bool was_in_sight = desk_of(s).marks_line;
    const auto* line = show_line(s, list);
    if (line == nullptr) return;
    if (was_in_sight) tick_off(s, *line, !line->done);
    s.editor.tell(Severity::Note,
                  (was_in_sight ? line->done ? "Not done any more: " : "Done: " : "In hand: ") + line->text);
}

void add_own_task(Session& s, const std::string& text) {
    if (text.empty()) return;
    Tick tick = new_tick(s.editor.chart(), scene::kOwnTask, {});
    tick.note = text;
    s.editor.commit(document::put(s.editor.chart(), std::move(tick)), "Add to the list");
}

} // namespace padchart::app
