#pragma once
// A newer file that was taken into the chart: only what comes of it may be saved over it. Undone, it is still there.

#include <cstddef>
#include <memory>
#include <optional>
#include <vector>

#include "app/session.hpp"

namespace padchart::app {

struct TakenFile {
    std::shared_ptr<const document::Chart> chart; ///< of the step that took it
    std::optional<std::size_t> older;             ///< fingerprint the file had for what was before it
};

struct NewerFileDesk {
    std::vector<TakenFile> taken; ///< the first one first
    std::uint64_t sitting = 0;    ///< they belong to
};

/// Fingerprint the chart's own file must have for the chart in hand to be written over it.
[[nodiscard]] std::optional<std::size_t> expected_fingerprint(const Session& session);
/// The file holds something that the chart in hand does not come from.
[[nodiscard]] bool is_file_newer(const Session& session);
/// As Editor::take_newer_file(), and remembers which step that was.
[[nodiscard]] Result<void> take_as_step(Session& session);
/// The file was written over on purpose, or the chart has another.
void forget_taken(Session& session);

} // namespace padchart::app
