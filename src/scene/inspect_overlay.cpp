#include "scene/inspect_overlay.hpp"

#include <algorithm>
#include <cmath>
#include <unordered_map>

#include <fmt/format.h>

#include "analysis/sweep.hpp"
#include "scene/labels.hpp"

namespace padchart::scene {

using analysis::Change;
using analysis::ChangeKind;
using document::Footprint;
using document::Id;
using document::Side;
using geometry::Affine;
using geometry::Box;
using geometry::Ring;
using geometry::Vec2;

namespace {

constexpr double kArrow_px = 18.0; // shortest arrow that still shows its way
constexpr double kHead_px = 7.0;
constexpr double kBadge_px = 7.0;
constexpr const char* kBeforeWords = "as it was before";

/// What is told of one part.
struct Told {
    const Footprint* before = nullptr;
    const Footprint* after = nullptr;
    std::vector<const Change*> changes;
};

bool is_of_part(ChangeKind kind) {
    return kind != ChangeKind::Reading && kind != ChangeKind::ReadingMissing && kind != ChangeKind::KeepOut;
}

/// "joint bridged"; of a part that is "missing" or "lost" that alone says it.
std::string state_words(const Change& change) {
    std::string after = change.after;
    std::replace(after.begin(), after.end(), '-', ' ');
    return change.field == "presence" ? after : change.field + ' ' + after;
}

/// Each line in two, at the blank nearest to its middle.
std::vector<std::string> broken(const std::vector<std::string>& lines) {
    std::vector<std::string> out;
    for (const std::string& line : lines) {
        const std::size_t middle = line.size() / 2;
        const std::size_t before = line.rfind(' ', middle), after = line.find(' ', middle);
        const bool is_before =
            after == std::string::npos || (before != std::string::npos && middle - before < after - middle);
        const std::size_t at = is_before ? before : after;
        out.push_back(line.substr(0, at));
        if (at != std::string::npos) out.push_back(line.substr(at + 1));
    }
    return out;
}

/// "turned 90° clockwise"; half a turn is one either way.
std::string turn_in_words(double by_deg) {
    const double whole_deg = std::round(std::abs(by_deg));
    std::string text = fmt::format("turned {:.0f}°", whole_deg);
    if (whole_deg != 180.0) text += fmt::format(" {}", analysis::way_in_words(by_deg));
    return text;
}

/// "moved 0.32 mm"; empty where the board shows nothing of it.
std::string short_words(const Change& change) {
    switch (change.kind) {
    case ChangeKind::Missing: return "missing";
    case ChangeKind::Added: return "new";
    case ChangeKind::Moved: return fmt::format("moved {:.2f} mm", change.move ? change.move->distance_mm : 0.0);
    case ChangeKind::Turned:
        return (change.turn ? turn_in_words(change.turn->by_deg) : "turned") + (change.harmless ? ", harmless" : "");
    case ChangeKind::Side: return "other side";
    case ChangeKind::Pattern: return change.field == "body size" ? "other body" : "other lands";
    case ChangeKind::Class: return change.harmless ? "" : "other class";
    case ChangeKind::Value: return "other value";
    case ChangeKind::Orientation: return change.harmless ? "" : "other mark";
    case ChangeKind::State:
    case ChangeKind::PadState: return change.harmless || change.field.starts_with("note") ? "" : state_words(change);
    default: return {};
    }
}

class ChangeDrawer {
public:
    ChangeDrawer(Scene& scene, const BeforeAfter& pair, const ViewOptions& options,
                 const std::optional<Box>& words_within)
        : scene_(scene), pair_(pair), options_(options), words_within_(words_within),
          after_map_(scene_from_board(options.seen_from)),
          before_map_(after_scene_from_before_scene(pair, options.seen_from) *
                      scene_from_board(side_before(pair, options.seen_from))),
          occupied_(std::max(1.0, 40.0 / options.px_per_mm)), signs_(std::max(1.0, 40.0 / options.px_per_mm)) {}

    void draw() {
        for (const Footprint& part : pair_.after.parts)
            if (is_near(part)) occupied_.add(box_of(part, after_map_));
        keep_clear_of_signs();
        const std::vector<Told> all = told();
        for (const Told& one : all)
            shapes(one);
        for (const Told& one : all)
            label(one);
        add_areas();
        badges();
        say_what_lines_mean();
    }

private:
    [[nodiscard]] double mm(double px) const { return px / options_.px_per_mm; }
    [[nodiscard]] bool is_near(const Footprint& after) const { return after.placement.side == options_.seen_from; }
    [[nodiscard]] bool was_near(const Footprint& before) const {
        return before.placement.side == side_before(pair_, options_.seen_from);
    }

    static Ring outline_of(const Footprint& part, const Affine& map) {
        return geometry::transformed(document::extent_on_board(part), map);
    }
    static Box box_of(const Footprint& part, const Affine& map) {
        const Ring ring = outline_of(part, map);
        if (!ring.empty()) return geometry::bounds(ring);
        const Vec2 at = map(part.placement.at);
        return Box{at, at};
    }

    /// Names and badges that the picture has already.
    void keep_clear_of_signs() {
        for (const Text& text : scene_.texts) {
            const LabelBlock block{.lines = {{text.text, Role::LabelPart, text.height_px, text.strong}},
                                   .px_per_mm = options_.px_per_mm};
            take(block.box_at(text.at).grown(mm(1)));
        }
        for (const Symbol& symbol : scene_.symbols)
            take(Box{symbol.at, symbol.at}.grown(mm(symbol.radius_px)));
    }

    /// By a sign or a word.
    void take(const Box& box) {
        occupied_.add(box);
        signs_.add(box);
    }

    [[nodiscard]] std::vector<Told> told() const {
        std::unordered_map<Id, const Footprint*> before, after;
        for (const Footprint& part : pair_.before.parts)
            before.emplace(part.id, &part);
        for (const Footprint& part : pair_.after.parts)
            after.emplace(part.id, &part);
        const auto at = [](const auto& map, const Id& id) {
            const auto found = map.find(id);
            return found == map.end() ? nullptr : found->second;
        };
        std::vector<Told> out;
        for (const Change& change : pair_.report.changes) {
            if (!is_of_part(change.kind)) continue;
            const Told one{at(before, change.before_id), at(after, change.after_id), {}};
            // A part that went while the report was being made: the next report will tell.
            if ((!change.before_id.is_empty() && one.before == nullptr) ||
                (!change.after_id.is_empty() && one.after == nullptr))
                continue;
            if (out.empty() || out.back().before != one.before || out.back().after != one.after) out.push_back(one);
            out.back().changes.push_back(&change);
        }
        std::erase_if(
            out, [&](const Told& one) { return one.after != nullptr ? !is_near(*one.after) : !was_near(*one.before); });
        return out;
    }

    void shapes(const Told& one) {
        source_ = one.after != nullptr ? scene_.add_source(one.after->id) : -1;
        bool told_of_part = false;
        for (const Change* change : one.changes) {
            switch (change->kind) {
            case ChangeKind::Missing: cross(*one.before); break;
            case ChangeKind::Moved:
                ghost(*one.before);
                arrow(*one.before, *one.after);
                break;
            case ChangeKind::Turned:
                ghost(*one.before);
                bow(*one.after, change->turn ? change->turn->by_deg : 0.0);
                break;
            case ChangeKind::Side: ghost(*one.before); break;
            default: break;
            }
            told_of_part = told_of_part || (one.after != nullptr && !short_words(*change).empty());
        }
        if (told_of_part) flag(*one.after);
    }

    void ghost(const Footprint& before) {
        const Ring ring = outline_of(before, before_map_);
        if (ring.size() >= 3) scene_.add(Role::Stale, Line{ring, true, Weight::Normal});
    }

    /// The same sign as of a fault on record: something to look at.
    void flag(const Footprint& after) {
        const Box box = box_of(after, after_map_);
        const Vec2 place = free_place(box, signs_); // its own part lies below it anyway
        scene_.add(Role::BadgeWarning, Symbol{place, Sign::Exclamation, kBadge_px + 2.0}, source_);
        take(badge_at(place));
        flagged_ = true;
    }

    void cross(const Footprint& before) {
        ghost(before);
        const Box box = box_of(before, before_map_);
        scene_.add(Role::MissingEdge, Line{{box.min, box.max}, false, Weight::Normal});
        scene_.add(Role::MissingEdge, Line{{{box.min.x, box.max.y}, {box.max.x, box.min.y}}, false, Weight::Normal});
    }

    void head(Vec2 tip, Vec2 way) {
        moved_ = true;
        const Vec2 across{-way.y, way.x};
        const Vec2 base = tip - way * mm(kHead_px);
        scene_.add(Role::Measure,
                   Fill{{{tip, base + across * mm(kHead_px * 0.5), base - across * mm(kHead_px * 0.5)}, {}}}, source_);
    }

    void arrow(const Footprint& before, const Footprint& after) {
        const Vec2 from = box_of(before, before_map_).centre();
        const Vec2 to = box_of(after, after_map_).centre();
        const double length = geometry::distance(from, to);
        if (length < 1e-9) return;
        const Vec2 way = (to - from) / length;
        const Vec2 start = length < mm(kArrow_px) ? to - way * mm(kArrow_px) : from;
        scene_.add(Role::Measure, Line{{start, to - way * mm(kHead_px * 0.8)}, false, Weight::Bold}, source_);
        head(to, way);
    }

    /// Counter-clockwise as seen from the part's side, which is the side looked at.
    void bow(const Footprint& after, double by_deg) {
        const Box box = box_of(after, after_map_);
        const double radius = std::max(mm(11), 0.32 * std::min(box.width(), box.height()));
        const double from_deg = 90.0 - by_deg / 2.0;
        const int steps = std::max(6, static_cast<int>(std::abs(by_deg) / 6.0));
        Ring points;
        for (int i = 0; i <= steps; ++i)
            points.push_back(box.centre() +
                             geometry::direction(Angle::degrees(from_deg + by_deg * i / steps)) * radius);
        const Angle tangent = Angle::degrees(from_deg + by_deg + (by_deg < 0 ? -90.0 : 90.0));
        const Vec2 tip = points.back() + geometry::direction(tangent) * mm(kHead_px * 0.6);
        scene_.add(Role::Measure, Line{points, false, Weight::Bold}, source_);
        head(tip, geometry::direction(tangent));
    }

    void label(const Told& one) {
        std::vector<std::string> lines;
        const Change* first = nullptr;
        for (const Change* change : one.changes)
            if (std::string text = short_words(*change); !text.empty() && lines.size() < 3) {
                if (first == nullptr) first = change;
                lines.push_back(std::move(text));
            }
        if (lines.empty()) return;
        if (one.after == nullptr && !one.before->name.empty()) lines.front() = one.before->name + " missing";
        words_beside(lines, one.after != nullptr ? box_of(*one.after, after_map_) : box_of(*one.before, before_map_),
                     number_of(*first));
    }

    [[nodiscard]] std::size_t number_of(const Change& change) const {
        return number_of_change(static_cast<std::size_t>(&change - pair_.report.changes.data()));
    }

    /// Broken where that alone finds room; else the number of their row in the list.
    void words_beside(const std::vector<std::string>& lines, const Box& at, std::size_t number) {
        if (lines_beside(lines, at) || !words_within_ || lines_beside(broken(lines), at)) return;
        lines_beside({std::to_string(number)}, at);
    }

    /// Beside the box, with a line to it where there is no room close by. False where there is none at all.
    bool lines_beside(const std::vector<std::string>& lines, const Box& at) {
        LabelBlock block{.lines = {}, .px_per_mm = options_.px_per_mm};
        for (const std::string& line : lines)
            block.lines.push_back({line, Role::LabelDanger, options_.label_px, true});
        const Box around = at.grown(mm(5));
        const std::optional<OutsidePlace> place = place_outside(
            block, around, occupied_, [](const Box&) { return true; }, words_within_);
        if (!place) return false;
        const Box box = block.box_at(place->centre);
        take(box.grown(mm(2)));
        if (place->needs_leader) {
            const Vec2 middle = around.centre();
            scene_.add(
                Role::Leader,
                Line{{{std::clamp(middle.x, box.min.x, box.max.x), std::clamp(middle.y, box.min.y, box.max.y)}, middle},
                     false,
                     Weight::Hair});
        }
        add_block(scene_, block, place->centre, 0.0, true, -1);
        return true;
    }

    // Keep-outs and shields -----------------------------------------------------------------------

    template <class Area>
    static const Area* find(const document::Items<Area>& areas, const Id& id) {
        for (const Area& area : areas)
            if (area.id == id) return &area;
        return nullptr;
    }
    [[nodiscard]] bool is_near(const document::KeepOut& now) const {
        return now.side == options_.seen_from || now.through_board;
    }
    [[nodiscard]] bool was_near(const document::KeepOut& then) const {
        return then.side == side_before(pair_, options_.seen_from) || then.through_board;
    }

    [[nodiscard]] Box badge_at(Vec2 at) const { return Box{at, at}.grown(mm(kBadge_px + 3.0)); }

    /// Where the badge hides no name; the first where all do.
    [[nodiscard]] Vec2 free_place(const Box& box, const Occupied& taken) const {
        const Vec2 middle = box.centre();
        for (const Vec2 place : {box.min, Vec2{box.max.x, box.min.y}, box.max, Vec2{box.min.x, box.max.y},
                                 Vec2{box.min.x, middle.y}, Vec2{box.max.x, middle.y}, middle})
            if (!taken.overlaps(badge_at(place))) return place;
        return box.min;
    }

    /// A warning at the corner of what is on the board, and what to ask of it.
    void ask_of(const geometry::Polygon& outline, const Id& id, const std::string& question, std::size_t number) {
        const Box box = geometry::bounds(geometry::transformed(outline, after_map_));
        words_beside({question}, box, number);
        const Vec2 place = free_place(box, occupied_);
        scene_.add(Role::BadgeWarning, Symbol{place, Sign::Exclamation, kBadge_px + 2.0}, scene_.add_source(id));
        take(badge_at(place));
        flagged_ = true;
    }

    void gone(const document::KeepOut& then, std::size_t number) {
        const Ring ring = geometry::transformed(then.outline.outer, before_map_);
        scene_.add(Role::Stale, Line{ring, true, Weight::Normal});
        words_beside({then.name.empty() ? "keep-out gone" : then.name + " gone"}, geometry::bounds(ring), number);
    }

    /// What was done about a keep-out; then all that may still lie on the board.
    void add_areas() {
        for (const Change& change : pair_.report.changes) {
            if (change.kind != ChangeKind::KeepOut) continue;
            const document::KeepOut* then = find(pair_.before.keep_outs, change.before_id);
            const document::KeepOut* now = find(pair_.after.keep_outs, change.after_id);
            const bool is_left = now != nullptr && is_left_in_place(now->id);
            if (now == nullptr && then != nullptr && was_near(*then)) gone(*then, number_of(change));
            if (now == nullptr || is_left || !is_near(*now)) continue;
            ask_of(now->outline, now->id,
                   then == nullptr ? "new keep-out" : "was " + change.before + ", now " + in_words(now->measure),
                   number_of(change));
        }
        const auto& all = pair_.report.left_in_place;
        for (std::size_t i = 0; i < all.size(); ++i) {
            const analysis::LeftInPlace& left = all[i];
            const std::size_t number = number_of_left(pair_.report, i);
            if (const document::KeepOut* area = find(pair_.after.keep_outs, left.id); area && is_near(*area))
                ask_of(area->outline, left.id,
                       area->measure == document::Measure::Removed ? "gone back?" : "shield or tape off?", number);
            if (const document::Shield* shield = find(pair_.after.shields, left.id);
                shield && shield->side == options_.seen_from)
                ask_of(shield->outline, left.id, "shield or tape off?", number);
        }
    }

    [[nodiscard]] bool is_left_in_place(const Id& id) const {
        const auto& left = pair_.report.left_in_place;
        return std::any_of(left.begin(), left.end(), [&](const analysis::LeftInPlace& one) { return one.id == id; });
    }
    static std::string in_words(document::Measure measure) {
        return measure == document::Measure::None ? "bare" : std::string(document::to_text(measure));
    }

    void say_what_lines_mean() {
        const auto has = [this](Role role) {
            return std::any_of(scene_.items.begin(), scene_.items.end(),
                               [role](const Item& item) { return item.role == role; });
        };
        if (has(Role::Stale)) scene_.legend_words.push_back({Role::Stale, kBeforeWords});
        if (moved_) scene_.legend_words.push_back({Role::Measure, "moved, turned, or measured here"});
    }

    void badges() {
        bool same = false, differs = false;
        std::unordered_map<Id, bool> seen;
        for (const document::Tick& tick : pair_.after.ticks)
            if (tick.task == analysis::kSameAsBefore) seen.emplace(tick.target, tick.done);
        for (const Footprint& part : pair_.after.parts) {
            const auto found = seen.find(part.id);
            if (found == seen.end() || !is_near(part)) continue;
            const Box box = box_of(part, after_map_);
            scene_.add(found->second ? Role::BadgeDone : Role::BadgeWarning,
                       Symbol{{box.max.x, box.min.y}, found->second ? Sign::Tick : Sign::Cross, kBadge_px},
                       scene_.add_source(part.id));
            (found->second ? same : differs) = true;
        }
        if (same) scene_.legend_words.push_back({Role::BadgeDone, "looked at again: as before"});
        if (differs || flagged_) scene_.legend_words.push_back({Role::BadgeWarning, "not as before, or damage seen"});
    }

    Scene& scene_;
    const BeforeAfter& pair_;
    const ViewOptions& options_;
    const std::optional<Box>& words_within_;
    Affine after_map_, before_map_;
    Occupied occupied_, signs_; ///< by anything; by signs and words alone
    std::int32_t source_ = -1;
    bool flagged_ = false, moved_ = false;
};

void move_scene(Scene& scene, const Affine& map) {
    Box bounds;
    for (Fill& fill : scene.fills) {
        fill.area = geometry::transformed(fill.area, map);
        for (const Vec2 point : fill.area.outer)
            bounds.add(point);
    }
    for (Line& line : scene.lines) {
        line.points = geometry::transformed(line.points, map);
        for (const Vec2 point : line.points)
            bounds.add(point);
    }
    for (Text& text : scene.texts)
        text.at = map(text.at);
    for (Symbol& symbol : scene.symbols)
        symbol.at = map(symbol.at);
    scene.bounds = bounds;
}

std::vector<Id> as_called_before(const BeforeAfter& pair, const std::vector<Id>& selection) {
    std::vector<Id> out;
    for (const Id& id : selection)
        for (const analysis::MatchedPart& part : pair.report.matched)
            if (part.after_id == id) out.push_back(part.before_id);
    return out;
}

void add_outlines(Scene& scene, const document::Chart& chart, const Affine& map, Side side, Role role) {
    if (chart.board.outline) {
        scene.add(role, Line{geometry::transformed(chart.board.outline->outer, map), true, Weight::Normal});
        for (const Ring& hole : chart.board.outline->holes)
            scene.add(role, Line{geometry::transformed(hole, map), true, Weight::Thin});
    }
    for (const Footprint& part : chart.parts) {
        if (part.placement.side != side) continue;
        const std::int32_t source = role == Role::BodyEdge ? scene.add_source(part.id) : -1;
        const Ring body = document::extent_on_board(part);
        if (body.size() >= 3) scene.add(role, Line{geometry::transformed(body, map), true, Weight::Normal}, source);
        for (const document::Pad& pad : part.pads)
            scene.add(role, Line{geometry::transformed(document::outline_on_board(part, pad), map), true, Weight::Thin},
                      source);
    }
    const auto add_area = [&](const geometry::Polygon& outline, const Id& id) {
        scene.add(role, Line{geometry::transformed(outline.outer, map), true, Weight::Thin},
                  role == Role::BodyEdge ? scene.add_source(id) : -1);
    };
    for (const document::KeepOut& keep_out : chart.keep_outs)
        if (keep_out.side == side || keep_out.through_board) add_area(keep_out.outline, keep_out.id);
    for (const document::Shield& shield : chart.shields)
        if (shield.side == side) add_area(shield.outline, shield.id);
}

} // namespace

Side side_before(const BeforeAfter& pair, Side seen_from) {
    if (!pair.report.registration.sides_swapped) return seen_from;
    return seen_from == Side::Top ? Side::Bottom : Side::Top;
}

Affine after_scene_from_before_scene(const BeforeAfter& pair, Side seen_from) {
    const Affine board = pair.report.places_compared ? pair.report.registration.before_from_after.inverse() : Affine{};
    return scene_from_board(seen_from) * board * scene_from_board(side_before(pair, seen_from));
}

std::size_t number_of_change(std::size_t at) {
    return at + 1;
}

std::size_t number_of_left(const analysis::CompareReport& report, std::size_t at) {
    return report.changes.size() + at + 1;
}

void add_changes(Scene& scene, const BeforeAfter& pair, const ViewOptions& options,
                 const std::optional<Box>& words_within) {
    ChangeDrawer(scene, pair, options, words_within).draw();
}

Scene before_scene(const BeforeAfter& pair, const ViewOptions& options) {
    ViewOptions then = options;
    then.seen_from = side_before(pair, options.seen_from);
    then.selection = as_called_before(pair, options.selection);
    then.hover.reset();
    Scene scene = chart_scene(pair.before, {}, then);
    move_scene(scene, after_scene_from_before_scene(pair, options.seen_from));
    return scene;
}

Scene difference_scene(const BeforeAfter& pair, const ViewOptions& options) {
    Scene scene;
    const Side then = side_before(pair, options.seen_from);
    add_outlines(scene, pair.after, scene_from_board(options.seen_from), options.seen_from, Role::BodyEdge);
    add_outlines(scene, pair.before, after_scene_from_before_scene(pair, options.seen_from) * scene_from_board(then),
                 then, Role::Stale);
    scene.legend_words.push_back({Role::Stale, kBeforeWords});
    return scene;
}

} // namespace padchart::scene
