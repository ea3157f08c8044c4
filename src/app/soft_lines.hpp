#pragma once
// A text of several lines while it is typed: lines too long for the field are broken at blanks as one goes. Such a
// break is only shown; what is handed over has the blank again. A line that the writer began stays one.

#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace padchart::app {

class SoftLines {
public:
    /// Of one word or blank, in the unit of the room.
    using WidthOf = std::function<float(std::string_view)>;

    SoftLines(std::string_view text, float room, WidthOf width_of);

    /// As it is to be seen; as long as the text, byte for byte.
    [[nodiscard]] const std::string& shown() const { return shown_; }
    /// As it is to be kept.
    [[nodiscard]] std::string text() const;
    /// What was shown has been changed in one place to `typed`, as long as which it will be shown.
    void take(std::string_view typed);

private:
    void show(std::string text);

    std::string shown_;
    std::vector<bool> is_soft_; ///< of each byte shown
    float room_;
    WidthOf width_of_;
};

} // namespace padchart::app
