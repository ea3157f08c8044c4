// What an access report says, in sentences: first where to come from, then where not, then what else to mind.

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "analysis/access.hpp"

namespace padchart::analysis {
namespace {

constexpr std::size_t kMostNames = 4;
constexpr std::size_t kMostBlocked = 3;
constexpr double kFar_mm = 4.99;

/// Rounded down: room is never made larger than it is.
std::string room(double mm) {
    if (mm >= kFar_mm) return "more than 5 mm";
    const double step = mm < 1.0 ? 0.01 : 0.1;
    return fmt::format("{:g} mm", std::floor(std::max(mm, 0.0) / step + 1e-6) * step);
}

/// Rounded up: what is in the way is never made smaller.
std::string intrusion(double mm) {
    return fmt::format("{:g} mm", std::ceil(mm / 0.01 - 1e-6) * 0.01);
}

std::string list_of(const std::vector<std::string>& names) {
    std::string text;
    const std::size_t shown = names.size() > kMostNames + 1 ? kMostNames : names.size();
    for (std::size_t i = 0; i < shown; ++i) {
        const bool is_last = i + 1 == shown && shown == names.size();
        text += (i == 0 ? "" : is_last ? " and " : ", ") + names[i];
    }
    if (shown < names.size()) text += fmt::format(" and {} more", names.size() - shown);
    return text;
}

class Words {
public:
    Words(AccessReport& report, const document::Chart& chart, const AccessQuery& query)
        : report_(report), chart_(chart), query_(query) {}

    void say() {
        verdict();
        if (const Approach* best = report_.best()) {
            grip(*best);
            other_ways();
            blocked_ways();
            slip(*best);
            hands_off();
            idle_ways(*best);
            turn_board(*best);
        } else {
            blocked_ways();
            hands_off();
        }
        remark_heights();
        remark_heat();
        remark_scale();
    }

private:
    void tell(std::string sentence) { report_.sentences.push_back(std::move(sentence)); }

    [[nodiscard]] const std::string& name(std::size_t i) const { return report_.neighbours[i].name; }

    [[nodiscard]] std::string what() const {
        return report_.pad.empty() ? report_.target_name : "pad " + report_.pad + " of " + report_.target_name;
    }

    [[nodiscard]] const char* tool_word() const {
        return query_.tool.kind == ToolKind::Iron ? "this iron" : "these tweezers";
    }

    /// "12 to 40 degrees", rounded inwards for what is free, outwards for what is not.
    [[nodiscard]] std::string span(const Sector& sector, bool inwards) const {
        if (sector.width_deg >= 360.0) return "all round";
        const double from = sector.from_deg, to = from + sector.width_deg;
        const double scale = sector.width_deg < 4.0 ? 10.0 : 1.0;
        const double low = (inwards ? std::ceil(from * scale) : std::floor(from * scale)) / scale;
        const double high = (inwards ? std::floor(to * scale) : std::ceil(to * scale)) / scale;
        if (low > high) return fmt::format("{:.2f} degrees", wrapped_deg((from + to) / 2.0));
        return fmt::format("{:g} to {:g} degrees", wrapped_deg(low), wrapped_deg(high));
    }

    [[nodiscard]] std::string from_where(const Approach& way) const {
        if (way.sector.bearings.width_deg >= 360.0) return "from any side";
        return fmt::format("from the {}, {}", wind_of(way.bearing_deg), span(way.sector.bearings, true));
    }

    /// What depends on heights is asked at the one bearing at which it was looked at.
    [[nodiscard]] static std::string from_bearing(const Approach& way) {
        return fmt::format("from the {}, at {} degrees", wind_of(way.bearing_deg), bearing(way));
    }

    [[nodiscard]] static std::string bearing(const Approach& way) {
        return fmt::format("{:g}", wrapped_deg(std::round(way.bearing_deg * 10.0) / 10.0));
    }

    [[nodiscard]] std::string beside(const std::optional<std::size_t>& who, double gap_mm) const {
        return who && gap_mm < kFar_mm ? " beside " + name(*who) : "";
    }

    /// Of all that from_where() names.
    [[nodiscard]] std::string room_of(const Approach& way) const {
        const bool is_all_round = way.sector.bearings.width_deg >= 360.0;
        const std::string all_of_it = is_all_round ? "all round" : "in all of it";
        const std::string most = room(way.gap_mm) + " free" + beside(way.nearest, way.gap_mm);
        if (!has_best(way)) return most + " " + all_of_it;
        return fmt::format("{}{}; at least {}{} {}", is_all_round ? "" : "best at " + bearing(way) + " degrees, ", most,
                           room(way.least_gap_mm), beside(way.least_nearest, way.least_gap_mm), all_of_it);
    }

    /// Some of its bearings leave more room than others.
    [[nodiscard]] static bool has_best(const Approach& way) { return room(way.least_gap_mm) != room(way.gap_mm); }

    /// Where every side will do, which is the best, or that none is.
    [[nodiscard]] std::string from_where_best(const Approach& way) const {
        const std::string from = from_where(way);
        if (way.sector.bearings.width_deg < 360.0) return from;
        if (!has_best(way)) return from + ", none is better than another";
        return fmt::format("{}, best {}", from, from_bearing(way));
    }

    [[nodiscard]] std::string lower_than(const HeightLimit& limit) const {
        if (limit.limit_mm <= 0.0) return name(limit.neighbour) + " is no body at all";
        return fmt::format("{} is lower than {:.2f} mm", name(limit.neighbour),
                           std::floor(limit.limit_mm * 100.0) / 100.0);
    }

    /// The lowest limits by name; for the rest the lowest of theirs, which is enough for all of them.
    [[nodiscard]] std::string condition_of(const Approach& way) const {
        constexpr std::size_t kMost = 3;
        std::string text;
        for (std::size_t i = 0; i < std::min(way.limits.size(), kMost); ++i)
            text += (i == 0 ? "" : i + 1 == way.limits.size() ? " and " : ", ") + lower_than(way.limits[i]);
        if (way.limits.size() > kMost)
            text += fmt::format(" and {} more are lower than {:.2f} mm", way.limits.size() - kMost,
                                std::floor(way.limits[kMost].limit_mm * 100.0) / 100.0);
        return text;
    }

    void verdict() {
        if (report_.pad_is_covered) return tell(fmt::format("No iron reaches {}: the body lies over it.", what()));
        for (const AccessNeighbour& near : report_.neighbours)
            if (near.stands_over && report_.best() == nullptr)
                return tell(fmt::format("{} stands over {}: take it off first.", near.name, report_.target_name));
        const Approach* best = report_.best();
        if (best == nullptr) return no_way();
        if (best->sector.works && !best->sector.can_be_held()) return too_narrow(*best);
        const bool depends = best->sector.passage == Passage::Depends;
        if (best->sector.works && !depends)
            return tell(fmt::format("Come {}: {}.", from_where_best(*best), room_of(*best)));
        if (best->sector.works)
            return tell(fmt::format("Come {}, only if {}: measure first.", from_bearing(*best), condition_of(*best)));
        tell(fmt::format("{}: {} to come {}, but {}.", no_sure_way(),
                         depends ? "it depends on heights whether there is room" : "there is room", from_where(*best),
                         query_.tool.kind == ToolKind::Iron ? "the iron would lean over the part itself"
                                                            : why_no_grip()));
    }

    [[nodiscard]] std::string no_sure_way() const {
        return fmt::format("No sure way to {} {} with {}", query_.tool.kind == ToolKind::Iron ? "reach" : "grip",
                           what(), tool_word());
    }

    void too_narrow(const Approach& best) {
        tell(fmt::format("{}: what {} from the {}, {}, is narrower than the {:g} degrees that a hand holds.",
                         no_sure_way(), best.sector.passage == Passage::Free ? "is free" : "may be free",
                         wind_of(best.bearing_deg), span(best.sector.bearings, true), kLeastHeld_deg));
    }

    [[nodiscard]] std::string why_no_grip() const {
        const bool any_fits =
            std::any_of(report_.grips.begin(), report_.grips.end(), [](const Grip& grip) { return grip.fits; });
        if (report_.grips.empty()) return "the part has no two parallel sides to hold";
        return any_fits ? "the tips would stand askew to its sides" : "the tips do not open wide enough";
    }

    void no_way() {
        const AccessNeighbour* worst = nullptr;
        double most = 0.0;
        for (const AccessNeighbour& near : report_.neighbours) {
            double taken = 0.0;
            for (const Sector& sector : near.takes)
                taken += sector.width_deg;
            if (taken <= most) continue;
            most = taken;
            worst = &near;
        }
        std::string text =
            fmt::format("No way to {} with {}, all bearings are blocked: take a finer tool or hold it steeper", what(),
                        tool_word());
        if (worst != nullptr) text += fmt::format(", or take {} off first", worst->name);
        tell(text + ".");
    }

    void grip(const Approach& best) {
        if (query_.tool.kind == ToolKind::Iron || best.across_mm <= 0.0) return;
        tell(fmt::format("Hold {} across its {:.2f} mm, tips {:.2f} mm apart as they come in.", report_.target_name,
                         best.across_mm, best.opening_mm));
        if (best.on_lands)
            tell(fmt::format("The tips stand on lands of {} itself: solder or leads may keep them from the body.",
                             report_.target_name));
    }

    void other_ways() {
        for (std::size_t i = 1; i < report_.approaches.size(); ++i) {
            const Approach& way = report_.approaches[i];
            if (!way.sector.works || !way.sector.can_be_held()) continue;
            if (way.sector.passage == Passage::Free)
                tell(fmt::format("Also {}: {}.", from_where(way), room_of(way)));
            else
                tell(fmt::format("Also {}, if {}.", from_bearing(way), condition_of(way)));
        }
    }

    /// Blocked sectors whatever else is true of them, widest first.
    [[nodiscard]] std::vector<Sector> blocked_sectors() const {
        Bearings blocked;
        for (const AccessSector& sector : report_.sectors)
            if (sector.passage == Passage::Blocked)
                blocked.add(sector.bearings.from_deg, sector.bearings.from_deg + sector.bearings.width_deg);
        std::vector<Sector> sectors = blocked.sectors();
        std::stable_sort(sectors.begin(), sectors.end(),
                         [](const Sector& a, const Sector& b) { return a.width_deg > b.width_deg; });
        return sectors;
    }

    [[nodiscard]] const AccessDirection* worst_in(const Sector& sector) const {
        const AccessDirection* worst = nullptr;
        for (const AccessDirection& at : report_.directions)
            if (at.nearest && sector.contains(at.bearing_deg) && (worst == nullptr || at.gap_mm < worst->gap_mm))
                worst = &at;
        return worst;
    }

    void blocked_ways() {
        const std::vector<Sector> sectors = blocked_sectors();
        for (std::size_t i = 0; i < std::min(sectors.size(), kMostBlocked); ++i) {
            const AccessDirection* worst = worst_in(sectors[i]);
            if (worst == nullptr) continue;
            const std::string who = name(*worst->nearest);
            const std::string why = worst->gap_mm < 0.0
                                        ? fmt::format("{} stands {} in the way", who, intrusion(-worst->gap_mm))
                                    : worst->gap_mm < 0.01 ? who + " leaves no room"
                                                           : fmt::format("{} leaves only {}", who, room(worst->gap_mm));
            if (sectors[i].width_deg >= 360.0)
                tell("All bearings are blocked: " + why + " at the worst.");
            else
                tell(fmt::format("Do not come from the {}, {}: {}.", wind_of(sectors[i].middle_deg()),
                                 span(sectors[i], false), why));
        }
        if (sectors.size() > kMostBlocked)
            tell(fmt::format("{} narrower sector{} blocked too.", sectors.size() - kMostBlocked,
                             sectors.size() == kMostBlocked + 1 ? " is" : "s are"));
    }

    /// Neither blocked nor a way in: nothing of the rose stays unsaid.
    void idle_ways(const Approach& best) {
        if (!best.sector.works) return; // the verdict has said why
        Bearings idle;
        for (const AccessSector& sector : report_.sectors)
            if (sector.passage != Passage::Blocked && !sector.works)
                idle.add(sector.bearings.from_deg, sector.bearings.from_deg + sector.bearings.width_deg);
        std::vector<std::string> spans;
        for (const Sector& sector : idle.sectors())
            spans.push_back(span(sector, true));
        if (spans.empty()) return;
        tell(fmt::format("Of no use: {}, where {}.", list_of(spans),
                         query_.tool.kind == ToolKind::Iron ? "the iron would lean over the part itself"
                                                            : why_no_grip()));
    }

    void slip(const Approach& best) {
        std::vector<std::string> names;
        for (const std::size_t i : best.in_slip)
            names.push_back(name(i));
        if (names.empty())
            tell(fmt::format("A slip of {:g} mm reaches no other body.", query_.slip_mm));
        else
            tell(fmt::format("A slip of {:g} mm reaches {}.", query_.slip_mm, list_of(names)));
    }

    void hands_off() {
        std::vector<std::string> molten, small;
        for (const std::size_t i : report_.do_not_touch)
            (report_.neighbours[i].is_molten ? molten : small).push_back(name(i));
        if (!molten.empty())
            tell(fmt::format("Do not touch {}: the heat plan may melt {} joints.", list_of(molten),
                             molten.size() == 1 ? "its" : "their"));
        if (!small.empty()) tell(fmt::format("Do not touch {}: small enough to be knocked off.", list_of(small)));
    }

    /// Bearings are the chart's, as its picture shows them; only the hand is on the bench.
    void turn_board(const Approach& best) {
        const std::string hand{wind_of(query_.hand_deg)};
        const std::string lies = turn_in_words(query_.board_turn_deg), turn = turn_in_words(best.turn_board_deg);
        const std::string as_it_lies =
            lies.empty() ? "as charted" : fmt::format("turned by {} against the chart", lies);
        if (turn.empty())
            report_.turn_sentence =
                fmt::format("The board lies right for your hand, {}: {} on the chart is {} on the bench.", as_it_lies,
                            wind_of(best.bearing_deg), hand);
        else
            report_.turn_sentence = fmt::format(
                "Turn the board by {}{}: {} on the chart then lies {} on the bench, where your hand comes from.", turn,
                lies.empty() ? "" : fmt::format(" from where it lies now ({})", as_it_lies), wind_of(best.bearing_deg),
                hand);
        tell(report_.turn_sentence);
    }

    void remark(Severity severity, const char* code, std::string text) {
        report_.remarks.push_back({severity, code, std::move(text), "", report_.target.text});
    }

    void remark_heights() {
        std::vector<std::string> names;
        for (const AccessNeighbour& near : report_.neighbours)
            if (!near.height_mm && !near.takes.empty()) names.push_back(near.name);
        if (!names.empty())
            remark(Severity::Warning, "height-not-measured",
                   fmt::format(
                       "the height of {} is not measured; no bearing over {} counts as free, up to a height of {:g} mm",
                       list_of(names), names.size() == 1 ? "it" : "them", kTallest_mm));
    }

    void remark_heat() {
        if (!query_.knows_molten)
            remark(Severity::Note, "no-heat-plan",
                   "no heat estimate was given, so it is not known which neighbours' joints are molten");
    }

    void remark_scale() {
        const double share = chart_.scale->relative_uncertainty;
        if (share > 0.0)
            remark(
                Severity::Note, "scale-uncertainty",
                fmt::format("lengths on this chart are right within {:g} %; the margin round each body allows for it",
                            100.0 * share));
    }

    AccessReport& report_;
    const document::Chart& chart_;
    const AccessQuery& query_;
};

} // namespace

std::string turn_in_words(double counter_clockwise_deg) {
    const double turn = std::round(turn_between(0.0, counter_clockwise_deg));
    if (turn == 0.0) return "";
    return fmt::format("{:g} degrees {}", std::abs(turn), turn > 0.0 ? "counter-clockwise" : "clockwise");
}

std::string_view wind_of(double bearing_deg) {
    static constexpr std::array<std::string_view, 16> kWinds = {
        "east",       "east-north-east",  "north-east", "north-north-east", "north",      "north-north-west",
        "north-west", "west-north-west",  "west",       "west-south-west",  "south-west", "south-south-west",
        "south",      "south-south-east", "south-east", "east-south-east"};
    const double sixteenth = 360.0 / 16.0;
    return kWinds[static_cast<std::size_t>(wrapped_deg(bearing_deg + sixteenth / 2.0) / sixteenth) % 16];
}

void add_access_words(AccessReport& report, const document::Chart& chart, const AccessQuery& query) {
    Words(report, chart, query).say();
}

} // namespace padchart::analysis
