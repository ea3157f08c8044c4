#pragma once
// One sentence for a newcomer, the first time a stage is entered; then never again.

#include <string>
#include <string_view>

#include "app/session.hpp"

namespace padchart::app {

/// What helps most in a stage that was never seen before.
[[nodiscard]] std::string_view hint_for(scene::Stage stage);

/// Tells the hint of a stage once in the life of this user's state folder, as a note that goes away by itself.
class Hints {
public:
    /// Does nothing while something else is being told, so that no message is lost.
    void look(Session& session);

private:
    bool is_read(const std::string& word);

    std::optional<scene::Stage> last_;
};

} // namespace padchart::app
