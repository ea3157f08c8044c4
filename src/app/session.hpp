#pragma once
// Everything the window knows beside its look: the editor, what is computed, where the canvas looks, which tool and
// which panel. Panels and actions change it; the shell shows it.

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "app/background.hpp"
#include "app/camera.hpp"
#include "app/desks.hpp"
#include "app/donor_desk.hpp"
#include "app/editor.hpp"
#include "app/heat_desk.hpp"
#include "app/new_chart.hpp"
#include "app/tools/tool.hpp"
#include "patterns/fit_pattern.hpp"
#include "scene/chart_scene.hpp"
#include "scene/hit_test.hpp"

namespace padchart::app {

/// What the right panel shows.
enum class Panel {
    Stage,
    AddPart,
    Findings,
    Donor,
    Import,
    Scale,
    Trace,
    Proposals,
    Photos,
    Layers,
    History,
    Conflicts,
    Start
};

enum class FileTask {
    Open,
    SaveAs,
    ImportTrace,
    WriteSheet,
    LoadPattern,
    SavePattern,
    OpenDonor,
    WriteCard,
    AddPhoto,
    ReplacePhoto
};

struct FileDialog {
    FileTask task = FileTask::Open;
    std::string path; ///< as typed
    std::string error;
    bool confirm_replace = false; ///< the file exists; the next Enter replaces it
    bool wants_focus = true;
};
/// Unsaved changes stand in the way of `then`.
enum class AfterSaving { Quit, New, Open, Import };
struct UnsavedDialog {
    AfterSaving then = AfterSaving::Quit;
};
/// An import in which something was said stands in the way of another panel, or of `then`.
struct LeaveImportDialog {
    std::optional<AfterSaving> then;
};
struct ActionsDialog {
    std::string filter;
    bool wants_focus = true;
    int chosen = 0;
};
struct HelpDialog {};
using Dialog = std::variant<std::monostate, FileDialog, UnsavedDialog, LeaveImportDialog, ActionsDialog, HelpDialog>;

/// The family list of the panel that adds a part.
struct AddPartState {
    std::string filter;
    bool wants_focus = true; ///< the search field should take the next letter
    std::string family;      ///< key of the chosen one
    std::vector<double> parameters;
};

/// The families compared with the pads of a part; stale when the part's pads are others.
struct RefitView {
    document::Id part;
    std::vector<document::Pad> pads;
    std::vector<patterns::PatternFit> fits; ///< best first
    bool is_asked = false;
    bool wants_view = false; ///< the answer should be scrolled to
};

/// What the orient panel has under the pen for the part: recorded only with its button.
struct OrientDraft {
    document::Id part;
    document::Orientation orientation;
    bool has_place = false; ///< a place for the mark was chosen
};

/// Which parts of the heat panel are folded out, and what is typed into them.
struct HeatView {
    bool setup = false, words = false, plans = false, advice = false, calibration = false;
};

struct Session {
    Editor editor;
    Background background;
    HeatDesk heat;
    HeatView heat_view;
    Camera camera;
    scene::Stage stage = scene::Stage::Survey;
    document::Side seen_from = document::Side::Top;
    bool show_zones = true;
    bool show_legend = true;
    bool shows_whole_legend = false; ///< also what finds no room beside the board
    bool legend_is_cut = false;      ///< something has found none
    bool show_pad_numbers = false;
    std::unique_ptr<Tool> tool = make_select_tool();
    Panel panel = Panel::Stage;
    Dialog dialog;
    AddPartState add_part;
    RefitView refit;
    OrientDraft orient;
    DonorDesk donor;
    Desks desks;          ///< what the panels and tools keep to themselves
    Diagnostics findings; ///< of the last import
    std::string findings_title;
    std::optional<AfterSaving> after_saving; ///< what a save-as began for
    std::string sheet_path;
    bool page_has_photos = false; ///< of the page for a browser that is to be written
    std::string theme = "paper";
    double ui_scale = 1.0;
    bool wants_fit = false;
    bool wants_quit = false;

    [[nodiscard]] const Computed* computed() const { return background.latest().get(); }
    /// Fit of the part, of the last reports; null where there is none.
    [[nodiscard]] const analysis::PartFit* fit_of(const document::Id& id) const;
    /// Nothing but the dialog, or the work that is to be waited for, takes keys and clicks.
    [[nodiscard]] bool has_dialog() const;

    /// What the pointer does when no other tool was asked for.
    [[nodiscard]] std::unique_ptr<Tool> resting_tool();
    /// The plan in hand to the middle of its part.
    void aim_at_target();
    /// Keeps the heat stage's answers up to date. True where something else is to be seen.
    bool update_heat();
    /// Blocks until they are.
    void wait_for_heat();
    void show_stage(scene::Stage wanted);
    void use_tool(std::unique_ptr<Tool> wanted);
    void flip_side();
    /// Selects the part, turns the view to its side and pans it into view.
    void go_to(const document::Id& id);
};

struct StageInfo {
    scene::Stage stage;
    std::string_view name; ///< "Hand over"
    std::string_view word; ///< on the command line: "hand-over"
    std::string_view icon; ///< below assets/icons/
};
/// The stages that work, in the order of the day. A stage is added by one line here and one panel.
[[nodiscard]] std::span<const StageInfo> stages();

} // namespace padchart::app
