#pragma once
// A trace being brought in: what was found in it, what a person says each layer or shape is, and the chart that would
// come of it. Nothing of the chart in hand changes before it is accepted. No window, no panel.
//
// What is said of an entry holds for all in it that nothing is said of by itself. The outcome of a small trace follows
// at once; that of a large one is made on a thread, and until it has come the last one stays.

#include <memory>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "app/found_memory.hpp"
#include "app/found_trace.hpp"
#include "app/latest_job.hpp"
#include "app/trace_outcome.hpp"

namespace padchart::app {

class ImportDesk {
public:
    ImportDesk();

    /// Brings in what was found. `current`: the chart in hand when this is a corrected trace of it; null: the trace
    /// becomes a chart of its own.
    void take(FoundTrace found, std::shared_ptr<const document::Chart> current = nullptr);
    /// Reads and takes the file, and waits until that is done. Errors: as find_trace; then nothing is held.
    [[nodiscard]] Result<void> load(const std::filesystem::path& path, const MeaningMemory& memory,
                                    std::shared_ptr<const document::Chart> current = nullptr);
    void forget();

    /// Another number for each trace that was brought in.
    [[nodiscard]] std::uint64_t arrival() const { return arrival_; }
    [[nodiscard]] bool is_loaded() const { return found_.drawing != nullptr; }
    /// The rest requires: is_loaded().
    [[nodiscard]] const std::string& file_name() const { return found_.file_name; }
    [[nodiscard]] const svg::Drawing& drawing() const { return *found_.drawing; }
    [[nodiscard]] const std::vector<FoundEntry>& entries() const { return found_.entries; }
    [[nodiscard]] bool is_correction() const { return current_ != nullptr; }
    /// Entries to be listed, in order: the outermost and those whose parents are open.
    [[nodiscard]] std::vector<std::size_t> listed() const;
    void fold(std::size_t entry, bool open) { found_.entries[entry].open = open; }

    /// Nothing: as the names say, or as was said of what it lies in.
    void say_role(std::size_t entry, std::optional<svg::Role> role);
    void say_side(std::size_t entry, std::optional<document::Side> side);
    /// The scale the user measured on the preview; nothing: the trace's own.
    /// `findings` go with it: what spoke against it when it was taken.
    void set_scale(std::optional<document::Scale> scale, Diagnostics findings = {});
    [[nodiscard]] const std::optional<document::Scale>& scale() const { return scale_; }
    /// Something was said or measured here that giving up would lose, or have to be remembered.
    [[nodiscard]] bool is_touched() const { return !said_.empty() || scale_; }
    /// What holds of this trace only because it was said of another one.
    [[nodiscard]] const MemoryAccount& from_memory() const { return from_memory_; }
    /// None of it holds any longer, here or for the next trace.
    void forget_remembered();
    /// Another number whenever something more was said.
    [[nodiscard]] std::uint64_t times_said() const { return times_said_; }

    /// Call once a frame. True where another outcome has come.
    bool update();
    /// Another outcome is on its way.
    [[nodiscard]] bool is_making() const { return progress_ != nullptr; }
    /// How far it is. Requires: is_making().
    [[nodiscard]] const WorkProgress& progress() const { return *progress_; }
    /// Blocks until the outcome speaks of all that was said.
    void wait();

    /// Null while the first one is being made.
    [[nodiscard]] const TraceOutcome* outcome() const { return outcome_.get(); }
    /// Another number whenever the outcome is another.
    [[nodiscard]] std::uint64_t revision() const { return revision_; }

    /// What was said here, for the next trace.
    void remember(MeaningMemory& memory) const { app::remember(found_, said_, memory); }

    /// The single entry of a shape.
    [[nodiscard]] std::size_t entry_of(std::size_t shape) const { return found_.entry_of_shape[shape]; }
    /// The smallest shape round the place, or the nearest one within `reach`; lengths of the outcome's chart.
    [[nodiscard]] std::optional<std::size_t> shape_at(geometry::Vec2 chart_place, double reach) const;
    /// From the drawing's lengths to those of the outcome's chart.
    [[nodiscard]] double factor() const { return factor_; }
    /// Of the shapes nothing is known of, lengths as above; empty where there is none.
    [[nodiscard]] const geometry::Box& extent_not_understood() const { return not_understood_; }
    /// Opens all the entry lies in.
    void reveal(std::size_t entry);
    /// Chooses the entry listed before or after the chosen one, the first or the last where none is. Stops at the ends.
    void step(int by);
    /// Folds the chosen entry out or in; one that has nothing to fold in gives way to the one it lies in.
    void fold_chosen(bool open);

    std::optional<std::size_t> chosen; ///< entry

private:
    struct Order {
        TraceOrder trace;
        std::shared_ptr<WorkProgress> progress;
        std::uint64_t number = 0;
    };
    using Answer = std::pair<std::uint64_t, std::shared_ptr<const TraceOutcome>>;
    using Job = LatestJob<Order, Answer>;

    [[nodiscard]] TraceOrder order() const;
    void was_said(std::size_t entry);
    void rebuild();
    void settle(std::shared_ptr<const TraceOutcome> outcome);

    FoundTrace found_;
    std::shared_ptr<const document::Chart> current_;
    std::set<std::size_t> said_; ///< entries of which something was said since the trace came
    std::uint64_t arrival_ = 0;
    std::uint64_t times_said_ = 0;
    MemoryAccount from_memory_;
    std::optional<document::Scale> scale_;
    Diagnostics scale_findings_;
    double factor_ = 1.0;
    geometry::Box not_understood_;
    std::shared_ptr<const TraceOutcome> outcome_;
    std::shared_ptr<WorkProgress> progress_;
    std::uint64_t order_ = 0; ///< number of the last one
    std::uint64_t revision_ = 1;
    std::unique_ptr<Job> job_; ///< last: ends before what it works for
};

} // namespace padchart::app
