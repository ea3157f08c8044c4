#include "app/display.hpp"

#include <cstdlib>

#include <X11/Xlib.h>

namespace padchart::app {

std::optional<std::string> why_no_display() {
    const char* name = std::getenv("DISPLAY");
    if (name == nullptr || *name == '\0')
        return "There is no display: the variable DISPLAY is not set. The commands work without one: padchart --help";
    Display* display = XOpenDisplay(name);
    if (display == nullptr)
        return "The display \"" + std::string(name) +
               "\" does not answer. The commands work without one: padchart --help";
    // Kept open on purpose: a display server that resets itself when its last client has gone would do so now, in the
    // very moment in which the window asks for its own connection.
    static Display* kept = nullptr;
    if (kept == nullptr)
        kept = display;
    else
        XCloseDisplay(display);
    return std::nullopt;
}

} // namespace padchart::app
