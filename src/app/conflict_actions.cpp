#include "app/conflict_actions.hpp"

#include "app/conflict_desk.hpp"

namespace padchart::app {
namespace {

constexpr std::string_view kGroup = "Merge";

const Need has_conflicts{[](const Session& s) { return !s.editor.chart().conflicts.empty(); },
                         "no two versions disagree"};
const Need is_settling = has_conflicts.and_then(
    {[](const Session& s) { return s.panel == Panel::Conflicts; }, "open the list of disagreements"});

} // namespace

void add_conflict_actions(std::vector<Action>& list) {
    list.push_back(
        {"conflicts", "Settle what a merge left open", kGroup, {ctrl(Key::M)}, has_conflicts, show_conflicts});
    struct Way {
        std::string_view id, label;
        json::Settle choice;
    };
    static constexpr Way kWays[] = {{"settle-ours", "Settle: as the first hand says", json::Settle::Ours},
                                    {"settle-theirs", "Settle: as the second hand says", json::Settle::Theirs},
                                    {"settle-base", "Settle: as it was before both", json::Settle::Base},
                                    {"settle-as-it-is", "Settle: what is here now is right", json::Settle::AsItIs}};
    for (const Way& way : kWays)
        list.push_back({way.id, way.label, kGroup, {}, is_settling, [choice = way.choice](Session& s) {
                            settle_conflict(s, choice);
                        }});
    list.push_back(
        {"next-conflict", "Next conflict", kGroup, {}, is_settling, [](Session& s) { step_conflict(s, 1); }});
}

} // namespace padchart::app
