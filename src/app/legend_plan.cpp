#include "app/legend_plan.hpp"

#include <algorithm>
#include <sstream>

#include <fmt/format.h>

#include "app/line_break.hpp"

namespace padchart::app {
namespace {

using scene::LegendEntry;
using scene::Role;

struct Lines {
    std::vector<std::string> words;
    double width = 0.0;
};

Lines lines_within(const std::string& text, double room, const LegendSizes& sizes) {
    Lines lines;
    std::istringstream broken(broken_at_blanks(text, static_cast<float>(room), sizes.width_of));
    for (std::string line; std::getline(broken, line);) {
        lines.width = std::max(lines.width, static_cast<double>(sizes.width_of(line)));
        lines.words.push_back(std::move(line));
    }
    return lines;
}

LegendPlan arranged(const std::vector<LegendEntry>& entries, const LegendSizes& sizes) {
    LegendPlan plan;
    geometry::Vec2 pen{sizes.pad, 0};
    for (const LegendEntry& entry : entries) {
        const double before = words_after(entry, sizes);
        Lines lines = lines_within(entry.text, sizes.room - 2 * sizes.pad - before, sizes);
        const double needs = before + lines.width;
        if (pen.x > sizes.pad && pen.x + needs + sizes.pad > sizes.room) pen = {sizes.pad, pen.y + sizes.row};
        const auto count = static_cast<int>(lines.words.size());
        plan.rows = std::max(plan.rows, static_cast<int>(pen.y / sizes.row + 0.5) + count);
        plan.placed.push_back({entry, pen, std::move(lines.words)});
        pen.x += needs + sizes.space;
        plan.width = std::max(plan.width, pen.x - sizes.space + sizes.pad);
        if (count > 1) pen = {sizes.pad, pen.y + count * sizes.row};
    }
    return plan;
}

bool finds_room(const LegendPlan& plan, int most_rows, const LegendSizes& sizes) {
    return plan.rows <= most_rows && plan.width <= sizes.room;
}

/// What explains itself, in the order in which it gives way where room is short.
std::vector<Role> plainest(scene::Stage stage) {
    if (stage == scene::Stage::Access)
        return {Role::MissingEdge, Role::FarSideEdge, Role::KeepOut, Role::Stale, Role::NozzleRing, Role::Marquee};
    return {Role::CutOut,  Role::PadCopper,  Role::Body,        Role::Mark,        Role::BadgeNote,
            Role::Measure, Role::NozzleRing, Role::FarSideEdge, Role::MissingEdge, Role::Shield};
}

/// The plainest first, then the last of the list.
void drop_one(std::vector<LegendEntry>& entries, scene::Stage stage) {
    for (const Role role : plainest(stage))
        if (std::erase_if(entries, [&](const LegendEntry& entry) { return entry.role == role; }) > 0) return;
    entries.pop_back();
}

} // namespace

bool is_remainder(const LegendEntry& entry) {
    return entry.role == Role::PageText;
}

double words_after(const LegendEntry& entry, const LegendSizes& sizes) {
    return is_remainder(entry) ? 0.0 : sizes.sample + sizes.space / 2;
}

LegendPlan legend_page(const std::vector<LegendEntry>& all, int page, int most_rows, const std::string& key,
                       const LegendSizes& sizes) {
    LegendPlan plan;
    std::size_t from = 0;
    for (int at = 0; at <= page && from < all.size(); ++at) {
        std::size_t to = all.size();
        for (;; --to) {
            std::vector<LegendEntry> shown(all.begin() + static_cast<std::ptrdiff_t>(from),
                                           all.begin() + static_cast<std::ptrdiff_t>(to));
            if (to < all.size()) shown.push_back({Role::PageText, fmt::format("{} more: {}", all.size() - to, key)});
            plan = arranged(shown, sizes);
            if (finds_room(plan, most_rows, sizes) || to == from + 1) break;
        }
        plan.leaves_out = to < all.size();
        from = to;
    }
    return plan;
}

LegendPlan legend_plan(const std::vector<LegendEntry>& all, scene::Stage stage, int most_rows, const std::string& key,
                       const LegendSizes& sizes) {
    LegendPlan plan = arranged(all, sizes);
    if (finds_room(plan, most_rows, sizes)) return plan;
    std::vector<LegendEntry> kept = all;
    while (!kept.empty()) {
        drop_one(kept, stage);
        std::vector<LegendEntry> shown = kept;
        shown.push_back({Role::PageText,
                         kept.empty() ? "Legend: " + key : fmt::format("{} more: {}", all.size() - kept.size(), key)});
        plan = arranged(shown, sizes);
        plan.leaves_out = true;
        if (finds_room(plan, most_rows, sizes)) return plan;
    }
    plan.placed.clear();
    return plan;
}

} // namespace padchart::app
