#include "app/conflict_actions.hpp"

#include <algorithm>

#include "app/conflict_desk.hpp"

namespace padchart::app {
namespace {

constexpr std::string_view kGroup = "Merge";

const Need has_conflicts{[](const Session& s) { return !s.editor.chart().conflicts.empty(); },
                         "no two versions disagree"};
const Need is_settling = has_conflicts.and_then(
    {[](const Session& s) { return s.panel == Panel::Conflicts; }, "open the list of disagreements"});

/// The first field of the statement in hand; null where none is.
const document::Conflict* in_hand(const Session& s) {
    const auto open = ConflictDesk::open(s.editor.chart());
    const ConflictDesk* desk = s.desks.find<ConflictDesk>();
    if (open.empty()) return nullptr;
    return &s.editor.chart().conflicts[open[std::min(desk == nullptr ? 0 : desk->number(), open.size() - 1)]];
}

const Need knows_base = is_settling.and_then(
    {[](const Session& s) { return in_hand(s) != nullptr && json::knows_base(s.editor.chart(), *in_hand(s)); },
     "nobody knows what it was before both"});

} // namespace

void add_conflict_actions(std::vector<Action>& list) {
    list.push_back(
        {"conflicts", "Settle what a merge left open", kGroup, {ctrl(Key::M)}, has_conflicts, show_conflicts});
    struct Way {
        std::string_view id, label;
        Key digit;
        json::Settle choice;
        const Need* need;
    };
    static const Way kWays[] = {
        {"settle-ours", "Settle: as the first hand says", Key::Digit1, json::Settle::Ours, &is_settling},
        {"settle-theirs", "Settle: as the second hand says", Key::Digit2, json::Settle::Theirs, &is_settling},
        {"settle-base", "Settle: as it was before both", Key::Digit3, json::Settle::Base, &knows_base},
        {"settle-as-it-is", "Settle: what is here now is right", Key::Digit4, json::Settle::AsItIs, &is_settling}};
    for (const Way& way : kWays)
        list.push_back({way.id, way.label, kGroup, {alt(way.digit)}, *way.need, [choice = way.choice](Session& s) {
                            settle_conflict(s, choice);
                        }});
    list.push_back({"next-conflict", "Next conflict", kGroup, {alt(Key::PageDown)}, is_settling, [](Session& s) {
                        step_conflict(s, 1);
                    }});
    list.push_back(
        {"last-conflict", "Conflict before this one", kGroup, {alt(Key::PageUp)}, is_settling, [](Session& s) {
             step_conflict(s, -1);
         }});
}

} // namespace padchart::app
