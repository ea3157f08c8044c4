#include "app/editor.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "app/file_fingerprint.hpp"
#include "app/part_boxes.hpp"
#include "app/plain_words.hpp"
#include "app/selected_thing.hpp"
#include "app/selection_edits.hpp"
#include "app/trace_log.hpp"
#include "app/two_versions.hpp"
#include "base/disk_file.hpp"
#include "document/edits.hpp"
#include "document/part_finder.hpp"
#include "document/things.hpp"
#include "json/chart_file.hpp"
#include "json/chart_in_page.hpp"

namespace padchart::app {

using document::Chart;
using document::Footprint;
using document::Id;
using geometry::Box;
using geometry::Vec2;

Editor::Editor() : history_(Chart{}, "New chart") {}

void Editor::replace_history(Chart chart, std::string label) {
    history_ = document::History(std::move(chart), std::move(label));
    history_.mark_saved();
    newer_.forget();
    preview_.reset();
    selection_before_.reset();
    selection_.clear();
    ++version_;
    ++sitting_;
}

void Editor::start_new(Chart chart) {
    replace_history(std::move(chart), "New chart");
    path_.clear();
    started_elsewhere_ = false;
}

Result<OpenedChart> Editor::read(const std::filesystem::path& path) {
    Result<Chart> chart = json::load_chart(path);
    if (!chart) return chart.error();
    OpenedChart opened{std::move(chart).value(), path, fingerprint_of(path), false};
    const Result<std::string> text = read_file(path);
    opened.from_page = text && json::is_page(*text);
    return opened;
}

void Editor::take(OpenedChart opened) {
    // Nothing is saved over a page.
    if (opened.from_page) return start_from(std::move(opened.chart), "Open the chart of a page");
    replace_history(std::move(opened.chart), "Open");
    path_ = opened.path;
    on_disk_ = opened.fingerprint;
    started_elsewhere_ = false;
    trace("open", path_.filename().string());
}

Result<void> Editor::open(const std::filesystem::path& path) {
    Result<OpenedChart> opened = read(path);
    if (!opened) return opened.error();
    take(std::move(*opened));
    return {};
}

void Editor::start_from(Chart chart, std::string label) {
    replace_history(std::move(chart), std::move(label));
    path_.clear();
    started_elsewhere_ = true;
}

bool Editor::is_changed_on_disk() const {
    const auto now = fingerprint_of(path_);
    return now && on_disk_ && now != on_disk_;
}

std::optional<std::size_t> Editor::expected_fingerprint() const {
    return path_.empty() ? std::nullopt : newer_.expected(history_, on_disk_);
}

bool Editor::is_file_newer() const {
    const auto now = fingerprint_of(path_), then = expected_fingerprint();
    return now && then && now != then;
}

Result<void> Editor::take_newer_file() {
    Result<Chart> chart = json::load_chart(path_);
    if (!chart) return chart.error();
    const auto older = expected_fingerprint();
    newer_.drop_unreachable(history_);
    on_disk_ = fingerprint_of(path_);
    if (commit(std::move(chart), "Take the newer file")) newer_.take(history_, older);
    history_.mark_saved();
    started_elsewhere_ = false;
    ++version_;
    trace("reload", path_.filename().string());
    return {};
}

void Editor::take_back(Chart chart, const std::filesystem::path& file) {
    const bool is_there = !file.empty() && open(file).has_value();
    if (!is_there) start_new();
    commit(std::move(chart), "Restore unsaved work");
    trace("take back", file.filename().string());
}

Result<void> Editor::save_again() {
    const Saving saving = begin_saving(path_, true);
    return end_saving(saving, write(saving));
}

Result<void> Editor::save_as(const std::filesystem::path& path) {
    const Saving saving = begin_saving(path, false);
    return end_saving(saving, write(saving));
}

Saving Editor::begin_saving(const std::filesystem::path& path, bool to_own_file) {
    saving_ = snapshot();
    return {saving_, path, to_own_file ? expected_fingerprint() : std::nullopt, sitting_, to_own_file};
}

Editor::Written Editor::write(const Saving& saving) {
    const auto now = saving.expected ? fingerprint_of(saving.path) : std::nullopt;
    if (now && now != saving.expected)
        return Error{"this file was changed outside this window, so it was not written. " + std::string(kTwoVersions),
                     saving.path.filename().string()};
    if (Result<void> saved = json::save_chart(*saving.chart, saving.path); !saved) return saved.error();
    return fingerprint_of(saving.path);
}

Result<void> Editor::end_saving(const Saving& saving, const Written& written) {
    saving_.reset();
    if (!written) {
        // What lies in the file is another chart than the one in hand, even where nothing was done to that since.
        if (saving.sitting == sitting_ && saving.expected && is_changed_on_disk()) started_elsewhere_ = true;
        return written.error();
    }
    trace("save", saving.path.filename().string());
    if (saving.sitting != sitting_) return {}; // another chart has been opened meanwhile
    path_ = saving.path;
    on_disk_ = *written;
    if (!saving.to_own_file) newer_.forget();
    started_elsewhere_ = false;
    history_.mark_saved(saving.chart);
    return {};
}

std::optional<Id> selected_thing(const Editor& editor) {
    const std::vector<Id>& ids = editor.selection();
    if (ids.size() != 1 || document::is_part(editor.shown(), ids.front())) return std::nullopt;
    return ids.front();
}

namespace {

/// Notes and areas have no turn and no other side to go to by themselves.
std::vector<Id> parts_among(const Chart& chart, std::vector<Id> ids) {
    document::PartFinder finder(chart);
    std::erase_if(ids, [&](const Id& id) { return !finder.find(id); });
    return ids;
}

} // namespace

bool Editor::is_selected(const Id& id) const {
    return std::find(selection_.begin(), selection_.end(), id) != selection_.end();
}

const Footprint* Editor::selected_part() const {
    if (selection_.size() != 1) return nullptr;
    const auto at = document::find_part(shown(), selection_.front());
    return at ? &shown().parts[*at] : nullptr;
}

void Editor::select(std::vector<Id> ids) {
    if (ids == selection_) return;
    selection_ = std::move(ids);
    keep_known_selection();
    ++version_;
    trace("select", selection_.empty() ? "nothing" : name_of(shown(), selection_));
}

void Editor::toggle(const Id& id) {
    std::vector<Id> ids = selection_;
    if (std::erase(ids, id) == 0) ids.push_back(id);
    select(std::move(ids));
}

void Editor::select_all(document::Side side) {
    std::vector<Id> ids;
    for (const Footprint& part : chart().parts)
        if (part.placement.side == side) ids.push_back(part.id);
    select(std::move(ids));
}

void Editor::keep_known_selection() {
    document::PartFinder finder(shown());
    std::erase_if(selection_, [&](const Id& id) { return !finder.find(id) && !document::is_taken(shown(), id); });
}

bool Editor::accept(Result<Chart> edited, std::string label, bool repeated) {
    preview_.reset();
    std::vector<Id> before = std::exchange(selection_before_, std::nullopt).value_or(selection_);
    ++version_;
    if (!edited) {
        tell(Severity::Fault, describe(edited.error()));
        trace("refused", describe(edited.error()));
        return false;
    }
    const std::string what = label;
    Chart chart = std::move(edited).value();
    const bool made = repeated
                          ? history_.commit_repeated(std::move(chart), std::move(label), selection_, std::move(before))
                          : history_.commit(std::move(chart), std::move(label), selection_, std::move(before));
    if (!made) return false;
    keep_known_selection();
    clear_notice();
    trace("edit", what);
    return true;
}

bool Editor::commit(Result<Chart> edited, std::string label) {
    return accept(std::move(edited), std::move(label), false);
}

bool Editor::commit_repeated(Result<Chart> edited, std::string label) {
    // What is on its way to the file stays a step of its own: history knows by it which one is saved.
    return accept(std::move(edited), std::move(label), !will_be_saved());
}

void Editor::select_what_was_undone(std::size_t step) {
    const document::Step& first = history_.steps()[step];
    selection_ = first.selection;
    keep_known_selection();
    if (!selection_.empty()) return;
    selection_ = first.selection_before;
    keep_known_selection();
}

bool Editor::undo() {
    drop_preview();
    const std::string label = history_.current().label;
    const std::size_t undone = history_.position();
    if (!history_.undo()) return false;
    select_what_was_undone(undone);
    ++version_;
    tell(Severity::Note, "Undone: " + label);
    trace("undo", label);
    return true;
}

bool Editor::redo() {
    drop_preview();
    if (!history_.redo()) return false;
    selection_ = history_.current().selection;
    keep_known_selection();
    ++version_;
    tell(Severity::Note, "Done again: " + history_.current().label);
    trace("redo", history_.current().label);
    return true;
}

void Editor::go_to_step(std::size_t step) {
    drop_preview();
    if (step == history_.position()) return;
    const bool back = step < history_.position();
    history_.go_to(step);
    if (back) {
        select_what_was_undone(step + 1);
    } else {
        selection_ = history_.current().selection;
        keep_known_selection();
    }
    ++version_;
    tell(Severity::Note, (back ? "Back to: " : "Forward to: ") + history_.current().label);
    trace("step", history_.current().label);
}

void Editor::preview(Result<Chart> edited) {
    if (!edited) {
        tell(Severity::Fault, describe(edited.error()));
        return;
    }
    if (!preview_) selection_before_ = selection_;
    preview_ = std::make_shared<const Chart>(std::move(edited).value());
    ++version_;
}

bool Editor::commit_preview(std::string label) {
    if (!preview_) return false;
    Chart chart = *std::exchange(preview_, nullptr);
    return commit(std::move(chart), std::move(label));
}

void Editor::drop_preview() {
    if (!preview_) return;
    preview_.reset();
    selection_before_.reset();
    keep_known_selection();
    ++version_;
}

void Editor::nudge(Vec2 by_mm) {
    const std::vector<Id> free = movable_selection(*this);
    if (free.empty()) return;
    const auto before = snapshot();
    const std::optional<Notice> stood = notice_;
    if (!commit_repeated(document::move_things(chart(), free, by_mm), "Nudge " + name_of(chart(), free))) return;
    tell_who_stayed(*this);
    tell_where_nudged(*this, *before, stood, free);
}

void Editor::turn(Angle by, document::Side seen_from) {
    const auto about = selection_centre();
    const std::vector<Id> free = parts_among(chart(), movable_selection(*this));
    if (!about || free.empty()) return;
    const auto before = snapshot();
    if (!commit(document::turn_parts(chart(), free, by, *about, seen_from),
                fmt::format("Turn {} by {}", name_of(chart(), free), turn_for_hand(by.degrees()))))
        return;
    tell_who_stayed(*this);
    tell_where_moved(*this, *before, free);
}

void Editor::remove_selected() {
    remove_selected_as(*this, "Delete");
}

void Editor::move_to_other_side() {
    const std::vector<Id> free = parts_among(chart(), movable_selection(*this));
    if (free.empty()) return;
    const auto before = snapshot();
    if (!commit(document::change_side(chart(), free), "Move " + name_of(chart(), free) + " to the other side")) return;
    tell_who_stayed(*this);
    tell_where_moved(*this, *before, free);
}

void Editor::set_presence(document::Presence presence) {
    commit(document::change_parts(chart(), parts_among(chart(), selection_),
                                  [&](Footprint& part) { part.condition.presence = presence; }),
           fmt::format("Mark {} as {}", name_of(chart(), selection_), in_speech(document::to_text(presence))));
}

bool Editor::add_part(Footprint part, document::Placement placement) {
    part.placement = placement;
    if (part.name.empty()) part.name = free_name(chart(), part.part_class);
    part.id = document::free_id(chart(), "part", part.name);
    const Id id = part.id;
    const std::string label = "Add " + part.name;
    const std::vector<Id> before = std::exchange(selection_, {id});
    selection_before_ = before;
    if (commit(document::add_part(chart(), std::move(part)), label)) return true;
    selection_ = before;
    return false;
}

std::optional<Vec2> Editor::selection_centre() const {
    if (const Footprint* part = selected_part()) return part->placement.at;
    // The mean of the places: it stays where it is when the group is turned about it, so that turns can be taken back
    // by turns. The middle of the box round them would wander.
    Vec2 sum;
    double count = 0;
    document::PartFinder finder(shown());
    for (const Id& id : selection_)
        if (const auto at = finder.find(id)) {
            sum += shown().parts[*at].placement.at;
            count += 1;
        }
    if (count == 0) return std::nullopt;
    return sum / count;
}

Box Editor::selection_bounds() const {
    if (selection_bounds_.first == version_) return selection_bounds_.second;
    Box box;
    document::PartFinder finder(shown());
    for (const Id& id : selection_) {
        if (const auto at = finder.find(id))
            box.add(bounds_of(shown().parts[*at]));
        else
            box.add(document::place_of(shown(), id));
    }
    selection_bounds_ = {version_, box};
    return box;
}

std::string name_of(const Chart& chart, std::span<const Id> ids) {
    const auto name = [&](const Id& id) { return document::spoken_name(chart, id); };
    if (ids.size() == 1) return name(ids[0]);
    if (ids.size() == 2) return name(ids[0]) + " and " + name(ids[1]);
    document::PartFinder finder(chart);
    const bool only_parts = std::all_of(ids.begin(), ids.end(), [&](const Id& id) { return finder.find(id); });
    return fmt::format("{} {}", ids.size(), only_parts ? "parts" : "things");
}

Box bounds_of(const Footprint& part) {
    Box box = geometry::bounds(document::extent_on_board(part));
    for (const document::Pad& pad : part.pads)
        box.add(geometry::bounds(document::outline_on_board(part, pad)));
    return box;
}

Box bounds_of(const Chart& chart) {
    Box box = bounds_without_parts(chart);
    for (const Footprint& part : chart.parts)
        box.add(bounds_of(part));
    return box;
}

} // namespace padchart::app
