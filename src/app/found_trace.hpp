#pragma once
// What a trace's file holds, before anybody has said what it means. No window, no panel.
//
// Found things form a tree: layers as the drawing names them; in a layer its inner layers and its shapes, those of one
// kind and size as one entry; below that the single shapes.

#include <array>
#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/meaning_memory.hpp"
#include "app/work_progress.hpp"
#include "svg/trace_to_chart.hpp"

namespace padchart::app {

/// What a person said of one shape of an earlier drawing, which lies there no longer.
struct OnceSaid {
    std::string what; ///< that it is remembered by
    std::string id;
    std::uint64_t print = 0, form = 0; ///< shape_prints(), and the same without its place
    geometry::Vec2 at;                 ///< the middle of its box
    svg::ShapeMeaning meaning;
};

struct FoundEntry {
    enum class Kind { Layer, Alike, Shape };

    Kind kind = Kind::Layer;
    std::string name;   ///< "pads", "24 rects 0.50 x 0.30", "rect 'U4-1'"
    std::string memory; ///< what a layer with a name of its own is remembered by; all else: see app/found_memory
    std::optional<std::size_t> parent;
    int depth = 0;
    std::vector<std::size_t> children;
    std::vector<std::size_t> shapes;        ///< all below it, positions in Drawing::shapes
    svg::ShapeMeaning said;                 ///< by a person
    bool remembered = false;                ///< ... of another trace, or in another sitting
    std::string said_for;                   ///< file of that trace
    std::optional<std::size_t> once;        ///< position in FoundTrace::once of what is remembered of it elsewhere
    bool open = false;                      ///< its children are listed
    std::array<std::size_t, 9> taken_for{}; ///< how many shapes became what, by svg::Role
};

struct FoundTrace {
    std::shared_ptr<const svg::Drawing> drawing; ///< null: none
    std::string file_name;
    std::vector<FoundEntry> entries; ///< parents stand before their children
    std::vector<std::size_t> entry_of_shape;
    std::vector<std::uint64_t> prints; ///< of each shape: shape_prints()
    std::vector<OnceSaid> once;        ///< said of single shapes of this file that are drawn elsewhere now, or no more
};

/// What `memory` knows is said again, as remembered. Errors: the file cannot be read or is no trace, holds no shape, or
/// the watch says that it is to be given up.
[[nodiscard]] Result<FoundTrace> find_trace(const std::filesystem::path& path, const MeaningMemory& memory,
                                            const Watch& watch = {});

/// "21 pads, 1 body": what an entry was taken for, the most first.
[[nodiscard]] std::string taken_words(const FoundEntry& entry);

} // namespace padchart::app
