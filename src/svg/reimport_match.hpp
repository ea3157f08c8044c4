#pragma once
// Which thing of a chart is which thing of a new import. For svg/reimport alone.

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "document/chart.hpp"
#include "svg/reimport.hpp"

namespace padchart::svg {

/// What a thing is told by.
struct Token {
    std::string key; ///< trace key, or empty
    document::Id id;
    document::Side side = document::Side::Top;
    geometry::Box box; ///< on the board
    std::string name;  ///< that the trace gives it, whatever its side; of what was never traced, that a hand gave it
    std::size_t pads = 0;
};

[[nodiscard]] Token token_of(const document::Footprint& part);
[[nodiscard]] Token token_of(const document::KeepOut& thing);
[[nodiscard]] Token token_of(const document::Shield& thing);

/// What of a trace key outlasts a shape or a group more in the drawing: its last step ("foam" of "g:1/keep-out/foam"),
/// where that is a name and does not count shapes.
[[nodiscard]] std::string_view lasting_key(std::string_view key);

struct Partner {
    std::size_t fresh = 0;
    FoundBy how = FoundBy::TraceKey;
};

/// For each current thing its partner. Keys that hold a name come first; then ids of things that have no key; then the
/// last step of a way through groups, where it is a name that one thing bears; then places; last the keys that only
/// count shapes ("rect:2"), since a shape more in the trace shifts those. Partners lie on the same side, but for what
/// was drawn on the other one: of a name that nothing else bears, or without a name and in the same place.
[[nodiscard]] std::vector<std::optional<Partner>> partners(std::span<const Token> current,
                                                           std::span<const Token> fresh);

} // namespace padchart::svg
