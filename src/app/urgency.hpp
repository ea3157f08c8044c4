#pragma once
// Which thread gives way when the cores do not suffice. On a machine without a graphics card the picture is painted by
// the same cores as everything else: what is worked out behind the window must not hold up what the hand sees.

namespace padchart::app {

enum class Urgency {
    BehindTheWindow, ///< gives way to whatever paints
    AwaitedByTheHand ///< a hand that drags waits for it, as for the picture itself
};

/// For the calling thread and those it starts. Where the system refuses, everything stays as it is.
void take_urgency(Urgency urgency);

} // namespace padchart::app
