#pragma once
// A newer file that was taken into the chart: only what comes of it may be saved over it. Undone, it is still there.

#include <cstddef>
#include <memory>
#include <optional>
#include <vector>

#include "document/history.hpp"

namespace padchart::app {

class NewerFiles {
public:
    /// Fingerprint the chart's own file must have for the chart in hand to be written over it. `known`: of the file as
    /// it was last read or written.
    [[nodiscard]] std::optional<std::size_t> expected(const document::History& history,
                                                      std::optional<std::size_t> known) const;
    /// Before a newer file comes in: those that can be reached no more are forgotten.
    void drop_unreachable(const document::History& history);
    /// The step in hand has taken one. `older`: what was expected before it.
    void take(const document::History& history, std::optional<std::size_t> older);
    /// The file was written over on purpose, or the chart has another.
    void forget() { taken_.clear(); }

private:
    struct TakenFile {
        std::shared_ptr<const document::Chart> chart; ///< of the step that took it
        std::optional<std::size_t> older;             ///< fingerprint the file had for what was before it
    };
    std::vector<TakenFile> taken_; ///< the first one first
};

} // namespace padchart::app
