#include "svg/reimport_part.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "document/mark_spot.hpp"
#include "document/tidied.hpp"
#include "svg/reimport_changes.hpp"
#include "svg/reimport_numbers.hpp"
#include "svg/reimport_turn.hpp"

namespace padchart::svg {
namespace {

using document::Footprint;
using document::Orientation;
using document::Pad;
using document::RecordState;
using geometry::Affine;
using geometry::Vec2;

/// As the import writes them.
constexpr std::string_view kMarkNote = "drawn in the trace";
constexpr std::string_view kHeatNote = "drawn in a layer named sensitive";
/// A mark drawn that much elsewhere contradicts the record.
constexpr double kOtherWay_deg = 30.0;
/// Below this nothing moved: what is left of decimal fractions.
constexpr double kStill_mm = 1e-6;
/// A body that slid no farther over its pads was drawn by an unsteady hand. Common practice, no source.
constexpr double kSlid_mm = 0.1;

bool is_quarter(double turn_deg) {
    return std::abs(std::remainder(turn_deg, 90.0)) < 1e-9;
}

void turn_shape(document::Shape& shape, Vec2& at, Angle& turn, double frame_deg) {
    const Affine map = Affine::rotation(Angle::degrees(-frame_deg));
    at = map(at);
    switch (shape.kind) {
    case document::ShapeKind::Polygon: shape.points = geometry::transformed(shape.points, map); break;
    case document::ShapeKind::Oblong:
        turn = Angle::degrees(std::remainder(turn.degrees() - frame_deg, 180.0)).wrapped();
        break;
    case document::ShapeKind::Rectangle:
        if (!is_quarter(frame_deg))
            turn = Angle::degrees(std::remainder(turn.degrees() - frame_deg, 180.0)).wrapped();
        else if (std::lround(frame_deg / 90.0) % 2 != 0)
            std::swap(shape.width_mm, shape.height_mm);
        break;
    case document::ShapeKind::Round: break;
    }
}

/// The same part told in a frame that is turned, so that directions of the chart keep their meaning.
Footprint in_turned_frame(Footprint part, double frame_deg) {
    if (frame_deg == 0.0) return part;
    part.placement.turn = (part.placement.turn + Angle::degrees(frame_deg)).wrapped();
    part.orientation.bearing = (part.orientation.bearing - Angle::degrees(frame_deg)).wrapped();
    for (Pad& pad : part.pads)
        turn_shape(pad.shape, pad.at, pad.turn, frame_deg);
    if (part.body) turn_shape(part.body->shape, part.body->at, part.body->turn, frame_deg);
    return part;
}

/// A rectangle shows by its sides how its part is turned, but for quarters; nothing else shows it at all.
double frame_between(const Footprint& fresh, const Footprint& current) {
    const double apart = (current.placement.turn - fresh.placement.turn).signed_turn().degrees();
    const bool shows_turn = fresh.body && fresh.body->shape.kind == document::ShapeKind::Rectangle;
    return shows_turn ? 90.0 * std::round(apart / 90.0) : apart;
}

bool has_state(const Pad& pad) {
    return pad.land != document::LandState::NotChecked || pad.joint != document::JointState::NotChecked ||
           !pad.extras.empty();
}

/// Which fresh pad is which: by number where both bear it, else the nearest within half its size, all current pads
/// shifted so far.
class PadMatch {
public:
    PadMatch(const std::vector<Pad>& current, const std::vector<Pad>& fresh, Vec2 shift = {})
        : fresh_of(current.size()), taken(fresh.size(), false) {
        const auto by_number = pads_by_number(fresh);
        for (const auto& [number, c] : pads_by_number(current))
            if (const auto found = by_number.find(number); found != by_number.end()) pair(c, found->second);
        by_place(current, fresh, shift);
        for (std::size_t c = 0; c < current.size(); ++c)
            if (fresh_of[c]) apart += geometry::distance(current[c].at + shift, fresh[*fresh_of[c]].at);
    }

    std::vector<std::optional<std::size_t>> fresh_of;
    std::vector<bool> taken;

    [[nodiscard]] auto count() const { return std::count(taken.begin(), taken.end(), true); }
    /// How far the partners lie apart, all together.
    double apart = 0.0;

private:
    void pair(std::size_t c, std::size_t f) {
        fresh_of[c] = f;
        taken[f] = true;
    }

    void by_place(const std::vector<Pad>& current, const std::vector<Pad>& fresh, Vec2 shift) {
        struct Candidate {
            double distance;
            std::size_t c, f;
        };
        std::vector<Candidate> candidates;
        for (std::size_t c = 0; c < current.size(); ++c)
            for (std::size_t f = 0; f < fresh.size() && !fresh_of[c]; ++f) {
                const double distance = geometry::distance(current[c].at + shift, fresh[f].at);
                if (!taken[f] && distance <= reach(current[c])) candidates.push_back({distance, c, f});
            }
        std::stable_sort(candidates.begin(), candidates.end(),
                         [](const Candidate& a, const Candidate& b) { return a.distance < b.distance; });
        for (const Candidate& candidate : candidates)
            if (!fresh_of[candidate.c] && !taken[candidate.f]) pair(candidate.c, candidate.f);
    }

    static double reach(const Pad& pad) {
        const geometry::Box box = geometry::bounds(document::outline_in_part(pad));
        return std::max(0.1, std::max(box.width(), box.height()) / 2.0);
    }
};

class PartUpdate {
public:
    PartUpdate(const Footprint& current, const Footprint& fresh, const std::set<std::string>& spoken,
               std::string_view unit, Diagnostics& findings)
        : current_(current), fresh_(in_turned_frame(fresh, frame_between(fresh, current))), spoken_(spoken),
          unit_(unit), findings_(findings), next_(current), pads_(current.pads.size()) {
        for (std::size_t i = 0; i < pads_.size(); ++i)
            pads_[i] = i;
    }

    UpdatedPart run() {
        next_.trace_key = fresh_.trace_key;
        name();
        if (next_.role.empty()) next_.role = fresh_.role;
        orientation();
        heat();
        if (current_.locked)
            keep_geometry();
        else if (!current_.family.empty())
            follow_place_only();
        else
            geometry();
        return {std::move(next_), std::move(pads_), turned_deg_};
    }

private:
    void find(Severity severity, std::string code, std::string message) {
        findings_.push_back({severity, std::move(code), std::move(message), {}, current_.id.text});
    }

    void name() {
        if (fresh_.name.empty() || fresh_.name == current_.name) return;
        const std::string& key = current_.trace_key;
        const bool untouched = current_.name.empty() || key == current_.name || key == current_.name + "@bottom";
        if (untouched) {
            next_.name = fresh_.name;
            if (!current_.name.empty())
                find(Severity::Note, "name-follows-trace",
                     fmt::format("{} is called {} in the corrected trace, and so it is here now", current_.name,
                                 fresh_.name));
        } else {
            find(Severity::Note, "name-kept",
                 fmt::format("{} keeps its name; the trace calls it {}", current_.name, fresh_.name));
        }
    }

    void orientation() {
        const Orientation& drawn = fresh_.orientation;
        const Orientation& now = current_.orientation;
        if (drawn.state != RecordState::Recorded) {
            if (is_from_trace(now) && now.state == RecordState::Recorded)
                find(Severity::Warning, "mark-gone",
                     fmt::format("the corrected trace draws no mark of {}: what is on record came from the trace that "
                                 "was there before; check it on the board",
                                 called(current_, unit_)));
            return;
        }
        if (now.state == RecordState::NotRecorded) {
            next_.orientation = drawn;
            next_.orientation.extras = now.extras;
            return;
        }
        const double apart = std::abs((drawn.bearing - now.bearing).signed_turn().degrees());
        if (is_from_trace(now)) {
            next_.orientation.mark = drawn.mark;
            next_.orientation.bearing = drawn.bearing;
            if (apart > kOtherWay_deg)
                find(Severity::Warning, "mark-follows-trace",
                     fmt::format("the mark of {} goes to where the trace draws it, {:.0f} degrees away from where the "
                                 "chart had it: check it on the board",
                                 called(current_, unit_), apart));
        } else if (now.state == RecordState::NoMark || apart > kOtherWay_deg) {
            find(Severity::Warning, "mark-kept",
                 now.state == RecordState::NoMark
                     ? fmt::format("{} is on record as having no mark, but the trace draws one: the record is kept",
                                   called(current_, unit_))
                     : fmt::format("the trace draws the mark of {} {:.0f} degrees away from the record: the record is "
                                   "kept",
                                   called(current_, unit_), apart));
        }
    }

    /// A body that is drawn elsewhere on its pads takes no mark along that was recorded where the pads are.
    void hold_mark(const PadMatch& match) {
        const auto spot = document::mark_spot(current_);
        if (!spot || fresh_.orientation.state == RecordState::Recorded) return; // the trace tells where it is
        const auto shift = shift_of_pads(match);
        if (!shift) return;
        const Vec2 slid = document::centre_in_part(next_) - (document::centre_in_part(current_) + *shift);
        if (geometry::length(slid) <= kSlid_mm) return;
        document::set_mark_spot(next_, *spot + *shift);
        find(Severity::Warning, "mark-held",
             fmt::format("the body of {} is drawn {:.2f}{} elsewhere on its pads: the mark on record keeps its spot; "
                         "check it on the board",
                         called(current_, unit_), geometry::length(slid), unit_));
    }

    void heat() {
        if (!fresh_.heat || current_.heat) return;
        next_.heat = fresh_.heat;
        find(Severity::Note, "heat-follows-trace",
             fmt::format("{} is drawn as heat-sensitive in the corrected trace", called(current_, unit_)));
    }

    void keep_geometry() {
        if (centres_apart() > kStill_mm)
            find(Severity::Warning, "locked-kept",
                 fmt::format("{} is locked: it stays where it is, though the trace draws it {:.2f}{} away",
                             called(current_, unit_), centres_apart(), unit_));
    }

    static Vec2 centre_on_board(const Footprint& part) {
        return document::board_from_part(part.placement)(document::centre_in_part(part));
    }
    [[nodiscard]] double centres_apart() const {
        return geometry::distance(centre_on_board(current_), centre_on_board(fresh_));
    }

    void follow_place_only() {
        const double turned = (fresh_.placement.turn - current_.placement.turn).signed_turn().degrees();
        if (centres_apart() <= kStill_mm && std::abs(turned) <= kStill_mm) return;
        next_.placement.turn = fresh_.placement.turn;
        next_.placement.at += centre_on_board(fresh_) - centre_on_board(next_);
        find(Severity::Note, "family-kept",
             fmt::format("{} keeps the pattern {} that was chosen for it; its place follows the trace",
                         called(current_, unit_), current_.family));
    }

    void geometry() {
        next_.placement = fresh_.placement;
        body();
        const PadMatch match = matched_pads();
        const Vec2 shift = shift_of_frame(match);
        next_.pads.clear();
        for (std::size_t c = 0; c < current_.pads.size(); ++c) {
            pads_[c] = next_.pads.size();
            if (match.fresh_of[c])
                next_.pads.push_back(merged(current_.pads[c], fresh_.pads[*match.fresh_of[c]]));
            else if (!is_kept(current_.pads[c], shift))
                pads_[c].reset();
        }
        for (std::size_t f = 0; f < fresh_.pads.size(); ++f)
            if (!match.taken[f]) next_.pads.push_back(fresh_.pads[f]);
        turned_deg_ = turn_of_pads(current_.pads, fresh_.pads);
        if (turned_deg_ != 0.0) {
            tell_turn();
        } else {
            hold_mark(match);
            tell_turn_of_frame();
        }
    }

    [[nodiscard]] bool has_record() const {
        return current_.orientation.state == RecordState::Recorded && !is_from_trace(current_.orientation);
    }

    /// What a hand saw on the board is not turned by what a hand draws.
    void tell_turn() {
        if (!has_record()) return;
        find(Severity::Warning, "record-of-turned",
             fmt::format("{} is drawn turned by {:.0f} degrees, or numbered from another pad: where its mark is on "
                         "record stays as it was; check it on the board",
                         called(current_, unit_), std::abs(turned_deg_)));
    }

    /// By less than half a quarter: the mark goes along, at the end of the body that lies nearest to where it was seen.
    void tell_turn_of_frame() {
        const double turned = (fresh_.placement.turn - current_.placement.turn).signed_turn().degrees();
        if (std::abs(turned) <= kOtherWay_deg || !has_record()) return;
        find(Severity::Warning, "record-of-turned",
             fmt::format("{} is drawn turned by {:.0f} degrees {}: its mark on record goes along, at the end or corner "
                         "nearest to where it was seen; check it on the board",
                         called(current_, unit_), std::abs(turned), turn_sense(turned)));
    }

    /// A part without a body has its origin in the middle of its pads: where some of them are gone the others have
    /// moved in its frame, though not on the board.
    [[nodiscard]] PadMatch matched_pads() const {
        PadMatch in_part(current_.pads, fresh_.pads);
        if (fresh_.body) return in_part;
        PadMatch on_board(current_.pads, fresh_.pads, frame_apart());
        const bool nearer = on_board.count() == in_part.count() && on_board.apart < in_part.apart;
        return nearer || on_board.count() > in_part.count() ? on_board : in_part;
    }

    /// Where the current part's origin lies in the fresh one's frame.
    [[nodiscard]] Vec2 frame_apart() const {
        return document::board_from_part(fresh_.placement).inverse()(current_.placement.at);
    }

    /// From a place in the current part's frame to the same one in the fresh one's.
    [[nodiscard]] Vec2 shift_of_frame(const PadMatch& match) const {
        if (fresh_.body) return {};
        return shift_of_pads(match).value_or(frame_apart());
    }

    /// How far the pads lie off where they lay, each in its part's frame. Nothing where none was found again.
    [[nodiscard]] std::optional<Vec2> shift_of_pads(const PadMatch& match) const {
        Vec2 sum;
        double count = 0.0;
        for (std::size_t c = 0; c < current_.pads.size(); ++c) {
            if (!match.fresh_of[c]) continue;
            sum += fresh_.pads[*match.fresh_of[c]].at - current_.pads[c].at;
            count += 1.0;
        }
        return count > 0.0 ? std::optional(sum / count) : std::nullopt;
    }

    void body() {
        if (!fresh_.body) {
            if (current_.body)
                find(Severity::Warning, "body-kept",
                     fmt::format("the corrected trace draws no body of {}: the one it had is kept",
                                 called(current_, unit_)));
            return;
        }
        next_.body = fresh_.body;
        if (!current_.body) return;
        next_.body->height_mm = current_.body->height_mm;
        next_.body->extras = current_.body->extras;
    }

    Pad merged(const Pad& now, const Pad& drawn) {
        Pad pad = now;
        pad.at = drawn.at;
        pad.turn = drawn.turn;
        pad.shape = drawn.shape;
        if (now.number.empty())
            pad.number = drawn.number;
        else if (!drawn.number.empty() && drawn.number != now.number)
            find(Severity::Note, "pad-number-kept",
                 fmt::format("pad {} of {} keeps its number; the trace calls it {}", now.number,
                             called(current_, unit_), drawn.number));
        return pad;
    }

    /// A pad that is gone from the trace. What is said without a number is said of the part.
    bool is_kept(const Pad& pad, Vec2 shift) {
        if (!has_state(pad) && (pad.number.empty() || !spoken_.contains(pad.number))) return false;
        next_.pads.push_back(pad);
        next_.pads.back().at += shift;
        find(Severity::Warning, "pad-gone-kept",
             fmt::format("pad {} of {} is gone from the trace; it is kept for what was said of it",
                         pad.number.empty() ? "without a number" : pad.number, called(current_, unit_)));
        return true;
    }

    const Footprint& current_;
    const Footprint fresh_;
    const std::set<std::string>& spoken_;
    std::string_view unit_;
    Diagnostics& findings_;
    Footprint next_;
    std::vector<std::optional<std::size_t>> pads_;
    double turned_deg_ = 0.0;
};

} // namespace

UpdatedPart with_geometry_of(const Footprint& current, const Footprint& fresh,
                             const std::set<std::string>& pads_spoken_of, std::string_view unit,
                             Diagnostics& findings) {
    return PartUpdate(current, fresh, pads_spoken_of, unit, findings).run();
}

bool is_from_trace(const Orientation& record) {
    return record.meaning == document::Meaning::Unknown && record.evidence.note == kMarkNote &&
           record.evidence.by.empty() && record.evidence.date.empty() && record.extras.empty();
}

bool is_spoken_of(const Footprint& part) {
    const bool named = !part.name.empty() && part.trace_key != part.name && part.trace_key != part.name + "@bottom";
    const bool record = part.orientation.state != RecordState::NotRecorded && !is_from_trace(part.orientation);
    const bool heat = part.heat && part.heat->note != kHeatNote;
    const bool pads = std::any_of(part.pads.begin(), part.pads.end(), has_state);
    // A role may have come from the trace; nobody can tell, so it counts.
    return named || record || heat || pads || !part.role.empty() || !part.value.empty() || !part.comment.empty() ||
           part.part_class != document::PartClass::Unknown || !part.family.empty() || part.stated_pad_count ||
           (part.body && part.body->height_mm) || !part.harmless_turns_deg.empty() || part.locked ||
           part.condition != document::Condition{} || document::has_extras_but_tidied(part);
}

std::string called(const Footprint& part, std::string_view unit) {
    if (!part.name.empty()) return part.name;
    return fmt::format("the part at x {:.2f}, y {:.2f}{}", part.placement.at.x, part.placement.at.y, unit);
}

} // namespace padchart::svg
