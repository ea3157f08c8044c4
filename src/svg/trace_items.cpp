#include "svg/trace_items.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <set>

#include "geometry/validity.hpp"
#include "svg/scan.hpp"
#include "svg/trace_chains.hpp"
#include "svg/trace_names.hpp"

namespace padchart::svg {
namespace {

using geometry::Ring;
using geometry::Vec2;

std::string in_words(double length) {
    std::array<char, 32> text{};
    std::snprintf(text.data(), text.size(), "%.3g", length);
    return text.data();
}

enum class NameKind : std::int32_t { Name, Class };

/// A name and where it stands: group -1 is the shape itself.
struct Name {
    std::string_view text;
    std::int32_t group = -1;
    NameKind kind = NameKind::Name;
};

void add_classes(std::vector<Name>& names, std::string_view classes, std::int32_t group) {
    for (std::size_t at = 0; at < classes.size();) {
        while (at < classes.size() && is_blank(classes[at]))
            ++at;
        const std::size_t begin = at;
        while (at < classes.size() && !is_blank(classes[at]))
            ++at;
        if (at > begin) names.push_back({classes.substr(begin, at - begin), group, NameKind::Class});
    }
}

/// The label of a layer is what a hand called it; its id the program made up, be it one like "L4".
bool is_called_by_label(const Group& group) {
    if (!group.is_layer || group.label.empty() || group.label == group.id) return false;
    const NameReading reading = read_name(group.label);
    return reading.role || reading.side || reading.sensitive || !reading.part_name.empty();
}

/// In the order in which they are asked: the shape's own, then the groups from the inside out.
std::vector<Name> names_of(const Drawing& drawing, const DrawnShape& shape) {
    std::vector<Name> names;
    const auto add = [&](std::string_view text, std::int32_t group) {
        if (!text.empty()) names.push_back({text, group, NameKind::Name});
    };
    add(shape.label, -1);
    add(shape.id, -1);
    add(shape.title, -1);
    add_classes(names, shape.classes, -1);
    for (std::int32_t at = shape.group; at >= 0;) {
        const Group& group = drawing.groups[static_cast<std::size_t>(at)];
        add(group.label, at);
        if (group.title != group.label) add(group.title, at);
        if (group.id != group.label && !is_called_by_label(group)) add(group.id, at);
        add_classes(names, group.classes, at);
        at = group.parent;
    }
    return names;
}

std::optional<Role> overridden(const TraceOptions& options, std::string_view name) {
    for (const auto& [layer, role] : options.layer_meanings)
        if (equal_ignoring_case(trimmed(layer), trimmed(name))) return role;
    return std::nullopt;
}

void take_name(TraceItem& item, const Name& name, const NameReading& reading, std::optional<Role> role,
               std::optional<Role>& decided, std::optional<document::Side>& side) {
    // "outline" drawn for a part is its body, not the board.
    const bool corrects = role == Role::Body && decided == Role::Outline && name.group >= 0;
    if (role && (!decided || corrects)) decided = role;
    if (reading.side && !side) side = reading.side;
    item.sensitive = item.sensitive || reading.sensitive;
    if (name.group < 0 && reading.mark && !item.mark) item.mark = reading.mark;
    if (name.kind == NameKind::Class) return;
    if (item.part_name.empty()) item.part_name = reading.part_name;
    if (name.group >= 0 && item.group_name.empty()) item.group_name = reading.part_name;
    if (item.part_role.empty() && reading.part_name == item.part_name) item.part_role = reading.part_role;
    if (name.group < 0 && item.pad_number.empty()) item.pad_number = reading.pad_number;
}

void take_names(TraceItem& item, const Drawing& drawing, const DrawnShape& shape, const TraceOptions& options) {
    std::optional<Role> decided;
    std::optional<document::Side> side;
    for (const Name& name : names_of(drawing, shape)) {
        const NameReading reading = read_name(name.text);
        std::optional<Role> role = overridden(options, name.text);
        if (!role) role = reading.role;
        if (role == Role::Outline && !reading.part_name.empty()) role = Role::Body;
        take_name(item, name, reading, role, decided, side);
    }
    if (!decided && item.sensitive) decided = Role::KeepOut;
    item.role = decided.value_or(Role::None);
    item.side = side.value_or(document::Side::Top);
    for (const std::string_view text :
         {std::string_view(shape.label), std::string_view(shape.title), std::string_view(shape.id)})
        if (item.label.empty() && !is_generated_id(text)) item.label = text;
}

void take_meaning(TraceItem& item, const TraceOptions& options) {
    const auto said = options.shape_meanings.find(item.shape);
    if (said == options.shape_meanings.end()) return;
    item.role = said->second.role.value_or(item.role);
    item.side = said->second.side.value_or(item.side);
}

/// A pad's own id may be a bare number ("7", "A1"): then it is not a part's name.
void settle_pad_number(TraceItem& item, const DrawnShape& shape) {
    if (item.role != Role::Pad || !item.pad_number.empty()) return;
    for (const std::string* own : {&shape.label, &shape.id, &shape.title}) {
        if (own->empty() || is_generated_id(*own)) continue;
        item.pad_number = pad_number_of(*own);
        item.bare_name = !item.pad_number.empty() && item.pad_number == item.part_name;
        if (!item.pad_number.empty()) return;
    }
}

Ring ring_of(const Drawing& drawing, const Subpath& subpath, double factor) {
    Ring ring;
    ring.reserve(subpath.count);
    for (const Vec2 p : drawing.points_of(subpath))
        ring.push_back(p * factor);
    if (ring.size() > 1 && ring.front() == ring.back()) ring.pop_back();
    return ring;
}

void take_rings(TraceItem& item, const Drawing& drawing, double factor, const std::set<std::size_t>& chained,
                TraceLog& log) {
    const DrawnShape& shape = drawing.shapes[item.shape];
    for (const Subpath& subpath : drawing.subpaths_of(shape)) {
        if (chained.contains(subpath.first)) continue;
        Ring ring = ring_of(drawing, subpath, factor);
        if (!needs_area(item.role)) {
            item.rings.push_back(std::move(ring));
            continue;
        }
        // Halves of a ring that crosses itself may cancel in the sum; what the hand went round counts.
        const bool has_area =
            ring.size() >= 3 && (geometry::signed_area(ring) != 0.0 || !geometry::mended({ring, {}}).empty());
        if (!has_area) {
            log.find(Severity::Warning, "no-area",
                     log.name_of(item.shape) + " goes round no area and is left out; draw it as a closed shape",
                     item.shape);
            continue;
        }
        const auto points = drawing.points_of(subpath);
        const double gap = geometry::distance(points.front(), points.back()) * factor;
        if (!subpath.closed && gap > 1e-6)
            log.find(Severity::Warning, "closed-gap",
                     log.name_of(item.shape) + " is open: closed over a gap of " + in_words(gap) + log.unit(),
                     item.shape);
        item.rings.push_back(std::move(ring));
    }
}

void check_rings(const TraceItem& item, TraceLog& log) {
    for (const Ring& ring : item.rings)
        if (const auto flaw = geometry::flaw_of({ring, {}}))
            log.find(Severity::Warning, "flawed-outline",
                     log.name_of(item.shape) + " " + flaw->reason + " at x " + in_words(flaw->at.x) + ", y " +
                         in_words(flaw->at.y) + log.unit(),
                     item.shape);
}

} // namespace

void TraceLog::find(Severity severity, std::string code, std::string message, std::size_t shape, document::Id target) {
    result.diagnostics.push_back(
        {severity, std::move(code), std::move(message), where_of(drawing.shapes[shape]), std::move(target.text)});
}

void TraceLog::account(std::size_t shape, Role role, document::Id target, std::string what) {
    result.account[shape] = {shape, role, std::move(target), std::move(what)};
}

std::string TraceLog::unit() const {
    return result.chart.scale ? " mm" : " units of the trace";
}

std::string TraceLog::name_of(std::size_t at) const {
    const DrawnShape& shape = drawing.shapes[at];
    const std::string& name = shape.label.empty() ? shape.id : shape.label;
    return std::string(to_text(shape.kind)) + (name.empty() ? "" : " '" + name + "'") + " (" + where_of(shape) + ")";
}

namespace {

/// No bench has a board of four metres, and twice that is still a place a chart may hold.
bool lies_far_off(const geometry::Box& box) {
    constexpr double kFar_mm = 4000.0;
    return !box.is_empty() &&
           !(box.min.x >= -kFar_mm && box.min.y >= -kFar_mm && box.max.x <= kFar_mm && box.max.y <= kFar_mm);
}

double touching_of(const Drawing& drawing, const TraceOptions& options) {
    if (options.scale || drawing.mm_per_unit) return kTouching_mm;
    geometry::Box all;
    for (const DrawnShape& shape : drawing.shapes)
        all.add(shape.bbox);
    return kTouchingShare * std::max(all.width(), all.height());
}

} // namespace

bool needs_area(Role role) {
    return role == Role::Outline || role == Role::CutOut || role == Role::Body || role == Role::Pad ||
           role == Role::KeepOut || role == Role::Shield;
}

namespace {

/// What a drawing hides counts as what is seen: whoever hid it may have forgotten it. So may who says what its layer
/// is, and what is remembered of the layer.
void tell_hidden(const TraceItem& item, TraceLog& log) {
    if (item.role == Role::Note || item.role == Role::None) return;
    log.find(Severity::Warning, "hidden-shape",
             log.name_of(item.shape) + " is hidden in the drawing and is kept as " + std::string(to_text(item.role)) +
                 " all the same; leave it out by hand, or take it out of the trace, if it is not on the board",
             item.shape);
}

bool may_go_on(const TraceOptions& options, std::size_t item, double share) {
    constexpr std::size_t kBetween = 256;
    return !options.go_on || item % kBetween != 0 || options.go_on(share);
}

} // namespace

std::vector<TraceItem> items_of(const Drawing& drawing, const TraceOptions& options, double factor, TraceLog& log) {
    std::vector<TraceItem> items;
    items.reserve(drawing.shapes.size());
    const double whole = static_cast<double>(drawing.shapes.size());
    for (std::size_t i = 0; i < drawing.shapes.size(); ++i) {
        if (!may_go_on(options, i, 0.3 * static_cast<double>(i) / whole)) return {};
        const DrawnShape& shape = drawing.shapes[i];
        TraceItem item;
        item.shape = i;
        take_names(item, drawing, shape, options);
        take_meaning(item, options);
        settle_pad_number(item, shape);
        item.box = {shape.bbox.min * factor, shape.bbox.max * factor};
        if (item.role != Role::Note && lies_far_off(item.box)) {
            item.role = Role::Note;
            log.find(Severity::Fault, "far-off",
                     log.name_of(i) + " reaches beyond 4,000" + log.unit() +
                         " and is left out; check the scale, or delete it",
                     i);
        }
        if (!shape.visible) tell_hidden(item, log);
        items.push_back(std::move(item));
    }
    const std::set<std::size_t> chained = chain_open_lines(items, factor, touching_of(drawing, options), log);
    for (TraceItem& item : items) {
        if (!may_go_on(options, item.shape, 0.3 + 0.3 * static_cast<double>(item.shape) / whole)) return {};
        take_rings(item, drawing, factor, chained, log);
        if (needs_area(item.role)) check_rings(item, log);
    }
    return items;
}

} // namespace padchart::svg
