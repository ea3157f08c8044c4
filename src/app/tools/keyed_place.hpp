#pragma once
// A place on the canvas that arrows lead, for tools that put something down where the pointer is.

#include <optional>

#include "app/tools/tool.hpp"

namespace padchart::app {

class KeyedPlace {
public:
    /// Arrows go by 0.5 mm as seen, with Ctrl by 0.05 mm, with Shift by 5 mm. True where the chord was one.
    bool key(const ToolContext& context, const Chord& chord);
    /// It leads from where keys begin, before the first arrow.
    void begin(const ToolContext& context) { at_ = context.from.scene; }
    /// The pointer leads again.
    void drop() { at_.reset(); }
    [[nodiscard]] bool leads() const { return at_.has_value(); }
    /// The pointer, or where the arrows have led. Then it meets nothing: a step is a step.
    [[nodiscard]] Pointer pointer(const Pointer& hand) const;

private:
    std::optional<geometry::Vec2> at_; ///< scene mm
};

} // namespace padchart::app
