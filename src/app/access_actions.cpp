#include "app/access_actions.hpp"

#include <algorithm>

#include "app/access_desk.hpp"
#include "app/trace_log.hpp"

namespace padchart::app {
namespace {

using analysis::AccessQuery;

constexpr std::string_view kGroup = "Access";
constexpr double kStep_deg = 5.0;

const Need in_stage{[](const Session& s) { return s.stage == scene::Stage::Access; }, "go to Access"};

const Need has_target = in_stage.and_then({[](const Session& s) {
                                               const AccessDesk* desk = s.desks.find<AccessDesk>();
                                               return desk != nullptr && desk->has_target();
                                           },
                                           "select a part"});

const Need has_iron =
    in_stage.and_then({[](const Session& s) {
                           const AccessDesk* desk = s.desks.find<AccessDesk>();
                           return desk != nullptr && desk->query.tool.kind == analysis::ToolKind::Iron;
                       },
                       "take an iron as the tool"});

const Need has_way = has_target.and_then({[](const Session& s) {
                                              const analysis::AccessReport* report =
                                                  s.desks.find<AccessDesk>()->report();
                                              return report != nullptr && report->best() != nullptr;
                                          },
                                          "find a way in"});

void next_tool(Session& s) {
    change_access(s, [](AccessQuery& query) {
        const auto tools = analysis::access_tools();
        const auto at =
            std::find_if(tools.begin(), tools.end(), [&](const auto& tool) { return tool.key == query.tool.key; });
        query.tool = at == tools.end() || std::next(at) == tools.end() ? tools.front() : *std::next(at);
    });
    trace("access-tool", s.desks.get<AccessDesk>().query.tool.key);
}

void next_pad(Session& s) {
    AccessDesk& desk = s.desks.get<AccessDesk>();
    const auto at = document::find_part(s.editor.chart(), desk.query.target);
    if (!at) return;
    const auto& pads = s.editor.chart().parts[*at].pads;
    for (std::size_t i = 0; i < pads.size(); ++i) {
        const std::string name = pads[i].number.empty() ? "#" + std::to_string(i + 1) : pads[i].number;
        if (name != desk.pad) continue;
        const std::size_t next = (i + 1) % pads.size();
        desk.pad = pads[next].number.empty() ? "#" + std::to_string(next + 1) : pads[next].number;
        return;
    }
}

void hold(Session& s, double by_deg) {
    change_access(s, [by_deg](AccessQuery& query) { query.tool.rise_deg += by_deg; });
}

/// As it has to be turned for the best way in.
void turn_as_told(Session& s) {
    const double by = s.desks.get<AccessDesk>().report()->best()->turn_board_deg;
    change_access(s, [by](AccessQuery& query) { query.board_turn_deg += by; });
}

} // namespace

void add_access_actions(std::vector<Action>& list) {
    list.push_back({"access-tool", "Another tool", kGroup, {}, in_stage, next_tool});
    list.push_back({"access-pad", "Another pad for the iron", kGroup, {}, has_iron, next_pad});
    list.push_back(
        {"access-steeper", "Hold the tool 5° steeper", kGroup, {}, in_stage, [](Session& s) { hold(s, kStep_deg); }});
    list.push_back(
        {"access-lower", "Hold the tool 5° lower", kGroup, {}, in_stage, [](Session& s) { hold(s, -kStep_deg); }});
    list.push_back({"access-near", "Look at it from near by", kGroup, {}, has_target, look_near});
    list.push_back({"access-turned", "The board is turned as told", kGroup, {}, has_way, turn_as_told});
    list.push_back({"access-unturned", "The board lies as charted", kGroup, {}, in_stage, [](Session& s) {
                        change_access(s, [](AccessQuery& query) { query.board_turn_deg = 0.0; });
                    }});
}

} // namespace padchart::app
