#pragma once
// What of the top bar finds room: the state always, then the actions that are needed most, then the whole title.

#include <cstddef>
#include <vector>

namespace padchart::app {

/// Widths in px.
struct BarNeeds {
    float room = 0.0F;  ///< between the margins of the bar
    float gap = 0.0F;   ///< between two buttons
    float apart = 0.0F; ///< between title and state, and between them and the buttons
    float title = 0.0F; ///< the whole of it
    float least_title = 0.0F;
    float state = 0.0F; ///< what of the state must be seen
    float usual_button = 0.0F;
    std::vector<float> labels;           ///< what a button needs for its own words, from the right
    float spare = 0.0F;                  ///< what each of those can do without where room is short
    float least_gap = 0.0F;              ///< then between two buttons
    std::vector<std::size_t> drop_order; ///< of those, the ones that may be left out, the least needed first
};

struct BarPlan {
    bool is_stacked = false;    ///< the state stands below the title
    std::vector<float> buttons; ///< from the right; 0 where one is left out
    float gap = 0.0F;           ///< between two buttons
    float words = 0.0F;         ///< room for title and state
};

[[nodiscard]] BarPlan bar_plan(const BarNeeds& needs);

} // namespace padchart::app
