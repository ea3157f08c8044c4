#pragma once
// Where the window tells that loose pads could be parts: in the report of an import and in Survey, so that nobody has
// to know of the proposals to find them. Works with the desk of the proposals, and only where there are loose pads.

#include <string>

#include "app/session.hpp"

namespace padchart::app {

/// Keeps the proposals up to date where they are shown or told of. True where they have become others. Call once a
/// frame.
bool update_proposals(Session& session);

/// "3 groups of loose pads could be parts". Requires: one or more.
[[nodiscard]] std::string groups_in_words(std::size_t count);

/// The same with a full stop; nothing where nothing is to be told here.
[[nodiscard]] std::string proposal_words(const Session& session);

} // namespace padchart::app
