#pragma once
// Naming parts one after the other: the pen is in the name of the selected part, Enter takes it and goes to the next
// part as one reads, Escape ends.

#include "app/session.hpp"

namespace padchart::app {

struct NameWalk {
    bool is_on = false;
    bool wants_focus = false; ///< the name field should take the next letter
};

/// With the selected part, else with the first as one reads.
void begin_naming(Session& session);
/// The pen has left the name field: with Enter the next part's name is at hand, else the walk is over.
void name_left(Session& session, bool with_enter);

} // namespace padchart::app
