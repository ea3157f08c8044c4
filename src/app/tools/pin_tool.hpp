#pragma once
// One click says where on the board: for notes and readings.

#include <functional>
#include <memory>
#include <optional>
#include <string>

#include "app/tools/tool.hpp"

namespace padchart::app {

struct PinnedPlace {
    geometry::Vec2 at; ///< board mm; the middle of the pad where one was hit
    document::Side side = document::Side::Top;
    document::Id part;                    ///< under the pointer, or empty
    std::string pad;                      ///< its number, or empty
    std::optional<std::size_t> pad_index; ///< of the part's pads, also one below its body; nothing where none was hit
};

/// Is done with the first place that `placed` takes (true). `hint` stands in the status bar. `entered`: what Enter does
/// instead of a click, if anything; true where that was all.
[[nodiscard]] std::unique_ptr<Tool> make_pin_tool(std::string hint, std::function<bool(const PinnedPlace&)> placed,
                                                  std::function<bool()> entered = {});

} // namespace padchart::app
