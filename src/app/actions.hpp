#pragma once
// Everything that can be done, in one table: keys, the buttons of the top bar, the searchable list and the help all
// come from it.

#include <functional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "app/key.hpp"
#include "app/need.hpp"
#include "app/session.hpp"

namespace padchart::app {

struct Action {
    std::string_view id;    ///< "flip-side"
    std::string_view label; ///< "Flip side"
    std::string_view group; ///< heading in the list and the help
    std::vector<Chord> keys;
    Need enabled;
    std::function<void(Session&)> run;
};

[[nodiscard]] std::span<const Action> actions();
/// The user's own keys for one of them. An id of no action is left out.
void set_keys(std::string_view id, std::vector<Chord> keys);
/// Null where there is none.
[[nodiscard]] const Action* find_action(std::string_view id);
[[nodiscard]] const Action* action_for(const Chord& chord);
/// What is typed while the tool in hand waits for a click sets off nothing; the user is told to click first. False
/// where the chord may go on to its action.
[[nodiscard]] bool held_back(Session& session, const Chord& chord);
/// What held_back() kept is meant for a field that takes the keys from the next frame on.
[[nodiscard]] bool is_meant_for_field(const Session& session);
/// Runs it where it is enabled; else a notice says what is missing.
void run(const Action& action, Session& session);

} // namespace padchart::app
