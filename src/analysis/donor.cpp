#include "analysis/donor.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "analysis/fit.hpp"
#include "analysis/fit_onto.hpp"

namespace padchart::analysis {

using document::Chart;
using document::Footprint;
using geometry::Affine;
using geometry::Vec2;

namespace {

/// Placements are set by hand: a turn of the same place within this of a turn of the lands is that turn, degrees.
constexpr double kHandTurn_deg = 15.0;
/// Lands that differ by less than this many times what could be measured are no ground to tell two turns apart.
constexpr double kClearMargin = 2.0;

struct Question {
    const Chart& donor_chart;
    const Chart& here_chart;
    const Footprint& donor;
    const Footprint& here;
    const DonorOptions& options;
};

std::string name_of(const Footprint& part) {
    return part.name.empty() ? "the part" : part.name;
}

std::string listed(const std::vector<DonorTurn>& turns) {
    std::string text;
    for (std::size_t i = 0; i < turns.size(); ++i) {
        if (i > 0) text += i + 1 == turns.size() ? " and " : ", ";
        text += fmt::format("{:.0f}", turns[i].turn_deg);
    }
    return text;
}

std::string turned_by(double turn_deg) {
    return std::abs(std::remainder(turn_deg, 360.0)) < 0.5 ? "unturned"
                                                           : fmt::format("turned {:.0f} degrees", turn_deg);
}

double apart_deg(double a, double b) {
    return std::abs(std::remainder(a - b, 360.0));
}

DonorTurn donor_turn(const Question& ask, const OntoTurn& onto) {
    DonorTurn turn;
    turn.turn_deg = onto.turn_deg;
    turn.bearing = (ask.donor.orientation.bearing + Angle::degrees(onto.turn_deg)).wrapped();
    turn.matches = onto.matches;
    for (std::size_t i = 0; i < onto.partner.size(); ++i) {
        const std::string& there = ask.donor.pads[i].number;
        const std::string& here = ask.here.pads[onto.partner[i]].number;
        if (there.empty() || here.empty()) continue;
        ++turn.numbers_compared;
        if (there == here) ++turn.numbers_agreeing;
    }
    return turn;
}

/// The turns at which the lands match; where none does, all at which the part could be soldered.
Result<std::vector<DonorTurn>> possible_turns(const Question& ask) {
    const double tolerance =
        kExactTolerance_mm + measuring_uncertainty(ask.donor_chart) + measuring_uncertainty(ask.here_chart);
    const std::vector<OntoTurn> onto = turns_onto(ask.donor, ask.here, kClearMargin * tolerance);
    if (onto.empty()) {
        if (seats_mirrored(ask.donor, ask.here))
            return Error{"the lands lie on each other only when mirrored: one of the two was traced seen through the "
                         "board",
                         {}};
        return Error{fmt::format("the lands of the donor's {} do not lie on those of {} in any turn: these are "
                                 "different patterns, or one trace has another scale",
                                 name_of(ask.donor), name_of(ask.here)),
                     {}};
    }
    const bool some_match = std::any_of(onto.begin(), onto.end(), [](const OntoTurn& turn) { return turn.matches; });
    std::vector<DonorTurn> turns;
    for (const OntoTurn& turn : onto)
        if (turn.matches || !some_match) turns.push_back(donor_turn(ask, turn));
    return turns;
}

/// What one way of settling says: a turn, nothing, or why it does not hold.
struct Verdict {
    std::optional<std::size_t> turn;
    std::string words;
};

Verdict by_pad_numbers(const std::vector<DonorTurn>& turns) {
    Verdict verdict;
    int agreeing = 0;
    for (std::size_t i = 0; i < turns.size(); ++i) {
        if (turns[i].numbers_compared == 0 || turns[i].numbers_agreeing != turns[i].numbers_compared) continue;
        ++agreeing;
        verdict.turn = i;
    }
    if (agreeing == 1) {
        verdict.words =
            fmt::format("all {} pad numbers agree in this turn only", turns[*verdict.turn].numbers_agreeing);
        return verdict;
    }
    const bool compared = turns.front().numbers_compared > 0;
    return {{}, compared && agreeing == 0 ? "the pad numbers of the two charts do not agree in any turn" : ""};
}

/// This part's mark if the donor's board lay on this one, as a turn from the donor part's frame to this part's.
double turn_in_place(const Question& ask, const BoardMatch& match) {
    const Vec2 there = document::board_from_part(ask.donor.placement).linear({1.0, 0.0});
    const Vec2 here = Affine::rotation(match.turn).linear(there);
    return geometry::bearing(document::board_from_part(ask.here.placement).inverse().linear(here)).degrees();
}

bool are_other_boards(const std::string& a, const std::string& b) {
    return !a.empty() && !b.empty() && a != b;
}

/// Why the rule of the same place does not hold; empty where it does.
std::string objection(const Question& ask, const std::optional<BoardMatch>& match) {
    const document::Title& there = ask.donor_chart.title;
    const document::Title& here = ask.here_chart.title;
    if (are_other_boards(there.board, here.board) || are_other_boards(there.revision, here.revision))
        return "the titles of the two charts name different boards or revisions, so the same place proves nothing";
    if (!match)
        return fmt::format("fewer than {} parts bear the same name on both charts, so the layouts cannot be compared",
                           kLeastNamesakes);
    if (!match->is_same_layout())
        return fmt::format("parts of the same name lie up to {:.1f} mm apart, so this is not the same layout",
                           match->worst_mm);
    if (ask.donor.placement.side != ask.here.placement.side)
        return "the two parts lie on different sides, so they are not in the same place";
    const Vec2 place = Affine::rotation(match->turn)(ask.donor.placement.at) + match->shift_mm;
    const double away = geometry::distance(place, ask.here.placement.at);
    if (away > match->allowed_mm)
        return fmt::format("the two parts lie {:.1f} mm apart, so they are not in the same place", away);
    return {};
}

Verdict by_same_place(const Question& ask, std::vector<DonorTurn>& turns) {
    if (!ask.options.same_kind_of_board) return {};
    const std::optional<BoardMatch> match = match_boards(ask.donor_chart, ask.here_chart);
    if (std::string why_not = objection(ask, match); !why_not.empty()) return {{}, std::move(why_not)};
    const double wanted = turn_in_place(ask, *match);
    for (std::size_t i = 0; i < turns.size(); ++i) {
        if (apart_deg(turns[i].turn_deg, wanted) > kHandTurn_deg) continue;
        turns[i].same_place = true;
        return {i, fmt::format("it sits in the same place of the same layout ({} parts compared)", match->parts)};
    }
    return {{},
            fmt::format("in the same place it would be turned by {:.0f} degrees, at which the lands do not lie on "
                        "each other: one of the two is placed at a wrong turn",
                        wanted)};
}

std::string evidence_note(const Question& ask, const DonorTransfer& transfer, const std::string& why) {
    const document::Title& title = ask.donor_chart.title;
    std::string note = fmt::format("{} of the donor", name_of(ask.donor));
    if (!title.serial.empty()) note += " " + title.serial;
    const document::Evidence& there = ask.donor.orientation.evidence;
    if (there.kind != document::EvidenceKind::NotStated)
        note +=
            fmt::format(", there: {}{}{}", document::to_text(there.kind), there.note.empty() ? "" : ", ", there.note);
    return fmt::format("{}; {} from there: {}", note, turned_by(transfer.possible.front().turn_deg), why);
}

void settle(const Question& ask, DonorTransfer& transfer, std::size_t turn, DonorGround ground,
            const std::string& why) {
    const DonorTurn chosen = transfer.possible[turn];
    transfer.possible = {chosen};
    transfer.ground = ground;
    transfer.is_certain = true;
    transfer.orientation = ask.donor.orientation;
    transfer.orientation.bearing = chosen.bearing;
    transfer.orientation.extras.clear();
    transfer.orientation.evidence = {.kind = document::EvidenceKind::SeenOnDonor,
                                     .note = evidence_note(ask, transfer, why),
                                     .by = ask.options.by,
                                     .date = ask.options.date};
    const std::string by = turned_by(chosen.turn_deg);
    transfer.sentence = fmt::format("The record of the donor's {} holds for {}, {}{}: {}.", name_of(ask.donor),
                                    name_of(ask.here), by, by == "unturned" ? "" : " counter-clockwise", why);
}

/// All turns equal the first one but for turns that change nothing for the part.
bool differ_harmlessly(const Footprint& part, const std::vector<DonorTurn>& turns) {
    const std::vector<double> harmless = harmless_turns(part);
    return std::all_of(turns.begin(), turns.end(), [&](const DonorTurn& turn) {
        const double from_first = turn.turn_deg - turns.front().turn_deg;
        return std::any_of(harmless.begin(), harmless.end(),
                           [&](double other) { return apart_deg(from_first, other) < kHandTurn_deg; });
    });
}

void leave_open(const Question& ask, DonorTransfer& transfer, const std::vector<std::string>& reasons) {
    transfer.is_harmless = differ_harmlessly(ask.here, transfer.possible);
    std::string& text = transfer.sentence;
    text = fmt::format("The lands of the donor's {} lie on those of {} at {} degrees.", name_of(ask.donor),
                       name_of(ask.here), listed(transfer.possible));
    if (transfer.is_harmless) {
        text += " These turns change nothing for such a part: either way will do.";
        return;
    }
    text += " That is the very question: the copper does not say which.";
    for (const std::string& reason : reasons)
        if (!reason.empty()) text += fmt::format(" But {}.", reason);
    text += " What would settle it: its own mark seen here, pad numbers on both charts";
    if (!ask.options.same_kind_of_board)
        text += ", a donor of the same kind and revision with the part in the same place";
    text += ", the maker's sheet, or a meter.";
}

void decide(const Question& ask, DonorTransfer& transfer) {
    if (transfer.possible.size() == 1) {
        settle(ask, transfer, 0, DonorGround::OnlyOneTurn, "its lands lie on these in this turn only");
        return;
    }
    const Verdict numbers = by_pad_numbers(transfer.possible);
    const Verdict place = by_same_place(ask, transfer.possible);
    if (numbers.turn && place.turn && *numbers.turn != *place.turn)
        leave_open(ask, transfer, {"the pad numbers and the place on the board contradict each other"});
    else if (numbers.turn)
        settle(ask, transfer, *numbers.turn, DonorGround::PadNumbers, numbers.words);
    else if (place.turn)
        settle(ask, transfer, *place.turn, DonorGround::SamePlace, place.words);
    else
        leave_open(ask, transfer, {numbers.words, place.words});
}

} // namespace

Result<DonorTransfer> transfer_from_donor(const Chart& donor, const document::Id& donor_part, const Chart& here,
                                          const document::Id& part, const DonorOptions& options) {
    const auto there_at = document::find_part(donor, donor_part);
    const auto here_at = document::find_part(here, part);
    if (!there_at) return Error{"the donor's chart has no such part", donor_part.text};
    if (!here_at) return Error{"the chart has no such part", part.text};
    const Question ask{donor, here, donor.parts[*there_at], here.parts[*here_at], options};
    if (ask.donor.orientation.state != document::RecordState::Recorded)
        return Error{
            fmt::format("the donor's {} has no mark on record; right would be one seen there", name_of(ask.donor)), {}};
    if (ask.donor.pads.size() != ask.here.pads.size())
        return Error{fmt::format("the donor's {} has {} pads and {} has {}; the same part has as many",
                                 name_of(ask.donor), ask.donor.pads.size(), name_of(ask.here), ask.here.pads.size()),
                     {}};
    Result<std::vector<DonorTurn>> turns = possible_turns(ask);
    if (!turns) return turns.error();
    DonorTransfer transfer;
    transfer.possible = std::move(*turns);
    decide(ask, transfer);
    return transfer;
}

} // namespace padchart::analysis
