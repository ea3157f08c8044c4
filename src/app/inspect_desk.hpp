#pragma once
// The chart in hand beside how it was before: which chart that is, what the comparison of the two tells, where the walk
// over the board stands, and how the canvas shows it. The comparison runs on a thread of its own; the hand never waits.

#include <chrono>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "analysis/sweep.hpp"
#include "app/latest_job.hpp"
#include "base/diagnostic.hpp"
#include "base/result.hpp"
#include "document/chart.hpp"

namespace padchart::app {

/// What the canvas shows in the inspect stage.
enum class InspectView {
    Changes,   ///< the chart as it is, with what the comparison tells
    Before,    ///< how it was
    Flicker,   ///< before and now in turns
    Difference ///< both over each other
};

/// The answer to one comparison.
struct Inspection {
    std::shared_ptr<const document::Chart> after;
    std::shared_ptr<const document::Chart> before; ///< null: there is nothing to compare with
    std::optional<Error> trouble;                  ///< why not, where there should be
    analysis::CompareReport report;
    std::vector<analysis::SweepStep> steps;
    Diagnostics findings; ///< of the file from before
};

/// What the file dialog on show was asked for, where its task alone does not tell.
enum class FileErrand {
    None,
    ChooseBefore,   ///< the other chart to be opened shows how it was
    FreezeWhenSaved ///< the saved chart is to be frozen
};

/// A warning that saying it once more overrules, as long as nothing else has been done since.
struct Insistence {
    document::Id on;
    std::uint64_t version = 0; ///< of the editor
    std::chrono::steady_clock::time_point since;
};

class InspectDesk {
public:
    InspectDesk();

    // What is compared with -----------------------------------------------------------------------
    /// Another chart as before, for this session. Errors: as loading a chart; then the last one stays.
    [[nodiscard]] Result<void> choose(const std::string& path);
    /// Back to what the chart itself was frozen as.
    void use_frozen();
    [[nodiscard]] bool has_chosen() const { return chosen_ != nullptr; }
    [[nodiscard]] const std::string& chosen_name() const { return chosen_name_; }
    /// Where the chart from before lies, from which its photos are counted; empty without one.
    [[nodiscard]] std::filesystem::path before_folder() const;
    /// Another chart is in hand.
    void forget();

    // The comparison ------------------------------------------------------------------------------
    /// Asks for a new answer where the board, or what it is compared with, has become another, and takes what has come.
    /// True where something else is to be seen than before.
    bool update(const std::shared_ptr<const document::Chart>& chart, const std::filesystem::path& chart_path);
    /// Null until the first answer. Whoever uses it while the desk may change keeps the pointer.
    [[nodiscard]] const std::shared_ptr<const Inspection>& answer() const { return answer_; }
    [[nodiscard]] bool has_before() const { return answer_ && answer_->before; }
    [[nodiscard]] bool is_busy() const { return job_.is_busy(); }
    void wait(const std::shared_ptr<const document::Chart>& chart, const std::filesystem::path& chart_path);

    // The walk ------------------------------------------------------------------------------------
    /// Position of the step in hand; the first one nobody has looked at until a hand chooses. Nothing without an answer
    /// that has steps.
    [[nodiscard]] std::optional<std::size_t> current(const document::Chart& chart) const;
    void stand_at(const document::Id& subject) { at_ = subject; }
    /// What a hand, an undo or another stage has selected is the part in hand. True where the walk stands elsewhere
    /// now.
    bool follow(const document::Chart& chart, const std::vector<document::Id>& selection);
    /// Another stage is on show: what was selected there is followed when this one comes back.
    void leave();
    /// The next step nobody has looked at, wrapping round; nothing when all were.
    [[nodiscard]] std::optional<std::size_t> next_open(const document::Chart& chart, std::size_t from) const;

    // The view ------------------------------------------------------------------------------------
    void show(InspectView view);
    [[nodiscard]] InspectView view() const { return view_; }
    /// What the flicker view shows just now.
    [[nodiscard]] bool shows_before() const;
    /// Another number whenever what the canvas draws is another.
    [[nodiscard]] std::uint64_t revision() const { return revision_; }

    FileErrand errand = FileErrand::None;
    std::string by;              ///< who looks
    bool asks_to_freeze = false; ///< frozen already; the next press freezes anew
    Insistence insistence;       ///< the charts say that the part differs
    bool wants_words = false;    ///< the field of what differs should take the next letter
    bool shows_changes = true;   ///< sections of the panel
    bool shows_checklist = true;
    bool shows_source = false;
    std::size_t line = 0;    ///< of the list after rework, that keys tick
    bool marks_line = false; ///< keys have gone to it
    bool wants_line = false; ///< it should be scrolled to
    float footer_height = 0; ///< of the panel

private:
    struct Source {
        std::shared_ptr<const document::Chart> chosen;
        std::optional<document::FrozenBefore> frozen;
        std::filesystem::path chart_path;
        std::filesystem::file_time_type written{}; ///< of the frozen file

        bool operator==(const Source&) const = default;
    };
    struct Order {
        std::shared_ptr<const document::Chart> after;
        Source source;
        std::shared_ptr<const document::Chart> known; ///< the frozen chart where it has been read already
        Diagnostics known_findings;
        std::uint64_t number = 0;
    };
    struct Answer {
        std::uint64_t number = 0;
        std::shared_ptr<const Inspection> inspection;
    };

    [[nodiscard]] Source source_for(const std::shared_ptr<const document::Chart>& chart,
                                    const std::filesystem::path& chart_path) const;
    static Inspection inspect(const Order& order);
    bool collect();
    bool flip_phase();

    std::shared_ptr<const document::Chart> chosen_;
    std::string chosen_name_;
    std::filesystem::path chosen_folder_;
    std::shared_ptr<const document::Chart> asked_;
    Source asked_source_;
    std::uint64_t number_ = 0, revision_ = 1;
    std::shared_ptr<const Inspection> answer_;
    document::Id at_;
    std::optional<std::vector<document::Id>> followed_; ///< the selection that the walk has followed last
    InspectView view_ = InspectView::Changes;
    bool before_phase_ = true;
    std::chrono::steady_clock::time_point phase_since_;
    LatestJob<Order, Answer> job_;
};

} // namespace padchart::app
