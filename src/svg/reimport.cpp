#include "svg/reimport.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <span>

#include "base/counted.hpp"
#include "document/edits.hpp"
#include "document/move.hpp"
#include "svg/reimport_changes.hpp"
#include "svg/reimport_kind.hpp"
#include "svg/reimport_match.hpp"
#include "svg/reimport_motion.hpp"
#include "svg/reimport_moves.hpp"
#include "svg/reimport_outline.hpp"
#include "svg/reimport_over.hpp"
#include "svg/reimport_part.hpp"
#include "svg/reimport_places.hpp"
#include "svg/reimport_scale.hpp"
#include "svg/reimport_side.hpp"

namespace padchart::svg {
namespace {

using document::Chart;
using document::Footprint;
using document::Id;
using document::KeepOut;
using document::Shield;
using geometry::Affine;
using geometry::Vec2;

struct Pair {
    Chart current;
    Chart fresh;
    bool is_mirrored = false; ///< the one is a mirror image of the other
    Doubt doubt = Doubt::None;
};

/// The current chart where the fresh drawing lies on its page, so that only what went its own way counts as moved.
void lay_over(Pair& pair, Diagnostics& findings) {
    WholeMove other_side = how_the_whole_was_laid_over(pair.current, pair.fresh);
    if (other_side.finding) findings.push_back(std::move(*other_side.finding));
    if (other_side.motion) pair.current = traced_from_other_side(pair.current, *other_side.motion);
    WholeMove whole = how_the_whole_went(pair.current, pair.fresh);
    if (whole.finding) findings.push_back(std::move(*whole.finding));
    if (whole.motion) pair.current = document::moved(pair.current, *whole.motion);
    pair.is_mirrored = whole.is_mirrored;
    pair.doubt = whole.doubt;
}

template <class T>
std::vector<Token> tokens_of(const document::Items<T>& items) {
    std::vector<Token> tokens;
    for (const T& item : items)
        tokens.push_back(token_of(item));
    return tokens;
}

class Reimport {
public:
    Reimport(Pair pair, Diagnostics findings, const std::stop_token& stop)
        : current_(std::move(pair.current)), fresh_(std::move(pair.fresh)), is_mirrored_(pair.is_mirrored),
          doubt_(pair.doubt), stop_(stop) {
        result_.chart = current_;
        result_.findings = std::move(findings);
    }

    ReimportResult run() {
        outline();
        collect_targets();
        parts();
        keep_outs();
        shields();
        pinned_things();
        unchanged();
        return std::move(result_);
    }

private:
    void find(Severity severity, std::string code, std::string message, const Id& target = {}) {
        result_.findings.push_back({severity, std::move(code), std::move(message), {}, target.text});
    }

    [[nodiscard]] std::string_view unit() const { return current_.scale ? " mm" : " units"; }
    [[nodiscard]] std::string called(const Footprint& part) const { return svg::called(part, unit()); }

    void outline() {
        if (fresh_.board.outline) {
            result_.chart.board.outline = fresh_.board.outline;
            if (!current_.board.outline) return;
            const std::vector<std::string> changes =
                outline_changes(*current_.board.outline, *fresh_.board.outline, unit());
            if (!changes.empty())
                find(Severity::Note, "outline-changed",
                     "the board's outline is drawn differently: " + in_one_line(changes));
        } else if (current_.board.outline)
            find(Severity::Warning, "outline-kept", "the corrected trace has no board outline: the old one is kept");
    }

    void unchanged() {
        const auto same = static_cast<std::size_t>(std::count_if(result_.parts.begin(), result_.parts.end(),
                                                                 [](const auto& part) { return !part.is_changed; }));
        if (same > 0)
            find(Severity::Note, "unchanged",
                 counted(same, "part") + (same == 1 ? " lies where it lay" : " lie where they lay"));
    }

    void collect_targets() {
        for (const document::Reading& reading : current_.readings)
            if (!reading.target.is_empty()) pads_spoken_of_[reading.target].insert(reading.pad);
        for (const document::Note& note : current_.notes)
            if (!note.target.is_empty()) pads_spoken_of_[note.target];
        for (const document::HeatPlan& plan : current_.heat_plans)
            pads_spoken_of_[plan.target];
    }

    // Parts ----------------------------------------------------------------------------------------------------------

    void parts() {
        const std::vector<Token> now = tokens_of(current_.parts);
        const std::vector<Token> drawn = tokens_of(fresh_.parts);
        const auto partner = partners(now, drawn);
        std::vector<bool> used(drawn.size(), false);
        document::Items<Footprint> parts;
        for (std::size_t c = 0; c < now.size(); ++c) {
            if (stop_.stop_requested()) return;
            const Footprint& part = current_.parts[c];
            if (partner[c]) {
                used[partner[c]->fresh] = true;
                parts.add(updated(part, fresh_.parts[partner[c]->fresh], partner[c]->how));
            } else if (part.trace_key.empty() || stays(part)) {
                parts.add(part);
            }
        }
        for (Diagnostic& line : doubt_ == Doubt::None ? told_moves(moves_, unit()) : told_together(moves_, unit()))
            result_.findings.push_back(std::move(line));
        tell_when_hardly_found(now);
        result_.chart.parts = std::move(parts);
        // In a mirror much lies where something else lay; where that is in doubt it is told of all at once.
        if (!is_mirrored_ && doubt_ != Doubt::Names) exchanged_names(now, drawn, partner);
        for (std::size_t f = 0; f < drawn.size(); ++f)
            if (!used[f]) add(fresh_.parts[f]);
    }

    /// Before all that is told of each.
    void tell_when_hardly_found(const std::vector<Token>& now) {
        constexpr std::size_t kFewest = 3, kTenth = 10;
        const auto traced = static_cast<std::size_t>(
            std::count_if(now.begin(), now.end(), [](const Token& token) { return !token.key.empty(); }));
        const std::size_t found = result_.parts.size();
        if (traced < kFewest || kTenth * found >= traced) return;
        result_.findings.insert(result_.findings.begin(),
                                {Severity::Warning,
                                 "hardly-found",
                                 fmt::format("hardly anything was found again, {} of {} parts: another drawing, or one "
                                             "that lies elsewhere. What comes from it may not lie on what was here",
                                             found, traced),
                                 {},
                                 {}});
    }

    Footprint updated(const Footprint& as_it_was, const Footprint& drawn, FoundBy how) {
        const bool turned_over = as_it_was.placement.side != drawn.placement.side;
        if (turned_over && as_it_was.locked) return locked_on_its_side(as_it_was, drawn, how);
        const bool as_seen = turned_over && is_drawn_as_seen(as_it_was, drawn);
        const Footprint part = as_seen       ? on_other_side_as_seen(as_it_was)
                               : turned_over ? on_other_side(as_it_was)
                                             : as_it_was;
        if (turned_over) turned_over_[part.id] = part.placement.side;
        static const std::set<std::string> kNone;
        const auto spoken = pads_spoken_of_.find(part.id);
        UpdatedPart updated = with_geometry_of(part, drawn, spoken == pads_spoken_of_.end() ? kNone : spoken->second,
                                               unit(), result_.findings);
        Footprint& next = updated.part;
        if (how == FoundBy::TraceKey && !part.locked && part.family.empty()) tell_other_kind(part, drawn);
        const auto centre = [](const Footprint& p) {
            return document::board_from_part(p.placement)(document::centre_in_part(p));
        };
        const double moved = geometry::distance(centre(part), centre(next));
        const document::Placement& lay = as_seen ? as_it_was.placement : part.placement;
        if (next.placement != lay)
            motion_[part.id] = document::board_from_part(next.placement) * document::board_from_part(lay).inverse();
        const std::vector<std::string> changes = updated.turned_deg != 0.0
                                                     ? turn_changes(updated.turned_deg, moved, unit())
                                                     : geometry_changes(part, next, updated.pads, unit());
        result_.parts.push_back({part.id, drawn.id, how, moved, turned_over || !changes.empty()});
        const bool only_moved =
            !turned_over && how != FoundBy::Place && changes.size() == 1 && changes.front().starts_with("moved by");
        if (only_moved)
            moves_.push_back({part.id, called(next), centre(next) - centre(part)});
        else
            tell(next, how, changes);
        return std::move(next);
    }

    /// What was said went along with a name that stands for another part now.
    void tell_other_kind(const Footprint& part, const Footprint& drawn) {
        if (part.name.empty() || !(svg::is_spoken_of(part) || pads_spoken_of_.contains(part.id))) return;
        const std::string change = other_kind(part, drawn);
        if (change.empty()) return;
        find(
            Severity::Warning, "other-kind",
            fmt::format("{} is another kind of part now: {}. What was said of it (value, state, mark, readings, notes) "
                        "went along with its name: look at each",
                        part.name, change),
            part.id);
    }

    Footprint locked_on_its_side(const Footprint& part, const Footprint& drawn, FoundBy how) {
        result_.parts.push_back({part.id, drawn.id, how, 0.0, false});
        find(Severity::Warning, "locked-kept",
             fmt::format("{} is locked: it stays {}, though the trace draws it {}", called(part),
                         on_side(part.placement.side), on_side(drawn.placement.side)),
             part.id);
        return part;
    }

    /// One line a part.
    void tell(const Footprint& part, FoundBy how, const std::vector<std::string>& changes) {
        if (turned_over_.contains(part.id))
            find(Severity::Warning, "other-side",
                 fmt::format("{} is now drawn {}{}{}{}; what was said of it went along: check its direction on the "
                             "board",
                             called(part), on_side(part.placement.side),
                             how == FoundBy::Place ? ", found again by its place alone" : "",
                             changes.empty() ? "" : ", ", in_one_line(changes)),
                 part.id);
        else if (how == FoundBy::Place)
            find(Severity::Warning, "found-by-place",
                 fmt::format("{} was found again by its place alone{}{}", called(part), changes.empty() ? "" : ": ",
                             in_one_line(changes)),
                 part.id);
        else if (!changes.empty())
            find(Severity::Note, "part-changed", fmt::format("{}: {}", called(part), in_one_line(changes)), part.id);
    }

    bool stays(const Footprint& part) {
        if (svg::is_spoken_of(part) || pads_spoken_of_.contains(part.id)) {
            result_.kept.push_back(part.id);
            find(Severity::Warning, "gone-from-trace",
                 fmt::format("{} is gone from the trace; it is kept for what was said of it. Remove it by hand if it "
                             "is not on the board",
                             called(part)),
                 part.id);
            return true;
        }
        result_.left.push_back(part.name.empty() ? part.trace_key : part.name);
        find(Severity::Note, "left-with-trace",
             fmt::format("{} is gone from the trace and, as nothing was said of it, from the chart", called(part)));
        return false;
    }

    void add(Footprint part) {
        if (document::is_taken(result_.chart, part.id))
            part.id = document::free_id(result_.chart, "part", part.trace_key);
        result_.added.push_back(part.id);
        find(Severity::Note, "new-in-trace", fmt::format("{} is new", called(part)), part.id);
        result_.chart.parts.add(std::move(part));
    }

    /// Most likely names were corrected, not parts moved.
    void exchanged_names(const std::vector<Token>& now, const std::vector<Token>& drawn,
                         const std::vector<std::optional<Partner>>& partner) {
        for (const PlaceChain& chain : exchanged_places(now, drawn, partner)) {
            std::vector<std::size_t> members = chain.members;
            // What is new and has no name took nothing along.
            if (members.front() >= now.size() && drawn[members.front() - now.size()].name.empty())
                members.erase(members.begin());
            if (members.size() < 2) continue;
            const auto name = [&](std::size_t i) {
                return called(i < now.size() ? current_.parts[i] : fresh_.parts[i - now.size()]);
            };
            const Id target = members.front() < now.size() ? now[members.front()].id : now[members[1]].id;
            if (chain.is_closed && members.size() == 2) {
                find(Severity::Warning, "places-exchanged",
                     fmt::format("{} and {} have exchanged their places in the trace, and what was said of them went "
                                 "along: if only their names were corrected, exchange it by hand",
                                 name(members[0]), name(members[1])),
                     target);
                continue;
            }
            std::vector<std::string> steps;
            for (std::size_t i = 0; i + 1 < members.size() || (chain.is_closed && i < members.size()); ++i)
                steps.push_back(
                    fmt::format("{} is drawn where {} lay", name(members[i]), name(members[(i + 1) % members.size()])));
            find(Severity::Warning, "places-exchanged",
                 fmt::format("{}, and what was said of them went along with their names: if only names were "
                             "corrected, the parts lie where they lay; check value, direction and state of each on "
                             "the board",
                             listed(steps)),
                 target);
        }
    }

    // The rest -------------------------------------------------------------------------------------------------------

    void keep_outs() {
        const auto partner = partners(tokens_of(current_.keep_outs), tokens_of(fresh_.keep_outs));
        std::vector<bool> used(fresh_.keep_outs.size(), false);
        document::Items<KeepOut> next;
        for (std::size_t c = 0; c < current_.keep_outs.size(); ++c) {
            KeepOut thing = current_.keep_outs[c];
            if (partner[c]) {
                const KeepOut& drawn = fresh_.keep_outs[partner[c]->fresh];
                used[partner[c]->fresh] = true;
                if (drawn.side != thing.side)
                    find(Severity::Warning, "keep-out-changed",
                         fmt::format("{} is now drawn {}: hot air may go elsewhere now", name_of(thing),
                                     on_side(drawn.side)),
                         thing.id);
                if (is_drawn_differently(thing.outline, drawn.outline))
                    find(Severity::Warning, "keep-out-changed",
                         name_of(thing) + " is drawn differently: hot air may go elsewhere now", thing.id);
                thing.outline = drawn.outline;
                thing.side = drawn.side;
                thing.trace_key = drawn.trace_key;
                if (thing.name.empty()) thing.name = drawn.name;
            } else if (!thing.trace_key.empty()) {
                result_.kept.push_back(thing.id);
                find(Severity::Warning, "gone-from-trace",
                     name_of(thing) + " is gone from the trace, or drawn in no known layer; it is kept, since hot air "
                                      "would go there. Remove it by hand if it is not wanted",
                     thing.id);
            }
            next.add(std::move(thing));
        }
        result_.chart.keep_outs = std::move(next);
        for (std::size_t f = 0; f < used.size(); ++f)
            if (!used[f]) add(fresh_.keep_outs[f]);
    }

    static std::string name_of(const KeepOut& thing) {
        return thing.name.empty() ? "a keep-out" : "keep-out " + thing.name;
    }

    void add(KeepOut thing) {
        if (document::is_taken(result_.chart, thing.id))
            thing.id = document::free_id(result_.chart, "keep", thing.trace_key);
        result_.added.push_back(thing.id);
        find(Severity::Note, "new-in-trace", name_of(thing) + " is new", thing.id);
        result_.chart.keep_outs.add(std::move(thing));
    }

    /// A shield does not know whether it was traced: none is ever dropped.
    void shields() {
        const auto partner = partners(tokens_of(current_.shields), tokens_of(fresh_.shields));
        std::vector<bool> used(fresh_.shields.size(), false);
        for (std::size_t c = 0; c < current_.shields.size(); ++c) {
            Shield thing = current_.shields[c];
            if (!partner[c]) {
                find(Severity::Note, "not-in-trace", "shield " + thing.name + " is not in the trace: it is kept",
                     thing.id);
                continue;
            }
            used[partner[c]->fresh] = true;
            if (is_drawn_differently(thing.outline, fresh_.shields[partner[c]->fresh].outline))
                find(Severity::Note, "shield-changed", "shield " + thing.name + " is drawn differently", thing.id);
            if (thing.side != fresh_.shields[partner[c]->fresh].side) {
                thing.side = fresh_.shields[partner[c]->fresh].side;
                find(Severity::Warning, "shield-changed",
                     fmt::format("shield {} is now drawn {}", thing.name, on_side(thing.side)), thing.id);
            }
            thing.outline = fresh_.shields[partner[c]->fresh].outline;
            result_.chart.shields.replace(c, std::move(thing));
        }
        for (std::size_t f = 0; f < used.size(); ++f) {
            if (used[f]) continue;
            Shield thing = fresh_.shields[f];
            if (document::is_taken(result_.chart, thing.id))
                thing.id = document::free_id(result_.chart, "shield", thing.id.text);
            result_.added.push_back(thing.id);
            find(Severity::Note, "new-in-trace", "shield " + thing.name + " is new", thing.id);
            result_.chart.shields.add(std::move(thing));
        }
    }

    /// What is pinned to a part goes where the part goes.
    void pinned_things() {
        move_with_parts(result_.chart.notes, &document::Note::at);
        move_with_parts(result_.chart.readings, &document::Reading::at);
        move_with_parts(result_.chart.heat_plans, &document::HeatPlan::aim);
    }

    template <class T>
    void move_with_parts(document::Items<T>& items, Vec2 T::*place) {
        for (std::size_t i = 0; i < items.size(); ++i) {
            const auto motion = motion_.find(items[i].target);
            const auto side = turned_over_.find(items[i].target);
            if (motion == motion_.end() && side == turned_over_.end()) continue;
            T thing = items[i];
            if (motion != motion_.end()) thing.*place = motion->second(thing.*place);
            if (side != turned_over_.end()) thing.side = side->second;
            items.replace(i, std::move(thing));
        }
    }

    const Chart current_;
    const Chart fresh_;
    const bool is_mirrored_;
    const Doubt doubt_;
    const std::stop_token& stop_;
    ReimportResult result_;
    std::map<Id, std::set<std::string>> pads_spoken_of_;
    std::map<Id, Affine> motion_;
    std::vector<PartMove> moves_;              ///< parts that moved and are drawn as they were
    std::map<Id, document::Side> turned_over_; ///< parts that are drawn on the other side now, and on which
};

} // namespace

std::string_view to_text(FoundBy how) {
    switch (how) {
    case FoundBy::TraceKey: return "trace key";
    case FoundBy::Id: return "id";
    case FoundBy::Place: return "place";
    }
    return "place";
}

Result<ReimportResult> reimport(const Chart& current, const Chart& fresh, const std::stop_token& stop) {
    Diagnostics findings;
    Result<InOneScale> both = in_one_scale(current, fresh, findings);
    if (!both) return both.error();
    Pair pair{std::move(both->current), std::move(both->fresh)};
    lay_over(pair, findings);
    if (pair.doubt == Doubt::Alike) return Error{findings.back().message, ""};
    ReimportResult result = Reimport(std::move(pair), std::move(findings), stop).run();
    if (stop.stop_requested()) return Error{"called off", ""};
    if (auto fault = document::fault_of(result.chart)) return *fault;
    return result;
}

} // namespace padchart::svg
