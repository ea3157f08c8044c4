#pragma once
// The caution at the lower edge, and the lines it is given there: it is never cut.

#include <functional>
#include <span>
#include <string>
#include <string_view>

namespace padchart::app {

struct Session;

/// And whether it is about danger to people.
struct Caution {
    std::string text;
    bool strong = false;
};
/// The one that applies now.
[[nodiscard]] const Caution& caution_of(const Session& session);
[[nodiscard]] std::span<const Caution> cautions();

/// Lines that every caution finds room in, so that the board does not jump from one to the next; 0 where each stands in
/// one line with `beside` left of it. Widths in the unit of `width_of`.
[[nodiscard]] int caution_lines(float room, float beside, const std::function<float(std::string_view)>& width_of);

} // namespace padchart::app
