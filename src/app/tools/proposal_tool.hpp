#pragma once

#include <memory>

#include "app/tools/tool.hpp"

namespace padchart::app {

class ProposalDesk;

/// Shows the proposal pointed at; a click on the board points at the one whose pad lies there.
/// Requires: the desk outlives the tool.
[[nodiscard]] std::unique_ptr<Tool> make_proposal_tool(ProposalDesk& desk);

} // namespace padchart::app
