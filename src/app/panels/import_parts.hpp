#pragma once
// The sections of the import panel.

#include <cstdint>
#include <optional>

#include "app/import_desk.hpp"
#include "app/session.hpp"
#include "app/ui.hpp"

namespace padchart::app {

/// How the panel stands: not the import's own business.
struct ImportPanelState {
    float footer = 0.0F;
    std::uint64_t arrival = 0; ///< of the trace it stands so for
    bool scale_open = false, findings_open = false;
    bool was_opened = false;              ///< sections that should be seen first
    bool measures = false;                ///< the pointer is the scale tool's
    std::optional<document::Scale> taken; ///< the scale measured here
    std::optional<std::size_t> shown;     ///< the chosen entry that was scrolled to
    std::uint64_t counted = 0;            ///< revision the numbers speak of
    std::size_t lost = 0, pads = 0;
    bool list_has_keys = false; ///< nothing else in the panel wants the arrow keys
};

/// Requires of all below: desk.is_loaded(); where it says so an outcome too.

/// What the trace as a whole became. Requires: an outcome.
void import_summary(const Ui& ui, const ImportDesk& desk, ImportPanelState& state);
/// What holds only because it was said of another trace, and the way out of it.
void memory_section(const Ui& ui, ImportDesk& desk);
/// The scale measured on the preview becomes that of the import. Requires: an outcome.
void import_scale_section(Ui& ui, Session& session, ImportDesk& desk, ImportPanelState& state);
/// What the reader found, or what a corrected trace changes. Requires: an outcome.
void import_findings(const Ui& ui, const ImportDesk& desk, ImportPanelState& state);
/// Layers and shapes, each with a picture and what it was taken for.
void entry_list(const Ui& ui, ImportDesk& desk, ImportPanelState& state, float tall);

} // namespace padchart::app
