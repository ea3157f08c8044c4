#pragma once
// A shield that is laid on the board while the heat is planned lies there for the plan in hand: it acts at once, and
// one that is taken away no longer does.

#include <memory>

#include "app/session.hpp"

namespace padchart::app {

/// What the heat stage saw last; a desk.
struct ShieldsSeen {
    std::shared_ptr<const document::Chart> chart; ///< null: nothing yet, or the stage was left
};

/// Takes shields that have come or gone since the last call into or out of the plan in hand.
void follow_shields(Session& s);

} // namespace padchart::app
