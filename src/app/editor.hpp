#pragma once
// The chart being worked on: history, selection, file. No window, no panels: everything a hand can do to a chart can be
// done here by a test. Lengths in board mm, angles counter-clockwise as seen from the side looked at.

#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "app/newer_file.hpp"
#include "base/diagnostic.hpp"
#include "base/result.hpp"
#include "document/history.hpp"

namespace padchart::app {

/// The last thing to tell the user: "Saved", "The name is taken; choose another."
struct Notice {
    Severity severity = Severity::Note;
    std::string text;
};

/// A chart as it was read, before it takes the place of the one in hand.
struct OpenedChart {
    document::Chart chart;
    std::filesystem::path path;
    std::optional<std::size_t> fingerprint; ///< of the file
    bool from_page = false;                 ///< the chart in a page gets a file of its own
};

/// A snapshot on its way to a file.
struct Saving {
    std::shared_ptr<const document::Chart> chart;
    std::filesystem::path path;
    std::optional<std::size_t> expected; ///< fingerprint the file must still have; nothing: it is written over
    std::uint64_t sitting = 0;
    bool to_own_file = true;
};

class Editor {
public:
    Editor();

    // File ---------------------------------------------------------------------------------------
    void start_new(document::Chart chart = {});
    [[nodiscard]] Result<void> open(const std::filesystem::path& path);
    /// The two halves of open(): the first may be done on any thread. Errors: as loading a chart.
    [[nodiscard]] static Result<OpenedChart> read(const std::filesystem::path& path);
    void take(OpenedChart opened);
    /// A chart from elsewhere, e.g. a trace: not saved yet.
    void start_from(document::Chart chart, std::string label);
    [[nodiscard]] Result<void> save_as(const std::filesystem::path& path);
    /// To the file it came from. Errors: also when that holds something the chart in hand does not come from: somebody
    /// else has written it meanwhile, or a newer file that was taken is undone.
    /// Requires: path() is not empty.
    [[nodiscard]] Result<void> save_again();
    /// The same in three steps, of which the second may be done on any thread: what is to be written where (`path` is
    /// the chart's own: only over what was read or saved here), the writing, and what follows from it.
    [[nodiscard]] Saving begin_saving(const std::filesystem::path& path, bool to_own_file);
    /// The fingerprint of what was written. Errors: also when somebody else has written the chart's own file.
    using Written = Result<std::optional<std::size_t>>;
    [[nodiscard]] static Written write(const Saving& saving);
    [[nodiscard]] Result<void> end_saving(const Saving& saving, const Written& written);
    /// Between the first and the last of them.
    [[nodiscard]] bool is_saving() const { return saving_ != nullptr; }
    /// All that was done is in a file, or on its way to one.
    [[nodiscard]] bool will_be_saved() const { return is_saved() || (is_saving() && saving_ == snapshot()); }
    /// Somebody else has written the file since it was read or saved here.
    [[nodiscard]] bool is_changed_on_disk() const;
    /// Fingerprint its own file must have for the chart in hand to be written over it; nothing: not known.
    [[nodiscard]] std::optional<std::size_t> expected_fingerprint() const;
    /// The file holds something that the chart in hand does not come from.
    [[nodiscard]] bool is_file_newer() const;
    /// The file as it is now becomes the chart, as one step that undo takes back; nothing of one's own is lost.
    /// Errors: as loading a chart. Requires: path() is not empty.
    [[nodiscard]] Result<void> take_newer_file();
    /// Work left behind by a window that never got to its end: a step on top of what lies in `file`, or of an empty
    /// chart where it belongs to no file or that cannot be read.
    void take_back(document::Chart chart, const std::filesystem::path& file);
    /// Empty: never saved.
    [[nodiscard]] const std::filesystem::path& path() const { return path_; }
    [[nodiscard]] bool is_saved() const { return history_.is_saved() && !started_elsewhere_; }

    // What is there ------------------------------------------------------------------------------
    [[nodiscard]] const document::Chart& chart() const { return history_.chart(); }
    [[nodiscard]] std::shared_ptr<const document::Chart> snapshot() const { return history_.snapshot(); }
    /// The preview of a gesture under way, else the chart.
    [[nodiscard]] const document::Chart& shown() const { return preview_ ? *preview_ : history_.chart(); }
    /// As shown(), to be kept: another pointer for another chart.
    [[nodiscard]] std::shared_ptr<const document::Chart> shown_snapshot() const {
        return preview_ ? preview_ : history_.snapshot();
    }
    /// Another number for another chart than the one that was edited here till now: opened, imported, begun.
    [[nodiscard]] std::uint64_t sitting() const { return sitting_; }
    [[nodiscard]] const document::History& history() const { return history_; }
    /// Another number whenever shown() or the selection is another.
    [[nodiscard]] std::uint64_t version() const { return version_; }

    // Selection ----------------------------------------------------------------------------------
    [[nodiscard]] const std::vector<document::Id>& selection() const { return selection_; }
    [[nodiscard]] bool is_selected(const document::Id& id) const;
    /// The one selected part, of the chart shown; nothing when none or several are.
    [[nodiscard]] const document::Footprint* selected_part() const;
    /// Ids that no part bears are left out.
    void select(std::vector<document::Id> ids);
    /// Adds it, or takes it out where it is in already.
    void toggle(const document::Id& id);
    void select_all(document::Side side);

    // Edits --------------------------------------------------------------------------------------
    /// A step of history; an error becomes the notice. False where nothing changed.
    bool commit(Result<document::Chart> edited, std::string label);
    /// As above; takes the place of the last step when that has the same label.
    bool commit_repeated(Result<document::Chart> edited, std::string label);
    bool undo();
    bool redo();
    /// Undoes or redoes as many steps as lie between. Requires: step < history().steps().size().
    void go_to_step(std::size_t step);

    /// What a gesture would give; an error keeps the last preview.
    void preview(Result<document::Chart> edited);
    [[nodiscard]] bool has_preview() const { return preview_ != nullptr; }
    /// One gesture, one step.
    bool commit_preview(std::string label);
    void drop_preview();

    void nudge(geometry::Vec2 by_mm);
    void turn(Angle by, document::Side seen_from);
    void remove_selected();
    void move_to_other_side();
    void set_presence(document::Presence presence);
    /// Adds it under a free id and name and selects it.
    bool add_part(document::Footprint part, document::Placement placement);

    /// What the selection turns about, board mm: a part's own place, the mean of several. Nothing without a selection.
    [[nodiscard]] std::optional<geometry::Vec2> selection_centre() const;
    [[nodiscard]] geometry::Box selection_bounds() const;

    // Notices ------------------------------------------------------------------------------------
    [[nodiscard]] const std::optional<Notice>& notice() const { return notice_; }
    void tell(Severity severity, std::string text) { notice_ = Notice{severity, std::move(text)}; }
    void clear_notice() { notice_.reset(); }

private:
    void replace_history(document::Chart chart, std::string label);
    bool accept(Result<document::Chart> edited, std::string label, bool repeated);
    void keep_known_selection();
    /// What the eye should find after going back behind that step: what it touched, or what it was done to.
    void select_what_was_undone(std::size_t step);

    document::History history_;
    std::shared_ptr<const document::Chart> preview_; ///< null without a gesture under way
    std::vector<document::Id> selection_;
    std::optional<std::vector<document::Id>> selection_before_; ///< when the gesture under way began
    std::filesystem::path path_;
    std::optional<std::size_t> on_disk_;            ///< fingerprint of the file as it was read or written
    NewerFiles newer_;                              ///< that were taken in this sitting
    std::shared_ptr<const document::Chart> saving_; ///< null: nothing is being written
    bool started_elsewhere_ = false;
    std::optional<Notice> notice_;
    std::uint64_t version_ = 1, sitting_ = 1;
    mutable std::pair<std::uint64_t, geometry::Box> selection_bounds_{0, {}}; ///< of which version
};

/// "U4", "U4 and C7", "5 parts".
[[nodiscard]] std::string name_of(const document::Chart& chart, std::span<const document::Id> ids);
/// "C1", "C2", ...: the first free one with the class's usual letter.
[[nodiscard]] std::string free_name(const document::Chart& chart, document::PartClass part_class);
/// The bounds of part outlines and pads together, board mm.
[[nodiscard]] geometry::Box bounds_of(const document::Footprint& part);
/// Everything drawn on the board: outline, parts, keep-outs. Empty for an empty chart.
[[nodiscard]] geometry::Box bounds_of(const document::Chart& chart);

} // namespace padchart::app
