#pragma once
// Drafts as a chart of their own, so that a journal can hold them and a later window can bring them back as drafts.

#include <optional>

#include "app/session.hpp"

namespace padchart::app {

/// The parts, notes and readings that something waits for, as they would be; nothing where nothing waits.
[[nodiscard]] std::optional<document::Chart> drafts_as_chart(const Session& session);
/// They wait again. Where its part is not on the chart any more a mark is left out; what was typed keeps its place.
void await_drafts(Session& session, const document::Chart& drafts);

} // namespace padchart::app
