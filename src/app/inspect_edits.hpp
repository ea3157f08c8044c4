#pragma once
// What the inspect stage does: freezing, walking from part to part and saying what is seen, ticking off. No panels.

#include <string>
#include <string_view>

#include "app/inspect_desk.hpp"
#include "app/session.hpp"
#include "scene/checklist.hpp"

namespace padchart::app {

/// The desk of the session, kept up to date with its chart. True where something else is to be seen.
bool update_inspection(Session& session);
void wait_for_inspection(Session& session);

/// The chart as it is now is how it was before the heat: a copy in a file beside it, a record in the chart, the chart
/// saved. A chart without a file asks for one first; one that is frozen already wants the action a second time.
void freeze_chart(Session& session);
/// As above without asking; a large chart's copy is written behind the window. What went wrong is told.
void freeze_now(Session& session);
/// Asks for the file of another chart to compare with.
void ask_for_before(Session& session);
/// Another chart to compare with. Errors: as InspectDesk::choose.
[[nodiscard]] Result<void> open_before(Session& session, const std::string& path);

// The walk ------------------------------------------------------------------------------------------------------------

/// To that step: its part selected and in view; where it is missing, the place where it was.
void go_to_step(Session& session, std::size_t position);
void step_by(Session& session, int by);
/// The part in hand is as it was: ticked, and what was not checked again takes over what it was. Then the next one.
void mark_same(Session& session);
/// It differs: `what` says how; where empty, what the comparison tells. Stays at the part, so that more can be said.
void mark_differs(Session& session, const std::string& what = {});
/// As the comparison tells it, and the pen is in the field for what the eyes see beside that.
void begin_differing(Session& session);
[[nodiscard]] bool awaits_words(const Session& session);
/// What the comparison tells of the part in hand, in few words: "missing", "moved, joint cold".
[[nodiscard]] std::string told_of(const Inspection& inspection, const analysis::SweepStep& step);
/// Nobody has looked at the part in hand.
void forget_mark(Session& session);

/// Done or not done; the tick keeps who and when.
void tick_off(Session& session, const scene::ChecklistEntry& entry, bool done);
/// The line of the list that keys tick: `by` lines on, wrapping round; done, or not done any more.
void step_line(Session& session, std::ptrdiff_t by);
void tick_line(Session& session);
/// A line of one's own at the end of the list.
void add_own_task(Session& session, const std::string& text);

} // namespace padchart::app
