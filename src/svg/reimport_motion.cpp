#include "svg/reimport_motion.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "geometry/turn_fit.hpp"
#include "svg/reimport_changes.hpp"
#include "svg/reimport_drawn.hpp"
#include "svg/reimport_edge.hpp"
#include "svg/reimport_match.hpp"
#include "svg/reimport_names.hpp"
#include "svg/reimport_over.hpp"
#include "svg/reimport_thing.hpp"

namespace padchart::svg {
namespace {

using document::Chart;
using geometry::Affine;
using geometry::Box;
using geometry::Vec2;

/// So many of the things that both drawings name must have gone the same way, and so many in any case.
constexpr double kMost = 0.7;
constexpr std::size_t kFewest = 3;
/// They have when they lie no farther off than this: what a hand that traces again is off by. Common practice, no
/// source. Without a scale: this share of what the drawing spans.
constexpr double kOff_mm = 0.2;
constexpr double kOffShare = 0.005;
/// What lies no farther off than a tenth of that stayed.
constexpr double kStillShare = 0.1;
/// Pairs of things that are tried, each with the one farthest from it.
constexpr std::size_t kTries = 24;

/// Where a thing lay, and where it lies.
struct Anchor : geometry::Step {
    double was = 0.0, is = 0.0; ///< its size, 0: not known
};

/// Where a thing lies, and how large it is.
struct Place {
    Vec2 at;
    double size = 0.0;
};

template <class T>
using Places = std::map<T, std::vector<Place>>;

/// By what names them. Without a body the middle of the pads is one only while there are as many.
template <class T>
Places<std::string> places_by_name(const document::Items<T>& items) {
    Places<std::string> found;
    for (const T& item : items)
        if (const std::string_view key = lasting_key(item.trace_key); !key.empty()) {
            const ThingKind kind = kind_of(item);
            found[std::string(key) + (kind.has_body ? "" : " " + std::to_string(kind.pads))].push_back(
                {middle_of(item), size_of(item)});
        }
    return found;
}

/// Of what has no name, in the order in which it was drawn.
template <class T>
Places<ThingKind> places_by_kind(const document::Items<T>& items) {
    Places<ThingKind> found;
    for (const T& item : items)
        if (lasting_key(item.trace_key).empty()) found[kind_of(item)].push_back({middle_of(item), size_of(item)});
    return found;
}

/// A name must be borne by one thing, of a kind there must be as many as there were: most that way are the same ones.
template <class Key>
void pair_up(const Places<Key>& current, const Places<Key>& fresh, std::size_t most, std::vector<Anchor>& anchors) {
    for (const auto& [key, from] : current) {
        const auto to = fresh.find(key);
        if (to == fresh.end() || from.size() != to->second.size() || from.size() > most) continue;
        for (std::size_t i = 0; i < from.size(); ++i)
            anchors.push_back({{from[i].at, to->second[i].at}, from[i].size, to->second[i].size});
    }
}

template <class T>
void add_anchors(const document::Items<T>& current, const document::Items<T>& fresh, std::vector<Anchor>& anchors) {
    pair_up(places_by_name(current), places_by_name(fresh), 1, anchors);
    pair_up(places_by_kind(current), places_by_kind(fresh), current.size(), anchors);
}

/// Of an edge that is as large as it was the middle of its area, which goes along when it turns; else that of its box,
/// which stays where a corner was cut off.
geometry::Step middles_of(const geometry::Ring& was, const geometry::Ring& is) {
    constexpr double kSameArea = 1e-3;
    const double before = std::abs(geometry::signed_area(was)), after = std::abs(geometry::signed_area(is));
    if (before > 0.0 && std::abs(after / before - 1.0) < kSameArea)
        return {geometry::centroid(was), geometry::centroid(is)};
    return {geometry::bounds(was).centre(), geometry::bounds(is).centre()};
}

std::vector<Anchor> anchors_of(const Chart& current, const Chart& fresh) {
    std::vector<Anchor> anchors;
    add_anchors(current.parts, fresh.parts, anchors);
    add_anchors(current.keep_outs, fresh.keep_outs, anchors);
    if (current.board.outline && fresh.board.outline)
        anchors.push_back({middles_of(current.board.outline->outer, fresh.board.outline->outer)});
    return anchors;
}

double span_of(const std::vector<Anchor>& anchors) {
    Box box;
    for (const Anchor& anchor : anchors)
        box.add(anchor.from);
    return std::hypot(box.width(), box.height());
}

enum class Sizes { Kept, Free };

/// What comes nearest to what the anchors did, in the sense of least squares: a motion, and a factor where sizes are
/// free.
Affine fitted(const std::vector<Anchor>& anchors, Sizes sizes) {
    const std::vector<geometry::Step> steps(anchors.begin(), anchors.end());
    const geometry::TurnFit fit = geometry::turn_fit(steps);
    const double turn_deg = squared(fit.turn().degrees());
    return fit.map(Angle::degrees(turn_deg), sizes == Sizes::Free ? fit.factor() : 1.0);
}

std::vector<Anchor> followers(const std::vector<Anchor>& anchors, const Affine& motion, double off) {
    std::vector<Anchor> found;
    for (const Anchor& anchor : anchors)
        if (geometry::distance(motion(anchor.from), anchor.to) <= off) found.push_back(anchor);
    return found;
}

const Anchor& farthest(const std::vector<Anchor>& anchors, const Anchor& one) {
    return *std::max_element(anchors.begin(), anchors.end(), [&](const Anchor& a, const Anchor& b) {
        return geometry::distance(a.from, one.from) < geometry::distance(b.from, one.from);
    });
}

double factor_of(const Affine& map) {
    return std::sqrt(std::abs(map.determinant()));
}

/// Requires: not empty.
double middle_value(std::vector<double> values) {
    const auto half = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), half, values.end());
    return *half;
}

/// What went its own way by a little pulls at the whole: those that agree to a hair tell it truer, where they are most.
Affine polished(const std::vector<Anchor>& anchors, Affine map, double off, Sizes sizes) {
    for (const double share : {0.5, 0.25, kStillShare}) {
        const std::vector<Anchor> near = followers(anchors, map, share * off * factor_of(map));
        if (near.size() < kFewest || 2 * near.size() < anchors.size()) break;
        map = fitted(near, sizes);
    }
    return map;
}

/// What all did alike to a hair, in one direction: that is told by two.
std::optional<Affine> same_shift(const std::vector<Anchor>& anchors, double off) {
    if (anchors.size() < 2) return std::nullopt;
    std::vector<double> x, y;
    for (const Anchor& anchor : anchors) {
        x.push_back(anchor.to.x - anchor.from.x);
        y.push_back(anchor.to.y - anchor.from.y);
    }
    const Affine shift = Affine::translation({middle_value(std::move(x)), middle_value(std::move(y))});
    const std::size_t followed = followers(anchors, shift, kStillShare * off).size();
    const bool is_told = anchors.size() == 2
                             ? followed == 2
                             : static_cast<double>(followed) >= kMost * static_cast<double>(anchors.size());
    return is_told ? std::optional(shift) : std::nullopt;
}

/// What most of the anchors did; nothing where they did not do the same. `off` in the current lengths.
std::optional<Affine> what_most_did(const std::vector<Anchor>& anchors, double off, Sizes sizes) {
    if (const auto shift = same_shift(anchors, off)) return shift;
    const auto enough = std::max(kFewest, static_cast<std::size_t>(kMost * static_cast<double>(anchors.size()) + 0.5));
    if (anchors.size() < enough) return std::nullopt;
    std::vector<Anchor> best;
    const std::size_t step = std::max<std::size_t>(anchors.size() / kTries, 1);
    for (std::size_t i = 0; i < anchors.size(); i += step) {
        const Anchor& other = farthest(anchors, anchors[i]);
        const double was = geometry::distance(anchors[i].from, other.from);
        const double is = geometry::distance(anchors[i].to, other.to);
        if (was < 4.0 * off || is <= 0.0) continue;
        if (sizes == Sizes::Kept && std::abs(is - was) > 2.0 * off) continue;
        const Affine map = fitted({anchors[i], other}, sizes);
        std::vector<Anchor> found = followers(anchors, map, 2.0 * off * factor_of(map));
        if (found.size() > best.size()) best = std::move(found);
    }
    if (best.size() < enough) return std::nullopt;
    const Affine map = polished(anchors, fitted(best, sizes), off, sizes);
    return followers(anchors, map, off * factor_of(map)).size() >= enough ? std::optional(map) : std::nullopt;
}

/// One that units or a hand that types explain, where the jitter leaves that open; else as it was found.
double exact_factor(double factor, double jitter) {
    constexpr double kFinest = 1e-6, kCoarsest = 1e-4; // the digits of a file, and what nobody sees
    const double open = std::clamp(4.0 * jitter, kFinest, kCoarsest);
    // Of an inch in mm, and of dots on it: 72 and 96 by CSS 2.1 and PostScript, 90 of older drawings (common practice).
    for (const double known : {25.4, 96.0 / 72.0, 90.0 / 72.0, 96.0 / 90.0, 72.0 / 25.4, 90.0 / 25.4, 96.0 / 25.4})
        for (const double ratio : {known, 1.0 / known})
            if (std::abs(factor / ratio - 1.0) < open) return ratio;
    const double step = std::pow(10.0, std::floor(std::log10(factor)) - 3.0);
    const double typed = std::round(factor / step) * step;
    return std::abs(factor / typed - 1.0) < open ? typed : factor;
}

/// How far half of the anchors are off at most.
double middle_off(const std::vector<Anchor>& anchors, const Affine& map) {
    std::vector<double> off;
    for (const Anchor& anchor : anchors)
        off.push_back(geometry::distance(map(anchor.from), anchor.to));
    return middle_value(std::move(off));
}

/// The things themselves are larger by that factor, not only farther apart.
bool grew_as(const std::vector<Anchor>& anchors, double factor) {
    std::vector<double> grown;
    for (const Anchor& anchor : anchors)
        if (anchor.was > 0.0 && anchor.is > 0.0) grown.push_back(std::log(anchor.is / anchor.was));
    if (grown.empty()) return false;
    const double middle = middle_value(std::move(grown));
    return std::abs(middle - std::log(factor)) < std::abs(middle);
}

bool most_stayed(const std::vector<Anchor>& anchors, double still) {
    return !anchors.empty() && 2 * followers(anchors, Affine{}, still).size() >= anchors.size();
}

double off_of(const Chart& chart, const std::vector<Anchor>& anchors) {
    return chart.scale ? kOff_mm : kOffShare * span_of(anchors);
}

/// Something else than the unsteady hand that traces again: half of it did not stay, and it went farther than such a
/// hand is off, or all by the same to a hair.
bool is_motion(const std::vector<Anchor>& anchors, const Affine& motion, double off, double still) {
    if (most_stayed(anchors, still)) return false;
    if (followers(anchors, motion, still).size() == anchors.size()) return true;
    return std::any_of(anchors.begin(), anchors.end(), [&](const Anchor& anchor) {
        return geometry::distance(motion(anchor.from), anchor.from) > 2.0 * off;
    });
}

bool lie_alike(const Box& a, const Box& b, double off) {
    return geometry::distance(a.min, b.min) <= off && geometry::distance(a.max, b.max) <= off;
}

/// Its parts went and it stayed: they were moved on the board.
bool edge_stayed(const Chart& current, const Chart& fresh, const Affine& motion, double off) {
    if (!current.board.outline || !fresh.board.outline) return false;
    const Box now = geometry::bounds(*fresh.board.outline);
    return lie_alike(geometry::bounds(*current.board.outline), now, off) &&
           !lie_alike(geometry::bounds(geometry::transformed(*current.board.outline, motion)), now, off);
}

/// Each of most things lies where another one lay: a row whose names moved along by one looks like that, too.
bool only_names_moved(const std::vector<Anchor>& anchors, double off) {
    const auto lies_on_another = [&](const Anchor& anchor) {
        return std::any_of(anchors.begin(), anchors.end(), [&](const Anchor& other) {
            return &other != &anchor && geometry::distance(other.from, anchor.to) <= off;
        });
    };
    constexpr std::size_t kAsked = 256; // a few tell of all
    const std::size_t step = std::max<std::size_t>(anchors.size() / kAsked, 1);
    std::size_t asked = 0, found = 0;
    for (std::size_t i = 0; i < anchors.size(); i += step, ++asked)
        if (lies_on_another(anchors[i])) ++found;
    return 2 * found >= asked;
}

std::set<std::string_view> names_in(const Chart& chart) {
    std::set<std::string_view> names;
    for (const document::Footprint& part : chart.parts)
        names.insert(lasting_key(part.trace_key));
    names.erase("");
    return names;
}

/// How many parts have one of their kind where the motion leads them: of their name, where both drawings have it.
std::size_t parts_met(const Chart& current, const Chart& fresh, const Affine& motion, double off) {
    const std::set<std::string_view> names = names_in(fresh);
    const auto there = [&](const document::Footprint& part) {
        const Vec2 at = motion(middle_of(part));
        const std::string_view name = lasting_key(part.trace_key);
        const bool is_told_by_name = names.contains(name);
        return std::any_of(fresh.parts.begin(), fresh.parts.end(), [&](const document::Footprint& other) {
            return kind_of(other) == kind_of(part) && geometry::distance(middle_of(other), at) <= off &&
                   (!is_told_by_name || lasting_key(other.trace_key) == name);
        });
    };
    return static_cast<std::size_t>(std::count_if(current.parts.begin(), current.parts.end(), there));
}

/// Where the board's edge may have gone, and how many of the parts must lie as it says.
struct EdgeMotion {
    Affine motion;
    double share = 0.0;
};

std::vector<EdgeMotion> where_the_edge_went(const Chart& current, const Chart& fresh, double off) {
    if (!current.board.outline || !fresh.board.outline) return {};
    constexpr double kHalf = 0.5; // what lies on itself line by line is sure by itself
    std::vector<EdgeMotion> motions;
    for (const Affine& motion : edge_motions(current.board.outline->outer, fresh.board.outline->outer, off))
        motions.push_back({motion, kHalf});
    const Box was = geometry::bounds(*current.board.outline), is = geometry::bounds(*fresh.board.outline);
    const bool is_as_large = std::abs(was.width() - is.width()) <= off && std::abs(was.height() - is.height()) <= off;
    if (motions.empty() && is_as_large) motions.push_back({Affine::translation(is.centre() - was.centre()), kMost});
    return motions;
}

/// Too few parts went the same way, or nothing bears a name and there are more or fewer of a kind: the board's edge
/// tells, where enough parts lie as it says, and more than lie as anything else says that it allows.
std::optional<Affine> as_the_edge_went(const Chart& current, const Chart& fresh, double off) {
    constexpr std::size_t kMostLooked = 2000; // every part is looked for among all
    if (current.parts.size() > kMostLooked) return std::nullopt;
    std::optional<Affine> best;
    std::size_t most = 0;
    for (const EdgeMotion& edge : where_the_edge_went(current, fresh, off)) {
        const std::size_t met = parts_met(current, fresh, edge.motion, off);
        if (met == most) best.reset(); // both would do
        if (met <= most) continue;
        most = met;
        const bool is_enough = static_cast<double>(met) >= edge.share * static_cast<double>(current.parts.size());
        best = is_enough ? std::optional(edge.motion) : std::nullopt;
    }
    return best && most > parts_met(current, fresh, Affine{}, off) ? best : std::nullopt;
}

std::string shift_in_words(Vec2 by, std::string_view unit) {
    std::string words;
    const auto add = [&](double length, const char* direction) {
        if (std::abs(length) < 0.005) return;
        words += fmt::format("{}{:.2f}{} {}", words.empty() ? "" : " and ", std::abs(length), unit, direction);
    };
    add(by.x, by.x > 0.0 ? "to the right" : "to the left");
    add(by.y, by.y > 0.0 ? "down" : "up");
    return words.empty() ? "a trifle" : words;
}

Diagnostic moved_finding(const Affine& motion, const Chart& current) {
    const double turned = geometry::bearing(motion.linear({1.0, 0.0})).signed_turn().degrees();
    const std::string how =
        std::abs(turned) >= 0.05
            ? fmt::format("is turned by {:.4g} degrees {} against where it lay", std::abs(turned), turn_sense(turned))
            : fmt::format("lies {} of where it lay",
                          shift_in_words({motion.e, motion.f}, current.scale ? " mm" : " units"));
    return {Severity::Warning,
            "drawing-moved",
            fmt::format("the whole drawing {}: everything on the chart goes along, photos, shields and notes too", how),
            {},
            {}};
}

Diagnostic in_doubt(const std::string& why) {
    return {Severity::Warning,
            "motion-in-doubt",
            why + ": photos, shields and free notes stay where they are, what was said of a part went along with its "
                  "name. Look at each",
            {},
            {}};
}

Diagnostic names_in_doubt() {
    return in_doubt("most parts are drawn where another one of them lay, and no board's edge tells whether the drawing "
                    "moved or the names did");
}

Diagnostic motion_in_doubt() {
    return in_doubt("most things are drawn elsewhere, and neither they nor a board's edge tell one way in which the "
                    "whole drawing went");
}

/// The edge went elsewhere, or there is none, and so did most things, but no one way that is sure.
bool went_who_knows_where(const Chart& current, const Chart& fresh, const std::vector<Anchor>& anchors, double off) {
    if (anchors.size() < kFewest || 2 * followers(anchors, Affine{}, off).size() >= anchors.size()) return false;
    if (!current.board.outline || !fresh.board.outline) return !only_names_moved(anchors, off);
    return !lie_alike(geometry::bounds(*current.board.outline), geometry::bounds(*fresh.board.outline), off);
}

/// "turned by 90 or 270 degrees clockwise, ": nothing where it is a shift that is in doubt.
std::string turns_in_words(const std::vector<Affine>& ways) {
    std::set<long> turns;
    for (const Affine& way : ways)
        turns.insert(std::lround(geometry::bearing(way.linear({1.0, 0.0})).degrees()) % 360);
    if (turns.size() < 2) return {};
    std::string words;
    for (const long turn : turns)
        words += (words.empty() ? "" : " or ") + std::to_string(turn);
    return ", turned by " + words + " degrees counter-clockwise";
}

Diagnostic alike_finding(const std::vector<Affine>& ways) {
    return {
        Severity::Fault,
        "lies-in-doubt",
        fmt::format("the corrected trace lies elsewhere under other names, and what is drawn lies on what was drawn "
                    "in {} ways{}: nothing is taken from it. Keep the ids of the parts, or lay the drawing as it "
                    "lay before",
                    ways.size(), turns_in_words(ways)),
        {},
        {}};
}

Diagnostic mirrored_finding() {
    return {Severity::Fault,
            "drawing-mirrored",
            "the corrected trace is a mirror image of the drawing that was here: a photo was traced mirrored, then or "
            "now. Photos, shields and notes stay where they are. Hold it beside the board before you take it",
            {},
            {}};
}

Diagnostic mirrored_without_names() {
    return {Severity::Fault,
            "lies-in-doubt",
            "the corrected trace is a mirror image of what was drawn, or the board seen from its other side, under "
            "other names: nothing is taken from it. Keep the ids of the parts, or draw it as it was seen before",
            {},
            {}};
}

/// Requires: they did not all go by one motion, since in a straight line both hold.
bool are_mirrored(std::vector<Anchor> anchors, double off) {
    if (anchors.size() < kFewest) return false; // two that changed places look like that too
    for (Anchor& anchor : anchors)
        anchor.from.x = -anchor.from.x;
    return what_most_did(anchors, off, Sizes::Kept).has_value();
}

/// Without a scale there may be no anchors to tell it.
double off_of_drawn(const Chart& chart, double off) {
    if (chart.scale) return kOff_mm;
    if (off > 0.0) return off;
    Box box;
    for (const document::Footprint& part : chart.parts)
        box.add(middle_of(part));
    return kOffShare * std::hypot(box.width(), box.height());
}

/// Where no names tell. Nothing where that does not tell it either, or all stayed.
std::optional<WholeMove> by_what_is_drawn(const Chart& current, const Chart& fresh, double off) {
    const DrawnMotion drawn = motion_of_what_is_drawn(current, fresh, off);
    if (!drawn.alike.empty()) return WholeMove{std::nullopt, alike_finding(drawn.alike), false, Doubt::Alike};
    if (drawn.motion) return WholeMove{drawn.motion, moved_finding(*drawn.motion, current), false, Doubt::None};
    if (!drawn.stayed && is_drawn_mirrored(current, fresh, off))
        return WholeMove{std::nullopt, mirrored_without_names(), true, Doubt::Alike};
    return std::nullopt;
}

} // namespace

WholeMove how_the_whole_went(const Chart& current, const Chart& fresh) {
    const std::vector<Anchor> anchors = anchors_of(current, fresh);
    const double off = off_of(current, anchors);
    const auto by_anchors = what_most_did(anchors, off, Sizes::Kept);
    const auto motion = by_anchors ? by_anchors : as_the_edge_went(current, fresh, off);
    if (!by_anchors && names_tell_nothing(current, fresh))
        if (auto whole = by_what_is_drawn(current, fresh, off_of_drawn(current, off))) return *whole;
    const bool has_edge = current.board.outline && fresh.board.outline;
    if (!by_anchors && are_mirrored(anchors, off)) return {std::nullopt, mirrored_finding(), true, Doubt::None};
    if (motion && is_motion(anchors, *motion, off, kStillShare * off) && !edge_stayed(current, fresh, *motion, off)) {
        if (has_edge || !only_names_moved(anchors, off) || names_moved(current, fresh, off) == NamesMoved::No)
            return {motion, moved_finding(*motion, current), false, Doubt::None};
        const bool all_there = anchors.size() >= std::max(current.parts.size(), fresh.parts.size());
        return all_there ? WholeMove{std::nullopt, names_in_doubt(), false, Doubt::Names} : WholeMove{};
    }
    if (!motion && went_who_knows_where(current, fresh, anchors, off))
        return {std::nullopt, motion_in_doubt(), false, Doubt::Motion};
    return {};
}

WholeMove how_the_whole_was_laid_over(const Chart& current, const Chart& fresh) {
    const auto mirror = how_all_went_over(current, fresh, off_of_drawn(current, 0.0));
    if (!mirror) return {};
    return {
        mirror,
        Diagnostic{Severity::Warning,
                   "laid-over",
                   "the board is now drawn on the other side, as it is seen from there: everything on the chart was "
                   "laid over along, photos, shields and notes too. On its own side each part looks as it did: "
                   "hold it beside the board",
                   {},
                   {}},
        false, Doubt::None};
}

std::optional<double> common_factor(const Chart& current, const Chart& fresh) {
    const std::vector<Anchor> anchors = anchors_of(current, fresh);
    const double off = off_of(current, anchors);
    if (most_stayed(anchors, kStillShare * off)) return 1.0;
    const auto motion = what_most_did(anchors, off, Sizes::Kept);
    const auto map = anchors.size() > kFewest ? what_most_did(anchors, off, Sizes::Free) : std::nullopt;
    if (!map) return motion ? std::optional(1.0) : std::nullopt;
    if (!grew_as(anchors, factor_of(*map))) return motion ? std::optional(1.0) : std::nullopt;
    // Where nobody drew larger the factor only follows the jitter of the hand.
    if (motion && middle_off(anchors, *map) > middle_off(anchors, *motion) / 2.0) return 1.0;
    const double span = span_of(anchors);
    return exact_factor(factor_of(*map), span > 0.0 ? middle_off(anchors, *map) / (factor_of(*map) * span) : 0.0);
}

} // namespace padchart::svg
