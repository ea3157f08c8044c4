#pragma once
// What the start page offers: work left behind, recent charts, the demo. Looked up once and again when asked.

#include <filesystem>
#include <functional>
#include <vector>

#include "app/journal.hpp"
#include "app/session.hpp"

namespace padchart::app {

/// What every row of a recent chart in the list of actions begins with.
inline constexpr const char* kRecentWords = "Open recent";

struct StartDesk {
    std::vector<LostWork> lost;
    std::vector<std::filesystem::path> recent;
    std::vector<Binned> binned;
    bool wants_bin = false;                ///< it should be scrolled to
    std::vector<LostWork> taken;           ///< in the chart by now: to be thrown away once that is journaled
    std::function<void(Session&)> follows; ///< in place of a new chart, once the one in hand is saved or discarded

    /// Looks again at what lies below the user's state folder.
    void refresh();
};

/// Shows the page, looked up anew.
void show_start_page(Session& session);
/// Where somebody's unsaved work waits, shows the page, or tells of it beside a chart that was opened by name.
void offer_lost_work(Session& session);
/// "Power corner", "row.chart.json", "a chart that was never saved".
[[nodiscard]] std::string name_of(const LostWork& work);
/// In place of the chart in hand, once that is saved or discarded.
void restore(Session& session, const LostWork& work);
/// What is to come in place of the chart in hand; that is asked about where it is not saved.
void ask_then_start(Session& session, std::function<void(Session&)> what);
/// Does what was asked for so. False where a new chart is wanted.
bool go_on_starting(Session& session);
/// In place of the chart in hand, once that is saved or discarded.
void open_recent(Session& session, const std::filesystem::path& path);
/// The page at what was thrown away.
void show_bin(Session& session);
/// In place of the chart in hand, as that is asked about: a chart in no file, since the bin is emptied. Its drafts wait
/// again.
void fetch_from_bin(Session& session, const std::filesystem::path& file);
/// The list of actions at the charts that were opened or saved last.
void list_recent(Session& session);
/// The page at the right for a window that was opened on nothing.
void greet(Session& session);

/// The chart of the demo, compiled in: opened as a copy, so that it can be played with.
[[nodiscard]] Result<void> open_demo(Session& session);
/// Unsaved work becomes the chart in hand; the journal goes once the next one holds it. Errors: as loading a chart.
[[nodiscard]] Result<void> take_back(Session& session, const LostWork& work);

} // namespace padchart::app
