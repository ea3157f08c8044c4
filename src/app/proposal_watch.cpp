#include "app/proposal_watch.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "app/proposal_desk.hpp"
#include "base/counted.hpp"

namespace padchart::app {
namespace {

bool is_told_of(const Session& s) {
    const bool is_report = s.panel == Panel::Findings && !s.findings_title.empty();
    const bool is_survey = s.panel == Panel::Stage && s.stage == scene::Stage::Survey && s.editor.selection().empty();
    const auto& parts = s.editor.chart().parts;
    return (is_report || is_survey) && std::any_of(parts.begin(), parts.end(), [](const document::Footprint& part) {
               return part.name.empty() && !part.body && !part.pads.empty();
           });
}

} // namespace

bool update_proposals(Session& s) {
    return (s.panel == Panel::Proposals || is_told_of(s)) && s.desks.get<ProposalDesk>().update(s.editor.snapshot());
}

std::string groups_in_words(std::size_t count) {
    return counted(count, "group") + " of loose pads could be " + (count == 1 ? "a part" : "parts");
}

std::string proposal_words(const Session& s) {
    const ProposalDesk* desk = s.desks.find<ProposalDesk>();
    if (desk == nullptr || !is_told_of(s) || desk->is_busy() || desk->groups().empty()) return "";
    return groups_in_words(desk->groups().size()) + ".";
}

} // namespace padchart::app
