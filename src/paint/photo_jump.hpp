#pragma once
// The picture libraries written in C leave by a jump when they meet an error. Shared by the decoders only.

#include <csetjmp>

namespace padchart::paint {

/// Runs one step of a reading up to its end, or up to a jump to `reading.on_error`; false where it jumped.
/// A step must be [[gnu::noinline]] and keep nothing of its own that needs destroying while it calls the library: what
/// it held in registers is lost by the jump, so only `reading` lives across it.
template <class Reading>
[[nodiscard]] bool reaches_end(Reading& reading, void (*step)(Reading&)) {
    if (setjmp(reading.on_error) != 0) return false;
    step(reading);
    return true;
}

} // namespace padchart::paint
