#pragma once
// Where copied parts lie. The window connects it to the system's clipboard; without a window it is a text of its own.

#include <functional>
#include <string>

namespace padchart::app {

struct Clipboard {
    std::string own; ///< where nothing is connected
    std::function<void(const std::string&)> write;
    std::function<std::string()> read;

    void put(const std::string& text) {
        own = text;
        if (write) write(text);
    }
    [[nodiscard]] std::string text() const { return read ? read() : own; }
};

} // namespace padchart::app
