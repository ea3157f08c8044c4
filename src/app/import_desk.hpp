#pragma once
// A trace being brought in: what was found in it, what a person says each layer or shape is, and the chart that would
// come of it. Nothing of the chart in hand changes before it is accepted. No window, no panel.
//
// Found things form a tree: layers as the drawing names them; in a layer its inner layers and its shapes, those of one
// kind and size as one entry; below that the single shapes. What is said of an entry holds for all in it that nothing
// is said of by itself.

#include <array>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/meaning_memory.hpp"
#include "svg/reimport.hpp"
#include "svg/trace_to_chart.hpp"

namespace padchart::app {

struct FoundEntry {
    enum class Kind { Layer, Alike, Shape };

    Kind kind = Kind::Layer;
    std::string name;   ///< "pads", "24 rects 0.50 x 0.30", "rect 'U4-1'"
    std::string memory; ///< what it is remembered by
    std::optional<std::size_t> parent;
    int depth = 0;
    std::vector<std::size_t> children;
    std::vector<std::size_t> shapes;        ///< all below it, positions in Drawing::shapes
    svg::ShapeMeaning said;                 ///< by a person
    bool open = false;                      ///< its children are listed
    std::array<std::size_t, 9> taken_for{}; ///< how many shapes became what, by svg::Role
};

class ImportDesk {
public:
    /// The corrected trace of the chart in hand, else a new chart.
    bool into_current = false;

    /// What was remembered is said again. Errors: as reading a trace; then nothing is held.
    [[nodiscard]] Result<void> load(const std::filesystem::path& path, const MeaningMemory& memory);
    void forget() { *this = {}; }

    [[nodiscard]] bool is_loaded() const { return drawing_ != nullptr; }
    /// The rest requires: is_loaded().
    [[nodiscard]] const std::string& file_name() const { return file_name_; }
    [[nodiscard]] const svg::Drawing& drawing() const { return *drawing_; }
    [[nodiscard]] const std::vector<FoundEntry>& entries() const { return entries_; }
    /// Entries to be listed, in order: the outermost and those whose parents are open.
    [[nodiscard]] std::vector<std::size_t> listed() const;
    void fold(std::size_t entry, bool open) { entries_[entry].open = open; }

    /// Nothing: as the names say, or as was said of what it lies in.
    void say_role(std::size_t entry, std::optional<svg::Role> role);
    void say_side(std::size_t entry, std::optional<document::Side> side);
    /// The scale the user measured on the preview; nothing: the trace's own.
    /// `findings` go with it: what spoke against it when it was taken.
    void set_scale(std::optional<document::Scale> scale, Diagnostics findings = {});
    [[nodiscard]] const std::optional<document::Scale>& scale() const { return scale_; }

    /// What the trace becomes with all that was said. Errors: nothing in it can be charted.
    [[nodiscard]] const Result<svg::TraceResult>& result() const { return *result_; }
    /// The chart that would be shown: the trace's, or `current` with its geometry.
    [[nodiscard]] Result<document::Chart> outcome(const document::Chart& current) const;
    /// As above with what changed. Requires: into_current.
    [[nodiscard]] Result<svg::ReimportResult> again(const document::Chart& current) const;
    /// Everything to tell once it is accepted: the reader's findings, what changed, pins that run the wrong way.
    [[nodiscard]] Diagnostics findings(const document::Chart& current) const;

    /// What was said, for the next trace.
    void remember(MeaningMemory& memory) const;

    /// The single entry of a shape.
    [[nodiscard]] std::size_t entry_of(std::size_t shape) const { return entry_of_shape_[shape]; }
    /// The smallest shape round the place, or the nearest one within `reach`; lengths of the preview's chart.
    [[nodiscard]] std::optional<std::size_t> shape_at(geometry::Vec2 chart_place, double reach) const;
    /// From the drawing's lengths to the chart's.
    [[nodiscard]] double factor() const;
    /// Opens all the entry lies in.
    void reveal(std::size_t entry);

    /// Another number whenever the outcome is another.
    [[nodiscard]] std::uint64_t revision() const { return revision_; }

    std::optional<std::size_t> chosen; ///< entry

private:
    void find_entries();
    void recall(const MeaningMemory& memory);
    void rebuild();

    std::shared_ptr<const svg::Drawing> drawing_;
    std::string file_name_;
    std::vector<FoundEntry> entries_;
    std::vector<std::size_t> entry_of_shape_;
    std::optional<document::Scale> scale_;
    Diagnostics scale_findings_;
    std::optional<Result<svg::TraceResult>> result_;
    std::uint64_t revision_ = 1;
};

/// "21 pads, 1 body": what an entry was taken for, the most first.
[[nodiscard]] std::string taken_words(const FoundEntry& entry);

/// One line per part: found again, moved, new, kept, gone.
[[nodiscard]] Diagnostics changes_of(const svg::ReimportResult& result, const document::Chart& before);

} // namespace padchart::app
