#pragma once
// What was typed or chosen but is not on the chart yet: it is asked about before it would be lost.

#include <string>
#include <vector>

#include "app/session.hpp"

namespace padchart::app {

struct Draft {
    std::string name;  ///< "the note about U4"
    std::string state; ///< "note not pinned"
    std::string lack;  ///< why it cannot be put down yet; empty where it can
};
[[nodiscard]] std::vector<Draft> drafts_in_hand(const Session& session);
/// "the note about U4 and the mark of D1".
[[nodiscard]] std::string names_of(const std::vector<Draft>& drafts);
/// The chart is in its file and nothing waits to be put on it.
[[nodiscard]] bool is_all_kept(const Session& session);
/// On the chart, a step each. False where one of them says too little; it is on show then, with the reason.
bool put_down_drafts(Session& session);
/// What is complete goes on the chart, a step each; the rest stays a draft. Nothing in the middle of a gesture.
void put_down_complete_drafts(Session& session);

} // namespace padchart::app
