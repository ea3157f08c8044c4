#pragma once
// What has to be seen to after rework before the board gets power again, worked out from what the chart holds: each
// entry with a reason, and with the chart's own tick where somebody has dealt with it. Common practice (no source)
// unless an entry names one; local codes and licensed practice decide.

#include <string>
#include <vector>

#include "document/chart.hpp"

namespace padchart::scene {

struct ChecklistEntry {
    std::string task;    ///< Tick::task: "bridges", "shield-off"
    document::Id target; ///< Tick::target: part, shield, keep-out or reading, or empty
    std::string text;    ///< what to do, a sentence: "Take tape S1 off."
    std::string reason;  ///< why it is on this list, a sentence without its point, or empty
    document::Id tick;   ///< of the chart's own tick, or empty: nobody has dealt with it
    bool done = false;
    std::string by;   ///< who ticked it
    std::string date; ///< ISO 8601 day
    std::string note;
};

/// In the order of work: what came off and what lies on the board, the joints, what went back, the readings, then the
/// comparison with before. Ticks of tasks this list does not ask for come last, as somebody's own entries; the ticks of
/// single parts that were compared are left out. The comparison is done when its own tick says so.
[[nodiscard]] std::vector<ChecklistEntry> checklist_of(const document::Chart& chart);

/// Task of a line that a person added: its words are the tick's note.
inline constexpr std::string_view kOwnTask = "own";

} // namespace padchart::scene
