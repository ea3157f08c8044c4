#include "app/selection_edits.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "app/copy_places.hpp"
#include "app/more_words.hpp"
#include "app/plain_words.hpp"
#include "app/removal_words.hpp"
#include "app/trace_log.hpp"
#include "document/edits.hpp"
#include "document/part_finder.hpp"
#include "document/things.hpp"
#include "scene/chart_scene.hpp"
#include "json/fragment.hpp"

namespace padchart::app {
namespace {

using document::Chart;
using document::Copies;
using document::Fragment;
using document::Id;
using document::Side;
using geometry::Vec2;

// One request to the display server holds no more; a few thousand parts are far below.
constexpr std::size_t kMostOnClipboard = 2'000'000;
constexpr double kFarthest_mm = 10'000.0; // of a place on a chart

std::string name_of_selection(const Editor& editor) {
    return name_of(editor.chart(), editor.selection());
}

std::vector<Id> locked_selection(const Editor& editor) {
    std::vector<Id> locked;
    document::PartFinder finder(editor.chart());
    for (const Id& id : editor.selection())
        if (const auto at = finder.find(id); at && editor.chart().parts[*at].locked) locked.push_back(id);
    return locked;
}

document::Line as_on_board(document::Line seen, Side seen_from) {
    if (seen_from == Side::Top) return seen;
    if (seen == document::Line::Left) return document::Line::Right;
    if (seen == document::Line::Right) return document::Line::Left;
    return seen;
}

/// The copies are selected before the step is made, so that doing it again selects them too.
bool add(Editor& editor, Result<Copies> copies, const std::string& label) {
    if (!copies) {
        editor.tell(Severity::Warning, describe(copies.error()));
        return false;
    }
    editor.preview(std::move(copies->chart));
    editor.select(std::move(copies->ids));
    return editor.commit_preview(label);
}

std::string words_of(document::Line line) {
    switch (line) {
    case document::Line::Left: return "left edges";
    case document::Line::Centre: return "centres across";
    case document::Line::Right: return "right edges";
    case document::Line::Top: return "top edges";
    case document::Line::Middle: return "centres down";
    case document::Line::Bottom: return "bottom edges";
    }
    return "";
}

} // namespace

std::string turn_for_hand(double counter_clockwise_deg) {
    return fmt::format("{:g} degrees{}", std::abs(counter_clockwise_deg),
                       counter_clockwise_deg == 0.0  ? ""
                       : counter_clockwise_deg > 0.0 ? " counter-clockwise"
                                                     : " clockwise");
}

std::vector<Id> movable_selection(Editor& editor, std::string_view unlock_to) {
    std::vector<Id> parts, others; // only parts can be locked
    document::PartFinder finder(editor.chart());
    for (const Id& id : editor.selection())
        (finder.find(id) ? parts : others).push_back(id);
    std::vector<Id> free = document::movable(editor.chart(), parts);
    free.insert(free.end(), others.begin(), others.end());
    if (free.empty() && !editor.selection().empty())
        editor.tell(Severity::Warning, fmt::format("{} {} locked; unlock to {}.", name_of_selection(editor),
                                                   editor.selection().size() == 1 ? "is" : "are", unlock_to));
    return free;
}

void tell_who_stayed(Editor& editor) {
    const std::vector<Id> locked = locked_selection(editor);
    if (locked.empty()) return;
    editor.tell(Severity::Note, fmt::format("{} {} locked and stayed.", name_of(editor.chart(), locked),
                                            locked.size() == 1 ? "is" : "are"));
}

void tell_where_moved(Editor& editor, const Chart& before, std::span<const Id> moved) {
    tell_more(editor, Severity::Warning, remarks_on_moved(before, editor.chart(), moved));
}

void tell_where_nudged(Editor& editor, const Chart& before, const std::optional<Notice>& stood,
                       std::span<const Id> moved) {
    const document::History& history = editor.history();
    const Chart& at_first = *history.steps()[history.position() - 1].chart;
    const std::string remarks = remarks_on_moved(at_first, editor.chart(), moved);
    if (remarks.empty()) return;
    const bool still_stands = stood && stood->text.find(remarks) != std::string::npos;
    if (still_stands || !remarks_on_moved(before, editor.chart(), moved).empty())
        tell_more(editor, Severity::Warning, remarks);
}

namespace {

/// A step that takes parts elsewhere, and what is to be told of it.
void take_elsewhere(Editor& editor, Result<Chart> moved, std::string label, std::span<const Id> ids) {
    const auto before = editor.snapshot();
    if (!editor.commit(std::move(moved), std::move(label))) return;
    tell_who_stayed(editor);
    tell_where_moved(editor, *before, ids);
}

} // namespace

void align_selected(Editor& editor, document::Line seen, document::Extent extent, Side seen_from) {
    take_elsewhere(editor, document::align(editor.chart(), editor.selection(), as_on_board(seen, seen_from), extent),
                   fmt::format("Bring {} of {} in line", words_of(seen), name_of_selection(editor)),
                   editor.selection());
}

void spread_selected(Editor& editor, document::Axis axis, document::Spread what, document::Extent extent) {
    take_elsewhere(editor, document::spread(editor.chart(), editor.selection(), axis, what, extent),
                   fmt::format("Spread {} of {} {}", what == document::Spread::Gaps ? "gaps" : "centres",
                               name_of_selection(editor), axis == document::Axis::X ? "across" : "down"),
                   editor.selection());
}

namespace {

/// The first part that the move would take beyond what a chart holds; null: none.
const document::Footprint* first_too_far(const Chart& chart, std::span<const Id> ids, Vec2 by_mm) {
    document::PartFinder finder(chart);
    for (const Id& id : ids) {
        const auto part = finder.find(id);
        if (!part) continue;
        const Vec2 to = chart.parts[*part].placement.at + by_mm;
        if (!(std::abs(to.x) <= kFarthest_mm && std::abs(to.y) <= kFarthest_mm)) return &chart.parts[*part];
    }
    return nullptr;
}

} // namespace

void move_selected(Editor& editor, Vec2 seen_by_mm, Side seen_from) {
    const std::vector<Id> free = movable_selection(editor);
    if (free.empty()) return;
    const Vec2 by = scene::scene_from_board(seen_by_mm, seen_from);
    if (const document::Footprint* far = first_too_far(editor.chart(), free, by)) {
        const std::string name = name_of(editor.chart(), std::span(&far->id, 1));
        return editor.tell(Severity::Warning, name + " would lie more than 10,000 mm away; nothing was moved.");
    }
    take_elsewhere(editor, document::move_parts(editor.chart(), free, by),
                   fmt::format("Move {} by {}, {} mm", name_of(editor.chart(), free), plain_number(seen_by_mm.x),
                               plain_number(seen_by_mm.y)),
                   free);
}

void fold_selected(Editor& editor, document::FoldLine line) {
    if (editor.selection().empty()) return;
    take_elsewhere(editor, document::fold_to_far_side(editor.chart(), editor.selection(), line),
                   fmt::format("Fold {} to the far side", name_of_selection(editor)), editor.selection());
}

std::optional<document::FoldLine> fold_line_through(const Editor& editor, document::Axis along) {
    const geometry::Box box = editor.selection_bounds();
    if (box.is_empty()) return std::nullopt;
    return document::FoldLine{along, along == document::Axis::Y ? box.centre().x : box.centre().y};
}

namespace {

/// Copies go where numbers say, maybe out of sight: what is odd about their places is told.
bool add_and_look(Editor& editor, Result<Copies> copies, const std::string& label) {
    if (!add(editor, std::move(copies), label)) return false;
    if (const std::string remarks = remarks_on_copies(editor.chart(), editor.selection()); !remarks.empty())
        editor.tell(Severity::Warning, remarks);
    return true;
}

} // namespace

void duplicate_selected(Editor& editor, Vec2 seen_by_mm, Side seen_from) {
    add_and_look(
        editor, document::duplicate(editor.chart(), editor.selection(), scene::scene_from_board(seen_by_mm, seen_from)),
        "Duplicate " + name_of_selection(editor));
}

void copy_selected_to_grid(Editor& editor, const document::GridArray& grid) {
    add_and_look(editor, document::copy_to_grid(editor.chart(), editor.selection(), grid),
                 fmt::format("Copy {} to a grid of {} x {}", name_of_selection(editor), grid.columns, grid.rows));
}

void copy_selected_to_ring(Editor& editor, const document::RingArray& ring) {
    add_and_look(editor, document::copy_to_ring(editor.chart(), editor.selection(), ring),
                 fmt::format("Copy {} to a ring of {}", name_of_selection(editor), ring.count));
}

bool is_all_locked(const Editor& editor) {
    return !editor.selection().empty() && locked_selection(editor).size() == editor.selection().size();
}

void lock_or_unlock_selected(Editor& editor) {
    if (editor.selection().empty()) return;
    const bool lock = !is_all_locked(editor);
    editor.commit(document::set_locked(editor.chart(), editor.selection(), lock),
                  (lock ? "Lock " : "Unlock ") + name_of_selection(editor));
}

bool copy_selected(Editor& editor, Clipboard& clipboard) {
    const Result<Fragment> things = document::fragment_of(editor.chart(), editor.selection());
    if (!things || editor.selection().empty()) return false;
    if (things->empty()) {
        editor.tell(Severity::Note, "A reading belongs to the place where it was taken; it is not copied.");
        return false;
    }
    const std::string text = json::write_fragment(*things);
    if (text.size() > kMostOnClipboard) {
        editor.tell(Severity::Warning, "This is too much for the clipboard; copy less at once.");
        return false;
    }
    clipboard.put(text);
    const bool all = things->size() == editor.selection().size();
    editor.tell(Severity::Note,
                fmt::format("Copied: {}{}", name_of_selection(editor), all ? "" : ", without readings"));
    trace("copy", name_of_selection(editor));
    return true;
}

bool remove_selected_as(Editor& editor, const std::string& verb) {
    const std::vector<Id> free = movable_selection(editor, "delete");
    if (free.empty()) return false;
    const auto before = editor.snapshot();
    const std::string names = name_of(*before, free), also = what_goes_along(*before, free);
    const std::string hung = also.empty() ? "" : " and " + also;
    if (!editor.commit(document::remove(*before, free), verb + " " + names + hung)) return false;
    tell_who_stayed(editor);
    if (!also.empty())
        tell_more(editor, Severity::Warning, fmt::format("Gone with {}: {}; undo brings all back.", names, also));
    tell_more(editor, Severity::Warning, who_loses_a_shield(*before, free));
    if (const std::string left = what_stays_behind(*before, free); !left.empty())
        tell_more(editor, Severity::Note, fmt::format("Left without {}: {}.", names, left));
    return true;
}

void cut_selected(Editor& editor, Clipboard& clipboard) {
    if (!copy_selected(editor, clipboard)) return;
    const std::string names = name_of_selection(editor);
    if (!remove_selected_as(editor, "Cut")) return;
    const std::optional<Notice> told = editor.notice();
    editor.tell(told ? told->severity : Severity::Note, "Cut: " + names + "." + (told ? " " + told->text : ""));
}

Fragment things_on(const Clipboard& clipboard, Editor& editor) {
    Result<Fragment> things = json::read_fragment(clipboard.text());
    if (things) return std::move(things).value();
    editor.tell(Severity::Note, describe(things.error())); // nothing is lost: it goes once it has been read
    trace("refused", describe(things.error()));
    return {};
}

bool paste(Editor& editor, const Fragment& things) {
    Result<Copies> copies = document::add_copies(editor.chart(), things);
    const std::string label = copies ? "Paste " + name_of(copies->chart, copies->ids) : "";
    return add_and_look(editor, std::move(copies), label);
}

} // namespace padchart::app
